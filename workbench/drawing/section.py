"""The vertical cut through a plane: low wall, plate, rafter with its notches, landing or ridge, tail, sheathing.

x is the level distance from the low bearing line towards the ridge, y the height; inches, true to scale.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from workbench.drawing.primitives import Dimension, Drawing, Line, Polygon, Primitive, Role, Text
from workbench.framing.rafter import rafter_shape, upper_reach
from workbench.job.model import Wing
from workbench.measure import Units
from workbench.plan import Plan
from workbench.roof.model import Point2
from workbench.roof.solved import Section

WALL_IN = 3.5
"""Depth of the plates and studs drawn, inches; only the outside face is measured."""

PLATE_IN = 3.0
"""Double top plate, inches."""

SHOWN_WALL_IN = 30.0
"""Height of wall drawn below a plate."""


@dataclass(frozen=True, slots=True)
class Profile:
    """The rafter in the section.

    Attributes:
        ring: Its outline, anticlockwise.
        tail: Lowest point of its top edge.
        top: Highest point of its top edge.
    """

    ring: tuple[Point2, ...]
    tail: Point2
    top: Point2


def section(plan: Plan, plane_id: str) -> Drawing:
    """The vertical cut through a plane; empty where the plane has none.

    Keys: ``plane:<id>`` for all of it, with ``/plate``, ``/landing``, ``/rafter``, ``/sheathing``, ``/run``, ``/rise``,
    ``/seat``, ``/hap``, ``/overhang`` appended for its parts.
    """
    cut = plan.section_of(plane_id)
    plane = plan.plane(plane_id)
    if cut is None or plane is None:
        return Drawing()
    key = f"plane:{plane_id}"
    wing = plan.job.wing(plane.wing)
    rafter = rafter_profile(cut, wing)
    items: list[Primitive] = [*_low_wall(key, cut), *_high_end(key, cut, wing)]
    items.append(Polygon(f"{key}/rafter", "wood", rafter.ring))
    items.append(_sheathing(key, rafter, cut, plan.job.sheathing.thickness))
    items += _measures(key, cut, rafter, plan.units)
    return Drawing(tuple(items))


def top_edge_at(cut: Section, x: float) -> float:
    """Height of the rafter's top edge at a level distance from the low bearing line, inches."""
    return cut.answer.low_plate_in + cut.answer.hap_low_in + x * cut.answer.tangent


def rafter_profile(cut: Section, wing: Wing) -> Profile:
    """The rafter's outline as it is cut, turned into the section's axes."""
    shape = rafter_shape(cut, cut.given.depth_in, wing.rafter.tail)
    low, high = -cut.overhang_in, upper_reach(cut)
    tail, cos, sin = (low, top_edge_at(cut, low)), math.cos(cut.answer.angle), math.sin(cut.answer.angle)

    def stood(point: Point2) -> Point2:
        x, y = point[0], point[1] - cut.given.depth_in
        return tail[0] + x * cos - y * sin, tail[1] + x * sin + y * cos

    return Profile(tuple(stood(point) for point in shape.profile), tail, (high, top_edge_at(cut, high)))


def _low_wall(key: str, cut: Section) -> Iterator[Polygon]:
    plate = cut.answer.low_plate_in
    yield _block(f"{key}/wall", "support", 0.0, plate - PLATE_IN - SHOWN_WALL_IN, WALL_IN, plate - PLATE_IN)
    yield _block(f"{key}/plate", "plate", 0.0, plate - PLATE_IN, WALL_IN, plate)


def _high_end(key: str, cut: Section, wing: Wing) -> Iterator[Polygon]:
    answer, run = cut.answer, cut.answer.run_in
    if cut.given.high_end == "ridge":
        half = cut.given.ridge_thickness_in / 2.0
        top = top_edge_at(cut, run - half)
        depth = wing.ridge.depth_in or cut.given.depth_in * math.hypot(1.0, answer.tangent)
        if half > 0.0:
            yield _block(f"{key}/landing", "ridge_board", run - half, top - depth, run + half, top)
    elif cut.given.high_end == "face":
        top = answer.landing_in
        yield _block(f"{key}/landing", "landing", run, top - cut.given.depth_in - 2.0, run + WALL_IN, top)
    else:
        low, far = answer.landing_in - PLATE_IN, run + max(WALL_IN, cut.past_in)
        yield _block(f"{key}/landing", "landing", run, low, far, answer.landing_in)
        if cut.given.high_end == "whole" and cut.landed:
            yield _bevelled_block(key, cut, far)
        yield _block(f"{key}/high wall", "support", run, low - SHOWN_WALL_IN, far, low)


def _bevelled_block(key: str, cut: Section, far: float) -> Polygon:
    """The block a whole rafter rests on, its eave-side top corner at the landing's height."""
    run, low = cut.answer.run_in, cut.answer.landing_in
    return Polygon(f"{key}/landing", "landing", ((run, low), (far, low), (far, low + (far - run) * cut.answer.tangent)))


def _sheathing(key: str, rafter: Profile, cut: Section, thickness: str) -> Polygon:
    """The sheathing square on the top edge, as thick as its performance category says."""
    m = cut.answer.tangent
    run = math.hypot(1.0, m)
    t = _inches(thickness)
    dx, dy = -t * m / run, t / run
    (x0, y0), (x1, y1) = rafter.tail, rafter.top
    return Polygon(f"{key}/sheathing", "sheathing", ((x0, y0), (x1, y1), (x1 + dx, y1 + dy), (x0 + dx, y0 + dy)))


def _inches(category: str) -> float:
    """Thickness of a performance category such as ``7/16`` or ``19/32``; 1/2 in where it says none."""
    upper, _, lower = category.partition("/")
    try:
        return float(upper) / float(lower or 1.0)
    except (ValueError, ZeroDivisionError):
        return 0.5


def _measures(key: str, cut: Section, rafter: Profile, units: Units) -> Iterator[Primitive]:
    answer = cut.answer
    plate, run = answer.low_plate_in, answer.run_in
    foot = plate - PLATE_IN - SHOWN_WALL_IN
    end = (run, top_edge_at(cut, run))
    yield Dimension(f"{key}/run", (run, foot), (0.0, foot), f"run {units.length(run)}", 5.0, "horizontal")
    if cut.overhang_in > 0.0:
        start = (-cut.overhang_in, foot)
        text = f"overhang {units.length(cut.overhang_in)}"
        yield Dimension(f"{key}/overhang", (0.0, foot), start, text, 5.0, "horizontal")
    rise = end[1] - plate - answer.hap_low_in
    far = rafter.top[0] if cut.past_in > 0.0 else run
    yield Line(f"{key}/rise", "dimension", (0.0, plate + answer.hap_low_in), (far, plate + answer.hap_low_in))
    yield Dimension(
        f"{key}/rise", (far, end[1]), (far, plate + answer.hap_low_in), f"rise {units.length(rise)}", 8.0, "vertical"
    )
    yield Dimension(
        f"{key}/hap", (0.0, plate), (0.0, plate + answer.hap_low_in), f"HAP {units.inches(answer.hap_low_in)}", 7.0
    )
    if answer.seat_in > 1e-6:
        text = f"seat {units.inches(answer.seat_in)}"
        yield Dimension(f"{key}/seat", (answer.seat_in, plate - PLATE_IN), (0.0, plate - PLATE_IN), text, 5.0)
    yield Text(f"{key}/plate", "note", (WALL_IN, plate - 12.0), f" plate {units.length(plate)}", anchor="left")
    middle = (run * 0.45, top_edge_at(cut, run * 0.45))
    slope = f"{units.slope(answer.tangent)}  {units.angle(answer.angle)}"
    yield Text(f"{key}/rafter", "slope_arrow", middle, slope, "label", math.degrees(answer.angle), shift=3.0)


def _block(key: str, role: Role, x0: float, y0: float, x1: float, y1: float) -> Polygon:
    return Polygon(key, role, ((x0, y0), (x1, y0), (x1, y1), (x0, y1)))
