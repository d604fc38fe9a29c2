"""What a wing would be at another value of one input: one quantity against it, point by point.

The slope has functions of its own, as it may be found instead of given: a wing whose slope is found has it given for
the sweep, and its landing then follows; any other unknown stays so.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, assert_never

from workbench.errors import EditError
from workbench.findings import has_errors
from workbench.job import edits
from workbench.job.alternatives import alone
from workbench.job.change import changed, value_of
from workbench.job.inputs import INPUTS, Change, Input
from workbench.job.model import Job, PriceBracket, Wing
from workbench.job.values import MAX_LENGTH_IN
from workbench.measure import Units
from workbench.plan import Plan, solve
from workbench.quantities.hours import plan_hours
from workbench.quantities.waste import lumber_bought_in
from workbench.roof.brackets import Bracket, bracket_of
from workbench.roof.build import BuiltWing, build_wing
from workbench.roof.landed import find_span
from workbench.roof.model import Plane
from workbench.roof.solved import Section

SweepQuantity = Literal["area", "rafter_length", "ridge_height", "price", "sheets", "lumber", "hours"]
STEPPED: frozenset[SweepQuantity] = frozenset({"sheets"})
"""Quantities that go in whole steps: between two points nothing is known but one of the two."""

SWEPT: tuple[Input, ...] = tuple(name for name, info in INPUTS.items() if info.kind != "word")
"""Inputs that can be swept."""

_ROUND_IN: Mapping[Input, tuple[float, float]] = MappingProxyType(
    {
        "plate_in": (24.0, 3.0),
        "landing_in": (24.0, 3.0),
        "eave_overhang_in": (18.0, 1.5),
        "rake_overhang_in": (18.0, 1.5),
        "hap_in": (3.0, 0.25),
        "seat_in": (2.0, 0.25),
        "ridge_slot_in": (2.0, 0.25),
        "past_tail_in": (2.0, 0.25),
        "first_piece_in": (48.0, 8.0),
    }
)
"""How far round the present value an input is looked at, and in which steps, inches."""

_USUAL_IN: Mapping[Input, tuple[float, ...]] = MappingProxyType(
    {
        "spacing_in": (12.0, 16.0, 19.2, 24.0, 32.0),
        "depth_in": (3.5, 5.5, 7.25, 9.25, 11.25),
        "panel_width_in": (48.0, 60.0),
        "panel_length_in": (96.0, 108.0, 120.0, 144.0),
    }
)
"""Values an input usually has; common practice, no source."""

SHALLOWEST_IN_12, STEEPEST_IN_12 = 2.0, 14.0
"""The range looked at unless the wing's own slope lies outside it."""

_JUST_UNDER = 1e-6


@dataclass(frozen=True, slots=True)
class SweepPoint:
    """One value of the input and what the quantity is there.

    Attributes:
        at: Slope, rise in 12; inches of any other input.
        value: Square feet, inches, the job's money, sheets or hours; None where the wing can't be solved there, or no
            price is known.
    """

    at: float
    value: float | None


def sweep(
    job: Job,
    wing_id: str,
    slopes_in_12: Iterable[float],
    quantity: SweepQuantity,
    *,
    edge_id: str | None = None,
) -> tuple[SweepPoint, ...]:
    """One quantity at each slope.

    ``area`` of the wing's planes (sq ft); ``rafter_length`` along the top edge from tail to high end (in) of the
    rafters that rise from the edge; ``ridge_height`` of the wing's highest point (in); ``price`` of roofing the wing by
    the job's brackets; ``sheets`` and ``lumber`` (in) the whole job buys, ``hours`` it takes. All but the last three
    solve the one wing alone and are quick.

    Args:
        job: The job; it stays as it is.
        wing_id: The wing whose slope varies.
        slopes_in_12: Slopes, rise in 12.
        quantity: What to reckon.
        edge_id: The eave or clipped gable whose slope varies where they have slopes of their own; None takes the wing's
            first eave.

    Raises:
        KeyError: There is no such wing.
        ValueError: It has no such edge, or no plane rises from it.
    """
    job.wing(wing_id)
    return tuple(SweepPoint(x, _value(job, wing_id, x, quantity, edge_id)) for x in slopes_in_12)


def sweep_input(
    job: Job, wing_id: str, name: Input, values: Iterable[float], quantity: SweepQuantity, *, edge_id: str | None = None
) -> tuple[SweepPoint, ...]:
    """One quantity at each value of any input; see ``sweep``.

    Raises:
        KeyError: There is no such wing.
        ValueError: It has no such edge, or no plane rises from it.
    """
    job.wing(wing_id)
    found: list[SweepPoint] = []
    for value in values:
        try:
            variant = at_value(job, wing_id, name, value, edge_id=edge_id)
        except EditError:
            found.append(SweepPoint(value, None))
        else:
            found.append(SweepPoint(value, _reckoned(variant, wing_id, quantity, edge_id)))
    return tuple(found)


def at_value(job: Job, wing_id: str, name: Input, value: float, *, edge_id: str | None = None) -> Job:
    """The job with one input of a wing, or of the sheathing, at another value.

    Raises:
        KeyError: There is no such wing.
        ValueError: It has no such edge, or no plane rises from it.
        EditError: The value can't be used.
    """
    if name == "slope_in_12":
        return at_slope(job, wing_id, value, edge_id=edge_id)
    return changed(job, (Change(input=name, value=value, wing=wing_id),))


def usual_values(job: Job, wing_id: str, name: Input) -> tuple[float, ...]:
    """Values of an input worth a point, the present one among them; empty where the wing has no such input.

    Raises:
        KeyError: There is no such wing.
    """
    now = value_of(job, name, job.wing(wing_id).id)
    if name == "first_piece_in" and now is None:
        now = job.sheathing.panel_length_in / 2.0
    if not isinstance(now, float):
        return ()
    if name == "slope_in_12":
        return usual_slopes(job, now)
    if name in _USUAL_IN:
        return tuple(sorted({*_USUAL_IN[name], now}))
    reach, step = _ROUND_IN[name]
    count = round(reach / step)
    least = -MAX_LENGTH_IN if name in ("plate_in", "landing_in") else step if name == "first_piece_in" else 0.0
    points = {now + step * i for i in range(-count, count + 1)}
    return tuple(sorted(point for point in points if point >= least - 1e-9))


def at_slope(job: Job, wing_id: str, in_12: float, *, edge_id: str | None = None) -> Job:
    """The job with a wing's slope given; where the slope was to find, the landing's height is to find instead.

    Args:
        job: The job.
        wing_id: The wing.
        in_12: Slope, rise in 12.
        edge_id: The eave or clipped gable that is meant; None takes the wing's first eave.

    Raises:
        KeyError: There is no such wing.
        ValueError: It has no such edge, or no plane rises from it.
        EditError: The slope can't be used.
    """
    wing = job.wing(wing_id)
    if wing.landing is not None and wing.landing.find == "slope":
        job = edits.set_landing(job, wing_id, find="landing")
    edges = _moved_together(wing, edge_id)
    own = [edge for edge in wing.edges if edge.id in edges and edge.slope_in_12 is not None]
    if not own:
        return edits.set_wing(job, wing_id, slope_in_12=in_12)
    for edge in edges:
        job = edits.set_edge(job, wing_id, edge, slope_in_12=in_12)
    return job


def usual_slopes(job: Job, now_in_12: float, step: float = 0.5) -> tuple[float, ...]:
    """Slopes worth a point: even steps over the usual range, the present one, and both sides of every price bracket."""
    low = min(SHALLOWEST_IN_12, max(0.5, math.floor(now_in_12)))
    high = max(STEEPEST_IN_12, math.ceil(now_in_12))
    count = round((high - low) / step)
    points = {low + (high - low) * i / count for i in range(count + 1)}
    points.add(now_in_12)
    for bracket in job.brackets:
        if low < bracket.from_in_12 <= high:
            points.update((bracket.from_in_12 - _JUST_UNDER, bracket.from_in_12))
    return tuple(sorted(points))


def roofing_price(planes: Iterable[Plane], brackets: Sequence[PriceBracket]) -> float | None:
    """What roofing the planes costs, each priced by the bracket its slope falls in; None where a price is missing."""
    table = price_table(brackets)
    total = 0.0
    for plane in planes:
        bracket = bracket_of(plane.tangent, table)
        if bracket is None or bracket.price_per_square is None:
            return None
        total += plane.area_sqft / 100.0 * bracket.price_per_square
    return total


def price_table(brackets: Iterable[PriceBracket]) -> tuple[Bracket, ...]:
    """The job's brackets as the bracket rules take them."""
    return tuple(Bracket(bracket.from_in_12, bracket.price_per_square) for bracket in brackets)


def rafter_length(section: Section) -> float:
    """Length of a rafter's top edge from the tail's plumb cut to its high end, inches."""
    level = section.overhang_in + section.given.reach_in + section.past_in
    if section.landed and section.given.find == "run":
        level += section.answer.run_in - section.given.run_in
    return level * math.hypot(1.0, section.answer.tangent)


def _moved_together(wing: Wing, edge_id: str | None) -> tuple[str, ...]:
    """The edges whose slope is one: both ends of a landing at a ridge, else the one eave or clipped gable."""
    bearing = [edge.id for edge in wing.edges if edge.bears_plane]
    if edge_id is not None and edge_id not in bearing:
        msg = f'wing "{wing.id}" has no edge "{edge_id}" that a plane rises from'
        raise ValueError(msg)
    chosen = next(edge.id for edge in wing.edges if edge.kind == "eave") if edge_id is None else edge_id
    span = find_span(wing) if wing.landing is not None else None
    if span is None or not span.gable:
        return (chosen,)
    ends = (wing.edges[span.low].id, wing.edges[span.high].id)
    return ends if chosen in ends else (chosen,)


def _value(job: Job, wing_id: str, in_12: float, quantity: SweepQuantity, edge_id: str | None) -> float | None:
    try:
        variant = at_slope(job, wing_id, in_12, edge_id=edge_id)
    except EditError:
        return None
    return _reckoned(variant, wing_id, quantity, edge_id)


def _reckoned(variant: Job, wing_id: str, quantity: SweepQuantity, edge_id: str | None) -> float | None:
    built = build_wing(variant.wing(wing_id), Units(variant.units.system, variant.units.fraction))
    if not built.planes or has_errors(f for f in built.findings if f.code.startswith(("landing-un", "roof-un"))):
        return None
    match quantity:
        case "area":
            return sum(plane.area_sqft for plane in built.planes)
        case "ridge_height":
            return max(corner[2] for plane in built.planes for corner in plane.corners)
        case "rafter_length":
            return _rafter(built, edge_id)
        case "price":
            return roofing_price(built.planes, variant.brackets)
        case "sheets" | "lumber" | "hours":
            return _of_all(solve(alone(variant)), quantity)
        case _:
            assert_never(quantity)


def _of_all(plan: Plan, quantity: Literal["sheets", "lumber", "hours"]) -> float | None:
    match quantity:
        case "sheets":
            found = float(plan.sheathing.count)
        case "lumber":
            found = lumber_bought_in(plan.quantities)
        case "hours":
            found = plan_hours(plan.job, plan.roof.planes, plan.framing, plan.sheathing).hours
    return found or None


def _rafter(built: BuiltWing, edge_id: str | None) -> float | None:
    if built.solved is None:
        return None
    drawn = {plane.id: plane.drawn for plane in built.planes}
    sections = [s for s in built.solved.sections if edge_id is None or drawn[s.plane] == edge_id]
    return rafter_length(sections[0]) if sections else None
