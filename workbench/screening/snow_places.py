"""Where on this roof snow can lie that no load here counts: drifts at walls, slides on to lower roofs, valleys.

How much it is is not reckoned: the findings say where, and what the engineer is to be asked. Inches.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from importlib import import_module
from typing import Any

from workbench.findings import SCREENING, Finding
from workbench.job.screening import Snow
from workbench.measure import Units
from workbench.roof.model import Plane, PlaneEdge, Point2
from workbench.rules.snow import snow_edition

_library: Any = import_module("shapely")  # untyped where it takes many shapes at once

MOST_PLACES = 6
"""So many places are named; of more the count is told."""

_LEVEL_IN = 0.5
_LEAST_IN = 12.0
_LOWER_IN = 12.0
_OUT_IN = (6.0, 36.0, 96.0, 174.0)
"""How far out from an eave lower roofs are looked for: up to 15 ft (ASCE 7 7.9, from memory)."""
_ALONG = (0.1, 0.5, 0.9)


def snow_places(snow: Snow | None, planes: Sequence[Plane], units: Units) -> Iterator[Finding]:
    """Findings for drifts, slides and valleys, each where there is a place for it; none without snow."""
    if snow is None or snow.ground_psf <= 0.0:
        return
    edition = snow_edition(snow.edition).name
    for code, places, text, section in (
        ("snow-drifts", list(_walls(planes, units)), _DRIFTS, "7.7 and 7.8"),
        ("snow-slides", list(_slides(planes, units)), _SLIDES, "7.9"),
        ("snow-in-valleys", list(_valleys(planes, units)), _VALLEYS, "7.6"),
    ):
        if places:
            named = _listed([words for _, words in places])
            source = f"{edition}, {section}, from memory: not reckoned here"
            yield Finding(code, "note", places[0][0], f"{text.format(named)} {SCREENING}", source)


_DRIFTS = (
    "Snow can drift against walls: {}. Ask the engineer for the drift on each: tell how high wall and roof above it "
    "stand over this roof, and how far the upper roof reaches back from the wall and this one out from it."
)
_SLIDES = (
    "Snow can slide on to lower roofs: {}. Ask the engineer which sliding load the lower roof gets, and over which "
    "width: tell the slope above, its covering, and its length from ridge to eave."
)
_VALLEYS = (
    "Snow gathers in valleys: {}. Ask the engineer which load valley rafters, jacks and sheathing get there, and "
    "whether ice and drifts from the higher ridge add to it."
)

Place = tuple[str, str]


def _walls(planes: Sequence[Plane], units: Units) -> Iterator[Place]:
    """Edges against walls, not those round skylights and chimneys."""
    for plane in planes:
        for edge in plane.all_edges:
            if edge.kind in ("wall", "step") and edge.opening is None and edge.length_in >= _LEAST_IN:
                level = abs(edge.start[2] - edge.end[2]) <= _LEVEL_IN
                yield plane.id, f"{plane.name}, {units.length(edge.length_in)} {'level' if level else 'up the slope'}"


def _valleys(planes: Sequence[Plane], units: Units) -> Iterator[Place]:
    """Valleys between two planes, each once."""
    names = {plane.id: plane.name for plane in planes}
    seen: set[frozenset[tuple[int, ...]]] = set()
    for plane in planes:
        for edge in plane.all_edges:
            ends = frozenset(tuple(round(16.0 * x) for x in point) for point in (edge.start, edge.end))
            if edge.kind != "valley" or edge.length_in < _LEAST_IN or ends in seen:
                continue
            seen.add(ends)
            other = names.get(edge.neighbour or "")
            between = f"between {plane.name} and {other}" if other else f"at the foot of {plane.name}"
            yield plane.id, f"{between}, {units.length(edge.length_in)}"


def _slides(planes: Sequence[Plane], units: Units) -> Iterator[Place]:
    """Eaves over lower planes, or beside them: which on to which, and the least drop."""
    eaves = [(plane, edge) for plane in planes for edge in plane.edges if edge.kind == "eave"]
    points: list[Point2] = []
    asked: list[tuple[Plane, float]] = []
    for plane, edge in eaves:
        for point, z in _beside(plane, edge):
            points.append(point)
            asked.append((plane, z))
    if not points:
        return
    shapes = [_library.Polygon([corner[:2] for corner in plane.corners]) for plane in planes]
    hits: list[tuple[int, int]] = (
        _library.STRtree(shapes).query(_library.points(points), predicate="intersects").T.tolist()
    )
    found: dict[tuple[str, str], float] = {}
    for number, index in hits:
        (above, z), below, point = asked[number], planes[index], points[number]
        drop = z - below.to_space(below.to_plane(point))[2]
        if below.id != above.id and drop >= _LOWER_IN:
            key = above.id, below.id
            found[key] = min(drop, found.get(key, math.inf))
    names = {plane.id: plane.name for plane in planes}
    for (above, below), drop in found.items():
        yield below, f"from {names[above]} on to {names[below]}, {units.length(drop)} lower or more"


def _beside(plane: Plane, edge: PlaneEdge) -> Iterator[tuple[Point2, float]]:
    """Plan points out from an eave, with the eave's height."""
    ux, uy = plane.uphill
    for share in _ALONG:
        x, y, z = (a + share * (b - a) for a, b in zip(edge.start, edge.end, strict=True))
        for out in _OUT_IN:
            yield (x - out * ux, y - out * uy), z


def _listed(words: Sequence[str]) -> str:
    """Places with how many there are of each, the further ones counted."""
    counts: dict[str, int] = {}
    for each in words:
        counts[each] = counts.get(each, 0) + 1
    told = [f"{each} ({n} times)" if n > 1 else each for each, n in counts.items()]
    more = len(told) - MOST_PLACES
    return "; ".join([*told[:MOST_PLACES], *([f"and {more} more"] if more > 0 else [])])
