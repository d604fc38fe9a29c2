"""The lines of a roof that something is laid along: edges by kind, each once, and joints between panels."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from workbench.drying_in.model import Run
from workbench.roof.model import EdgeKind, Plane, PlaneEdge, Roof
from workbench.sheathing.model import PlaneSheets, Seam, SeamKind, SheathingPlan

_LEAST_IN = 1.0
_LEVEL_IN = 0.01
_SAME = 64.0


def edge_runs(roof: Roof, kind: EdgeKind) -> list[Run]:
    """Every edge of a kind once, round openings left out; shared ones are named by both planes."""
    return [run for run, _ in _edges(roof, kind)]


def level_and_sloped(roof: Roof, kind: EdgeKind) -> tuple[list[Run], list[Run]]:
    """The edges of a kind that run level, and those that rise."""
    found = list(_edges(roof, kind))
    level = [run for run, edge in found if abs(edge.start[2] - edge.end[2]) <= _LEVEL_IN]
    return level, [run for run, edge in found if abs(edge.start[2] - edge.end[2]) > _LEVEL_IN]


def _edges(roof: Roof, kind: EdgeKind) -> Iterator[tuple[Run, PlaneEdge]]:
    names = {plane.id: plane.name for plane in roof.planes}
    seen: set[frozenset[tuple[int, ...]]] = set()
    for plane in roof.planes:
        for edge in plane.all_edges:
            ends = frozenset(tuple(round(x * _SAME) for x in point) for point in (edge.start, edge.end))
            if edge.kind != kind or edge.opening is not None or edge.length_in < _LEAST_IN or ends in seen:
                continue
            seen.add(ends)
            other = names.get(edge.neighbour or "")
            name = plane.name if other is None or other == plane.name else f"{plane.name} and {other}"
            yield Run(plane.id, name, edge.start, edge.end, edge.length_in), edge


def seam_runs(roof: Roof, sheathing: SheathingPlan, kind: SeamKind) -> list[Run]:
    """The joints between panels of a kind, plane by plane from the bottom up."""
    planes = {plane.id: plane for plane in roof.planes}
    sheets = {found.plane: found for found in sheathing.planes}
    seams = [seam for seam in sheathing.seams if seam.kind == kind and seam.plane in sheets and seam.plane in planes]
    order = {plane.id: number for number, plane in enumerate(roof.planes)}
    seams.sort(key=lambda seam: (order[seam.plane], min(seam.start[1], seam.end[1]), seam.start[0]))
    return [_seam_run(planes[seam.plane], sheets[seam.plane], seam) for seam in seams]


def _seam_run(plane: Plane, sheets: PlaneSheets, seam: Seam) -> Run:
    snap = _snap(sheets, seam) if seam.kind == "level" else None
    start, end = plane.to_space(seam.start), plane.to_space(seam.end)
    return Run(plane.id, plane.name, start, end, seam.length_in, snap)


def _snap(sheets: PlaneSheets, seam: Seam) -> float:
    """Distance of a level joint from the eave edge: the snap line of the row below it."""
    y = seam.start[1]
    below = [row for row in sheets.rows if row.bottom_in < y]
    return below[-1].snap_in if below else 0.0


def named(runs: Sequence[Run]) -> list[tuple[str, float]]:
    """Names and lengths."""
    return [(run.name, run.length_in) for run in runs]


def total(runs: Sequence[Run]) -> float:
    """All lengths together."""
    return sum(run.length_in for run in runs)
