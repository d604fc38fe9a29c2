"""Where rafters stand on a plane, and what each runs between. Plane axes, inches."""

from __future__ import annotations

from dataclasses import dataclass

from workbench.job.model import Wing
from workbench.roof.model import EdgeKind, Plane, Point2

_EPS_IN = 1e-6


@dataclass(frozen=True, slots=True)
class RafterLine:
    """One rafter's centre line on a plane.

    Attributes:
        x: Its position.
        low: y of its lower end.
        high: y of its upper end.
        low_kind: Kind of the edge it starts on.
        high_kind: Kind of the edge it ends on.
        barge: Whether it stands outside the building line, at the outer edge of a rake overhang.
    """

    x: float
    low: float
    high: float
    low_kind: EdgeKind
    high_kind: EdgeKind
    barge: bool


def rafter_lines(wing: Wing, outline: tuple[Point2, ...], plane: Plane) -> tuple[RafterLine, ...]:
    """All rafter lines of a plane from left to right.

    The layout is measured from one end of the building line: the first rafter's outer face stands flush with that end,
    the others' centres at whole spacings from it, so that sheets measured from the end join on centres; the last stands
    flush with the other end (common practice, no source). A rake overhang gets a barge rafter at its outer edge.
    """
    left, right = _building_ends(wing, outline, plane)
    half = wing.rafter.thickness_in / 2.0
    xs = _positions(wing, plane, left, right)
    lines = [line for x in xs for line in _lines_at(plane, x, barge=False)]
    low, high = min(x for x, _ in plane.polygon), max(x for x, _ in plane.polygon)
    if left - low > 2.0 * half + _EPS_IN:
        lines += _lines_at(plane, low + half, barge=True)
    if high - right > 2.0 * half + _EPS_IN:
        lines += _lines_at(plane, high - half, barge=True)
    return tuple(sorted(lines, key=lambda line: (line.x, line.low)))


def _positions(wing: Wing, plane: Plane, left: float, right: float) -> list[float]:
    half, spacing = wing.rafter.thickness_in / 2.0, wing.rafter.spacing_in
    from_left = (wing.rafter.start == "left") == (_faces_with_first_eave(wing, plane))
    first, last = left + half, right - half
    if last - first < _EPS_IN:
        return [(left + right) / 2.0]
    steps: list[float] = []
    k = 1
    while k * spacing < right - left - half:
        x = left + k * spacing if from_left else right - k * spacing
        # A centre closer to an end rafter than a thickness would stand in it.
        if x - first > 2.0 * half - _EPS_IN and last - x > 2.0 * half - _EPS_IN:
            steps.append(x)
        k += 1
    return [first, *sorted(steps), last]


def _faces_with_first_eave(wing: Wing, plane: Plane) -> bool:
    """Whether the plane's level direction runs the way the first eave's does, so that rafters across a ridge agree."""
    index = next(i for i, edge in enumerate(wing.edges) if edge.kind == "eave")
    a, b = wing.outline[index], wing.outline[(index + 1) % len(wing.outline)]
    return (b[0] - a[0]) * plane.across[0] + (b[1] - a[1]) * plane.across[1] >= 0.0


def _building_ends(wing: Wing, outline: tuple[Point2, ...], plane: Plane) -> tuple[float, float]:
    index = next(i for i, edge in enumerate(wing.edges) if edge.id == plane.drawn)
    ends = (plane.to_plane(outline[index])[0], plane.to_plane(outline[(index + 1) % len(outline)])[0])
    return min(ends), max(ends)


def _lines_at(plane: Plane, x: float, *, barge: bool) -> list[RafterLine]:
    """The stretches of the plane over one x, with the kinds of the edges they end on."""
    ring = plane.polygon
    crossings: list[tuple[float, EdgeKind]] = []
    for i, (a, b) in enumerate(zip(ring, ring[1:] + ring[:1], strict=True)):
        if (a[0] - x) * (b[0] - x) < 0.0 or ((a[0] == x) != (b[0] == x) and max(a[0], b[0]) == x):
            share = (x - a[0]) / (b[0] - a[0])
            crossings.append((a[1] + share * (b[1] - a[1]), plane.edges[i].kind))
    crossings.sort(key=lambda crossing: crossing[0])
    pairs = zip(crossings[::2], crossings[1::2], strict=False)
    return [RafterLine(x, low[0], high[0], low[1], high[1], barge) for low, high in pairs if high[0] - low[0] > _EPS_IN]
