"""Every exported format read back with the library of its own: what stands in the file is what the plan says."""

from __future__ import annotations

import csv
import io
import math
import sys
from pathlib import Path
from xml.etree import ElementTree

import ezdxf
import pytest
from openpyxl import load_workbook
from PIL import Image, ImageStat

from workbench.cli import main
from workbench.errors import BadInput
from workbench.exchange import ENDINGS, write_export
from workbench.exchange.dxf import dxf_bytes
from workbench.exchange.picture import png_bytes, svg_bytes
from workbench.exchange.tables import csv_bytes, plain_cell, tables_of, xlsx_bytes
from workbench.job import edits
from workbench.job.model import Job
from workbench.job.read import read_job
from workbench.job.samples import sample_jobs
from workbench.plan import Plan, solve

SAMPLES = {sample.path.stem: sample.path for sample in sample_jobs()}
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module", params=["plain-gable", "cut-up-house"])
def plan(request) -> Plan:
    return solve(read_job(SAMPLES[request.param]))


@pytest.fixture(scope="module")
def gable() -> Plan:
    outline = [(0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0)]
    job, _ = edits.add_wing(Job(name="=1+1"), outline, ["eave", "rake", "eave", "rake"], slope_in_12=9.0)
    return solve(job)


def read_dxf(data: bytes):
    document = ezdxf.read(io.StringIO(data.decode("utf-8")))
    audit = document.audit()
    assert not audit.errors and not audit.fixes
    return document


def space_area(points) -> float:
    x = y = z = 0.0
    for a, b in zip(points, points[1:] + points[:1]):
        x += a[1] * b[2] - a[2] * b[1]
        y += a[2] * b[0] - a[0] * b[2]
        z += a[0] * b[1] - a[1] * b[0]
    return math.sqrt(x * x + y * y + z * z) / 2.0


def test_dxf_planes_cover_the_roof_and_every_member_and_piece_is_there(plan: Plan) -> None:
    document = read_dxf(dxf_bytes(plan))
    assert document.units == ezdxf.units.IN
    space = document.modelspace()
    faces = space.query('3DFACE[layer=="Planes"]')
    area = sum(space_area([tuple(p) for p in face.wcs_vertices()]) for face in faces)
    assert area / 144.0 == pytest.approx(sum(plane.area_sqft for plane in plan.roof.planes))
    lengths = sorted(e.dxf.start.distance(e.dxf.end) for e in space.query('LINE[layer=="Rafters"]'))
    jacks = ("common_rafter", "hip_jack", "valley_jack", "cripple_jack")
    placed = [p for m in plan.framing.members if m.kind in jacks for p in m.placements]
    assert lengths == pytest.approx(sorted(math.dist(p.start, p.end) for p in placed))
    sheets = space.query('POLYLINE[layer=="Sheets"]')
    assert len(sheets) == sum(len(sheets.pieces) for sheets in plan.sheathing.planes)
    assert all(sheet.is_closed for sheet in sheets)
    names = {text.dxf.text.split(",")[0] for text in space.query('TEXT[layer=="Text planes"]')}
    assert names == {plane.name for plane in plan.roof.planes}


def test_dxf_edges_lie_on_a_layer_of_their_kind_once(gable: Plan) -> None:
    space = read_dxf(dxf_bytes(gable)).modelspace()
    assert len(space.query('LINE[layer=="Edges eave"]')) == 2
    assert len(space.query('LINE[layer=="Edges rake"]')) == 4
    (ridge,) = space.query('LINE[layer=="Edges ridge"]')
    assert ridge.dxf.start.distance(ridge.dxf.end) == pytest.approx(480.0)
    assert ridge.dxf.start.z == pytest.approx(max(c[2] for p in gable.roof.planes for c in p.corners))


def test_dxf_names_of_many_lines_stay_on_one(gable: Plan) -> None:
    job = edits.set_job(gable.job, name="two\nlines\t‘quoted’ ½ 屋根")
    texts = read_dxf(dxf_bytes(solve(job))).modelspace().query('TEXT[layer=="Text notes"]')
    assert any("two lines ‘quoted’ ½ 屋根" in text.dxf.text for text in texts)


def test_the_same_plan_gives_the_same_bytes(plan: Plan) -> None:
    for write in (dxf_bytes, svg_bytes, csv_bytes):
        assert write(plan) == write(plan)


def test_svg_is_to_scale_and_lettered(gable: Plan) -> None:
    root = ElementTree.fromstring(svg_bytes(gable))
    assert root.tag == f"{SVG}svg"
    words = [text.text for text in root.iter(f"{SVG}text")]
    assert {"front main", "back main", "=1+1"} <= set(words)
    (scale,) = (int(word.split("1:")[1].split()[0]) for word in words if word and "Scale 1:" in word)
    sides = [
        math.hypot(float(e.get("x2")) - float(e.get("x1")), float(e.get("y2")) - float(e.get("y1")))
        for e in root.iter(f"{SVG}line")
    ]
    # The eaves, 480 in, at so many points an inch.
    assert sum(side == pytest.approx(480.0 * 72.0 / scale, abs=0.01) for side in sides) >= 2
    width, height = (float(x) for x in root.get("viewBox").split()[2:])
    assert all(
        0.0 <= float(t.get("x")) <= width and 0.0 <= float(t.get("y")) <= height for t in root.iter(f"{SVG}text")
    )


def test_svg_swallows_control_characters_and_angle_brackets(gable: Plan) -> None:
    job = edits.set_job(gable.job, name="a <b> & \x01 c")
    root = ElementTree.fromstring(svg_bytes(solve(job)))
    assert root.find(f"{SVG}title").text == "a <b> &   c"


def test_png_is_a_black_drawing_on_white(plan: Plan) -> None:
    image = Image.open(io.BytesIO(png_bytes(plan)))
    assert image.mode == "L" and min(image.size) > 800
    assert image.getextrema() == (0, 255)
    assert 200 < ImageStat.Stat(image).mean[0] < 255
    corner = image.crop((0, 0, 20, 20))
    assert corner.getextrema() == (255, 255)


def test_csv_has_every_order_line_member_and_piece(plan: Plan) -> None:
    rows = list(csv.DictReader(io.StringIO(csv_bytes(plan).decode("utf-8"))))
    order = [row for row in rows if row["table"] == "Order list"]
    assert [float(row["amount"]) for row in order] == [q.amount for q in plan.quantities]
    members = [row for row in rows if row["table"] == "Members"]
    assert [(row["mark"], float(row["length_in"])) for row in members] == [
        (m.mark, m.length_in) for m in plan.framing.members
    ]
    pieces = [row for row in rows if row["table"] == "Pieces"]
    assert len(pieces) == sum(len(cuts.cuts) for cuts in plan.sheathing.stock)


def test_xlsx_has_a_worksheet_a_table_with_figures_as_numbers(plan: Plan) -> None:
    book = load_workbook(io.BytesIO(xlsx_bytes(plan)))
    assert book.sheetnames == [sheet.name for sheet in tables_of(plan)]
    assert all(cell.data_type != "f" for page in book for row in page.iter_rows() for cell in row)
    members = list(book["Members"].iter_rows(values_only=True))
    at = members[0].index("length_in")
    assert [row[at] for row in members[1:]] == pytest.approx([m.length_in for m in plan.framing.members])
    stock = list(book["Stock sheets"].iter_rows(values_only=True))
    assert len(stock) - 1 == plan.sheathing.count
    planes = list(book["Planes"].iter_rows(values_only=True))
    at = planes[0].index("area_sqft")
    assert sum(row[at] for row in planes[1:]) == pytest.approx(sum(plane.area_sqft for plane in plan.roof.planes))


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@a", "\t=1", "\r=1", " =1", "\n=1"])
def test_cells_that_a_spreadsheet_would_run_are_escaped(text: str) -> None:
    shown = plain_cell(text)
    assert isinstance(shown, str) and shown.startswith("'")
    assert plain_cell(-1.5) == -1.5


def test_an_ending_in_capitals_serves_and_an_unknown_one_does_not(gable: Plan, tmp_path: Path) -> None:
    write_export(gable, tmp_path / "roof.CSV")
    assert (tmp_path / "roof.CSV").read_bytes() == csv_bytes(gable)
    for name in ("roof.doc", "roof", ".dxf"):
        with pytest.raises(BadInput, match=f"none of .{', .'.join(ENDINGS)}"):
            write_export(gable, tmp_path / name)


@pytest.mark.parametrize(("library", "ending"), [("ezdxf", "dxf"), ("openpyxl", "xlsx")])
def test_a_missing_library_is_one_sentence_and_the_old_file_stays(
    library: str, ending: str, tmp_path: Path, monkeypatch, capsys
) -> None:
    target = tmp_path / f"roof.{ending}"
    target.write_text("old")
    monkeypatch.setitem(sys.modules, library, None)
    assert main(["export", str(SAMPLES["plain-gable"]), str(target)]) == 2
    said = capsys.readouterr().err.strip()
    assert "\n" not in said and "roof-workbench[exchange]" in said
    assert target.read_text() == "old"
    assert list(tmp_path.iterdir()) == [target]


@pytest.mark.parametrize("ending", ["dxf", "svg", "png", "csv", "xlsx"])
def test_the_command_writes_every_format(ending: str, tmp_path: Path, capsys) -> None:
    target = tmp_path / f"roof.{ending}"
    assert main(["export", str(SAMPLES["shed-porch"]), str(target)]) == 0
    assert str(target) in capsys.readouterr().out
    assert target.stat().st_size > 1000


def test_the_command_refuses_what_it_cannot_do_in_one_sentence(tmp_path: Path, capsys) -> None:
    empty = tmp_path / "empty.json"
    empty.write_text('{"format": "roof-workbench-job", "version": 1}')
    for arguments in (
        [str(SAMPLES["shed-porch"]), str(tmp_path / "roof.doc")],
        [str(SAMPLES["shed-porch"]), str(tmp_path / "nowhere" / "roof.csv")],
        [str(tmp_path / "missing.json"), str(tmp_path / "roof.csv")],
        [str(empty), str(tmp_path / "roof.svg")],
    ):
        assert main(["export", *arguments]) == 2
        said = capsys.readouterr().err.strip()
        assert said and "\n" not in said
