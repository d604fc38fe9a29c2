"""Where the handles of a section stand, and what value a dragged handle means.

Section axes: x is the level distance from the low bearing line towards the high end, y the height; inches. A handle
has an anchor on the drawing and a nudge in screen pixels (y down), so that handles of measures that lie close together,
such as the seat and the low plate, can still be taken hold of one by one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from workbench.bench.strip.measures import Cut, Mark, Measurable, measures
from workbench.job.model import Job
from workbench.measure import MM_PER_INCH
from workbench.roof.model import Point2

Axis = Literal["level", "plumb", "turn"]
Side = Literal["left", "right", "top"]

WALL_SHOWN_IN = 14.0
"""How much of the low wall is drawn under the plate, inches."""

_LOW_END_FINDS = ("low_plate", "hap_low", "seat")


@dataclass(frozen=True, slots=True)
class Handle:
    """One handle.

    Attributes:
        name: The measure it changes.
        anchor: Point of the section it belongs to, inches.
        nudge: Offset of the handle from its anchor in pixels, y down.
        axis: The way it moves: ``level``, ``plumb``, or ``turn`` about the end that stays.
        side: Where its number stands: ``left`` of the drawing, ``right`` of it, or over the rafter (``top``).
        mark: Whether the measure is given, to find, or follows.
    """

    name: Measurable
    anchor: Point2
    nudge: tuple[float, float]
    axis: Axis
    side: Side
    mark: Mark

    @property
    def movable(self) -> bool:
        """Whether it can be dragged: only what is given can."""
        return self.mark == "given"


def handles(cut: Cut) -> tuple[Handle, ...]:
    """One handle for every measure of the section, in the order of ``measures``."""
    answer = cut.section.answer
    bottom = run_line(cut)
    anchors: dict[Measurable, tuple[Point2, tuple[float, float], Axis, Side]] = {
        "slope": (_top_at(cut, 0.45 * answer.run_in), (0.0, 0.0), "turn", "top"),
        "tail": (_top_at(cut, -cut.section.overhang_in), (-14.0, -10.0), "level", "left"),
        "hap_low": (_top_at(cut, 0.0), (-8.0, -18.0), "plumb", "left"),
        "seat": ((answer.seat_in, answer.low_plate_in), (10.0, 24.0), "level", "left"),
        "low_plate": ((0.0, answer.low_plate_in), (-20.0, 15.0), "plumb", "left"),
        "run": ((answer.run_in, bottom), (0.0, 0.0), "level", "right"),
        "landing": ((answer.run_in, answer.landing_in), (16.0, 14.0), "plumb", "right"),
        "hap_high": (_top_at(cut, answer.run_in), (0.0, -16.0), "plumb", "right"),
    }
    return tuple(Handle(m.name, *anchors[m.name], m.mark) for m in measures(cut))


def run_line(cut: Cut) -> float:
    """Height of the line the run is measured along, inches: under what is drawn of the low wall."""
    return cut.section.answer.low_plate_in - WALL_SHOWN_IN


def pivot(cut: Cut) -> Point2:
    """The point of the rafter's top edge that stays where it is when the slope is turned."""
    return _top_at(cut, cut.section.given.reach_in) if cut.unknown in _LOW_END_FINDS else _top_at(cut, 0.0)


def _top_at(cut: Cut, x: float) -> Point2:
    """The rafter's top edge over a point of the run."""
    answer = cut.section.answer
    return x, answer.low_plate_in + answer.hap_low_in + x * answer.tangent


def dragged_value(cut: Cut, handle: Handle, start: Point2, now: Point2, job: Job, *, whole: bool = False) -> float:
    """The measure's value when its handle was taken at ``start`` and is now at ``now`` (section axes).

    Only the movement counts, so that a handle does not jump when it is taken off its centre. The result is a step of
    what the job shows (1/16 in, 1 mm), or a whole inch with ``whole``; a slope is hundredths in 12, and whole numbers
    hold it fast when it comes near.

    Args:
        cut: The section as it was when the drag began.
        handle: The handle taken.
        start: Where it was taken.
        now: Where the pointer is.
        job: The job, for its units.
        whole: Whether to move by whole inches, or whole numbers of slope.
    """
    value = next(m.value for m in measures(cut) if m.name == handle.name)
    if handle.axis == "turn":
        return _turned(cut, start, now, whole=whole)
    moved = now[0] - start[0] if handle.axis == "level" else now[1] - start[1]
    if handle.name == "tail":
        moved = -moved
    return max(_least(handle.name), _on_step(value + moved, step_of(job, whole=whole)))


def step_of(job: Job, *, whole: bool = False) -> float:
    """The step a length moves by, inches: the job's fraction or 1 mm; an inch or 10 mm with ``whole``."""
    if job.units.system == "mm":
        return float((10 if whole else 1) / MM_PER_INCH)
    return 1.0 if whole else 1.0 / job.units.fraction


def nudged_value(cut: Cut, name: Measurable, steps: int, job: Job, *, whole: bool = False) -> float:
    """The measure's value some steps on: a fraction of an inch, an inch with ``whole``; 0.05 or 1 in 12 for a slope."""
    value = next(m.value for m in measures(cut) if m.name == name)
    step = (1.0 if whole else 0.05) if name == "slope" else step_of(job, whole=whole)
    # The first step lands on the grid of steps, so that a value from a solved job becomes one a tape can show.
    first = math.floor(value / step + 1e-9) if steps > 0 else math.ceil(value / step - 1e-9)
    return max(0.05 if name == "slope" else _least(name), (first + steps) * step)


def _least(name: Measurable) -> float:
    if name in ("tail", "seat"):
        return 0.0
    return 1.0 if name == "run" else -math.inf


def _on_step(value: float, step: float) -> float:
    return round(value / step) * step


def _turned(cut: Cut, start: Point2, now: Point2, *, whole: bool) -> float:
    """Rise in 12 when the rafter, held at its pivot, follows the pointer."""
    x0, y0 = pivot(cut)
    on_rafter = y0 + (start[0] - x0) * cut.section.answer.tangent
    level = now[0] - x0
    # Past the pivot there is no rising rafter; keep to the side the handle was taken on.
    level = max(level, 1.0) if start[0] >= x0 else min(level, -1.0)
    in_12 = 12.0 * (now[1] - start[1] + on_rafter - y0) / level
    nearest = round(in_12)
    if whole or abs(in_12 - nearest) < 0.06:
        return float(min(24, max(1, nearest)))
    return min(24.0, max(0.25, round(in_12, 2)))


def bracket_wedge(cut: Cut, from_in_12: float, right: float, top: float) -> tuple[Point2, ...]:
    """The slopes of a price bracket as a polygon the rafter's top edge must stay out of.

    It opens from the low end of the rafter's top edge, bounded below by the bracket's first slope, and is clipped to
    x <= ``right`` and y <= ``top``; empty when nothing of it is in sight.
    """
    x0, y0 = _top_at(cut, 0.0)
    tangent = from_in_12 / 12.0
    if right <= x0 or top <= y0:
        return ()
    at_right = y0 + (right - x0) * tangent
    if at_right >= top:
        return (x0, y0), (x0 + (top - y0) / tangent, top), (x0, top)
    return (x0, y0), (right, at_right), (right, top), (x0, top)
