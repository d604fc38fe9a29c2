"""Wings that are all but in line: corners, plates and slopes that miss another wing's by less than the drawing lattice.

Nothing is built to less than 1/64 in, but two lines that far apart make a sliver of roof between them. So a corner goes
onto the earlier wing's line or corner, a plate takes its height and a slope its value, and a finding says so. Inches.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

from msgspec.structs import replace

from workbench.findings import GEOMETRY, Finding
from workbench.job.model import Edge, Wing
from workbench.measure import Units
from workbench.roof.model import Point2

NEARLY_IN = 1.0 / 64.0
"""What lies nearer than this is meant to be one line; the drawing's own lattice is as fine."""

NEARLY_IN_12 = 1e-3
"""Slopes nearer than this are meant to be one: it makes 1/64 in over some 15 ft of run."""

_SAME_IN = 1e-9
_LEAST_EDGE_IN = NEARLY_IN / 2.0
_PARALLEL = 1e-3  # sine up to which two lines are all but parallel: their crossing is no place to go to
_REACH_IN = 240.0  # as far past its ends a line of one wing still counts for another

Outline = tuple[Point2, ...]


def in_line(wings: Sequence[Wing], units: Units) -> tuple[tuple[Wing, ...], tuple[Finding, ...]]:
    """The wings with what is nearly in line put in line, the later wing with the earlier one, and what was moved.

    Wings with nothing to put right are the same objects.
    """
    done: list[Wing] = []
    findings: list[Finding] = []
    for wing in wings:
        put, moved = wing, ""
        for other in done:
            outline = _outline_in_line(put.outline, other.outline)
            if outline != put.outline:  # the cache may give an equal one back
                put, moved = replace(put, outline=outline), _names(moved, f'corners onto lines of "{other.name}"')
        plates = _plates_in_line(put, done)
        if plates is not put:
            put, moved = plates, _names(moved, "plate heights")
        slope = _slope_in_line(put, done)
        if slope is not put:
            put, moved = slope, _names(moved, "its slope")
        if put is not wing:
            findings.append(_finding(wing, moved, units))
        done.append(put)
    return tuple(done), tuple(findings)


def _names(so_far: str, more: str) -> str:
    return f"{so_far} and {more}" if so_far else more


def _finding(wing: Wing, moved: str, units: Units) -> Finding:
    text = (
        f'"{wing.name}" missed another wing by less than {units.length(NEARLY_IN)}; the roof is worked out with '
        f"{moved} put in line. Draw it exactly in line, or further off."
    )
    return Finding("nearly-in-line", "note", wing.id, text, GEOMETRY)


@lru_cache(maxsize=2048)
def _outline_in_line(outline: Outline, other: Outline) -> Outline:
    """The outline with corners that nearly lie on the other's corners or lines put onto them; itself if none do."""
    if not _near(outline, other):
        return outline
    put = tuple(_corner_in_line(corner, other) for corner in outline)
    if put == outline:
        return outline
    whole = _shifted_in_line(outline, put, other)
    if whole is not None:
        return whole
    sides = zip(put, put[1:] + put[:1], strict=True)
    return outline if any(math.dist(a, b) < _LEAST_EDGE_IN for a, b in sides) else put


def _shifted_in_line(outline: Outline, put: Outline, other: Outline) -> Outline | None:
    """The outline shifted as a whole, which keeps its width and so its ridge, if that puts all of it in line."""
    shifts = [(b[0] - a[0], b[1] - a[1]) for a, b in zip(outline, put, strict=True) if a != b]
    right, up = shifts[0]
    if any(math.hypot(x - right, y - up) > _SAME_IN for x, y in shifts):
        return None
    shifted = tuple((x + right, y + up) if a == b else b for a, b in zip(outline, put, strict=True) for x, y in (a,))
    return shifted if all(_corner_in_line(corner, other) == corner for corner in shifted) else None


def _near(first: Outline, second: Outline) -> bool:
    return all(
        min(p[axis] for p in first) <= max(p[axis] for p in second) + _REACH_IN
        and min(p[axis] for p in second) <= max(p[axis] for p in first) + _REACH_IN
        for axis in (0, 1)
    )


def _corner_in_line(corner: Point2, other: Outline) -> Point2:
    spot = min(other, key=lambda place: math.dist(place, corner))
    if math.dist(spot, corner) < NEARLY_IN:
        return spot if math.dist(spot, corner) > _SAME_IN else corner
    x, y = corner
    lines: list[tuple[Point2, Point2, float]] = []
    for (ax, ay), (bx, by) in zip(other, other[1:] + other[:1], strict=True):
        length = math.hypot(bx - ax, by - ay)
        ux, uy = (bx - ax) / length, (by - ay) / length
        off = (x - ax) * uy - (y - ay) * ux
        along = (x - ax) * ux + (y - ay) * uy
        if abs(off) < NEARLY_IN and -_REACH_IN < along < length + _REACH_IN:
            lines.append(((ax, ay), (ux, uy), off))
    if not any(abs(off) > _SAME_IN for *_, off in lines):
        return corner
    for k, (place, way, _) in enumerate(lines):
        for other_place, other_way, _ in lines[k + 1 :]:
            sine = way[0] * other_way[1] - way[1] * other_way[0]
            if abs(sine) > _PARALLEL:
                along = ((other_place[0] - place[0]) * other_way[1] - (other_place[1] - place[1]) * other_way[0]) / sine
                return place[0] + along * way[0], place[1] + along * way[1]
    (_, (ux, uy), off) = min(lines, key=lambda line: abs(line[2]))
    return x - off * uy, y + off * ux


def _plates_in_line(wing: Wing, earlier: Sequence[Wing]) -> Wing:
    """The wing with plates that nearly have an earlier wing's height given that height; none that is to be found."""
    if not earlier or (wing.landing is not None and wing.landing.find == "low_plate"):
        return wing
    known = [z for other in earlier for z in _plates(other)]
    plate = _taken(wing.plate_in, known, NEARLY_IN)
    edges = tuple(
        edge
        if edge.plate_in is None or (taken := _taken(edge.plate_in, known, NEARLY_IN)) == edge.plate_in
        else replace(edge, plate_in=taken)
        for edge in wing.edges
    )
    return wing if plate == wing.plate_in and edges == wing.edges else replace(wing, plate_in=plate, edges=edges)


def _plates(wing: Wing) -> list[float]:
    return [wing.plate_in, *(edge.plate_in for edge in wing.edges if edge.plate_in is not None)]


def _slope_in_line(wing: Wing, earlier: Sequence[Wing]) -> Wing:
    """The wing with slopes that nearly are an earlier wing's given that slope; none that is to be found."""
    if not earlier or (wing.landing is not None and wing.landing.find == "slope"):
        return wing
    known = [slope for other in earlier for slope in _slopes(other)]
    slope = _taken(wing.slope_in_12, known, NEARLY_IN_12)
    edges = tuple(_edge_with_slope(edge, known) for edge in wing.edges)
    return wing if slope == wing.slope_in_12 and edges == wing.edges else replace(wing, slope_in_12=slope, edges=edges)


def _edge_with_slope(edge: Edge, known: Sequence[float]) -> Edge:
    if edge.slope_in_12 is None:
        return edge
    slope = _taken(edge.slope_in_12, known, NEARLY_IN_12)
    return edge if slope == edge.slope_in_12 else replace(edge, slope_in_12=slope)


def _slopes(wing: Wing) -> list[float]:
    if wing.landing is not None and wing.landing.find == "slope":
        return []
    return [wing.slope_in_12, *(edge.slope_in_12 for edge in wing.edges if edge.slope_in_12 is not None)]


def _taken(value: float, known: Sequence[float], within: float) -> float:
    """The nearest known value if it is nearly this one, else this one."""
    near = min(known, key=lambda other: abs(other - value), default=value)
    return near if abs(near - value) < within else value
