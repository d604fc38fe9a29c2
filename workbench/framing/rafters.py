"""Common, jack and barge rafters: one board on each rafter line. Inches."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from workbench.framing.board import SHORTEST_IN, Board, RafterFacts, Remarks
from workbench.framing.field import Fitted
from workbench.framing.group import Group
from workbench.framing.joints import Joints
from workbench.framing.layout import RafterLine, is_own_eave
from workbench.framing.model import MemberKind
from workbench.framing.peak import ORDINARY, Head, head_of
from workbench.framing.rafter import TAIL_NAMES, upper_name
from workbench.framing.space import dot2, flat, minus2, unit
from workbench.framing.stick import NOISE_IN, End, Notch, Stick
from workbench.framing.timber import Timber
from workbench.job.model import Tail
from workbench.roof.model import EdgeKind, Plane, Point2, Point3
from workbench.roof.solved import Eave, Section

_MOST_POINTS = 3
_BORDERS: frozenset[EdgeKind] = frozenset(("eave", "ridge", "hip", "valley", "wall", "rake", "pitch_break"))
_CHEEK_NAMES: dict[EdgeKind, str] = {
    "ridge": "ridge plumb cut",
    "hip": "cheek cut at the hip",
    "valley": "cheek cut at the valley",
    "wall": "upper plumb cut",
    "rake": "upper plumb cut",
    "eave": "upper plumb cut",
    "pitch_break": "plumb cut at the pitch break",
}
_Foot = tuple[float, Eave]
_Alike = tuple[int, int, int, bool, tuple[bool, ...]]


@dataclass(frozen=True, slots=True)
class Laid:
    """Where a rafter meets the sleepers on a roof below.

    Attributes:
        at: s of the meeting on its centre line, at the top edge.
        rate: How much further up the slope that is per inch to the right.
        normal: Normal (s, w, z) of the cut.
    """

    at: float
    rate: float
    normal: Point3

    def points(self, half: float) -> tuple[Point2, ...]:
        """The end at the top edge, from the left face to the right one."""
        return (self.at - self.rate * half, half), (self.at + self.rate * half, -half)

    def height(self, start: float, tangent: float, s: float) -> float:
        """Height of the cut at s, on the centre line of a rafter whose top edge is at ``start`` over s = 0."""
        rise = -self.normal[0] / self.normal[2]
        return start + tangent * self.at + rise * (s - self.at)


class Rafters:
    """The rafters of one group.

    Args:
        group: The wings, framed together.
        joints: The ends of their timbers.
        remarks: Where to note what can't be cut.
    """

    def __init__(self, group: Group, joints: Joints, remarks: Remarks) -> None:
        self.group = group
        self.joints = joints
        self.remarks = remarks
        self.building_lines = {plane.id: self._building_lines(plane) for plane in group.planes}
        self._known: dict[_Alike, Board] = {}

    def _building_lines(self, plane: Plane) -> list[tuple[float, float, float, Eave]]:
        """For each eave of a plane its r, the x its building line runs between, and the eave."""
        wing, outline = self.group.wing_of(plane.id), self.group.solved_of(plane).outline
        index_of = {edge.id: i for i, edge in enumerate(wing.edges)}
        found: list[tuple[float, float, float, Eave]] = []
        for edge in plane.edges:
            if is_own_eave(edge) and edge.drawn is not None:
                at = index_of[edge.drawn]
                xs = [plane.to_plane(outline[k % len(outline)])[0] for k in (at, at + 1)]
                r = plane.to_plane(edge.start)[1] / plane.stretch
                found.append((r, min(xs), max(xs), self.group.eave(plane, edge)))
        return found

    def rafter(self, line: RafterLine, key: Timber | None) -> Board | None:
        """The rafter on one line: a common, a jack or a barge rafter; None where no rafter fits.

        Args:
            line: Where it stands.
            key: The timber it is in the skeleton where it stands at a hip's head.
        """
        alike = self._alike(line, key)
        known = None if alike is None else self._known.get(alike)
        if known is not None:
            # Cut like its neighbour between the same two level edges: only its place is another.
            origin = flat(line.field.plane.to_space((line.x, 0.0)))
            return Board(known.kind, known.plane, origin, known.direction, known.stick, known.facts, known.plies)
        board = self._made(line, key)
        if alike is not None and board is not None:
            self._known[alike] = board
        return board

    def _alike(self, line: RafterLine, key: Timber | None) -> _Alike | None:
        """What is the same for all rafters that are cut alike, where they end square on level edges."""
        field, span = line.field, line.span
        if key is not None or line.key is not None or field.edges[span.low_edge].laid:
            return None
        half = self.group.wing_of(field.plane.id).rafter.thickness_in / 2.0
        if not all(field.is_square_at(edge, line.x, half) for edge in (span.low_edge, span.high_edge)):
            return None
        crossed = tuple(_within(line, left, right) for _, left, right, _ in self.building_lines[field.plane.id])
        return id(field), span.low_edge, span.high_edge, line.barge, crossed

    def _made(self, line: RafterLine, key: Timber | None) -> Board | None:
        plane = line.field.plane
        half = self.group.wing_of(plane.id).rafter.thickness_in / 2.0
        low_fit = line.field.end_at(line.span.low_edge, line.x, half, upper=False)
        high_fit = line.field.end_at(line.span.high_edge, line.x, half, upper=True)
        low_kinds, high_kinds = _kinds(line, low_fit), _kinds(line, high_fit)
        kind = _rafter_kind(line, low_kinds, high_kinds)
        if kind is None:
            if line.span.high - line.span.low < SHORTEST_IN:
                return None  # too short to be missed, as where two edges run together in a point
            why = f"it would run from {low_kinds[0]} to {high_kinds[0]}".replace("_", " ")
            self.remarks.left_out(plane, f"a rafter at {plane.name}", why)
            return None
        laid = self._on_sleeper(line, low_fit)
        low = self._plain(plane, _stick_points(low_fit, line.x), upper=False) if laid is None else laid.points(half)
        high = self._high(line, high_fit, key)
        if high is None:
            return None
        foot = self._foot(plane, line, low, high)
        if kind != "barge_rafter" and _too_short(low, high, low_kinds, foot):
            return None
        section = self._section(plane, line, high_kinds)
        head = self._head(key)
        ends = (
            End("seat cut on the sleeper" if laid is not None else _low_name(self._tail(plane), low_kinds), low),
            End(head.cut or _high_name(key, section, high_kinds, high), high),
        )
        stick = self._stick(plane, ends, foot if kind != "barge_rafter" else None, section, low_kinds, laid)
        low_rate = _rate(line, low_fit) if laid is None else laid.rate
        high_rate = _rate(line, high_fit) if key is None else 0.0
        spacing, building = self.group.wing_of(plane.id).rafter.spacing_in, None if foot is None else foot[0]
        facts = RafterFacts(line.span.low, line.span.high, building, low_rate, high_rate, spacing, section, head)
        return Board(kind, plane.id, flat(plane.to_space((line.x, 0.0))), plane.uphill, stick, facts)

    def _tail(self, plane: Plane) -> Tail:
        return self.group.wing_of(plane.id).rafter.tail

    def _stick(
        self,
        plane: Plane,
        ends: tuple[End, End],
        foot: _Foot | None,
        section: Section | None,
        low_kinds: Sequence[EdgeKind],
        laid: Laid | None,
    ) -> Stick:
        rafter = self.group.wing_of(plane.id).rafter
        height = plane.origin[2]
        landing = None
        if foot is not None and section is not None and section.given.high_end in ("notched", "whole"):
            landing = foot[0] + section.answer.run_in
        tail: Tail = rafter.tail if low_kinds == ("eave",) else "plumb"
        return Stick(
            tangent=plane.tangent,
            depth=rafter.depth_in,
            thickness=rafter.thickness_in,
            height=height,
            low=ends[0],
            high=ends[1],
            tail=tail if laid is None else "square",
            notches=self._notches(plane, foot, section, height, laid) if foot is not None else (),
            tail_normals=(laid.normal,) if laid is not None else (),
            landing_at=landing,
        )

    def _head(self, key: Timber | None) -> Head:
        end = None if key is None else self.joints.end(key, upper=True)
        return ORDINARY if key is None or end is None else head_of(self.joints, key, end.points)

    def _high(self, line: RafterLine, fit: Fitted, key: Timber | None) -> tuple[Point2, ...] | None:
        """The upper end in stick axes; at a hip's head as the timbers there leave it."""
        plane = line.field.plane
        if key is None:
            return self._plain(plane, _stick_points(fit, line.x), upper=True)
        what = f"the rafter at a hip's head on {plane.name}"
        trimmed = self.joints.end(key, upper=True)
        if trimmed is None:
            self.remarks.left_out(plane, what, "nothing says which of the timbers it meets gives way; fit it on site")
            return None
        self.remarks.squared(plane, what, trimmed.gap)
        offset = dot2(minus2(flat(key.a), flat(plane.to_space((line.x, 0.0)))), plane.uphill)
        return tuple((s + offset, w) for s, w in trimmed.points)

    def _plain(self, plane: Plane, points: tuple[Point2, ...], *, upper: bool) -> tuple[Point2, ...]:
        """An end as it is, or cut square where more than two cuts would be needed."""
        if len(points) <= _MOST_POINTS:
            return points
        runs = [s for s, _ in points]
        clear = min(runs) if upper else max(runs)
        self.remarks.squared(plane, f"a rafter on {plane.name}", max(runs) - min(runs))
        return (clear, points[0][1]), (clear, points[-1][1])

    def _on_sleeper(self, line: RafterLine, fit: Fitted) -> Laid | None:
        """How a rafter ends that stands on the roof below."""
        for i in fit.edges:
            edge = line.field.edges[i]
            if edge.laid and edge.source is not None and edge.source.neighbour in self.group.by_id:
                plane = line.field.plane
                below = self.group.on_sleepers(edge.source.neighbour)
                across, up = below.climb(plane.across), below.climb(plane.uphill)
                over = below.height(plane.to_space((line.x, 0.0))) - plane.origin[2]
                gain = plane.tangent - up
                return Laid(over / gain, across / gain, unit((-up, across, 1.0)))
        return None

    def _section(self, plane: Plane, line: RafterLine, high_kinds: Sequence[EdgeKind]) -> Section | None:
        """The section a rafter stands in: only where it runs up to the plane's own top edge."""
        section = self.group.solved_of(plane).section_of(plane.id)
        at = line.field.edges[line.span.high_edge]
        if at.kind == "wall" and at.source is None:
            return None  # under a dormer's header, however high that is
        if section is None or "hip" in high_kinds or "valley" in high_kinds:
            return None
        top = max(edge.start[1] for edge in line.field.edges)
        return section if line.span.high > top - 10.0 * NOISE_IN else None

    def _foot(self, plane: Plane, line: RafterLine, low: Sequence[Point2], high: Sequence[Point2]) -> _Foot | None:
        """Where the building line is that a rafter crosses, and the eave there; None where it crosses none.

        One that starts on a valley crosses it too where the valley is still out over the overhang.
        """
        for start, left, right, eave in self.building_lines[plane.id]:
            s = start + eave.overhang_in
            if _within(line, left, right) and max(p[0] for p in low) < s + NOISE_IN and min(p[0] for p in high) > s:
                return s, eave
        return None

    def _notches(
        self, plane: Plane, foot: _Foot, section: Section | None, height: float, laid: Laid | None
    ) -> tuple[Notch, ...]:
        s, eave = foot
        m = plane.tangent
        above = height + m * s - eave.plate_in
        seat = (self.group.wing_of(plane.id).rafter.depth_in * plane.stretch - above) / m
        # Over a plate the seat on a sleeper may have taken all the wood that a bird's-mouth would be cut from.
        gone = laid is not None and all(laid.height(height, m, at) >= eave.plate_in for at in (s, s + seat))
        notches = [] if gone else [Notch("", s, eave.plate_in, seat)]
        if section is not None and section.given.high_end == "notched":
            answer = section.answer
            notches.append(Notch("upper", s + answer.run_in, answer.landing_in, answer.seat_high_in))
        return tuple(notches)


def _within(line: RafterLine, left: float, right: float) -> bool:
    """Whether a rafter crosses the building line that runs between two x; a barge rafter stands outside."""
    return left - NOISE_IN < line.x < right + NOISE_IN or line.barge


def _too_short(low: Sequence[Point2], high: Sequence[Point2], kinds: Sequence[EdgeKind], foot: _Foot | None) -> bool:
    """Whether too little is left of a rafter, or it starts on an eave and does not reach the plate."""
    start = max(s for s, _ in low) if foot is None else foot[0]
    return min(s for s, _ in high) - start < SHORTEST_IN or ("eave" in kinds and foot is None)


def _kinds(line: RafterLine, fit: Fitted) -> tuple[EdgeKind, ...]:
    """What an end lies on, each kind once, from the left face to the right one."""
    return tuple(dict.fromkeys(line.field.edges[i].kind for i in fit.edges))


def _rate(line: RafterLine, fit: Fitted) -> float:
    """Slope in the field of the hip or valley an end lies on; 0 at other edges."""
    for i in fit.edges:
        edge = line.field.edges[i]
        if edge.kind in ("hip", "valley"):
            dx, dr = edge.direction
            return dr / dx
    return 0.0


def _rafter_kind(line: RafterLine, low: Sequence[EdgeKind], high: Sequence[EdgeKind]) -> MemberKind | None:
    tops = [kind for kind in high if kind in ("ridge", "wall", "rake", "pitch_break")]
    full = bool(tops) or line.key is not None  # at a hip's head it ends where the ridge does
    if any(kind not in _BORDERS for kind in (*low, *high)):
        return None
    if line.barge:
        return "barge_rafter" if "eave" in low and full else None
    if "eave" in low:
        # From the plate up to a long valley that crosses over it: a jack at a valley too.
        return "common_rafter" if full else "hip_jack" if "hip" in high else "valley_jack"
    if low[0] in ("wall", "pitch_break"):
        return "common_rafter" if full else "hip_jack"  # from a header, a wall inside the roof, or a purlin
    if low[0] != "valley":
        return None
    return "valley_jack" if full else "cripple_jack"


def _low_name(tail: Tail, kinds: Sequence[EdgeKind]) -> str:
    if kinds == ("eave",):
        return TAIL_NAMES[tail]
    if "eave" in kinds:
        return "tail plumb cut, cheek at the valley"
    return "cheek cut at the valley" if "valley" in kinds else "lower plumb cut"


def _high_name(key: Timber | None, section: Section | None, kinds: Sequence[EdgeKind], high: Sequence[Point2]) -> str:
    if len(high) > 2:
        return "double cheek cut at the head"
    square = abs(high[0][0] - high[1][0]) < NOISE_IN
    if key is not None:
        return "ridge plumb cut" if square else "cheek cut at the ridge"
    return upper_name(section) if section is not None else _CHEEK_NAMES[kinds[0]]


def _stick_points(fitted: Fitted, x: float) -> tuple[Point2, ...]:
    return tuple((r, x - at) for at, r in fitted.points)
