"""A mark's side view with its cuts and measures. x along the top edge from the lower end, y square up; inches."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from workbench.drawing.primitives import Dimension, Drawing, Line, Polygon, Primitive, Text
from workbench.drawing.shapes import box, clipped_to_x, direction_deg, middle, sides
from workbench.framing.model import Cut, Measure, Member
from workbench.measure import Units
from workbench.roof.model import Point2

_ON_EDGE = 1e-6
_SQUARE_DEG = 0.05
STEP_MM = 6.0
"""Printed distance of two dimension lines."""
LETTER_MM = 3.0
"""Printed distance of a letter from its cut."""

CutNames = Literal["full", "letters", "none"]
TOP_VIEW_GAP_IN = 2.5
"""Distance of the top view from the side view, inches."""

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Key letters of cuts; I and O are left out, being read as digits."""


@dataclass(frozen=True, slots=True)
class CutSide:
    """A cut with the side of the profile it makes."""

    cut: Cut
    letter: str
    start: Point2
    end: Point2


def cut_card(
    member: Member,
    units: Units,
    *,
    names: CutNames = "full",
    short: bool = True,
    top: bool = False,
    said: Mapping[str, str] | None = None,
) -> Drawing:
    """The whole member: profile, cuts, measures.

    Args:
        member: The mark.
        units: The job's formatter.
        names: Name the cuts in full with their settings, by a key letter for a table beside the drawing, or not at all.
        short: Also draw the measures across the stock (seat, heel, height above plate).
        top: Also draw the top edge, below the side view, where a cut is bevelled.
        said: What to write on measures of these names instead of name and length.
    """
    key = f"member:{member.mark}"
    items: list[Primitive] = [Polygon(key, "wood", member.profile)]
    items += _cut_lines(key, member)
    measures = [measure for measure in member.measures if short or is_along(measure)]
    items += _dimensions(key, measures, member.depth_in, units, tape=True, said=said or {})
    if names != "none":
        items += [_cut_text(key, side, units, letters=names == "letters") for side in cut_sides(member)]
    if top and any(is_bevelled(cut) for cut in member.cuts):
        items += _top_view(key, member, -math.inf, math.inf, below=True)
    return Drawing(tuple(items))


def cut_detail(member: Member, units: Units, start_in: float, end_in: float, *, along: bool = True) -> Drawing:
    """One end of a member, from ``start_in`` to ``end_in`` along its top edge, cuts named by their letters.

    Only measures that lie inside the part are drawn; without ``along`` only those across the stock.
    """
    key = f"member:{member.mark}"
    part = clipped_to_x(member.profile, start_in, end_in)
    items: list[Primitive] = [Polygon(key, "wood", part)]
    items += _cut_lines(key, member, start_in, end_in)

    def shown(start: Point2, end: Point2) -> bool:
        return all(start_in - _ON_EDGE <= x <= end_in + _ON_EDGE for x, _ in (start, end))

    inside = [m for m in member.measures if shown(m.start, m.end) and (along or not is_along(m))]
    items += _dimensions(key, inside, member.depth_in, units, tape=False)
    inner = [side for side in cut_sides(member) if shown(side.start, side.end)]
    items += [_cut_text(key, side, units, letters=True) for side in inner]
    if any(is_bevelled(side.cut) for side in inner):
        items += _top_view(key, member, start_in, end_in)
    return Drawing(tuple(items))


def is_bevelled(cut: Cut) -> bool:
    """Whether the blade is tilted for it."""
    return abs(cut.bevel_deg) > 1e-6 or cut.other_bevel_deg is not None


def is_plain(member: Member) -> bool:
    """Whether it is a board cut square at both ends and nothing else: a length says all there is to cut."""
    square = all(abs(cut.angle_deg) < _SQUARE_DEG and not is_bevelled(cut) for cut in member.cuts)
    return square and len(member.profile) == 4 and not member.backing_deg


def _top_view(
    key: str, member: Member, start_in: float, end_in: float, *, below: bool = False
) -> Iterator[Polygon | Text]:
    """The top edge seen square on: above the side view, or below it where measures stand above."""
    ring = clipped_to_x(member.top, start_in, end_in) if member.top else ()
    if len(ring) > 2:
        half = member.thickness_in / 2.0
        lift = -TOP_VIEW_GAP_IN - half if below else member.depth_in + TOP_VIEW_GAP_IN + half
        raised = tuple((x, y + lift) for x, y in ring)
        x0, y0, x1, y1 = box(raised)
        yield Polygon(key, "wood", raised)
        at = ((x0 + x1) / 2.0, y0 if below else y1)
        yield Text(key, "note", at, "from above", "small", shift=-1.0 if below else 1.0)


def cut_sides(member: Member) -> tuple[CutSide, ...]:
    """Each cut with the side of the profile that fits it best by place and angle."""
    free = list(_cut_edges(member))
    found: list[CutSide] = []
    for i, cut in enumerate(member.cuts):
        if not free:
            break
        best = min(free, key=lambda side: _misfit(cut, side))
        free.remove(best)
        found.append(CutSide(cut, LETTERS[i % len(LETTERS)], *best))
    return tuple(found)


def lettered_cuts(member: Member) -> tuple[tuple[str, Cut], ...]:
    """Every cut with its key letter, also one that makes no side of the side view, such as a rip along the stock."""
    return tuple((LETTERS[i % len(LETTERS)], cut) for i, cut in enumerate(member.cuts))


def cut_angle_text(cut: Cut, units: Units) -> str:
    """A cut's setting: angle off square and ``x in 12``, then its bevel or bevels with the side of the long point."""
    angle = math.radians(abs(cut.angle_deg))
    text = "square" if angle < 1e-6 else f"{units.angle(angle)}, {units.slope(abs(cut.in_12) / 12.0)}"
    if cut.other_bevel_deg is not None:
        left, right = (units.angle(math.radians(abs(deg))) for deg in (cut.bevel_deg, cut.other_bevel_deg))
        text += f"; bevel {left} left, {right} right"
        across = [units.slope(abs(side) / 12.0) for side in (cut.side_in_12, cut.other_side_in_12) if side is not None]
        if across:
            both = across[0] if len(set(across)) == 1 else f"{across[0]} left, {across[-1]} right"
            text += f", {both} across the top"
        return text if cut.middle_in is None else f"{text}, point {units.inches(cut.middle_in)} from the left face"
    if abs(cut.bevel_deg) < 1e-6:
        return text
    text += f"; bevel {units.angle(math.radians(abs(cut.bevel_deg)))}"
    if cut.side_in_12 is not None:
        text += f", {units.slope(abs(cut.side_in_12) / 12.0)} across the top"
    return f"{text}, long point {cut.long}" if cut.long else text


def _cut_edges(member: Member) -> Iterator[tuple[Point2, Point2]]:
    """Sides of the profile that lie on neither long edge."""
    for a, b in sides(member.profile):
        on_bottom = abs(a[1]) < _ON_EDGE and abs(b[1]) < _ON_EDGE
        on_top = abs(a[1] - member.depth_in) < _ON_EDGE and abs(b[1] - member.depth_in) < _ON_EDGE
        if not (on_bottom or on_top) and math.dist(a, b) > _ON_EDGE:
            yield a, b


def _misfit(cut: Cut, side: tuple[Point2, Point2]) -> float:
    """How badly a side fits a cut: inches off its place, plus an inch for every two degrees off its angle."""
    (x0, _), (x1, _) = side
    away = max(min(x0, x1) - cut.at_in, cut.at_in - max(x0, x1), 0.0)
    off_square = abs(90.0 - direction_deg(*side) % 180.0)
    return away + abs(off_square - abs(cut.angle_deg)) / 2.0


def _cut_lines(key: str, member: Member, start: float = -math.inf, end: float = math.inf) -> list[Line]:
    return [
        Line(key, "cut_line", a, b)
        for a, b in _cut_edges(member)
        if start - _ON_EDGE <= min(a[0], b[0]) and max(a[0], b[0]) <= end + _ON_EDGE
    ]


def _cut_text(key: str, side: CutSide, units: Units, *, letters: bool) -> Text:
    name = side.letter if letters else f"{side.letter}  {side.cut.name} {cut_angle_text(side.cut, units)}"
    (ax, ay), (bx, by) = a, b = side.start, side.end
    if not letters:
        return Text(key, "note", middle(a, b), name, "label", back=True, shorter=(side.letter,))
    # Profiles run anticlockwise: the wood is to the left. There a letter hides no cut.
    length = math.dist(a, b)
    off = (LETTER_MM * (ay - by) / length, LETTER_MM * (bx - ax) / length)
    return Text(key, "title", middle(a, b), name, "label", back=True, off=off)


def is_along(measure: Measure) -> bool:
    """Whether it runs along the stock."""
    return abs(measure.start[1] - measure.end[1]) < _ON_EDGE


def _dimensions(
    key: str,
    measures: Sequence[Measure],
    depth: float,
    units: Units,
    *,
    tape: bool,
    said: Mapping[str, str] = MappingProxyType({}),
) -> Iterator[Dimension]:
    """Measures along the stock above it, short ones nearest, each on a line of its own; the others where they lie."""
    along = sorted((m for m in measures if is_along(m)), key=lambda m: (m.length_in, m.name))
    for step, measure in enumerate(along, 1):
        a, b = sorted((measure.start, measure.end))
        above = a[1] > depth / 2.0
        short = f"{measure.name} {units.inches(measure.length_in)}"
        full = f"{measure.name} {units.tape(measure.length_in)}" if tape else short
        start, end = (a, b) if above else (b, a)
        text, other = (said[measure.name], ()) if measure.name in said else (full, (short,))
        yield Dimension(key, start, end, text, STEP_MM * step, shorter=other)
    for measure in measures:
        if is_along(measure):
            continue
        name = measure.name.replace("height above plate", "HAP")
        # From right to left: a seat's line then stands off below the notch, a plumb one's on the tail's side.
        end, start = sorted((measure.start, measure.end))
        level = abs(start[0] - end[0]) > abs(start[1] - end[1])
        yield Dimension(key, start, end, f"{name} {units.inches(measure.length_in)}", 3.0 if level else -3.0)


def card_length_in(member: Member) -> float:
    """Length of the profile along the stock, inches."""
    x0, _, x1, _ = box(member.profile)
    return x1 - x0
