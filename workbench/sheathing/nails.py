"""Nailed lines of the sheets, by the schedule. Inches, plane axes.

Counted are: along each side of an end joint the line on the shared rafter, at edge spacing; along each rafter between
them, at field spacing; over gable-end framing at its own; along rakes, ridge boards, hips, valleys and the trimmers and
headers of openings at edge spacing.
Level edges between rafters have no framing under them: they are nailed only where rafters cross, which are the end
nails of those lines. End nails stand at the edge distance from the panel's edges.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from workbench.roof.model import Plane, Point2
from workbench.rules.nailing import NailingSchedule, edge_distance_in, nails_in_line
from workbench.sheathing.layout import Cell, Layout
from workbench.sheathing.model import NailLine, NailLineKind
from workbench.sheathing.opening_sides import OpeningSide, chords_at, opening_sides, sides_along, without
from workbench.sheathing.region import SAME_IN, edges_of

_CHANGE_IN = 1e-3
_OWN_MEMBER_IN = 1.5  # nearer than a rafter's thickness to a nailed end: the same rafter
_RAKE_MEMBER_IN = 3.0  # a rafter this near a rake edge carries the edge; further in, it is the gable-end rafter


@dataclass(frozen=True, slots=True)
class NailedFrame:
    """What a plane's sheets are nailed to.

    Attributes:
        supports: x of the rafters.
        barges: x of those among them that hang outside the gable wall.
        ridge_half_in: From the ridge's centreline to the face of its board, up the slope; 0 without a board.
        changes: x of upright edges where another material begins.
    """

    supports: tuple[float, ...]
    barges: tuple[float, ...]
    ridge_half_in: float
    changes: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class _Edge:
    kind: str
    start: Point2
    end: Point2


def layout_nails(plane: Plane, layout: Layout, frame: NailedFrame, schedule: NailingSchedule) -> tuple[NailLine, ...]:
    """Every nailed line of a plane's pieces, piece by piece."""
    work = _Work(plane, layout, frame, schedule)
    lines: list[NailLine] = []
    for cell, label in zip(layout.cells, layout.labels, strict=True):
        lines += work.lines_of(cell, label)
    return tuple(lines)


class _Work:
    """The nails of one plane."""

    def __init__(self, plane: Plane, layout: Layout, frame: NailedFrame, schedule: NailingSchedule) -> None:
        self.plane_id = plane.id
        self.layout = layout
        self.frame = frame
        self.schedule = schedule
        self.inset = edge_distance_in()
        self.edges = [_Edge(edge.kind, start, end) for edge, start, end in edges_of(plane)]
        self.rakes = [
            edge for edge in self.edges if edge.kind == "rake" and abs(edge.start[0] - edge.end[0]) <= SAME_IN
        ]
        self.slants = [edge for edge in self.edges if edge.kind in ("hip", "valley")]
        self.ridges = [edge for edge in self.edges if edge.kind == "ridge"]
        self.openings = opening_sides(plane)
        self.ridge_row = self._ridge_row()
        self.gable_ends = self._gable_ends()
        self.inner = [support for support in frame.supports if not self._is_rake_member(support)]

    def lines_of(self, cell: Cell, label: str) -> list[NailLine]:
        """The lines of one piece, left to right, then along its sloping and its upper edge."""
        left, right = min(x for x, _ in cell.ring), max(x for x, _ in cell.ring)
        beside = [side for side in self._sides_along(cell) if not side.upright or self._carried(side.at)]
        lines = self._along_openings(cell, label, beside)
        for x, joint, inward in ((left, cell.left_joint, 1.0), (right, cell.right_joint, -1.0)):
            if joint is not None:
                if self._carried(joint):
                    lines += self._upslope("edge", cell, label, x + inward * self.inset, self._edge_at(x, cell))
            elif self._on_rake(x, cell) and self._carried(x, _RAKE_MEMBER_IN):
                lines += self._upslope("boundary", cell, label, x + inward * self.inset, self._edge_at(x, cell))
            elif any(abs(x - change) <= _CHANGE_IN for change in self.frame.changes) and self._carried(x):
                lines += self._upslope("edge", cell, label, x + inward * self.inset, self._edge_at(x, cell))
        low = left + self.inset if cell.left_joint is None else cell.left_joint + _OWN_MEMBER_IN
        high = right - self.inset if cell.right_joint is None else cell.right_joint - _OWN_MEMBER_IN
        for support in self.inner[bisect_right(self.inner, low) : bisect_left(self.inner, high)]:
            kind, spacing = self._field_at(support, cell)
            lines += self._upslope(kind, cell, label, support, spacing, beside)
        lines.sort(key=lambda line: line.start)
        return [*lines, *self._along_slants(cell, label), *self._along_ridges(cell, label)]

    def _ridge_row(self) -> int:
        """The first row that reaches up to a ridge."""
        slot = self.layout.rules.ridge_slot_in
        lowest = min((edge.start[1] - slot for edge in self.ridges), default=0.0)
        return next((row.number for row in self.layout.rows if row.bottom_in + row.width_in > lowest - 1.0), 0)

    def _gable_ends(self) -> frozenset[float]:
        """Rafters over a gable wall that the roof overhangs; without an overhang the rake edge itself is that line."""
        found: set[float] = set()
        for rake in self.rakes:
            x = rake.start[0]
            flush = any(abs(s - x) <= _RAKE_MEMBER_IN for s in self.frame.supports if s not in self.frame.barges)
            inside = [s for s in self.frame.supports if s not in self.frame.barges]
            if inside and not flush:
                found.add(min(inside, key=lambda s: abs(s - x)))
        return frozenset(found)

    def _field_at(self, support: float, cell: Cell) -> tuple[NailLineKind, float]:
        if support in self.gable_ends:
            return "gable_end", self.schedule.gable_end_in
        zone = self.schedule.zone_width_in
        if zone > 0.0 and self._in_zone(support, cell, zone):
            return "field", self.schedule.zone_field_in
        return "field", self.schedule.field_in

    def _edge_at(self, x: float, cell: Cell) -> float:
        zone, closer = self.schedule.zone_width_in, self.schedule.zone_edge_in
        if closer is not None and zone > 0.0 and self._in_zone(x, cell, zone):
            return closer
        return self.schedule.edge_in

    def _in_zone(self, support: float, cell: Cell, zone: float) -> bool:
        """Whether any of the line lies within the strip along eaves, rakes and ridges; if so all of it is nailed so."""
        low, high = min(y for _, y in cell.ring), max(y for _, y in cell.ring)
        for edge in self.edges:
            (x0, y0), (x1, y1) = edge.start, edge.end
            if edge.kind in ("eave", "ridge") and min(x0, x1) - zone < support < max(x0, x1) + zone:
                if low < max(y0, y1) + zone - SAME_IN and high > min(y0, y1) - zone + SAME_IN:
                    return True
            elif edge.kind == "rake" and min(x0, x1) - zone < support < max(x0, x1) + zone:
                return True
        return False

    def _carried(self, x: float, within: float = _OWN_MEMBER_IN) -> bool:
        return any(abs(support - x) <= within for support in self.frame.supports)

    def _is_rake_member(self, support: float) -> bool:
        return any(abs(support - rake.start[0]) <= _RAKE_MEMBER_IN for rake in self.rakes)

    def _on_rake(self, x: float, cell: Cell) -> bool:
        middle = (min(y for _, y in cell.ring) + max(y for _, y in cell.ring)) / 2.0
        for rake in self.rakes:
            low, high = sorted((rake.start[1], rake.end[1]))
            # Sheathing that runs past the tail reaches a little below the rake's foot.
            if abs(rake.start[0] - x) <= SAME_IN and low - self.layout.rules.past_tail_in <= middle <= high:
                return True
        return False

    def _upslope(
        self,
        kind: NailLineKind,
        cell: Cell,
        label: str,
        x: float,
        spacing: float,
        beside: Sequence[OpeningSide] = (),
    ) -> list[NailLine]:
        """The line up the slope at x, in parts where an opening is cut out; without what is nailed along openings."""
        chords = [(cell.ring[0][1], cell.ring[2][1])] if cell.upright else chords_at(cell.ring, x)
        for side in beside:
            if side.upright and 0.0 <= (x - side.at) * side.inward <= _OWN_MEMBER_IN:
                chords = without(chords, side.low, side.high)
        return [self._up_between(kind, label, x, chord, spacing) for chord in chords]

    def _up_between(
        self, kind: NailLineKind, label: str, x: float, chord: tuple[float, float], spacing: float
    ) -> NailLine:
        low, high = chord[0] + self.inset, chord[1] - self.inset
        if high < low:
            low = high = (chord[0] + chord[1]) / 2.0
        return self._line(kind, label, (x, low), (x, high), high - low, spacing)

    def _sides_along(self, cell: Cell) -> list[OpeningSide]:
        return sides_along(cell.ring, self.openings) if self.openings else []

    def _along_openings(self, cell: Cell, label: str, beside: Sequence[OpeningSide]) -> list[NailLine]:
        """Panel edges on the trimmers and headers of openings."""
        lines: list[NailLine] = []
        for side in beside:
            at = side.at + side.inward * self.inset
            if side.upright:
                spacing = self._edge_at(side.at, cell)
                lines.append(self._up_between("edge", label, at, (side.low, side.high), spacing))
            else:
                spacing = self._edge_at((side.low + side.high) / 2.0, cell)
                low, high = side.low + self.inset, side.high - self.inset
                if high > low:
                    lines.append(self._line("edge", label, (low, at), (high, at), high - low, spacing))
        return lines

    def _along_slants(self, cell: Cell, label: str) -> list[NailLine]:
        """Hips and valleys have a member under them, whatever the frame lists."""
        lines: list[NailLine] = []
        if cell.upright:
            return lines
        ring = cell.ring
        for a, b in zip(ring, ring[1:] + ring[:1], strict=True):
            if abs(a[0] - b[0]) <= SAME_IN or abs(a[1] - b[1]) <= SAME_IN:
                continue
            if any(_off_line(a, edge) <= 1e-3 and _off_line(b, edge) <= 1e-3 for edge in self.slants):
                lines += self._inset_line("boundary", label, a, b)
        return lines

    def _along_ridges(self, cell: Cell, label: str) -> list[NailLine]:
        slot = self.layout.rules.ridge_slot_in
        if self.frame.ridge_half_in < slot + self.inset or cell.row < self.ridge_row:
            return []
        lines: list[NailLine] = []
        ring = cell.ring
        for a, b in zip(ring, ring[1:] + ring[:1], strict=True):
            if abs(a[1] - b[1]) > SAME_IN:
                continue
            if any(abs(edge.start[1] - slot - a[1]) <= 1e-3 and _overlaps(a, b, edge) for edge in self.ridges):
                low, high = sorted((a, b))
                y = low[1] - self.inset
                lines += self._inset_line("boundary", label, (low[0], y), (high[0], y))
        return lines

    def _inset_line(self, kind: NailLineKind, label: str, a: Point2, b: Point2) -> list[NailLine]:
        length = ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5
        if length <= 2.0 * self.inset:
            return []
        share = self.inset / length
        start = (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
        end = (b[0] - (b[0] - a[0]) * share, b[1] - (b[1] - a[1]) * share)
        return [self._line(kind, label, start, end, length - 2.0 * self.inset, self.schedule.edge_in)]

    def _line(
        self, kind: NailLineKind, label: str, start: Point2, end: Point2, length: float, spacing: float
    ) -> NailLine:
        return NailLine(kind, self.plane_id, label, start, end, spacing, nails_in_line(length, spacing))


def _off_line(point: Point2, edge: _Edge) -> float:
    (x0, y0), (x1, y1) = edge.start, edge.end
    length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    return abs((x1 - x0) * (point[1] - y0) - (y1 - y0) * (point[0] - x0)) / length


def _overlaps(a: Point2, b: Point2, edge: _Edge) -> bool:
    low, high = sorted((edge.start[0], edge.end[0]))
    return min(a[0], b[0]) < high - SAME_IN and max(a[0], b[0]) > low + SAME_IN
