"""The building model read back and validated with ifcopenshell: what stands where, how big, of which mark."""

from __future__ import annotations

import math
import sys
from collections import Counter
from pathlib import Path

import ifcopenshell
import ifcopenshell.geom
import ifcopenshell.util.element
import ifcopenshell.util.shape
import ifcopenshell.util.unit
import ifcopenshell.validate
import numpy as np
import pytest

from workbench.cli import main
from workbench.exchange.ifc import ifc_bytes
from workbench.framing.group import sheathing_thickness
from workbench.framing.solids import board
from workbench.job import edits
from workbench.job.model import Job
from workbench.job.read import read_job
from workbench.job.samples import sample_jobs
from workbench.plan import Plan, solve

SAMPLES = {sample.path.stem: sample.path for sample in sample_jobs()}
M3_PER_CU_IN = 0.0254**3
"""Exact: NIST SP 811, Appendix B (1 in = 25.4 mm)."""


@pytest.fixture(scope="module")
def plan() -> Plan:
    return solve(read_job(SAMPLES["l-house"]))


@pytest.fixture(scope="module")
def model(plan: Plan):
    return ifcopenshell.file.from_string(ifc_bytes(plan).decode("ascii"))


def said_by_validation(model, *, rules: bool) -> list:
    log = ifcopenshell.validate.json_logger()
    ifcopenshell.validate.validate(model, log, express_rules=rules)
    return log.statements


def box_in(element) -> tuple[np.ndarray, np.ndarray]:
    settings = ifcopenshell.geom.settings()
    settings.set("use-world-coords", True)
    shape = ifcopenshell.geom.create_shape(settings, element)
    corners = np.array(shape.geometry.verts).reshape(-1, 3) / 0.0254
    return corners.min(axis=0), corners.max(axis=0)


def volume_cu_in(element) -> float:
    shape = ifcopenshell.geom.create_shape(ifcopenshell.geom.settings(), element)
    return ifcopenshell.util.shape.get_volume(shape.geometry) / M3_PER_CU_IN


def test_the_file_is_valid(model) -> None:
    assert said_by_validation(model, rules=False) == []


@pytest.mark.filterwarnings("ignore::ResourceWarning", "ignore::pytest.PytestUnraisableExceptionWarning")
def test_the_rules_of_the_standard_hold_for_a_small_roof() -> None:
    job, _ = edits.add_wing(Job(), [(0, 0), (96, 0), (96, 72), (0, 72)], ["eave", "rake", "eave", "rake"])
    small = ifcopenshell.file.from_string(ifc_bytes(solve(job)).decode("ascii"))
    assert said_by_validation(small, rules=True) == []


def test_one_of_each_that_holds_the_rest_and_everything_is_under_the_roof(plan: Plan, model) -> None:
    for kind in ("IfcProject", "IfcSite", "IfcBuilding", "IfcRoof"):
        assert len(model.by_type(kind)) == 1
    (roof,) = model.by_type("IfcRoof")
    assert ifcopenshell.util.element.get_container(roof).is_a("IfcBuilding")
    parts = Counter(part.is_a() for part in ifcopenshell.util.element.get_parts(roof))
    pieces = sum(len(sheets.pieces) for sheets in plan.sheathing.planes)
    members = sum(len(member.placements) for member in plan.framing.members)
    assert parts == {"IfcSlab": len(plan.roof.planes), "IfcMember": members, "IfcPlate": pieces}
    ids = [element.GlobalId for element in model.by_type("IfcRoot")]
    assert len(set(ids)) == len(ids)


def test_lengths_are_inches(model) -> None:
    assert ifcopenshell.util.unit.calculate_unit_scale(model) == pytest.approx(0.0254)


def test_members_are_as_large_as_they_are_cut_and_stand_where_they_stand(plan: Plan, model) -> None:
    by_mark = {}
    for part in model.by_type("IfcMember"):
        by_mark.setdefault(part.Tag, []).append(part)
    for member in plan.framing.members:
        triangles = board(member)
        cut = float(np.einsum("ij,ij->i", triangles[:, 0], np.cross(triangles[:, 1], triangles[:, 2])).sum() / 6.0)
        part = by_mark[member.mark][0]
        assert volume_cu_in(part) == pytest.approx(cut, rel=1e-4)
        assert len(by_mark[member.mark]) == len(member.placements)
    commons = next(member for member in plan.framing.members if member.kind == "common_rafter")
    place = commons.placements[0]
    low, high = zip(*(box_in(part) for part in by_mark[commons.mark]))
    # The top edge's centre line lies inside one of the bodies, which reaches as high as it does.
    ends = np.array([place.start, place.end])
    assert any(np.all(a - 1e-3 <= ends) and np.all(ends <= b + 1e-3) for a, b in zip(low, high))


def test_sheets_are_as_thick_as_the_job_says_and_lie_on_their_planes(plan: Plan, model) -> None:
    thick = sheathing_thickness(plan.job.sheathing.thickness)
    piece = plan.sheathing.planes[0].pieces[0]
    plane = plan.plane(piece.plane)
    (plate,) = (p for p in model.by_type("IfcPlate") if p.Name == f"{plane.name} {piece.label}")
    xs, ys = zip(*piece.polygon)
    twice = sum(xs[i - 1] * ys[i] - xs[i] * ys[i - 1] for i in range(len(xs)))
    assert volume_cu_in(plate) == pytest.approx(twice / 2.0 * thick, rel=1e-6)
    low, high = box_in(plate)
    corners = np.array([plane.to_space(corner) for corner in piece.polygon])
    assert low[2] == pytest.approx(corners[:, 2].min(), abs=1e-3)
    assert high[2] == pytest.approx(corners[:, 2].max() + thick * math.cos(plane.angle), abs=1e-3)


def test_planes_and_marks_say_their_figures_in_words(plan: Plan, model) -> None:
    plane = plan.roof.planes[0]
    (slab,) = (s for s in model.by_type("IfcSlab") if s.Tag == plane.id)
    values = ifcopenshell.util.element.get_psets(slab)["Roof plane"]
    assert values["Slope, inches of rise in 12"] == pytest.approx(plane.in_12)
    assert values["Area, square feet"] == pytest.approx(plane.area_sqft)
    member = plan.framing.members[0]
    part = next(p for p in model.by_type("IfcMember") if p.Tag == member.mark)
    values = ifcopenshell.util.element.get_psets(part)["Framing member"]
    assert values["How many of this mark"] == member.count
    assert values["Length along the top edge, inches"] == pytest.approx(member.length_in)
    assert ifcopenshell.util.element.get_predefined_type(part) in ("RAFTER", "COLLAR", "MEMBER")


def test_the_same_plan_gives_the_same_bytes_and_odd_names_are_swallowed(plan: Plan) -> None:
    assert ifc_bytes(plan) == ifc_bytes(plan)
    odd = solve(edits.set_job(Job(), name="it's\n½ \\ 屋根", note="a'b"))
    (project,) = ifcopenshell.file.from_string(ifc_bytes(odd).decode("ascii")).by_type("IfcProject")
    assert project.Name == "it's ½ \\ 屋根"


def test_the_command_writes_it_and_says_what_to_install(tmp_path: Path, monkeypatch, capsys) -> None:
    target = tmp_path / "roof.ifc"
    assert main(["export", str(SAMPLES["shed-porch"]), str(target)]) == 0
    assert len(ifcopenshell.open(str(target)).by_type("IfcRoof")) == 1
    capsys.readouterr()
    monkeypatch.setitem(sys.modules, "ifcopenshell", None)
    assert main(["export", str(SAMPLES["shed-porch"]), str(target)]) == 2
    said = capsys.readouterr().err.strip()
    assert "roof-workbench[exchange]" in said and "\n" not in said
