"""One plane drawn by hand: given by its slope, the way it rises and one known level line. Inches."""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec.structs import replace

from workbench.findings import GEOMETRY, Finding
from workbench.job.model import Wing
from workbench.job.planes import Single
from workbench.measure import Units
from workbench.roof.eaves import EaveLine, eave_line, wing_hap
from workbench.roof.joining.geometry import is_simple
from workbench.roof.model import Plane, PlaneEdge, Point2, Point3
from workbench.roof.sections import plane_section
from workbench.roof.solved import BuiltWing, Eave, SolvedWing

_SQUARE = 1e-7  # sine under which the plane rises square to an edge
_FALLS = 0.5  # an edge whose outside looks this much downhill (cosine) is a low edge


def build_single(wing: Wing, single: Single, units: Units) -> BuiltWing:
    """The plane of a wing that is one plane drawn by hand.

    The plates under its low edges follow from the plane and the wing's heel, since the plane is what is given.
    """
    tangent, uphill = wing.slope_in_12 / 12.0, uphill_of(wing.outline, single)
    eaves = _eaves(wing, single, tangent, uphill)
    effective = replace(
        wing,
        edges=tuple(
            replace(edge, plate_in=eaves[i].plate_in) if i in eaves else edge for i, edge in enumerate(wing.edges)
        ),
    )
    line = eave_line(effective, wing.outline, eaves)
    if not is_simple(line.corners):
        text = f"{wing.name}: its overhangs run through each other; make them shorter."
        finding = Finding("roof-unsolved", "error", wing.id, text, GEOMETRY)
        return BuiltWing(None, effective, (), (finding,))
    base = min(eaves, key=lambda i: (eaves[i].plate_in, i))
    plane = _plane(effective, line, tangent, uphill, single, wing.edges[base].id)
    section = None
    if abs(_cosine(wing.outline, base, uphill)) < _SQUARE:
        section = plane_section(effective, plane, eaves[base], wing.outline[base], None, units)
    solved = SolvedWing(wing.id, wing.outline, tuple(eaves[i] for i in sorted(eaves)), (section,) if section else ())
    return BuiltWing(solved, effective, (plane,), section.answer.findings if section else ())


def uphill_of(outline: Sequence[Point2], single: Single) -> Point2:
    """Unit plan vector up the slope; exactly square to an edge of the outline where it is meant to be."""
    angle = math.radians(single.uphill_deg)
    x, y = math.cos(angle), math.sin(angle)
    for i in range(len(outline)):
        ax, ay = _along(outline, i)
        if abs(ax * x + ay * y) < _SQUARE:
            return (-ay, ax) if ax * y - ay * x > 0.0 else (ay, -ax)
    return x, y


def height_over(single: Single, tangent: float, uphill: Point2, point: Point2) -> float:
    """Height of the plane over a plan point, inches."""
    run = (point[0] - single.line[0]) * uphill[0] + (point[1] - single.line[1]) * uphill[1]
    return single.height_in + tangent * run


def low_edges(outline: Sequence[Point2], uphill: Point2) -> tuple[int, ...]:
    """The edges that look downhill, where water runs off: those within 60 degrees of straight down, at least one."""
    falls = [_along(outline, i)[1] * -uphill[0] + _along(outline, i)[0] * uphill[1] for i in range(len(outline))]
    low = tuple(i for i, fall in enumerate(falls) if fall > _FALLS)
    return low or (max(range(len(falls)), key=falls.__getitem__),)


def _eaves(wing: Wing, single: Single, tangent: float, uphill: Point2) -> dict[int, Eave]:
    hap = wing_hap(wing)
    eaves: dict[int, Eave] = {}
    for i, edge in enumerate(wing.edges):
        if edge.kind == "eave":
            a, b = wing.outline[i], wing.outline[(i + 1) % len(wing.outline)]
            top = height_over(single, tangent, uphill, ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0))
            overhang = wing.eave_overhang_in if edge.overhang_in is None else edge.overhang_in
            eaves[i] = Eave(edge.id, tangent, top - hap, hap, overhang)
    return eaves


def _plane(wing: Wing, line: EaveLine, tangent: float, uphill: Point2, single: Single, drawn: str) -> Plane:
    across = (uphill[1], -uphill[0])
    corners: list[Point3] = [(*corner, height_over(single, tangent, uphill, corner)) for corner in line.corners]
    left = min(x * across[0] + y * across[1] for x, y, _ in corners)
    lowest = min(corners, key=lambda corner: corner[2])
    shift = left - (lowest[0] * across[0] + lowest[1] * across[1])
    origin = (lowest[0] + shift * across[0], lowest[1] + shift * across[1], lowest[2])
    edges = tuple(
        PlaneEdge("rake", a, b)
        if index is None
        else PlaneEdge(wing.edges[index].kind, a, b, None, wing.edges[index].id)
        for index, a, b in zip(line.edges, corners, corners[1:] + corners[:1], strict=True)
    )
    return Plane(
        f"{wing.id}/{drawn}", wing.name, wing.id, drawn, tangent, origin, across, uphill, tuple(corners), edges
    )


def _along(outline: Sequence[Point2], index: int) -> Point2:
    (ax, ay), (bx, by) = outline[index], outline[(index + 1) % len(outline)]
    length = math.hypot(bx - ax, by - ay)
    return (bx - ax) / length, (by - ay) / length


def _cosine(outline: Sequence[Point2], index: int, uphill: Point2) -> float:
    along = _along(outline, index)
    return along[0] * uphill[0] + along[1] * uphill[1]
