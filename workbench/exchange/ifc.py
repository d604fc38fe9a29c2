"""The roof as a building model (IFC 4, inches): planes, members as cut, sheets, each with its figures in plain words.

One project, one site, one building, one roof. A plane is a slab without thickness: the rafters' top edges, which is the
underside of the sheathing. A mark is a member type with its shape and property set, placed once for each member; a
piece of sheathing is a plate as thick as the job's sheets.
"""

from __future__ import annotations

import math
from importlib import import_module
from typing import Any

from workbench.errors import BadInput
from workbench.exchange.ifc_model import IfcModel, Value
from workbench.exchange.words import kind_words, one_line
from workbench.findings import SCREENING
from workbench.framing.group import sheathing_thickness
from workbench.framing.model import Member, MemberKind, Placement
from workbench.framing.solids import board
from workbench.plan import Plan
from workbench.roof.model import Plane, Point3
from workbench.sheathing.model import Piece

_TYPES: dict[MemberKind, str] = {
    "common_rafter": "RAFTER",
    "barge_rafter": "RAFTER",
    "hip_rafter": "RAFTER",
    "valley_rafter": "RAFTER",
    "hip_jack": "RAFTER",
    "valley_jack": "RAFTER",
    "cripple_jack": "RAFTER",
    "collar_tie": "COLLAR",
}
"""The standard's word for a kind where it has one; the others are plain members."""

_FALLBACK_THICKNESS_IN = 0.5


def ifc_bytes(plan: Plan) -> bytes:
    """The roof as an IFC 4 file; the same plan gives the same bytes.

    Raises:
        BadInput: The library for it is not installed.
    """
    try:
        library: Any = import_module("ifcopenshell")
        guid: Any = import_module("ifcopenshell.guid")
    except ImportError:
        msg = 'IFC needs the ifcopenshell package, which is not installed; install "roof-workbench[exchange]".'
        raise BadInput(msg) from None
    return _Builder(plan, IfcModel(library, guid)).build()


class _Builder:
    """Writes one plan into one model."""

    def __init__(self, plan: Plan, model: IfcModel) -> None:
        self._plan = plan
        self._model = model
        thickness = sheathing_thickness(plan.job.sheathing.thickness)
        self._thickness = thickness if thickness > 0.0 else _FALLBACK_THICKNESS_IN

    def build(self) -> bytes:
        """The whole file."""
        model, job = self._model, self._plan.job
        name = one_line(job.name) or "Roof"
        project = model.project(name, one_line(job.note) or None)
        site = model.spatial("IfcSite", "site", "Site", None)
        building = model.spatial("IfcBuilding", "building", name, site)
        model.gather(project, [site])
        model.gather(site, [building])
        roof = model.element("IfcRoof", "roof", "Roof", building, tag="roof")
        model.contain(building, [roof])
        parts = [self._plane(plane, roof) for plane in self._plan.roof.planes]
        parts += [part for member in self._plan.framing.members for part in self._members(member, roof)]
        for sheets in self._plan.sheathing.planes:
            plane = self._plan.plane(sheets.plane)
            if plane is not None:
                parts += [self._piece(plane, piece, roof) for piece in sheets.pieces]
        if parts:
            model.gather(roof, parts)
        model.describe(roof, "Job", self._job_values())
        return model.finish()

    def _job_values(self) -> dict[str, Value]:
        job, sheathing = self._plan.job, self._plan.sheathing
        return {
            "Revision": job.revision,
            "Date": job.date,
            "Sheets to buy": sheathing.count,
            "No layout needs fewer sheets than": sheathing.at_least,
            "Sheathing": f"{job.sheathing.thickness}, span rating {job.sheathing.span_rating}",
            "Caution": SCREENING,
        }

    def _plane(self, plane: Plane, roof: Any) -> Any:
        model = self._model
        slab = model.element("IfcSlab", f"plane {plane.id}", one_line(plane.name), roof, tag=plane.id)
        slab.PredefinedType = "ROOF"
        model.show(slab, model.surface([plane.corners, *plane.openings]))
        values: dict[str, Value] = {
            "Slope, inches of rise in 12": plane.in_12,
            "Slope, degrees": math.degrees(plane.angle),
            "Area, square feet": plane.area_sqft,
            "Length up the slope, inches": plane.plane_length_in,
            "What it is": "the rafters' top edges, the underside of the sheathing; without thickness",
        }
        for kind in dict.fromkeys(edge.kind for edge in plane.edges):
            length = sum(edge.length_in for edge in plane.edges if edge.kind == kind)
            values[f"{kind_words(kind).capitalize()}, inches"] = length
        model.describe(slab, "Roof plane", values)
        return slab

    def _members(self, member: Member, roof: Any) -> list[Any]:
        model = self._model
        made: list[Any] = []
        for hand in ("left", "right"):
            mine = [p for p in member.placements if (p.hand == "right") is (hand == "right")]
            mine = [p for p in mine if math.dist(p.start, p.end) > 1e-6]
            if not mine:
                continue
            handed = f"{member.mark}, {hand} hand" if member.left and member.right else member.mark
            kind = model.member_type(f"mark {member.mark} {hand}", handed, _TYPES.get(member.kind, "MEMBER"))
            model.describe_type(kind, "Framing member", _member_values(self._plan, member))
            triangles = board(member)
            if hand == "right":
                triangles = (triangles * (1.0, -1.0, 1.0))[:, ::-1]
            shape = model.mapped(kind, model.mesh(triangles))
            group: list[Any] = []
            for number, place in enumerate(mine, 1):
                at = _lowered(place, member.drop_in)
                part = model.element(
                    "IfcMember", f"member {member.mark} {hand} {number}", handed, roof, tag=member.mark, at=at
                )
                model.show(part, model.copy_of(shape), mapped=True)
                group.append(part)
            model.is_of_type(kind, group)
            made += group
        return made

    def _piece(self, plane: Plane, piece: Piece, roof: Any) -> Any:
        model = self._model
        across = (*plane.across, 0.0)
        axes = (plane.origin, across, _normal(plane))
        name = f"{one_line(plane.name)} {piece.label}"
        plate = model.element("IfcPlate", f"piece {plane.id} {piece.label}", name, roof, tag=piece.label, at=axes)
        plate.PredefinedType = "SHEET"
        model.show(plate, model.slab_of(piece.polygon, self._thickness))
        model.describe(
            plate,
            "Sheathing piece",
            {
                "Row from the eave": piece.row,
                "Cut width, inches": piece.cut_width_in,
                "Cut length, inches": piece.cut_length_in,
                "Cut from sheet": piece.stock,
                "Whole sheet": piece.whole,
            },
        )
        return plate


def _member_values(plan: Plan, member: Member) -> dict[str, Value]:
    values: dict[str, Value] = {
        "Kind": kind_words(member.kind),
        "Mark": member.mark,
        "How many of this mark": member.count,
        "Section": member.section,
        "Length along the top edge, inches": member.length_in,
        "Board to cut it from, inches": member.stock_in,
        "Slope, degrees": member.angle_deg,
    }
    for number, cut in enumerate(member.cuts, 1):
        bevel = f", bevel {cut.bevel_deg:.2f}°" if cut.bevel_deg else ""
        at = plan.units.tape(cut.at_in)
        values[f"Cut {number}"] = f"{cut.name}: {cut.angle_deg:.2f}° off square{bevel}, {at} along the top edge"
    return values


def _lowered(place: Placement, drop_in: float) -> tuple[Point3, Point3, Point3]:
    """Where a member's own axes lie: its low end, along it, and square up from its top edge."""
    x, y, z = (b - a for a, b in zip(place.start, place.end, strict=True))
    length = math.sqrt(x * x + y * y + z * z)
    along = (x / length, y / length, z / length)
    run = math.hypot(along[0], along[1])
    left = (-along[1] / run, along[0] / run, 0.0) if run > 1e-9 else (0.0, 1.0, 0.0)
    up = (
        along[1] * left[2] - along[2] * left[1],
        along[2] * left[0] - along[0] * left[2],
        along[0] * left[1] - along[1] * left[0],
    )
    start = (place.start[0], place.start[1], place.start[2] - drop_in)
    return start, along, up


def _normal(plane: Plane) -> Point3:
    sine, cosine = math.sin(plane.angle), math.cos(plane.angle)
    return -plane.uphill[0] * sine, -plane.uphill[1] * sine, cosine
