"""Headers of openings: boards across, above and below, that carry the rafters cut off there. Inches.

How many: one up to 4 ft, else two, with as many trimmer rafters on either side (IRC R802.9, from memory). They stand
plumb, their outer faces flush with the opening.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from workbench.findings import COMMON_PRACTICE
from workbench.framing.field import Field, FieldEdge
from workbench.framing.group import Group
from workbench.framing.model import Cut, Measure, Member, Placement
from workbench.framing.plies import header_boards
from workbench.framing.stock import section_name, stock_length
from workbench.framing.timber import SAME_IN
from workbench.measure import Trace, Units
from workbench.roof.model import Plane


def headers(group: Group, fields: Mapping[str, Sequence[Field]], units: Units) -> list[Member]:
    """The headers at all openings of a group."""
    members: list[Member] = []
    for plane in group.planes:
        for field in fields[plane.id]:
            for ring in field.openings:
                level = [edge for edge in ring if _carries(edge)]
                wing = group.wing_of(plane.id)
                for edge in level:
                    plies = header_boards(wing, math.dist(edge.start, edge.end))
                    made = [_header(group, plane, edge, ply, units) for ply in range(plies)]
                    members += [replace(member, plies=plies) for member in made]
    return members


def _carries(edge: FieldEdge) -> bool:
    return edge.half > 0.0 and edge.kind == "wall" and abs(edge.start[1] - edge.end[1]) < SAME_IN


def _header(group: Group, plane: Plane, edge: FieldEdge, ply: int, units: Units) -> Member:
    rafter = group.wing_of(plane.id).rafter
    length, depth, thickness = math.dist(edge.start, edge.end), rafter.depth_in, rafter.thickness_in
    # The field lies to the left of the edge: a board's middle is half a thickness in, the next ones behind it.
    inward = 1.0 if edge.end[0] > edge.start[0] else -1.0
    r = edge.start[1] + inward * thickness * (ply + 0.5)
    left, right = sorted((edge.start[0], edge.end[0]))
    ends = [plane.to_space((x, r * plane.stretch)) for x in (left, right)]
    trace = Trace(
        "header length",
        length,
        "in",
        "width of the opening, between the trimmers",
        units.tape(length),
        f"{COMMON_PRACTICE}; boards: IRC R802.9, from memory",
    )
    return Member(
        mark="Header",
        kind="header",
        count=1,
        length_in=length,
        stock_in=stock_length(length) or length,
        section=section_name(thickness, depth),
        depth_in=depth,
        thickness_in=thickness,
        cuts=(Cut("square cut", 0.0, 0.0, 0.0, 0.0), Cut("square cut", 0.0, 0.0, 0.0, length)),
        profile=((0.0, depth), (0.0, 0.0), (length, 0.0), (length, depth)),
        measures=(Measure("length", (0.0, depth), (length, depth), length),),
        placements=(Placement(plane.id, ends[0], ends[1]),),
        traces=(trace,),
        angle_deg=0.0,
    )
