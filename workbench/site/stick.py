"""The layout stick: where rafters stand along plates and ridges, as a tape reads it from one end. Inches.

A line is drawn at the member's near face, a cross goes beyond it (common practice, no source). Plates and ridges of
planes that face each other are read from the same end of the building, so one stick serves both.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Literal

from workbench.findings import COMMON_PRACTICE, GEOMETRY
from workbench.framing.model import RAFTER_KINDS, Framing, Member, Placement
from workbench.framing.space import cross2, dot2, flat, unit2
from workbench.measure import Trace
from workbench.roof.model import Plane, Point2
from workbench.site.ground_plan import SAME_IN, EaveLine, Line, ridge_lines, sloped_lines
from workbench.site.model import LayoutStick, StickMark

TRUSS = "Truss"
"""What a truss by others is called on the stick."""

_PARALLEL = 1e-6
_AT_RIDGE_IN = 1.0
_Rafters = Mapping[str, Sequence[tuple[Member, Placement]]]
_CORNER_KINDS = frozenset(("hip_rafter", "valley_rafter"))


def layout_sticks(
    framing: Framing, planes: Sequence[Plane], lines: Sequence[EaveLine], begin: Literal["left", "right"]
) -> tuple[LayoutStick, ...]:
    """All sticks: along the plates, then along the ridges; those with equal marks are one.

    Args:
        framing: The frame.
        planes: All planes.
        lines: The building lines of all eaves.
        begin: End, seen from outside below, that the first eave of each direction is read from.
    """
    ways, rafters = _Ways(lines, begin), _by_plane(framing)
    hips = sloped_lines(framing, planes)
    plates = [stick for line in lines if (stick := _plate_stick(framing, rafters, hips, line, ways)) is not None]
    by_id = {plane.id: plane for plane in planes}
    ridges = [stick for line in ridge_lines(framing, planes) for stick in _ridge_sticks(rafters, line, by_id, ways)]
    return (*_merged(plates), *_merged(ridges))


class _Ways:
    """From which end each direction is read: planes that face each other from the same one."""

    def __init__(self, lines: Sequence[EaveLine], begin: Literal["left", "right"]) -> None:
        self.known: list[tuple[str, Point2, str]] = []
        for line in lines:
            mine = (along for wing, along, _ in self.known if wing == line.wing.id)
            if not any(abs(cross2(along, line.along)) < _PARALLEL for along in mine):
                forward = line.along if begin == "left" else (-line.along[0], -line.along[1])
                self.known.append((line.wing.id, forward, f"{begin} end of {line.plane.name}"))

    def of(self, wing: str, along: Point2) -> tuple[bool, str]:
        """Whether a direction in a wing is read as it runs, and which end of the building that is."""
        for owner, forward, name in self.known:
            if owner == wing and abs(cross2(forward, along)) < _PARALLEL:
                return dot2(forward, along) > 0.0, name
        return True, ""


def _plate_stick(
    framing: Framing, rafters: _Rafters, hips: Sequence[Line], line: EaveLine, ways: _Ways
) -> LayoutStick | None:
    runs, begins = ways.of(line.wing.id, line.along)
    length = line.length_in
    marks = _trusses(framing, line, runs=runs) if line.wing.framed_with == "trusses" else []
    for member, placement in (*_seated(rafters, line), *_over_corners(hips, line)):
        short = 2.0 * member.thickness_in if member.kind in _CORNER_KINDS else SAME_IN
        point = line.crossing(placement, short)
        if point is not None:
            u = line.u(flat(point))
            marks.append(_mark(member, placement, u if runs else length - u, line.along))
    if not marks:
        return None
    own = begins if begins.endswith(f" of {line.plane.name}") else f"{'left' if runs else 'right'} end ({begins})"
    ordered = tuple(sorted(marks, key=lambda mark: mark.centre_in))
    return LayoutStick("plate", (line.plane.id,), f"plate of {line.plane.name}", own, length, ordered, _trace(ordered))


def _trace(marks: Sequence[StickMark]) -> Trace:
    """How the lines were found, told of one that shows it: the second where there are two."""
    shown = marks[1] if len(marks) > 1 else marks[0]
    off = shown.centre_in - shown.line_in
    return Trace(
        f"line of {shown.mark}",
        shown.line_in,
        "in",
        "centre − half the thickness; centres at whole spacings by the layout, end rafters flush, hips and valleys on "
        "their centres",
        f"{shown.centre_in:.4f} − {off:.4f} = {shown.line_in:.4f} in",
        f"{COMMON_PRACTICE}; {GEOMETRY}",
    )


def _trusses(framing: Framing, line: EaveLine, *, runs: bool) -> list[StickMark]:
    """Lines of trusses by others, which are no members here; those over the overhang stand on no plate."""
    marks: list[StickMark] = []
    for x in framing.supports_of(line.plane.id):
        u = line.u(flat(line.plane.to_space((x, 0.0))))
        if -SAME_IN < u < line.length_in + SAME_IN:
            centre = u if runs else line.length_in - u
            half = line.wing.rafter.thickness_in / 2.0
            marks.append(StickMark(centre - half, centre, TRUSS, "common_rafter", ""))
    return marks


def _by_plane(framing: Framing) -> _Rafters:
    found: dict[str, list[tuple[Member, Placement]]] = {}
    for member in framing.members:
        if member.kind in RAFTER_KINDS:
            for placement in member.placements:
                found.setdefault(placement.plane, []).append((member, placement))
    return found


def _seated(rafters: _Rafters, line: EaveLine) -> Iterator[tuple[Member, Placement]]:
    """The rafters of this plate's planes but hips, valleys and barge rafters."""
    for plane, mine in rafters.items():
        if line.bears(plane):
            for member, placement in mine:
                if member.kind not in _CORNER_KINDS and member.kind != "barge_rafter":
                    yield member, placement


def _over_corners(hips: Sequence[Line], line: EaveLine) -> Iterator[tuple[Member, Placement]]:
    """Hips and valleys of this plate's wing, boards side by side once in their middle."""
    for hip in hips:
        if line.wing.framed_with == "rafters" and any(plane.startswith(f"{line.wing.id}/") for plane in hip.planes):
            place = next((p for p in hip.member.placements if p.start == hip.start and p.end == hip.end), None)
            yield hip.member, place or Placement(hip.planes[0], hip.start, hip.end)


def _mark(member: Member, placement: Placement, centre: float, along: Point2) -> StickMark:
    """A hip or valley is marked on its centre, anything else on its near face."""
    near = centre
    if member.kind not in _CORNER_KINDS:
        sine = abs(cross2(along, unit2(flat(placement.start), flat(placement.end))))
        near = centre - member.thickness_in / 2.0 / max(sine, _PARALLEL)
    return StickMark(near, centre, member.mark, member.kind, placement.hand)


def _ridge_sticks(rafters: _Rafters, line: Line, planes: Mapping[str, Plane], ways: _Ways) -> list[LayoutStick]:
    """The two sides of a ridge."""
    wing = planes[line.planes[0]].wing if line.planes and line.planes[0] in planes else ""
    runs, begins = ways.of(wing, line.along)
    reach = line.thickness_in / 2.0 + _AT_RIDGE_IN
    sides: dict[bool, list[tuple[StickMark, str]]] = {True: [], False: []}
    for member, placement in (one for plane in line.planes for one in rafters.get(plane, ())):
        s, w = line.place(flat(placement.end))
        beside = abs(w) < reach and -SAME_IN < s < line.run_in + SAME_IN
        if not beside or abs(placement.end[2] - line.start[2]) > 2.0 * member.depth_in:
            continue
        if member.kind in _CORNER_KINDS:
            continue
        centre = s if runs else line.run_in - s
        sides[w > 0.0].append((_mark(member, placement, centre, line.along), placement.plane))
    sticks: list[LayoutStick] = []
    for found in sides.values():
        if found:
            mine = tuple(dict.fromkeys(plane for _, plane in found))
            name = f"ridge, side of {', '.join(planes[plane].name for plane in mine if plane in planes)}"
            ordered = tuple(sorted((mark for mark, _ in found), key=lambda mark: mark.centre_in))
            end = f"end of the ridge board towards the {begins}" if begins else "one end of the ridge board"
            sticks.append(LayoutStick("ridge", mine, name, end, line.run_in, ordered, _trace(ordered)))
    return sticks


def _merged(sticks: Sequence[LayoutStick]) -> list[LayoutStick]:
    """Sticks with the same lines and marks as one, hands left out where they differ."""
    done: dict[tuple[object, ...], LayoutStick] = {}
    for stick in sticks:
        key = _key(stick)
        other = done.get(key)
        if other is None:
            done[key] = stick
            continue
        hands = [
            replace(a, hand=a.hand if a.hand == b.hand else "") for a, b in zip(other.marks, stick.marks, strict=True)
        ]
        name = f"{other.name} and {stick.name.removeprefix('plate of ').removeprefix('ridge, side of ')}"
        done[key] = replace(other, name=name, planes=(*other.planes, *stick.planes), marks=tuple(hands))
    return list(done.values())


def _key(stick: LayoutStick) -> tuple[object, ...]:
    # To a thousandth: what a pencil can't part.
    lines = tuple((round(mark.line_in, 3) + 0.0, mark.mark) for mark in stick.marks)
    return stick.on, round(stick.length_in, 3), lines
