"""Ridge boards: as deep as the cut rafter end, in the fewest feet of stock, joined at rafters.

Source of the depth: ridge board not less deep than the cut end of the rafter and at least 1 in nominal thick (IRC
R802.3, read in a copy); below 3 in 12 the ridge is designed as a beam, which the landing's findings say.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from workbench.framing.model import Cut, Measure, Member, Placement
from workbench.framing.stock import cheapest_run, nominal_depth, section_name, stock_length
from workbench.job.model import Wing
from workbench.measure import Trace, Units
from workbench.roof.model import Plane, PlaneEdge

_LEVEL_IN = 1e-6


def ridge_boards(
    wing: Wing, planes: Sequence[Plane], supports: Mapping[str, tuple[float, ...]], units: Units
) -> list[Member]:
    """The ridge boards of one wing, one member a length.

    Args:
        wing: The wing, solved values put in.
        planes: Its planes.
        supports: Rafter centre lines by plane id, plane axes.
        units: How lengths are shown in the traces.
    """
    members: list[Member] = []
    done: set[frozenset[object]] = set()
    for plane in planes:
        for edge in plane.edges:
            key = frozenset((edge.start, edge.end))
            if edge.kind == "ridge" and key not in done:
                done.add(key)
                members += _boards(wing, plane, edge, supports[plane.id], units)
    return members


def _boards(wing: Wing, plane: Plane, edge: PlaneEdge, supports: tuple[float, ...], units: Units) -> list[Member]:
    # A plane's ridge runs from right to left, as the ring goes round; boards are counted from its left end.
    start, end = (edge.end, edge.start) if _runs_back(plane, edge) else (edge.start, edge.end)
    offset = plane.to_plane(start)[0]
    length = edge.length_in
    runs = cheapest_run(length, tuple(x - offset for x in supports)) or ((0.0, length),)
    plumb_cut = wing.rafter.depth_in * plane.stretch
    depth = wing.ridge.depth_in or nominal_depth(plumb_cut) or plumb_cut
    members: list[Member] = []
    for low, high in runs:
        ends = tuple(
            tuple(a + (b - a) * share / length for a, b in zip(start, end, strict=True)) for share in (low, high)
        )
        members.append(_board(wing, plane, high - low, depth, plumb_cut, ends, units))
    return members


def _runs_back(plane: Plane, edge: PlaneEdge) -> bool:
    return plane.to_plane(edge.end)[0] < plane.to_plane(edge.start)[0]


def _board(
    wing: Wing,
    plane: Plane,
    length: float,
    depth: float,
    plumb_cut: float,
    ends: tuple[tuple[float, ...], ...],
    units: Units,
) -> Member:
    (x0, y0, z0), (x1, y1, z1) = ends
    # The board's top is level with the rafters' tops at its faces, half a thickness down the slope from the centreline.
    drop = plane.tangent * wing.ridge.thickness_in / 2.0
    stock = stock_length(length) or length
    thickness = wing.ridge.thickness_in
    trace = Trace(
        "ridge depth",
        depth,
        "in",
        "not under the rafter's plumb cut d / cos θ",
        f"{wing.rafter.depth_in:g} / cos {math.degrees(plane.angle):.2f}° = {plumb_cut:.4f} in → {units.length(depth)}",
        "IRC R802.3, read in a copy",
    )
    return Member(
        mark="Ridge",
        kind="ridge_board",
        count=1,
        length_in=length,
        stock_in=stock,
        section=section_name(thickness, depth),
        depth_in=depth,
        thickness_in=thickness,
        cuts=(Cut("square cut", 0.0, 0.0, 0.0, 0.0), Cut("square cut", 0.0, 0.0, 0.0, length)),
        profile=((0.0, 0.0), (length, 0.0), (length, depth), (0.0, depth)),
        measures=(Measure("length", (0.0, depth), (length, depth), length),),
        placements=(Placement(plane.id, (x0, y0, z0 - drop), (x1, y1, z1 - drop)),),
        traces=(trace,),
        angle_deg=0.0,
    )
