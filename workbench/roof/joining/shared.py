"""One plane that two wings have: where they meet flush with equal slopes. Each keeps it over its own building.

Without this the two would meet wherever one wing's plane happens to end under the other, along a former hip right
across one flat plane. So they meet at a building line, straight up the slope.
"""

from __future__ import annotations

from workbench.roof.joining.scene import Layer
from workbench.roof.joining.standing import Gone, Standing


def share_planes(standing: Standing) -> None:
    """Give each cell of a plane that several wings have to the wing whose building is nearest."""
    for alike in _alike(standing.scene.layers):
        numbers = {layer.number for layer in alike}
        over = {cell: k for cell in standing.present for k in standing.standing(cell) if k in numbers}
        for part in standing.cells.parts(over):
            if len({over[cell] for cell in part}) > 1:
                _share(standing, part, over)


def _share(standing: Standing, part: list[int], over: dict[int, int]) -> None:
    layers = standing.scene.layers
    mine = {layers[over[cell]].wing: over[cell] for cell in part}
    for cell in part:
        near = [wing for wing in mine if wing in standing.present[cell]]
        best = min(near, key=lambda wing: (standing.scene.overframed(wing), standing.off(cell, wing), wing))
        if mine[best] == over[cell]:
            continue
        # A lower plane of that wing lies below here and went; what stands is the shared one now.
        standing.drop(cell, over[cell], Gone("same", best))
        standing.present[cell][best] = mine[best]
        standing.gone.pop((cell, mine[best]), None)


def _alike(layers: tuple[Layer, ...]) -> list[list[Layer]]:
    """Layers that are one plane in space, where several wings have it."""
    groups: list[list[Layer]] = []
    for layer in layers:
        group = next((group for group in groups if group[0].is_one_plane_with(layer)), None)
        if group is None:
            groups.append([layer])
        else:
            group.append(layer)
    return [group for group in groups if len({layer.wing for layer in group}) > 1]
