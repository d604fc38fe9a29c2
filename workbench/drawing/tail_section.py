"""The tail of one eave to scale: rafter, plate, fascia, level soffit, with what a carpenter measures there.

x is the level distance from the building line towards the ridge, y the height; inches.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from workbench.drawing.primitives import Dimension, Drawing, Line, Polygon, Primitive, Role
from workbench.drawing.shapes import clipped_to_x
from workbench.framing.stick import Notch, Stick, square_end, stick_shape
from workbench.measure import Units
from workbench.roof.model import Point2
from workbench.site.model import Tail

PLATE_IN = 3.0
WALL_IN = 3.5
_PAST_IN = 10.0
_WALL_SHOWN_IN = 5.0
_LEAST_IN = 0.25


def tail_section(tail: Tail) -> Drawing:
    """The section through a tail, the building on the right; measures are lettered as in ``tail_figures``."""
    items: list[Primitive] = [*_wall(tail), Polygon("", "wood", _rafter(tail)), *_boards(tail), *_measures(tail)]
    return Drawing(tuple(items))


def tail_figures(tail: Tail, units: Units) -> list[tuple[str, str, str]]:
    """Letter, what it is, and its measure."""
    cuts = {"plumb": "tail's plumb cut", "square": "tail's square cut", "level": "plumb face over the level cut"}
    plate = tail.plate_in
    found = [
        ("A", "building line to the tail's cut, level", units.inches(tail.overhang_in)),
        ("B", cuts[tail.tail], units.inches(tail.face_in)),
        ("C", "plate to the rafter's top edge (HAP)", units.inches(tail.hap_in)),
        ("D", f"level soffit, {_from(tail.soffit_in - plate)} the plate", units.inches(abs(tail.soffit_in - plate))),
        ("E", f"top of a frieze, {_from(tail.frieze_in - plate)} it", units.inches(abs(tail.frieze_in - plate))),
        ("", "level soffit over the ground", units.length(tail.soffit_over_ground_in)),
    ]
    if tail.fascia_in is not None:
        found.append(("F", "fascia, depth", units.inches(tail.fascia_in)))
        if tail.fascia_drop_in > _LEAST_IN / 16.0:
            found.append(("", "set down, if its top is square", units.inches(tail.fascia_drop_in)))
        below = "reaches under the tail" if tail.fascia_below_in >= 0.0 else "leaves of the tail bare"
        found.append(("", f"so set, the fascia {below}", units.inches(abs(tail.fascia_below_in))))
    if tail.sub_fascia_bevel_deg > 0.0:
        board = "sub-fascia" if tail.sub_fascia_thickness_in > 0.0 else "fascia"
        found.append(("", f"top bevel of the {board}", units.angle(math.radians(tail.sub_fascia_bevel_deg))))
    return found


def _from(height: float) -> str:
    return "over" if height > 0.0 else "under"


def _rafter(tail: Tail) -> tuple[Point2, ...]:
    """The rafter as it is cut, up to a little past the plate."""
    m = tail.tangent
    stretch = math.hypot(1.0, m)
    seat = (tail.depth_in * stretch - tail.hap_in) / m
    shape = stick_shape(
        Stick(
            tangent=m,
            depth=tail.depth_in,
            thickness=0.0,
            height=tail.plate_in + tail.hap_in,
            low=square_end("", -tail.overhang_in, 0.0),
            high=square_end("", _PAST_IN + 2.0 * tail.depth_in, 0.0),
            tail=tail.tail,
            notches=(Notch("", 0.0, tail.plate_in, seat),),
        )
    )
    cos, sin = 1.0 / stretch, m / stretch
    start = (-tail.overhang_in, tail.top_in)
    stood = tuple(
        (start[0] + x * cos - (y - tail.depth_in) * sin, start[1] + x * sin + (y - tail.depth_in) * cos)
        for x, y in shape.profile
    )
    return clipped_to_x(stood, -tail.overhang_in - tail.depth_in, _PAST_IN)


def _wall(tail: Tail) -> Iterator[Primitive]:
    plate = tail.plate_in
    foot = min(plate - PLATE_IN, tail.bottom_in) - _WALL_SHOWN_IN
    yield _box("support", 0.0, foot, WALL_IN, plate - PLATE_IN)
    yield _box("plate", 0.0, plate - PLATE_IN, WALL_IN, plate)


def _box(role: Role, x0: float, y0: float, x1: float, y1: float) -> Polygon:
    return Polygon("", role, ((x0, y0), (x1, y0), (x1, y1), (x0, y1)))


def _boards(tail: Tail) -> Iterator[Primitive]:
    """Sub-fascia with its bevelled edge, and the fascia set down until its outer corner lies in the plane."""
    m, x, top = tail.tangent, -tail.overhang_in, tail.top_in
    square = tail.tail == "square"
    stretch = math.hypot(1.0, m)
    # On a square tail boards lean with the cut; on a plumb one they stand up.
    down = (m / stretch, -1.0 / stretch) if square else (0.0, -1.0)
    out = (-1.0 / stretch, -m / stretch) if square else (-1.0, 0.0)
    at = (x, top)
    if tail.sub_fascia_thickness_in > 0.0:
        t, high = tail.sub_fascia_thickness_in, tail.face_in
        low = 0.0 if square else t * m
        yield Polygon("", "board", _board(at, out, down, t, (0.0, low), (high, high)))
        at = (at[0] + out[0] * t, at[1] + out[1] * t)
    if tail.fascia_in is not None:
        t = tail.fascia_thickness_in
        drop = tail.fascia_drop_in
        foot = drop + tail.fascia_in
        yield Polygon("", "board", _board(at, out, down, t, (drop, drop), (foot, foot)))


def _board(
    at: Point2, out: Point2, down: Point2, t: float, tops: tuple[float, float], feet: tuple[float, float]
) -> tuple[Point2, ...]:
    """Inner and outer face of a board from its upper to its lower edge."""

    def corner(across: float, below: float) -> Point2:
        return at[0] + out[0] * across + down[0] * below, at[1] + out[1] * across + down[1] * below

    return corner(0.0, tops[0]), corner(0.0, feet[0]), corner(t, feet[1]), corner(t, tops[1])


def _measures(tail: Tail) -> Iterator[Primitive]:
    out, plate = -tail.overhang_in, tail.plate_in
    foot = min(plate - PLATE_IN, tail.bottom_in) - _WALL_SHOWN_IN
    if tail.overhang_in > _LEAST_IN:
        yield Dimension("", (0.0, foot), (out, foot), "A", 2.0, "horizontal")
        yield Line("", "snap_line", (out, tail.soffit_in), (WALL_IN, tail.soffit_in))
    x = out - _out(tail)
    if tail.tail == "square":
        foot_x = out + tail.depth_in * math.sin(math.atan(tail.tangent))
        yield Dimension("", (out, tail.top_in), (foot_x, tail.bottom_in), "B", -7.0)
    else:
        yield Dimension("", (x, tail.top_in), (x, tail.top_in - tail.face_in), "B", -6.0, "vertical")
    yield Dimension("", (WALL_IN, plate), (WALL_IN, plate + tail.hap_in), "C", -6.0, "vertical")
    yield Line("", "dimension", (0.0, plate + tail.hap_in), (WALL_IN, plate + tail.hap_in))
    if abs(tail.soffit_over_plate_in) > _LEAST_IN:
        yield Dimension("", (WALL_IN, tail.soffit_in), (WALL_IN, plate), "D", -6.0, "vertical")
    if abs(tail.frieze_in - plate) > _LEAST_IN:
        yield Dimension("", (0.0, tail.frieze_in), (0.0, plate), "E", 4.0, "vertical")
    if tail.fascia_in is not None and tail.tail != "square":
        drop = tail.fascia_drop_in
        yield Dimension("", (x, tail.top_in - drop), (x, tail.top_in - drop - tail.fascia_in), "F", -12.0, "vertical")


def _out(tail: Tail) -> float:
    return (0.0 if tail.fascia_in is None else tail.fascia_thickness_in) + tail.sub_fascia_thickness_in
