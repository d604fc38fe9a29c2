"""A wing whose rafters must land: which run is meant, and the wing with the found quantity put in its place.

A landing needs one low eave and one edge parallel to it on the far side: another eave (the rafters meet at a ridge half
way) or a wall or rake (a single plane). Neither plane may change its slope on the way.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from msgspec.structs import replace

from workbench.errors import BadInput, NoSolution
from workbench.findings import GEOMETRY, Finding
from workbench.job.edits import moved_edge
from workbench.job.model import Landing, Wing
from workbench.measure import Units
from workbench.roof.eaves import edge_plate, edge_tangent
from workbench.roof.landing import LandingAnswer, LandingInput, solve_landing

_PARALLEL = 1e-9


@dataclass(frozen=True, slots=True)
class Span:
    """The two edges a rafter runs between.

    Attributes:
        low: Index of the low eave.
        high: Index of the far edge.
        width_in: Level distance between the two drawn lines.
        gable: Whether a plane rises from the far edge too, so that rafters meet half way.
    """

    low: int
    high: int
    width_in: float
    gable: bool


@dataclass(frozen=True, slots=True)
class Landed:
    """A landing as solved.

    Attributes:
        wing: The wing with the found slope, plate, heel or building line put in.
        span: The edges it runs between.
        given: What the solver was asked.
        answer: What it found.
    """

    wing: Wing
    span: Span
    given: LandingInput
    answer: LandingAnswer


def find_span(wing: Wing) -> Span | None:
    """The eave and the far edge parallel to it, the furthest if there are several; None when there is none."""
    corners = wing.outline
    count = len(corners)
    low = next((i for i, edge in enumerate(wing.edges) if edge.kind == "eave"), None)
    if low is None:
        return None
    a, b = corners[low], corners[(low + 1) % count]
    length = math.dist(a, b)
    along = ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
    best: Span | None = None
    for i in range(count):
        p, q = corners[i], corners[(i + 1) % count]
        side = math.dist(p, q)
        cross = along[0] * (q[1] - p[1]) - along[1] * (q[0] - p[0])
        towards = along[0] * (q[0] - p[0]) + along[1] * (q[1] - p[1])
        if i == low or towards >= 0.0 or abs(cross) > _PARALLEL * side:
            continue
        width = along[0] * (p[1] - a[1]) - along[1] * (p[0] - a[0])
        if width > 0.0 and (best is None or width > best.width_in):
            best = Span(low, i, width, wing.edges[i].bears_plane)
    return best


def landing_input(wing: Wing, landing: Landing, span: Span) -> LandingInput:
    """What the solver is asked for a wing's landing."""
    seat_given = landing.find == "seat" or (landing.find != "hap_low" and wing.heel.given == "seat")
    low = wing.edges[span.low]
    slope = low.slope_in_12 if low.slope_in_12 is not None else wing.slope_in_12
    run = span.width_in / 2.0 if span.gable else span.width_in - _bearing(landing)
    return LandingInput(
        run_in=run,
        low_plate_in=low.plate_in if low.plate_in is not None else wing.plate_in,
        landing_in=landing.landing_in,
        low_end="seat" if seat_given else "hap",
        hap_low_in=wing.heel.hap_in,
        seat_in=wing.heel.seat_in,
        high_end="ridge" if span.gable else landing.high_end,
        hap_high_in=landing.hap_in,
        depth_in=wing.rafter.depth_in,
        tangent=slope / 12.0,
        ridge_thickness_in=wing.ridge_width_in,
        find=landing.find,
    )


def land(wing: Wing, units: Units) -> tuple[Landed | None, tuple[Finding, ...]]:
    """Solve a wing's landing and put what was found into the wing.

    Returns:
        The landing as solved, or None with a finding that says why there is none.
    """
    landing = wing.landing
    if landing is None:
        return None, ()
    span = find_span(wing)
    if span is None:
        return None, (_unclear(wing, "no edge runs parallel to its first eave on the far side"),)
    ends = (span.low, span.high) if span.gable else (span.low,)
    if any(wing.edges[i].upper is not None for i in ends):
        return None, (_unclear(wing, "the slope changes on the way up to it"),)
    if span.gable and not _alike(wing, span):
        return None, (_unclear(wing, "its two eaves differ in slope or plate height, so the ridge is not half way"),)
    given = landing_input(wing, landing, span)
    try:
        answer = solve_landing(given, units=units, subject=wing.id)
    except (NoSolution, BadInput) as error:
        text = f"{wing.name}: {error} Until then the roof is drawn at {units.slope(wing.slope_in_12 / 12.0)}."
        return None, (Finding("landing-unsolved", "error", wing.id, text, GEOMETRY),)
    return Landed(_put_in(wing, landing, span, given, answer), span, given, answer), ()


def _bearing(landing: Landing) -> float:
    """Level bearing past the bearing line; a ridge or a face has none."""
    return landing.bearing_in if landing.high_end in ("notched", "whole") else 0.0


def _alike(wing: Wing, span: Span) -> bool:
    low, high = wing.edges[span.low], wing.edges[span.high]

    same_plate = edge_plate(wing, low) == edge_plate(wing, high)
    return same_plate and edge_tangent(wing, low) == edge_tangent(wing, high)


def _put_in(wing: Wing, landing: Landing, span: Span, given: LandingInput, answer: LandingAnswer) -> Wing:
    edges = list(wing.edges)
    ends = (span.low, span.high) if span.gable else (span.low,)
    for i in ends:
        edges[i] = replace(edges[i], slope_in_12=12.0 * answer.tangent, plate_in=answer.low_plate_in)
    outline = wing.outline
    if landing.find == "run":
        share = 2.0 if span.gable else 1.0
        outline = moved_edge(outline, span.high, share * (answer.run_in - given.run_in))
    return replace(
        wing,
        outline=outline,
        edges=tuple(edges),
        slope_in_12=12.0 * answer.tangent,
        heel=replace(wing.heel, given="hap", hap_in=answer.hap_low_in, seat_in=max(0.0, answer.seat_in)),
        landing=replace(landing, landing_in=answer.landing_in, hap_in=answer.hap_high_in),
    )


def _unclear(wing: Wing, why: str) -> Finding:
    text = (
        f"{wing.name}: the landing can't be solved because {why}; give the slope itself, or draw it as one plane. "
        f"Until then the roof is drawn at {Units().slope(wing.slope_in_12 / 12.0)}."
    )
    return Finding("landing-unclear", "error", wing.id, text, GEOMETRY)
