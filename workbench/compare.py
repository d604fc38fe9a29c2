"""Alternatives side by side: the figures of the job and of each alternative, and what differs."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from workbench.errors import EditError
from workbench.framing.model import RAFTER_KINDS
from workbench.job.alternatives import alone, resolved, what_differs
from workbench.job.change import change_words
from workbench.job.model import Alternative, Job
from workbench.measure import Units
from workbench.plan import Effort, Plan, solve
from workbench.quantities.costing import cost
from workbench.quantities.hours import clock_words, plan_hours
from workbench.quantities.waste import lumber_bought_in, lumber_placed_in

THE_JOB = "The job"

COMPARED = (
    "area_sqft",
    "sheets",
    "at_least",
    "members",
    "lumber_bought_in",
    "lumber_placed_in",
    "longest_rafter_in",
    "ridge_in",
    "price",
    "unpriced",
    "hours",
    "errors",
    "warnings",
)
"""Fields of ``Figures`` that are numbers, in the order they are shown."""


@dataclass(frozen=True, slots=True)
class Figures:
    """What one design comes to. Lengths in inches, areas in square feet, unrounded.

    Attributes:
        id: Id of the alternative, empty for the job itself.
        name: What it is called.
        changes: What differs from the job, in words.
        problem: Why it can't be made, one sentence; then all figures are 0 or None.
        slopes_in_12: The slopes of its planes, the one of most area first.
        area_sqft: Area of all planes.
        sheets: Sheets to buy.
        at_least: No layout buys fewer.
        members: Members of the frame.
        lumber_bought_in: Length of all boards to buy.
        lumber_placed_in: Length of all members along their top edges.
        longest_rafter_in: Longest rafter, along its top edge.
        ridge_in: Height of the highest point of the roof.
        price: What is priced of it, None where nothing is.
        unpriced: Lines of the order list without a price.
        hours: Hours on the clock for the job's crew.
        errors: Errors among its findings.
        warnings: Warnings among them.
    """

    id: str
    name: str
    changes: tuple[str, ...] = ()
    problem: str = ""
    slopes_in_12: tuple[float, ...] = ()
    area_sqft: float = 0.0
    sheets: int = 0
    at_least: int = 0
    members: int = 0
    lumber_bought_in: float = 0.0
    lumber_placed_in: float = 0.0
    longest_rafter_in: float = 0.0
    ridge_in: float = 0.0
    price: float | None = None
    unpriced: int = 0
    hours: float = 0.0
    errors: int = 0
    warnings: int = 0


@dataclass(frozen=True, slots=True)
class CompareRow:
    """One figure of all designs, written out.

    Attributes:
        key: Field of ``Figures``.
        words: What it is.
        values: One a design, the job's first.
        differences: How each differs from the job; empty for the job itself and where it does not.
    """

    key: str
    words: str
    values: tuple[str, ...]
    differences: tuple[str, ...]


def compare(job: Job, effort: Effort = "live", given_up: Callable[[], bool] = lambda: False) -> tuple[Figures, ...]:
    """The job's figures and those of each alternative, in order.

    Args:
        job: The job.
        effort: How hard to look for fewest sheets.
        given_up: Asked before each design; where it answers True, the designs so far are given.
    """
    found: list[Figures] = []
    for figures in each_figures(job, effort):
        found.append(figures)
        if given_up():
            break
    return tuple(found)


def each_figures(job: Job, effort: Effort = "live") -> Iterator[Figures]:
    """The same, one by one as they are solved."""
    units = Units(job.units.system, job.units.fraction)
    yield figures_of(solve(alone(job), effort), "", THE_JOB)
    for alternative in job.alternatives:
        yield _alternative(job, alternative, effort, units)


def figures_of(plan: Plan, identity: str, name: str, changes: tuple[str, ...] = ()) -> Figures:
    """The figures of a solved design."""
    rafters = [member for member in plan.framing.members if member.kind in RAFTER_KINDS]
    corners = [corner[2] for plane in plan.roof.planes for corner in plane.corners]
    costing = cost(plan.quantities, plan.job.costs)
    return Figures(
        id=identity,
        name=name,
        changes=changes,
        slopes_in_12=_slopes(plan),
        area_sqft=sum(plane.area_sqft for plane in plan.roof.planes),
        sheets=plan.sheathing.count,
        at_least=plan.sheathing.at_least,
        members=sum(member.count for member in plan.framing.members),
        lumber_bought_in=lumber_bought_in(plan.quantities),
        lumber_placed_in=lumber_placed_in(plan.framing),
        longest_rafter_in=max((member.length_in for member in rafters), default=0.0),
        ridge_in=max(corners, default=0.0),
        price=costing.total if costing.priced else None,
        unpriced=costing.unpriced,
        hours=plan_hours(plan.job, plan.roof.planes, plan.framing, plan.sheathing).hours,
        errors=sum(finding.severity == "error" for finding in plan.findings),
        warnings=sum(finding.severity == "warning" for finding in plan.findings),
    )


def compare_rows(figures: Sequence[Figures], units: Units) -> tuple[CompareRow, ...]:
    """The figures as rows of words, with the differences from the first one."""
    return (
        _slope_row(figures, units),
        _row("area_sqft", "Roof area", figures, units.area),
        _row("sheets", "Sheets", figures, _whole),
        _row("at_least", "  at least", figures, _whole),
        _row("members", "Members", figures, _whole),
        _row("lumber_bought_in", "Lumber to buy", figures, lambda x: feet(x, units)),
        _row("lumber_placed_in", "Lumber in place", figures, lambda x: feet(x, units)),
        _row("longest_rafter_in", "Longest rafter", figures, units.length),
        _row("ridge_in", "Highest point", figures, units.length),
        _row("price", "Price, priced lines", figures, "{:,.2f}".format),
        _row("unpriced", "  lines not priced", figures, _whole),
        _row("hours", "Hours", figures, clock_words),
        _row("errors", "Errors", figures, _whole),
        _row("warnings", "Warnings", figures, _whole),
    )


def feet(length_in: float, units: Units) -> str:
    """A length of lumber or tape in whole feet, or metres."""
    return f"{length_in * 0.0254:,.1f} m" if units.system == "mm" else f"{length_in / 12.0:,.0f} ft"


def _alternative(job: Job, alternative: Alternative, effort: Effort, units: Units) -> Figures:
    try:
        other = resolved(job, alternative)
    except EditError as error:
        return Figures(alternative.id, alternative.name, problem=str(error))
    if alternative.snapshot is None:
        changes = tuple(change_words(job, change, units) for change in alternative.changes)
    else:
        changes = what_differs(alone(job), other, units)
    return figures_of(solve(other, effort), alternative.id, alternative.name, changes)


def _slopes(plan: Plan) -> tuple[float, ...]:
    areas: dict[float, float] = {}
    for plane in plan.roof.planes:
        slope = round(plane.in_12, 6)
        areas[slope] = areas.get(slope, 0.0) + plane.area_sqft
    return tuple(sorted(areas, key=lambda slope: -areas[slope]))


def _slope_row(figures: Sequence[Figures], units: Units) -> CompareRow:
    values = tuple(_slope_words(f.slopes_in_12, units) for f in figures)
    told = ["" if f.problem or not i or not _moved(figures[0], f) else "other" for i, f in enumerate(figures)]
    for i, f in enumerate(figures):
        if told[i] and f.slopes_in_12 and figures[0].slopes_in_12:
            told[i] = _signed(f.slopes_in_12[0] - figures[0].slopes_in_12[0], "{:.2f}".format, " in 12")
    return CompareRow("slopes_in_12", "Slope", _unless_broken(figures, values), tuple(told))


def _slope_words(slopes_in_12: Sequence[float], units: Units) -> str:
    """``7, 8.26 in 12``: what all have after them is said once, so that a column stays narrow."""
    said = [units.slope(slope / 12.0) for slope in slopes_in_12]
    after = " in 12" if all(each.endswith(" in 12") for each in said) else ""
    return f"{', '.join(each.removesuffix(after) for each in said)}{after}" if said else "none"


def _moved(first: Figures, other: Figures) -> bool:
    return first.slopes_in_12[:1] != other.slopes_in_12[:1]


def _row(key: str, words: str, figures: Sequence[Figures], write: Callable[[float], str]) -> CompareRow:
    found: list[float | None] = [getattr(f, key) for f in figures]
    values = tuple("not known" if value is None else write(value) for value in found)
    first = found[0]
    told = [""]
    for f, value in zip(figures[1:], found[1:], strict=True):
        same = f.problem or value is None or first is None or math.isclose(value, first, abs_tol=1e-6)
        told.append("" if same or value is None or first is None else _signed(value - first, write))
    return CompareRow(key, words, _unless_broken(figures, values), tuple(told))


def _unless_broken(figures: Sequence[Figures], values: Sequence[str]) -> tuple[str, ...]:
    return tuple("–" if f.problem else value for f, value in zip(figures, values, strict=True))


def _signed(value: float, write: Callable[[float], str], after: str = "") -> str:
    return f"{'+' if value > 0.0 else '−'}{write(abs(value))}{after}"


def _whole(value: float) -> str:
    return f"{value:,.0f}"
