"""Skylights and chimneys cut out of the planes they lie in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from workbench.findings import COMMON_PRACTICE, GEOMETRY, Finding
from workbench.job.model import Opening
from workbench.roof.joining.cells import twice_area
from workbench.roof.joining.geometry import Shapes
from workbench.roof.joining.scene import Layer
from workbench.roof.joining.standing import Gone, Standing
from workbench.roof.model import Point2

_OFF_SQIN = 1.0  # an opening may be this much off its plane before it is told


def cut_openings(standing: Standing) -> Iterator[Finding]:
    """Take the planes away inside the openings, and tell which openings are not wholly in their plane."""
    scene, cells = standing.scene, standing.cells
    order = list(cells.areas)
    places = [cells.insides[cell] for cell in order]
    found = [
        (opening, ring) for opening, ring in zip(scene.openings, scene.footprints, strict=True) if ring is not None
    ]
    holding = Shapes([ring for _, ring in found]).holding(places)
    for number, (opening, ring) in enumerate(found):
        within = [order[k] for k, area in holding if area == number]
        targets = [layer for layer in scene.layers if _opens(opening, layer)]
        covered = 0.0
        for cell in within:
            through = [layer.number for layer in targets if standing.stands(cell, layer.number)]
            covered += cells.areas[cell] if through else 0.0
            for layer in through:
                standing.drop(cell, layer, Gone("opening", opening=opening.id))
        if twice_area(ring) / 2.0 - covered > _OFF_SQIN:
            yield _off_plane(opening)


def lost_openings(openings: Sequence[Opening], planes: Sequence[str]) -> Iterator[Finding]:
    """Openings whose plane is not there."""
    for opening in openings:
        if opening.plane not in planes:
            text = (
                f'The {opening.kind} "{opening.id}" stands on "{opening.plane}", but no plane rises from there now; '
                "it waits in the job uncut."
            )
            yield Finding("opening-without-plane", "warning", opening.id, text, COMMON_PRACTICE)


def place_of(points: Sequence[Point2]) -> str:
    """The middle of some plan points, in words."""
    x, y = (sum(point[axis] for point in points) / len(points) for axis in (0, 1))
    return f"({x:.0f}, {y:.0f})"


def _opens(opening: Opening, layer: Layer) -> bool:
    if opening.kind == "chimney":
        return True
    plane = layer.plane
    return plane.whole == opening.plane or (
        plane.split is not None and replace(plane, split=None).whole == opening.plane
    )


def _off_plane(opening: Opening) -> Finding:
    text = (
        f'The {opening.kind} "{opening.id}" does not lie wholly in the roof: it runs past an edge of "{opening.plane}" '
        "or into a part that another wing cuts away. Move it, or make it smaller."
    )
    return Finding("opening-off-plane", "warning", opening.id, text, GEOMETRY)
