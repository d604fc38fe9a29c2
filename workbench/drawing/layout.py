"""A drawing set out on a page of known scale: everything in points, texts placed so that none lies on another.

Text keeps its printed size at every scale, so what fits depends on the scale. A text that does not fit inside its
outline is written shorter, then set outside with a leader.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field

from workbench.drawing.primitives import Anchor, Arrow, Dimension, Drawing, Hatch, Line, Polygon, Role, Text, TextSize
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


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line, points."""

    role: Role
    start: Point2
    end: Point2
    solid: bool = False


@dataclass(frozen=True, slots=True)
class Area:
    """A filled outline, points; ``fill`` is a grey from 0 black to 1 white, or None."""

    key: str
    role: Role
    ring: tuple[Point2, ...]
    fill: float | None
    hatch: Hatch = "none"
    outlined: bool = True


@dataclass(frozen=True, slots=True)
class Lettering:
    """One text, placed.

    Attributes:
        key: Object it belongs to.
        role: What it says.
        lines: Its lines, top first.
        size_pt: Size of type.
        centre: Middle of the block.
        angle_deg: Turn, between -90 and 90.
        anchor: How lines stand against each other.
        box: Corners of the block.
        back: Grey laid behind it, or None.
    """

    key: str
    role: Role
    lines: tuple[str, ...]
    size_pt: float
    centre: Point2
    angle_deg: float
    anchor: Anchor
    box: tuple[Point2, ...]
    back: float | None


@dataclass(frozen=True)
class Layout:
    """A drawing set out: areas and strokes in drawing order, then texts."""

    marks: tuple[Area | Stroke, ...]
    texts: tuple[Lettering, ...]

    def bounds(self) -> tuple[float, float, float, float]:
        """Least and greatest x and y of everything, points."""
        points: list[Point2] = [point for text in self.texts for point in text.box]
        for mark in self.marks:
            points += mark.ring if isinstance(mark, Area) else (mark.start, mark.end)
        return box(points) if points else (0.0, 0.0, 0.0, 0.0)


def lay_out(drawing: Drawing, pt_per_in: float, text_width: TextWidth) -> Layout:
    """Set a drawing out at a scale of so many points per inch of the real thing."""
    page = _Page(pt_per_in, text_width)
    for item in drawing.items:
        match item:
            case Line():
                page.marks.append(Stroke(item.role, page.at(item.start), page.at(item.end)))
            case Polygon():
                page.add_polygon(item)
            case Arrow():
                page.add_arrow(item)
            case Dimension():
                page.add_dimension(item)
            case Text():
                page.waiting.append(item)
    for text in page.waiting:
        page.place(text)
    return Layout(tuple(page.marks), tuple(page.texts))


def overlap(a: Sequence[Point2], b: Sequence[Point2]) -> bool:
    """Whether two convex outlines share any inside (separating axes)."""
    for ring in (a, b):
        for (x0, y0), (x1, y1) in sides(ring):
            nx, ny = y0 - y1, x1 - x0
            first = [nx * x + ny * y for x, y in a]
            second = [nx * x + ny * y for x, y in b]
            if max(first) <= min(second) + 1e-9 or max(second) <= min(first) + 1e-9:
                return False
    return True


def text_box(centre: Point2, width: float, height: float, angle_deg: float) -> tuple[Point2, ...]:
    """Corners of a turned block, anticlockwise from its lower left."""
    cos, sin = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    half = ((-width, -height), (width, -height), (width, height), (-width, height))
    return tuple((centre[0] + (x * cos - y * sin) / 2.0, centre[1] + (x * sin + y * cos) / 2.0) for x, y in half)


def readable(angle_deg: float) -> float:
    """The same line's angle turned so that text on it reads from below or from the right."""
    angle = (angle_deg + 180.0) % 360.0 - 180.0
    # A hair of noise must not turn one upright text to the left and its neighbour to the right.
    if angle > 90.0 + 1e-6:
        return angle - 180.0
    return angle + 180.0 if angle <= -90.0 + 1e-6 else angle


@dataclass(slots=True)
class _Page:
    scale: float
    width_of: TextWidth
    marks: list[Area | Stroke] = field(default_factory=list[Area | Stroke])
    texts: list[Lettering] = field(default_factory=list[Lettering])
    waiting: list[Text] = field(default_factory=list[Text])
    extents: list[tuple[float, float, float, float]] = field(default_factory=list[tuple[float, float, float, float]])
    blocks: dict[tuple[str, TextSize], tuple[float, float]] = field(
        default_factory=dict[tuple[str, TextSize], tuple[float, float]]
    )

    def at(self, point: Point2) -> Point2:
        return point[0] * self.scale, point[1] * self.scale

    def add_polygon(self, item: Polygon) -> None:
        style = STYLES[item.role]
        fill = style.fill if item.tint is None else 1.0 - item.tint
        ring = tuple(self.at(point) for point in item.points)
        self.marks.append(Area(item.key, item.role, ring, fill, item.hatch, style.weight > 0.0))

    def add_arrow(self, item: Arrow) -> None:
        (x0, y0), (x1, y1) = start, end = self.at(item.start), self.at(item.end)
        length = math.dist(start, end)
        if length < 1e-9:
            return
        head = min(_HEAD_PT, length / 2.0)
        ux, uy = (x1 - x0) / length, (y1 - y0) / length
        bx, by = x1 - ux * head, y1 - uy * head
        wing = head * 0.3
        self.marks.append(Stroke(item.role, start, (bx, by)))
        ring = ((x1, y1), (bx - uy * wing, by + ux * wing), (bx + uy * wing, by - ux * wing))
        self.marks.append(Area(item.key, item.role, ring, STYLES[item.role].ink, outlined=False))

    def add_dimension(self, item: Dimension) -> None:
        start, end = self.at(item.start), self.at(item.end)
        a, b = _dimension_line(item, start, end)
        if math.dist(a, b) < 1e-9:
            return
        for point, foot in ((start, a), (end, b)):
            self._witness(point, foot)
        self.marks.append(Stroke("dimension", a, b))
        ux, uy = (b[0] - a[0]) / math.dist(a, b), (b[1] - a[1]) / math.dist(a, b)
        tx, ty = (ux - uy) * _TICK_PT / math.sqrt(2.0), (uy + ux) * _TICK_PT / math.sqrt(2.0)
        for x, y in (a, b):
            self.marks.append(Stroke("title", (x - tx, y - ty), (x + tx, y + ty)))
        self._dimension_text(item, a, b)

    def _witness(self, point: Point2, foot: Point2) -> None:
        length = math.dist(point, foot)
        if length > _WITNESS_GAP_PT + 0.5:
            ux, uy = (foot[0] - point[0]) / length, (foot[1] - point[1]) / length
            near = (point[0] + ux * _WITNESS_GAP_PT, point[1] + uy * _WITNESS_GAP_PT)
            self.marks.append(Stroke("dimension", near, (foot[0] + ux * _TICK_PT, foot[1] + uy * _TICK_PT)))

    def _dimension_text(self, item: Dimension, a: Point2, b: Point2) -> None:
        size = TEXT_PT[item.size]
        width = self.width_of(item.text, size)
        angle = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
        length = math.dist(a, b)
        ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        mid = ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)
        out = (width + length) / 2.0 + 3.0 * CLEAR_PT
        fits = width + 4.0 * CLEAR_PT < length
        lift = CAP * size / 2.0 + 3.0
        # On its line; else just off it on the far side of the points; else past either end of it.
        lifts = [0.0, lift, -lift] if fits else [lift, -lift, 2.6 * lift, -2.6 * lift]
        if item.offset < 0.0:
            lifts = [-up for up in lifts]
        spots = [(mid[0] - uy * up, mid[1] + ux * up) for up in lifts]
        spots += [
            (x - uy * up, y + ux * up)
            for x, y in ((mid[0] + ux * out, mid[1] + uy * out), (mid[0] - ux * out, mid[1] - uy * out))
            for up in (0.0, lift, -lift)
        ]
        text = Text(item.key, "dimension", (0.0, 0.0), item.text, item.size, angle, back=True)
        letterings = [self._lettering(text, item.text, spot) for spot in spots]
        self._add(next((lettering for lettering in letterings if self._is_free(lettering.box)), letterings[0]))

    def place(self, item: Text) -> None:
        """Put a text where it fits: as it is, shorter, elsewhere in its outline, outside with a leader."""
        ring = tuple(self.at(point) for point in item.within)
        variants = [item.text, *item.shorter]
        for text in variants:
            for angle in _angles(item):
                if ring and not self._may_fit(item, text, angle, ring):
                    continue
                for spot in self._spots(item, text, ring):
                    corners = self._corners(item, text, spot, angle)
                    if (not ring or _inside(ring, corners)) and self._is_free(corners):
                        self._add(self._lettering(item, text, spot, angle))
                        return
        self._place_outside(item, variants[-1])

    def _may_fit(self, item: Text, text: str, angle: float, ring: tuple[Point2, ...]) -> bool:
        """Whether the block is no wider and no taller than the outline's own upright box."""
        x0, y0, x1, y1 = box(self._corners(item, text, (0.0, 0.0), angle))
        left, low, right, high = box(ring)
        return x1 - x0 <= right - left and y1 - y0 <= high - low

    def _add(self, lettering: Lettering) -> None:
        self.texts.append(lettering)
        self.extents.append(box(lettering.box))

    def _spots(self, item: Text, text: str, ring: tuple[Point2, ...]) -> Iterable[Point2]:
        own = self._own_centre(item, text)
        yield own
        if not ring:
            yield from self._along(item, own, text)
            return
        x0, y0, x1, y1 = box(ring)
        steps = 12
        grid = [
            (x0 + (x1 - x0) * (i + 0.5) / steps, y0 + (y1 - y0) * (j + 0.5) / steps)
            for i in range(steps)
            for j in range(steps)
        ]
        yield from sorted(grid, key=lambda point: (math.dist(point, own), point))

    def _along(self, item: Text, own: Point2, text: str) -> Iterable[Point2]:
        """A little way along its own line, either side."""
        if item.anchor != "centre":
            return
        width = self.width_of(text, TEXT_PT[item.size])
        cos, sin = math.cos(math.radians(item.angle_deg)), math.sin(math.radians(item.angle_deg))
        for part in (0.25, -0.25, 0.5, -0.5):
            yield own[0] + cos * width * part, own[1] + sin * width * part

    def _own_centre(self, item: Text, text: str) -> Point2:
        """Middle of the text block at its own point: anchored, and shifted off its line."""
        width, height = self._block(text, item.size)
        x, y = self.at(item.at)
        angle = math.radians(item.angle_deg)
        turned = math.radians(readable(item.angle_deg))
        along = {"centre": 0.0, "left": width / 2.0, "right": -width / 2.0}[item.anchor]
        up = 0.0
        if item.shift:
            up = item.shift * PT_PER_MM + math.copysign(height / 2.0, item.shift)
        return (
            x + along * math.cos(turned) - up * math.sin(angle),
            y + along * math.sin(turned) + up * math.cos(angle),
        )

    def _place_outside(self, item: Text, text: str) -> None:
        """The nearest free place round its point, off other objects if there is one, with a leader to the point."""
        foot = self.at(item.at)
        width, height = self._block(text, item.size)
        others = [mark for mark in self.marks if isinstance(mark, Area) and mark.key != item.key and mark.outlined]
        spare: Lettering | None = None
        for ring_no in range(1, 24):
            for step in range(16):
                turn = math.tau * ((step + 2) % 16) / 16.0
                reach = 9.0 * ring_no
                x = foot[0] + (reach + width / 2.0) * math.cos(turn)
                y = foot[1] + (reach + height / 2.0) * math.sin(turn)
                corners = self._corners(item, text, (x, y), 0.0)
                if not self._is_free(corners):
                    continue
                if not any(_touch(area.ring, corners) for area in others):
                    self._leader(item, self._lettering(item, text, (x, y), 0.0), foot)
                    return
                spare = spare or self._lettering(item, text, (x, y), 0.0)
        self._leader(item, spare or self._lettering(item, text, foot, 0.0), foot)

    def _leader(self, item: Text, lettering: Lettering, foot: Point2) -> None:
        self._add(lettering)
        near = min(_side_middles(lettering.box), key=lambda point: math.dist(point, foot))
        if math.dist(near, foot) > 2.0:
            self.marks.append(Stroke("note", near, foot, solid=True))
            x, y = foot
            dot = tuple((x + 1.5 * math.cos(a), y + 1.5 * math.sin(a)) for a in (0.0, 1.05, 2.09, 3.14, 4.19, 5.24))
            self.marks.append(Area(item.key, "note", dot, 0.0, outlined=False))

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

    def _is_free(self, corners: tuple[Point2, ...]) -> bool:
        x0, y0, x1, y1 = box(corners)
        return not any(
            left < x1 and x0 < right and low < y1 and y0 < high and overlap(corners, text.box)
            for (left, low, right, high), text in zip(self.extents, self.texts, strict=True)
        )


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


def _inside(ring: tuple[Point2, ...], corners: tuple[Point2, ...]) -> bool:
    """Whether a block lies wholly in an outline of any shape."""
    x0, y0, x1, y1 = box(ring)
    if not all(x0 <= x <= x1 and y0 <= y <= y1 for x, y in corners):
        return False
    if not all(contains(ring, corner) for corner in corners):
        return False
    return not any(contains(corners, point) for point in ring) and not any(
        _cross(a, b, c, d) for a, b in sides(ring) for c, d in sides(corners)
    )


def _touch(ring: tuple[Point2, ...], corners: tuple[Point2, ...]) -> bool:
    """Whether a block and an outline of any shape share any point."""
    return (
        any(contains(ring, corner) for corner in corners)
        or any(contains(corners, point) for point in ring)
        or any(_cross(a, b, c, d) for a, b in sides(ring) for c, d in sides(corners))
    )


def _cross(a: Point2, b: Point2, c: Point2, d: Point2) -> bool:
    def side(p: Point2, q: Point2, r: Point2) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0.0 and side(c, d, a) * side(c, d, b) < 0.0


def _side_middles(corners: tuple[Point2, ...]) -> list[Point2]:
    return [((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0) for a, b in sides(corners)]
