"""Where jacks meet hips and valleys, along the top edge as a tape lies on it. Inches.

A jack's centre line goes on to the centre line of the hip or valley: that is the point, whatever the cheeks take off.
Source: geometry.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

from workbench.framing.model import Framing, Member, MemberKind, Placement
from workbench.framing.space import dot2, flat, meet2, minus2, unit2
from workbench.roof.model import Plane
from workbench.site.ground_plan import Line, sloped_lines
from workbench.site.model import JackStick

_JACKS: tuple[MemberKind, ...] = ("hip_jack", "valley_jack", "cripple_jack", "common_rafter")
_NEAR_IN = 6.0
_SAME_IN = 1.0 / 64.0


def jack_sticks(framing: Framing, planes: Sequence[Plane]) -> tuple[JackStick, ...]:
    """The jacks along every hip and valley, those alike told once, in the order of their marks."""
    found: dict[tuple[object, ...], list[JackStick]] = {}
    for line in sloped_lines(framing, planes):
        stick = _along(framing, line)
        if stick.marks:
            key = (stick.mark, round(stick.length_in, 3), tuple((round(s, 3), mark) for s, mark in stick.marks))
            found.setdefault(key, []).append(stick)
    return tuple(
        JackStick(same[0].mark, same[0].kind, len(same), same[0].length_in, same[0].marks) for same in found.values()
    )


def _along(framing: Framing, line: Line) -> JackStick:
    kind: Literal["hip", "valley"] = "hip" if line.member.kind == "hip_rafter" else "valley"
    stretch = math.hypot(1.0, (line.end[2] - line.start[2]) / line.run_in)
    marks: list[tuple[float, str]] = []
    for member in framing.members:
        if member.kind in _JACKS:
            for place in member.placements:
                s = _meeting(line, member, place) if place.plane in line.planes else None
                if s is not None:
                    marks.append((s * stretch, member.mark))
    marks.sort()
    once: list[tuple[float, str]] = []
    for s, mark in marks:
        if once and abs(s - once[-1][0]) < _SAME_IN:
            if mark not in once[-1][1].split(" and "):
                once[-1] = (once[-1][0], f"{once[-1][1]} and {mark}")
            continue
        once.append((s, mark))
    return JackStick(line.member.mark, kind, 1, line.run_in * stretch, tuple(once))


def _meeting(line: Line, member: Member, place: Placement) -> float | None:
    """How far along a line's run the centre line of a rafter that ends on it meets it; None for one that does not."""
    start, end = flat(place.start), flat(place.end)
    along = unit2(start, end)
    point = meet2(start, along, flat(line.start), line.along)
    if point is None:
        return None
    s, _ = line.place(point)
    beyond = max(dot2(minus2(point, end), along), -dot2(minus2(point, start), along))
    # What stands between: half of both thicknesses, measured along the rafter, and a little.
    reach = (line.thickness_in + member.thickness_in) * 2.0 + _NEAR_IN
    inside = 0.0 < s < line.run_in
    return s if inside and -_SAME_IN < beyond < reach else None
