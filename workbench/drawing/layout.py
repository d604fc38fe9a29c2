"""A drawing set out on a page of known scale: everything in points, texts placed so that none lies on another.

Text keeps its printed size at every scale, so what fits depends on the scale. A text that does not fit inside its
outline is written shorter, then set outside with a leader.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace

from workbench.drawing.boxes import (
    Extents,
    extent_of,
    lies_inside,
    nearest_side,
    overlap,
    readable,
    spiral,
    text_box,
    touches,
)
from workbench.drawing.laid_out import Area, Layout, Lettering, Segment, Stroke
from workbench.drawing.primitives import Arrow, Dimension, Drawing, Line, Polygon, Text, TextSize
from workbench.drawing.shapes import box, contains, sides
from workbench.drawing.styles import STYLES, TEXT_PT
from workbench.roof.model import Point2

TextWidth = Callable[[str, float], float]
"""Width in points of a text at a size in points."""

PT_PER_MM = 72.0 / 25.4
LINE_STEP = 1.2
"""Distance of two lines of one text, in sizes."""

CAP = 0.73
"""Height of a capital, in sizes."""

CLEAR_PT = 1.5
"""Free space kept round a text."""

_TICK_PT = 3.0
_WITNESS_GAP_PT = 2.0
_HEAD_PT = 8.0


def lay_out(drawing: Drawing, pt_per_in: float, text_width: TextWidth) -> Layout:
    """Set a drawing out at a scale of so many points per inch of the real thing."""
    page = _Page(pt_per_in, text_width)
    for item in drawing.items:
        match item:
            case Line():
                page.add_line(item)
            case Polygon():
                page.add_polygon(item)
            case Arrow():
                page.add_arrow(item)
            case Dimension():
                page.add_dimension(item)
            case Text():
                page.waiting.append(item)
    # Those with a place of their own first: the others can go elsewhere in their outline.
    for text in sorted(page.waiting, key=lambda text: bool(text.within)):
        page.place(text)
    return Layout(tuple(page.marks), tuple(page.texts), page.leaders)


@dataclass(slots=True)
class _Page:
    scale: float
    width_of: TextWidth
    marks: list[Area | Stroke] = field(default_factory=list[Area | Stroke])
    texts: list[Lettering] = field(default_factory=list[Lettering])
    waiting: list[Text] = field(default_factory=list[Text])
    text_extents: Extents = field(default_factory=Extents)
    segments: list[Segment] = field(default_factory=list[Segment])
    segment_extents: Extents = field(default_factory=Extents)
    areas: list[Area] = field(default_factory=list[Area])
    area_extents: Extents = field(default_factory=Extents)
    roofs: list[tuple[Point2, ...]] = field(default_factory=list[tuple[Point2, ...]])
    roof_extents: Extents = field(default_factory=Extents)
    leaders: int = 0
    blocks: dict[tuple[str, TextSize], tuple[float, float]] = field(
        default_factory=dict[tuple[str, TextSize], tuple[float, float]]
    )

    def at(self, point: Point2) -> Point2:
        return point[0] * self.scale, point[1] * self.scale

    def add_mark(self, mark: Area | Stroke) -> None:
        self.marks.append(mark)
        if isinstance(mark, Stroke):
            self._add_segment(mark.start, mark.end)
        elif mark.outlined:
            for start, end in sides(mark.ring):
                self._add_segment(start, end)
            self.areas.append(mark)
            self.area_extents.add(box(mark.ring))

    def _add_segment(self, start: Point2, end: Point2) -> None:
        self.segments.append((start, end))
        self.segment_extents.add(extent_of(start, end))

    def add_line(self, item: Line) -> None:
        (x0, y0), (x1, y1) = start, end = self.at(item.start), self.at(item.end)
        length = math.dist(start, end)
        if any(item.past) and length > 1e-9:
            ux, uy = (x1 - x0) / length * PT_PER_MM, (y1 - y0) / length * PT_PER_MM
            start = (x0 - ux * item.past[0], y0 - uy * item.past[0])
            end = (x1 + ux * item.past[1], y1 + uy * item.past[1])
        self.add_mark(Stroke(item.role, start, end))

    def add_polygon(self, item: Polygon) -> None:
        style = STYLES[item.role]
        fill = style.fill if item.tint is None else 1.0 - item.tint
        ring = tuple(self.at(point) for point in item.points)
        if item.role == "plane":
            self.roofs.append(ring)
            self.roof_extents.add(box(ring))
        self.add_mark(Area(item.key, item.role, ring, fill, item.hatch, style.weight > 0.0))

    def add_arrow(self, item: Arrow) -> None:
        (x0, y0), (x1, y1) = start, end = self.at(item.start), self.at(item.end)
        length = math.dist(start, end)
        if length < 1e-9:
            return
        head = min(_HEAD_PT, length / 2.0)
        ux, uy = (x1 - x0) / length, (y1 - y0) / length
        bx, by = x1 - ux * head, y1 - uy * head
        wing = head * 0.3
        self.add_mark(Stroke(item.role, start, (bx, by)))
        ring = ((x1, y1), (bx - uy * wing, by + ux * wing), (bx + uy * wing, by - ux * wing))
        self.add_mark(Area(item.key, item.role, ring, STYLES[item.role].ink, outlined=False))

    def add_dimension(self, item: Dimension) -> None:
        start, end = self.at(item.start), self.at(item.end)
        a, b = _dimension_line(item, start, end)
        if math.dist(a, b) < 1e-9:
            return
        for point, foot in ((start, a), (end, b)):
            self._witness(point, foot)
        self.add_mark(Stroke("dimension", a, b))
        ux, uy = (b[0] - a[0]) / math.dist(a, b), (b[1] - a[1]) / math.dist(a, b)
        tx, ty = (ux - uy) * _TICK_PT / math.sqrt(2.0), (uy + ux) * _TICK_PT / math.sqrt(2.0)
        for x, y in (a, b):
            self.add_mark(Stroke("title", (x - tx, y - ty), (x + tx, y + ty)))
        self._dimension_text(item, a, b)

    def _witness(self, point: Point2, foot: Point2) -> None:
        length = math.dist(point, foot)
        if length > _WITNESS_GAP_PT + 0.5:
            ux, uy = (foot[0] - point[0]) / length, (foot[1] - point[1]) / length
            near = (point[0] + ux * _WITNESS_GAP_PT, point[1] + uy * _WITNESS_GAP_PT)
            self.add_mark(Stroke("dimension", near, (foot[0] + ux * _TICK_PT, foot[1] + uy * _TICK_PT)))

    def _dimension_text(self, item: Dimension, a: Point2, b: Point2) -> None:
        size = TEXT_PT[item.size]
        angle = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
        length = math.dist(a, b)
        said = (item.text, *item.shorter)
        words = next((each for each in said if self.width_of(each, size) + 4.0 * CLEAR_PT < length), said[-1])
        width = self.width_of(words, size)
        ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        mid = ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)
        out = (width + length) / 2.0 + 3.0 * CLEAR_PT
        fits = width + 4.0 * CLEAR_PT < length
        lift = CAP * size / 2.0 + 3.0
        text = Text(item.key, "dimension", (0.0, 0.0), words, item.size, angle, back=True)
        if not fits and min(abs(ux), abs(uy)) > 1e-6:
            # Slanted text past a slanted line sends the eye the wrong way: level text with a leader instead.
            self._place_outside(text, words, mid, off_all=True)
            return
        lifts = [0.0, lift, -lift] if fits else [lift] if width < 1.6 * length else []
        spots = [(mid[0] - uy * up, mid[1] + ux * up) for up in lifts]
        spots += [
            (x - uy * up, y + ux * up)
            for up in (0.0, lift, -lift)
            for x, y in sorted(
                ((mid[0] - ux * out, mid[1] - uy * out), (mid[0] + ux * out, mid[1] + uy * out)),
                key=lambda end: math.dist(end, self._heart()),
            )
        ]
        letterings = [self._lettering(text, words, spot) for spot in spots]
        self._add(next((lettering for lettering in letterings if self._is_free(lettering.box)), letterings[0]))

    def _heart(self) -> Point2:
        """Middle of the areas drawn so far: text past the end of a short dimension goes towards it."""
        points = [point for mark in self.marks if isinstance(mark, Area) for point in mark.ring]
        x0, y0, x1, y1 = box(points or [(0.0, 0.0)])
        return (x0 + x1) / 2.0, (y0 + y1) / 2.0

    def place(self, item: Text) -> None:
        """Put a text where it fits: as it is, shorter, elsewhere in its outline, outside with a leader."""
        ring = tuple(self.at(point) for point in item.within)
        variants = [item.text, *item.shorter]
        for text in variants:
            if not text and item.smaller and item.size != "small":
                words = tuple(each for each in variants if each)
                self.place(replace(item, text=words[-1], shorter=("",), size="small"))
            if not text:
                return  # better nothing than a leader
            for angle in _angles(item):
                if not self._may_fit(item, text, angle, ring):
                    continue
                for spot in self._spots(item, text, ring):
                    if not ring and self._on_another_roof(item, text, spot):
                        continue
                    corners = self._corners(item, text, spot, angle)
                    inside = not ring or lies_inside(ring, corners)
                    if inside and self._is_free(corners) and (item.back or self._is_clear(corners)):
                        self._add(self._lettering(item, text, spot, angle))
                        return
        self._place_outside(item, variants[-1], self._foot(item))

    def _may_fit(self, item: Text, text: str, angle: float, ring: tuple[Point2, ...]) -> bool:
        """Whether the block is no longer than its span, no wider and no taller than its outline's own upright box."""
        if item.span and self._block(text, item.size)[0] > item.span * self.scale:
            return False
        if not ring:
            return True
        x0, y0, x1, y1 = box(self._corners(item, text, (0.0, 0.0), angle))
        left, low, right, high = box(ring)
        return x1 - x0 <= right - left and y1 - y0 <= high - low

    def _add(self, lettering: Lettering) -> None:
        self.texts.append(lettering)
        self.text_extents.add(box(lettering.box))

    def _spots(self, item: Text, text: str, ring: tuple[Point2, ...]) -> Iterable[Point2]:
        if not ring:
            for at in (item.at, *item.also):
                yield from self._beside(replace(item, at=at), text)
            return
        own = self._own_centre(item, text, item.shift)
        yield own
        x0, y0, x1, y1 = box(ring)
        steps = 12
        grid = [
            (x0 + (x1 - x0) * (i + 0.5) / steps, y0 + (y1 - y0) * (j + 0.5) / steps)
            for i in range(steps)
            for j in range(steps)
        ]
        yield from sorted(grid, key=lambda point: (math.dist(point, own), point))

    def _on_another_roof(self, item: Text, text: str, spot: Point2) -> bool:
        """Whether a text beside its line would stand on a roof while the line has parts that no roof is under."""
        if not item.shift or not item.span:
            return False
        (x, y), half = self._own_centre(item, text, item.shift), 0.45 * item.span * self.scale
        ux, uy = math.cos(math.radians(item.angle_deg)), math.sin(math.radians(item.angle_deg))
        if abs((spot[0] - x) * uy - (spot[1] - y) * ux) > 1.0:
            return False  # on the other side of its line it stands on its own roof
        ends = ((x + part * half * ux, y + part * half * uy) for part in (-1.0, 1.0))
        return self._on_roof(spot) and not all(self._on_roof(end) for end in ends)

    def _on_roof(self, point: Point2) -> bool:
        return any(contains(self.roofs[i], point) for i in self.roof_extents.meeting((*point, *point)))

    def _beside(self, item: Text, text: str) -> Iterable[Point2]:
        """At its point, a little along its line, and the same on the other side."""
        for shift in (item.shift, -item.shift) if item.shift else (0.0,):
            own = self._own_centre(item, text, shift)
            yield own
            yield from self._along(item, own, text)

    def _along(self, item: Text, own: Point2, text: str) -> Iterable[Point2]:
        """A little way along its own line, either side."""
        if item.anchor != "centre":
            return
        width = self.width_of(text, TEXT_PT[item.size])
        cos, sin = math.cos(math.radians(item.angle_deg)), math.sin(math.radians(item.angle_deg))
        spare = max(item.span * self.scale - width, 0.0) / 2.0 if item.span else width / 2.0
        for part in (0.5, -0.5, 1.0, -1.0):
            yield own[0] + cos * spare * part, own[1] + sin * spare * part

    def _own_centre(self, item: Text, text: str, shift: float) -> Point2:
        """Middle of the text block at its own point: anchored, and shifted off its line."""
        width, height = self._block(text, item.size)
        x, y = self._foot(item)
        angle = math.radians(item.angle_deg)
        turned = math.radians(readable(item.angle_deg))
        along = {"centre": 0.0, "left": width / 2.0, "right": -width / 2.0}[item.anchor]
        up = 0.0
        if shift:
            up = shift * PT_PER_MM + math.copysign(height / 2.0, shift)
        return (
            x + along * math.cos(turned) - up * math.sin(angle),
            y + along * math.sin(turned) + up * math.cos(angle),
        )

    def _foot(self, item: Text) -> Point2:
        x, y = self.at(item.at)
        return x + item.off[0] * PT_PER_MM, y + item.off[1] * PT_PER_MM

    def _place_outside(self, item: Text, text: str, foot: Point2, *, off_all: bool = False) -> None:
        """The nearest free place round a point with a leader to it: off other objects, or off all, if there is one."""
        self.leaders += 1
        item = replace(item, within=(), angle_deg=0.0)
        width, height = self._block(text, item.size)
        key = "" if off_all else item.key
        spare: Point2 | None = None
        last: Point2 | None = None
        for spot in spiral(foot, width, height):
            corners = self._corners(item, text, spot, 0.0)
            if not self._is_free(corners):
                continue
            last = last or spot
            if not self._is_free((nearest_side(corners, foot), foot)):
                continue
            if self._is_clear(corners) and self._is_off_others(corners, key):
                self._leader(item, self._lettering(item, text, spot, 0.0), foot)
                return
            spare = spare or spot
        self._leader(item, self._lettering(item, text, spare or last or foot, 0.0), foot)

    def _leader(self, item: Text, lettering: Lettering, foot: Point2) -> None:
        self._add(lettering)
        near = nearest_side(lettering.box, foot)
        if math.dist(near, foot) > 2.0:
            self.add_mark(Stroke("note", near, foot, solid=True))
            x, y = foot
            dot = tuple((x + 1.5 * math.cos(a), y + 1.5 * math.sin(a)) for a in (0.0, 1.05, 2.09, 3.14, 4.19, 5.24))
            self.add_mark(Area(item.key, "note", dot, 0.0, outlined=False))

    def _block(self, text: str, size: TextSize) -> tuple[float, float]:
        known = self.blocks.get((text, size))
        if known is None:
            lines, pt = text.split("\n"), TEXT_PT[size]
            width = max(self.width_of(line, pt) for line in lines)
            known = self.blocks[text, size] = width, (CAP + LINE_STEP * (len(lines) - 1)) * pt
        return known

    def _corners(self, item: Text, text: str, centre: Point2, angle: float) -> tuple[Point2, ...]:
        width, height = self._block(text, item.size)
        return text_box(centre, width + 2.0 * CLEAR_PT, height + 2.0 * CLEAR_PT, readable(angle))

    def _lettering(self, item: Text, text: str, centre: Point2, angle: float | None = None) -> Lettering:
        turned = readable(item.angle_deg if angle is None else angle)
        corners = self._corners(item, text, centre, turned)
        back = self._ground(item.key, item.within) if item.back else None
        lines = tuple(text.split("\n"))
        return Lettering(item.key, item.role, lines, TEXT_PT[item.size], centre, turned, item.anchor, corners, back)

    def _ground(self, key: str, within: tuple[Point2, ...]) -> float:
        """Grey of the object's own area, so that the text's background does not stand out on it."""
        if within:
            for mark in reversed(self.marks):
                if isinstance(mark, Area) and mark.key == key and mark.fill is not None and mark.outlined:
                    return mark.fill
        return 1.0

    def _is_clear(self, corners: tuple[Point2, ...]) -> bool:
        """Whether no line runs through a block."""
        return not any(overlap(corners, self.segments[i]) for i in self.segment_extents.meeting(box(corners)))

    def _is_free(self, corners: tuple[Point2, ...]) -> bool:
        """Whether no text lies under a block."""
        return not any(overlap(corners, self.texts[i].box) for i in self.text_extents.meeting(box(corners)))

    def _is_off_others(self, corners: tuple[Point2, ...], key: str) -> bool:
        """Whether a block lies on no object but that of a key; with an empty key on none at all."""
        near = (self.areas[i] for i in self.area_extents.meeting(box(corners)))
        return not any(touches(area.ring, corners) for area in near if not key or area.key != key)


def _dimension_line(item: Dimension, start: Point2, end: Point2) -> tuple[Point2, Point2]:
    """Ends of the dimension line: the measured points moved off, or projected."""
    off = item.offset * PT_PER_MM
    if item.level == "horizontal":
        sign = 1.0 if end[0] >= start[0] else -1.0
        y = (max if sign * off >= 0.0 else min)(start[1], end[1]) + sign * off
        return (start[0], y), (end[0], y)
    if item.level == "vertical":
        sign = -1.0 if end[1] >= start[1] else 1.0
        x = (max if sign * off >= 0.0 else min)(start[0], end[0]) + sign * off
        return (x, start[1]), (x, end[1])
    length = max(math.dist(start, end), 1e-9)
    nx, ny = -(end[1] - start[1]) / length * off, (end[0] - start[0]) / length * off
    return (start[0] + nx, start[1] + ny), (end[0] + nx, end[1] + ny)


def _angles(item: Text) -> tuple[float, ...]:
    """Its own turn, and for a text in an outline also upright."""
    return (item.angle_deg, 90.0) if item.within and item.angle_deg == 0.0 else (item.angle_deg,)
