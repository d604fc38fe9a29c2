"""What joining has to tell: roofs that can't be where they are, wings that vanish, and that the roof is tight."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from workbench.findings import GEOMETRY, Finding
from workbench.measure import Units
from workbench.roof.joining.cells import Side, is_narrow
from workbench.roof.joining.corners import Corners
from workbench.roof.joining.openings import place_of
from workbench.roof.joining.pairs import Close
from workbench.roof.joining.standing import Standing
from workbench.roof.model import Plane

_TOLD_SQIN = 1e-3  # a sliver of less is rounding
_SMALL_SQIN = 144.0


def tight_findings(standing: Standing, corners: Corners) -> Iterator[Finding]:
    """Where no roof is left over the building, or one ends in mid-air above or below the next."""
    bare = [
        cell
        for cell, layers in standing.present.items()
        if layers and not standing.standing(cell) and not _is_opening(standing, cell)
    ]
    for part in standing.cells.parts(bare):
        if not is_narrow(standing.cells, part, standing.cells.outer_sides(part)):
            where = place_of([standing.cells.insides[cell] for cell in part])
            yield _not_tight(standing, part[0], where, "is left bare")
    for (layer, _), looks in corners.looks.items():
        torn = [side for side, look in looks.items() if look.torn]
        if torn:
            longest = max(torn, key=standing.cells.length)
            cell = standing.cells.left[longest]
            where = place_of([standing.cells.middle(longest)])
            name = standing.scene.layers[layer].plane.name
            yield _not_tight(standing, cell, where, f'is open beside "{name}", which ends there in mid-air')


def crossing_findings(standing: Standing) -> Iterator[Finding]:
    """Where two roofs go through each other and neither could be cut off."""
    layers, cells = standing.scene.layers, standing.cells
    crossed: dict[tuple[int, int], list[Side]] = {}
    several = {cell: stay for cell in cells.areas if len(stay := standing.standing(cell)) > 1}
    for cell, stay in several.items():
        for side in cells.sides[cell]:
            beyond = cells.right(side)
            if beyond is None or beyond < cell:
                continue
            for a, b in combinations(sorted({*stay} & {*several.get(beyond, ())}), 2):
                turned = standing.gap(cell, a, b) * standing.gap(beyond, a, b) < 0.0
                if turned and standing.level_along(side, a, b):
                    crossed.setdefault((layers[a].wing, layers[b].wing), []).append(side)
    for (first, second), sides in crossed.items():
        one, other = (standing.scene.wings[k].effective for k in (first, second))
        where = place_of([cells.middle(side) for side in sides])
        text = (
            f'The roofs of "{one.name}" and "{other.name}" go through each other near {where} inches on the plan, and '
            "neither can end there. Shorten an overhang, or bring the eaves to one height."
        )
        yield Finding("roofs-cross", "warning", other.id, text, GEOMETRY)


def close_findings(standing: Standing, close: Sequence[Close], units: Units) -> Iterator[Finding]:
    """Overhangs that run closer over another roof than their own tails are deep."""
    layers, wings = standing.scene.layers, standing.scene.wings
    told: set[tuple[int, int]] = set()
    for found in close:
        high, low = layers[found.high], layers[found.low]
        if (high.wing, low.wing) in told:
            continue
        told.add((high.wing, low.wing))
        upper, lower = wings[high.wing].effective, wings[low.wing].effective
        text = (
            f'The overhang of "{upper.name}" runs {units.length(max(0.0, found.room_in))} over the roof of '
            f'"{lower.name}", measured plumb between the tops of the rafters; its own tails are '
            f"{units.length(standing.scene.tail_in(high))} deep. Shorten the overhang or move one of the roofs."
        )
        yield Finding("roofs-too-close", "warning", upper.id, text, GEOMETRY)


def covered_findings(standing: Standing, planes: Sequence[Sequence[Plane]]) -> Iterator[Finding]:
    """Wings of which nothing is left."""
    for number, wing in enumerate(standing.scene.wings):
        if planes[number]:
            continue
        above = {
            reason.wing
            for (_, layer), reasons in standing.gone.items()
            for reason in reasons
            if standing.scene.layers[layer].wing == number and reason.wing is not None
        }
        names = " and ".join(f'"{standing.scene.wings[k].effective.name}"' for k in sorted(above))
        text = (
            f'The roof of "{wing.effective.name}" lies wholly inside {names or "other wings"}, so nothing of it is '
            "built. Raise it, move it out, or remove it."
        )
        yield Finding("wing-covered", "warning", wing.effective.id, text, GEOMETRY)


def small_findings(standing: Standing, planes: Sequence[Sequence[Plane]]) -> Iterator[Finding]:
    """Pieces too narrow to be made, which are left out, and planes of which hardly anything is left."""
    thin: dict[int, list[int]] = {}
    for (cell, layer), reasons in standing.gone.items():
        if any(reason.why == "thin" for reason in reasons):
            thin.setdefault(layer, []).append(cell)
    for layer, cells in thin.items():
        area = sum(standing.cells.areas[cell] for cell in cells)
        if area > _TOLD_SQIN:
            plane = standing.scene.layers[layer].plane
            where = place_of([standing.cells.insides[cell] for cell in cells])
            text = (
                f'A strip of "{plane.name}" near {where} inches on the plan is narrower than 1/64 in and is left out. '
                "Two lines miss each other there; draw them in line or further apart."
            )
            yield Finding("sliver-left-out", "note", plane.wing, text, GEOMETRY)
    for plane in (plane for its in planes for plane in its):
        if plane.area_sqft * 144.0 < _SMALL_SQIN:
            text = (
                f'Of "{plane.name}" only {plane.area_sqft * 144.0:.3g} sq in is left, too little to frame and sheathe '
                "by itself. Move one of the wings that cut it, or fill it on site."
            )
            yield Finding("small-plane", "note", plane.id, text, GEOMETRY)


def trimmed_findings(standing: Standing) -> Iterator[Finding]:
    """Wings whose far end was cut off where it would have come out of another roof."""
    told: set[tuple[int, int]] = set()
    for (_, layer), reasons in standing.gone.items():
        for reason in reasons:
            key = (standing.scene.layers[layer].wing, reason.wing)
            if reason.why != "trimmed" or reason.wing is None or key in told:
                continue
            told.add((key[0], reason.wing))
            short, whole = (standing.scene.wings[k].effective for k in (key[0], reason.wing))
            text = (
                f'The far end of "{short.name}" would come out of the roof of "{whole.name}" on the other side; '
                "it is cut off there."
            )
            yield Finding("wing-trimmed", "note", short.id, text, GEOMETRY)


def _is_opening(standing: Standing, cell: int) -> bool:
    layers = standing.present[cell].values()
    return any(reason.why == "opening" for k in layers for reason in standing.gone.get((cell, k), ()))


def _not_tight(standing: Standing, cell: int, where: str, what: str) -> Finding:
    wing = min(standing.present[cell])
    text = (
        f"The roof {what}, near {where} inches on the plan. This could not be decided from the wings as drawn; move or "
        "raise one of them there."
    )
    return Finding("roof-not-watertight", "error", standing.scene.wings[wing].effective.id, text, GEOMETRY)
