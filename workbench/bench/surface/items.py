"""The items of one drawing in a scene, updated in place: never taken down and built again.

Rebuilding 2,000 items costs 209 ms and painting them 8, so that a drawing that follows a hand must be updated by
difference. An item is known by its primitive's kind, key and role, and by how many came before it with the same.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import cast

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter, QPolygonF
from PySide6.QtWidgets import (
    QGraphicsItem,
    QGraphicsLineItem,
    QGraphicsPolygonItem,
    QGraphicsScene,
    QStyleOptionGraphicsItem,
    QWidget,
)

from workbench.bench.surface import painter as paint
from workbench.bench.surface.labels import Label, Lines, Place, arrange
from workbench.bench.surface.painter import Marks
from workbench.bench.surface.snapping import to_segment
from workbench.drawing.primitives import Arrow, Dimension, Drawing, Line, Polygon, Primitive, Role, Text
from workbench.drawing.shapes import contains
from workbench.roof.model import Point2

Ident = tuple[type, str, str, int]

# What can be picked, the finest first: an edge lies on top of its plane.
_PICKED = ("corner", "edge", "member", "piece", "opening", "plane", "wing")


_KEPT_CLEAR = frozenset(("eave", "rake", "ridge", "hip", "valley", "wall", "pitch_break", "step", "building_line"))


class DrawingItems:
    """Keeps a scene's items equal to a drawing."""

    def __init__(self, scene: QGraphicsScene) -> None:
        self._scene = scene
        self._items: dict[Ident, QGraphicsItem] = {}
        self._primitives: dict[Ident, Primitive] = {}
        self._by_key: dict[str, list[Ident]] = {}
        self._rooms: dict[str, float] = {}
        self._marks = Marks()
        self._scale = 1.0

    @property
    def drawing_keys(self) -> frozenset[str]:
        """Every key on show."""
        return frozenset(self._by_key)

    def show(self, drawing: Drawing, *, moving: bool = False) -> None:
        """Make the items show this drawing; only what differs is touched.

        Args:
            drawing: What to show.
            moving: It follows a hand: labels keep the places along their lines that they have.
        """
        named = _named(drawing.items)
        self._rooms = paint.rooms_of(drawing)
        for ident in [ident for ident in self._items if ident not in named]:
            self._scene.removeItem(self._items.pop(ident))
            del self._primitives[ident]
        for depth, (ident, primitive) in enumerate(named.items()):
            self._put(ident, primitive, float(depth))
        self._by_key = {}
        for ident in named:
            self._by_key.setdefault(ident[1], []).append(ident)
        self._ground_texts()
        if not moving:
            self._arrange()

    def mark(self, selected: Iterable[str], hovered: Iterable[str]) -> None:
        """Let these keys stand out."""
        before = self._marks
        self._marks = replace(before, selected=frozenset(selected), hovered=frozenset(hovered))
        for key in (before.selected ^ self._marks.selected) | (before.hovered ^ self._marks.hovered):
            self._dress(self._by_key.get(key, []))

    def set_quiet(self, roles: frozenset[Role]) -> None:
        """Let these roles step back."""
        if roles != self._marks.quiet:
            self._marks = replace(self._marks, quiet=roles)
            self.restyle()

    def set_scale(self, scale: float) -> None:
        """Tell how many pixels an inch has, for text and arrows, which keep their size on the screen."""
        if scale != self._scale:
            self._scale = scale
            for item in self._items.values():
                if isinstance(item, _Fixed):
                    item.fit(scale, self._room(item.primitive))
            self._arrange()

    def restyle(self) -> None:
        """Take the theme's colours anew."""
        self._dress(self._items)

    def key_at(self, point: Point2, reach: float) -> str:
        """Key of the object at a point: edges and members within ``reach`` inches first, then what it lies in."""
        area = QRectF(point[0] - reach, point[1] - reach, 2.0 * reach, 2.0 * reach)
        best: tuple[int, float, float] | None = None
        found = ""
        for item in self._scene.items(area):
            ident = cast("Ident | None", item.data(0))
            primitive = self._primitives.get(ident) if ident is not None else None
            if primitive is None or (kind := primitive.key.partition(":")[0]) not in _PICKED:
                continue
            distance = _distance(primitive, point)
            if distance > reach:
                continue
            rank = (_PICKED.index(kind), round(distance, 6), -item.zValue())
            if best is None or rank < best:
                best, found = rank, primitive.key
        return found

    def bounds_of(self, key: str) -> QRectF:
        """Rectangle around everything of a key, inches; empty for none."""
        points = [
            QPointF(*point) for ident in self._by_key.get(key, []) for point in _shape_points(self._primitives[ident])
        ]
        return QPolygonF(points).boundingRect() if points else QRectF()

    def _put(self, ident: Ident, primitive: Primitive, depth: float) -> None:
        item, before = self._items.get(ident), self._primitives.get(ident)
        if item is None:
            item = _new_item(primitive)
            item.setData(0, ident)
            self._items[ident] = item
            self._scene.addItem(item)
        if item.zValue() != depth:
            item.setZValue(depth)
        if before != primitive:
            self._primitives[ident] = primitive
            _shape(item, primitive)
            # Role and key are the item's own: what moves keeps its looks.
            if before is None or _looks(before) != _looks(primitive):
                self._dress([ident])
        if isinstance(item, _Fixed):
            item.fit(self._scale, self._room(primitive))

    def _ground_texts(self) -> None:
        """Tell every text what it stands on, so that its background is that and no box of its own."""
        for item in self._items.values():
            if isinstance(item, _Fixed) and isinstance(item.primitive, Text) and item.primitive.within:
                idents = self._by_key[item.primitive.key]
                grounds = (self._primitives[ident] for ident in idents)
                item.stand_on(next((each for each in grounds if isinstance(each, Polygon)), None))

    def _arrange(self) -> None:
        """Keep the labels out of one another's way."""
        fixed = sorted((i for i in self._items.values() if isinstance(i, _Fixed)), key=lambda item: item.zValue())
        texts = [(item, label) for item in fixed if (label := item.label(self._scale)) is not None]
        drawn = self._primitives.values()
        lines = Lines([line for each in drawn for line in self._line_px(each)], [*map(self._plane_px, drawn)])
        for (item, _), place in zip(texts, arrange([label for _, label in texts], lines), strict=True):
            item.put(place)

    def _line_px(self, primitive: Primitive) -> Iterator[tuple[str, Point2, Point2]]:
        """An edge or an arrow in the labels' pixels; rafters lie everywhere, other roles are meant to be written on."""
        if isinstance(primitive, Arrow) or (isinstance(primitive, Line) and primitive.role in _KEPT_CLEAR):
            (x0, y0), (x1, y1) = primitive.start, primitive.end
            scale = self._scale
            yield primitive.key, (x0 * scale, -y0 * scale), (x1 * scale, -y1 * scale)

    def _plane_px(self, primitive: Primitive) -> tuple[Point2, ...]:
        """A roof plane in the labels' pixels; empty for anything else."""
        if not isinstance(primitive, Polygon) or primitive.role != "plane":
            return ()
        return tuple((x * self._scale, -y * self._scale) for x, y in primitive.points)

    def _room(self, primitive: Primitive) -> float:
        """Inches of line that a text may take: its own span, else the longest line of what it names; 0 for any."""
        if not isinstance(primitive, Text) or primitive.within:
            return 0.0
        return primitive.span or self._rooms.get(primitive.key, 0.0)

    def _dress(self, idents: Iterable[Ident]) -> None:
        for ident in idents:
            item, primitive = self._items[ident], self._primitives[ident]
            if isinstance(item, QGraphicsLineItem) and isinstance(primitive, Line):
                item.setPen(paint.pen_of(primitive.role, primitive.key, self._marks))
            elif isinstance(item, _PolygonItem) and isinstance(primitive, Polygon):
                item.setPen(paint.pen_of(primitive.role, primitive.key, self._marks))
                item.setBrush(paint.brush_of(primitive, self._marks))
                item.marks = self._marks
                item.update()
            elif isinstance(item, _Fixed):
                item.marks = self._marks
                item.update()


class _PolygonItem(QGraphicsPolygonItem):
    """A filled polygon; its hatch keeps its step on the screen."""

    def __init__(self, primitive: Polygon) -> None:
        super().__init__()
        self.primitive = primitive
        self.marks = Marks()


class _HatchedItem(_PolygonItem):
    """Apart from the plain polygon, so that only hatched ones pay for a paint in Python."""

    def paint(self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None) -> None:
        """Fill, outline, then the hatch in pixels."""
        super().paint(painter, option, widget)
        points = painter.worldTransform().map(self.polygon())
        painter.save()
        painter.resetTransform()
        paint.paint_hatch(painter, cast(QPolygonF, points), self.primitive, self.marks)
        painter.restore()


class _Fixed(QGraphicsItem):
    """Text, arrow or dimension: sits at a place, keeps its size on the screen."""

    def __init__(self, primitive: Text | Arrow | Dimension) -> None:
        super().__init__()
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemIgnoresTransformations)
        self.primitive = primitive
        self.marks = Marks()
        self._rect = QRectF()
        self._vector = QPointF()
        self._text = ""
        self._place: Place | None = Place()
        self.ground: Polygon | None = None
        self._room = 0.0
        self._fitted: tuple[Primitive, float, float] | None = None
        if isinstance(primitive, Text):
            # Most texts only move while something is dragged: they are painted once and put down elsewhere.
            self.setCacheMode(QGraphicsItem.CacheMode.DeviceCoordinateCache)

    def boundingRect(self) -> QRectF:
        """Pixels around its point."""
        return self._rect

    def fit(self, scale: float, room: float) -> None:
        """Lay out anew for this many pixels an inch; ``room`` is the line a text may slide along, inches."""
        if self._fitted == (self.primitive, scale, room):
            return
        before, self._fitted = self._fitted, (self.primitive, scale, room)
        self._room = room
        primitive = self.primitive
        if isinstance(primitive, Text):
            text = paint.fitting_text(primitive, scale, room or math.inf)
            if before is None or text != self._text or _set_up(before[0]) != _set_up(primitive):
                self._text = text
                self.prepareGeometryChange()
                self._rect = self._text_rect()
                self.update()
            return
        self.prepareGeometryChange()
        start, end = primitive.start, primitive.end
        self._vector = QPointF((end[0] - start[0]) * scale, (start[1] - end[1]) * scale)
        rect = QPolygonF([QPointF(), self._vector]).boundingRect()
        if isinstance(primitive, Dimension):
            shape = paint.dimension_shape(primitive, self._vector)
            rect = rect.united(QPolygonF([p for line in shape.lines for p in (line.p1(), line.p2())]).boundingRect())
            rect.adjust(-40.0, -40.0, 40.0, 40.0)
        self._rect = rect.adjusted(-8.0, -8.0, 8.0, 8.0)

    def label(self, scale: float) -> Label | None:
        """The text as it would stand, for keeping labels apart; None for what is no text, or none that has room."""
        primitive = self.primitive
        if not isinstance(primitive, Text) or not self._text:
            return None
        placed = paint.text_box(primitive, self._text)
        angle = math.radians(placed.turn_deg)
        along = (math.cos(angle), math.sin(angle))
        shift = placed.rect.center().x()
        at = QPointF(primitive.at[0] * scale, -primitive.at[1] * scale) + placed.offset
        middle = (at.x() + along[0] * shift, at.y() + along[1] * shift)
        rank = 1 if self._room else 0
        size = placed.rect.width(), placed.rect.height()
        flip = (-2.0 * placed.offset.x(), -2.0 * placed.offset.y())
        return Label(middle, along, *size, self._room * scale, rank, primitive.key, flip)

    def stand_on(self, ground: Polygon | None) -> None:
        """Take the fill of this polygon as background."""
        if ground is None or self.ground is None or _looks(ground) != _looks(self.ground):
            self.update()
        self.ground = ground

    def put(self, place: Place | None) -> None:
        """Stand at another place of its line; None takes it away until there is room."""
        if place != self._place:
            self._place = place
            self.prepareGeometryChange()
            self._rect = self._text_rect()
            self.update()

    def _text_rect(self) -> QRectF:
        primitive = self.primitive
        if not self._text or self._place is None or not isinstance(primitive, Text):
            return QRectF()
        placed = paint.text_box(primitive, self._text)
        reach = math.hypot(placed.rect.width(), placed.rect.height()) + 4.0 + abs(self._place.slide)
        away = placed.offset * (1.0 - 2.0 * self._place.away)
        return QRectF(away.x() - reach, away.y() - reach, 2.0 * reach, 2.0 * reach)

    def paint(self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None) -> None:
        """In pixels from its point."""
        primitive = self.primitive
        if isinstance(primitive, Text):
            if self._place is None:
                return
            placed, slide = paint.text_box(primitive, self._text), self._place.slide
            angle = math.radians(placed.turn_deg) if slide else 0.0
            at = QPointF(math.cos(angle) * slide, math.sin(angle) * slide)
            at -= placed.offset * (2.0 * self._place.away)
            ground = paint.brush_of(self.ground, self.marks).color() if self.ground is not None else None
            paint.paint_text(painter, primitive, self._text, at, self.marks, ground)
        elif isinstance(primitive, Arrow):
            paint.paint_arrow(painter, primitive, QPointF(), self._vector, self.marks)
        else:
            paint.paint_dimension(painter, primitive, QPointF(), self._vector, self.marks)


def _named(primitives: Iterable[Primitive]) -> dict[Ident, Primitive]:
    counts: dict[tuple[type, str, str], int] = {}
    named: dict[Ident, Primitive] = {}
    for primitive in primitives:
        role = "dimension" if isinstance(primitive, Dimension) else primitive.role
        # A hatch that comes or goes needs another item.
        kind = _HatchedItem if isinstance(primitive, Polygon) and primitive.hatch != "none" else type(primitive)
        same = (kind, primitive.key, role)
        number = counts.get(same, 0)
        counts[same] = number + 1
        named[(*same, number)] = primitive
    return named


def _new_item(primitive: Primitive) -> QGraphicsItem:
    match primitive:
        case Line():
            return QGraphicsLineItem()
        case Polygon():
            return _PolygonItem(primitive) if primitive.hatch == "none" else _HatchedItem(primitive)
        case Text() | Arrow() | Dimension():
            return _Fixed(primitive)


def _shape(item: QGraphicsItem, primitive: Primitive) -> None:
    """Give an item its primitive's geometry."""
    if isinstance(item, QGraphicsLineItem) and isinstance(primitive, Line):
        item.setLine(*primitive.start, *primitive.end)
    elif isinstance(item, _PolygonItem) and isinstance(primitive, Polygon):
        item.primitive = primitive
        item.setPolygon(QPolygonF([QPointF(x, y) for x, y in primitive.points]))
    elif isinstance(item, _Fixed) and isinstance(primitive, Text | Arrow | Dimension):
        item.primitive = primitive
        item.setPos(*(primitive.at if isinstance(primitive, Text) else primitive.start))


def _looks(primitive: Primitive) -> object:
    """What a polygon's fill depends on besides its role and key."""
    return (primitive.tint, primitive.hatch) if isinstance(primitive, Polygon) else None


def _set_up(primitive: Primitive) -> object:
    """What a text's box around its point depends on besides its words."""
    if not isinstance(primitive, Text):
        return primitive
    return primitive.angle_deg, primitive.anchor, primitive.shift, primitive.size, primitive.back


def _distance(primitive: Primitive, point: Point2) -> float:
    """Inches from a point to what can be picked of a primitive; 0 inside a polygon."""
    if isinstance(primitive, Line):
        return to_segment(point, (primitive.start, primitive.end))
    if isinstance(primitive, Polygon):
        return 0.0 if contains(primitive.points, point) else math.inf
    return math.inf


def _shape_points(primitive: Primitive) -> tuple[Point2, ...]:
    if isinstance(primitive, Line):
        return primitive.start, primitive.end
    return primitive.points if isinstance(primitive, Polygon) else ()
