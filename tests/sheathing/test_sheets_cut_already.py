"""Sheets that are cut stay as they are: matched with the layout as it is now, told where they no longer fit."""

from __future__ import annotations

import io

import pdfplumber
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from shapely import affinity
from shapely.geometry import Polygon

from workbench.errors import JobError
from workbench.handout import render_handout
from workbench.job import edits
from workbench.job.cut_sheets import CutSheet
from workbench.job.model import Job
from workbench.job.read import parse_job
from workbench.job.write import dump_job
from workbench.plan import Plan, solve
from workbench.sheathing.already_cut import (
    FITS_IN,
    can_be_cut_down,
    cut_sheets,
    record_of,
    with_cut,
    without_cut,
    without_misfits,
)

HIP = [(0.0, 0.0), (360.0, 0.0), (360.0, 240.0), (0.0, 240.0)]


@pytest.fixture(scope="module")
def plan() -> Plan:
    job, _ = edits.add_wing(Job(), HIP, ["eave"] * 4)
    return solve(job)


def pieces(plan: Plan):
    return [piece for sheets in plan.sheathing.planes for piece in sheets.pieces]


def marked(plan: Plan, *places: int) -> Job:
    chosen = [pieces(plan)[i] for i in places]
    records = with_cut(plan.job.cut_sheets, plan.sheets_cut, chosen, plan.job.sheathing.thickness)
    return edits.set_job(plan.job, cut_sheets=tuple(records))


def test_what_is_cut_is_done_and_survives_the_file(plan: Plan) -> None:
    first = pieces(plan)[0]
    job = parse_job(dump_job(marked(plan, 0, 3)), "job")
    again = solve(job)
    assert again.sheets_cut.done == {(p.plane, p.label) for p in (first, pieces(plan)[3])}
    assert again.sheets_cut.findings == ()
    assert [p.polygon for p in pieces(again)] == [p.polygon for p in pieces(plan)]
    more = with_cut(job.cut_sheets, again.sheets_cut, [first], job.sheathing.thickness)
    assert len(more) == 2, "a piece is cut once"
    left = without_cut(job.cut_sheets, again.sheets_cut, [(first.plane, first.label)])
    assert [record.label for record in left] == [pieces(plan)[3].label]


def test_another_slope_leaves_it_as_it_is_and_says_where_it_no_longer_fits(plan: Plan) -> None:
    cut = [i for i, piece in enumerate(pieces(plan)) if not piece.whole]
    job = edits.set_wing(marked(plan, *cut), "wing-1", slope_in_12=11.0)
    steep = solve(job)
    assert [record.shape for record in job.cut_sheets] == [record_of(pieces(plan)[i], "").shape for i in cut]
    lost = steep.sheets_cut.served.count(None)
    assert 0 < lost == len(cut) - len(steep.sheets_cut.done)
    told = [finding for finding in steep.findings if finding.code == "cut-sheet-no-longer-fits"]
    assert len(told) == len({r.plane for r, p in zip(job.cut_sheets, steep.sheets_cut.served, strict=True) if not p})
    assert all(f.severity == "warning" and "the layout has no such piece any more" in f.text for f in told)
    assert any("Can be cut down" in f.text or "bought again" in f.text for f in told)
    quick = solve(job, "preview")
    assert not any("cut down" in f.text for f in quick.findings if f.code == "cut-sheet-no-longer-fits")
    assert len(without_misfits(job.cut_sheets, steep.sheets_cut)) == len(cut) - lost
    back = solve(edits.set_wing(job, "wing-1", slope_in_12=7.0))
    assert len(back.sheets_cut.done) == len(cut)


def test_other_sheets_are_told(plan: Plan) -> None:
    job = edits.set_sheathing(marked(plan, 0), thickness="5/8")
    (told,) = [finding for finding in solve(job).findings if finding.code == "cut-sheet-no-longer-fits"]
    assert "7/16" in told.text and "5/8" in told.text


def test_a_piece_that_was_cut_for_one_plane_serves_the_one_across(plan: Plan) -> None:
    piece = pieces(plan)[0]
    gone = replace(record_of(piece, ""), label="9Z")
    found = cut_sheets(plan.sheathing, [gone, gone], plan.roof.planes, "7/16", plan.units)
    assert all(place is not None for place in found.served) and len(found.done) == 2


@given(st.integers(0, 40), st.booleans())
@settings(max_examples=25, deadline=None)
def test_a_match_is_the_same_shape_turned_at_most_half_round(plan: Plan, number: int, turned: bool) -> None:
    """Against shapely: the piece, moved and where it has to be turned half round, covers its place."""
    piece = pieces(plan)[number % len(pieces(plan))]
    shape = record_of(piece, "").shape
    if turned:
        wide, high = max(x for x, _ in shape), max(y for _, y in shape)
        shape = tuple((wide - x, high - y) for x, y in shape)
    found = cut_sheets(
        plan.sheathing, [CutSheet(plane=piece.plane, label=piece.label, shape=shape)], plan.roof.planes, "", plan.units
    )
    (place,) = found.served
    assert place is not None
    served = next(p for p in pieces(plan) if (p.plane, p.label) == place)
    wood, wanted = Polygon(shape), Polygon(record_of(served, "").shape)
    half_round = affinity.rotate(wood, 180.0, origin=wood.envelope.centroid)
    assert min(wood.symmetric_difference(wanted).area, half_round.symmetric_difference(wanted).area) < 0.2 * 100.0


@given(st.floats(20.0, 96.0), st.floats(12.0, 48.0), st.floats(10.0, 96.0), st.floats(10.0, 48.0), st.booleans())
@settings(max_examples=60, deadline=None)
def test_what_can_be_cut_down_is_covered_by_the_wood(x: float, y: float, wide: float, high: float, slant: bool) -> None:
    """Against shapely: some place of the shape on a corner of the wood lies inside it, or none does."""
    wood = ((0.0, 0.0), (x, 0.0), (x, y)) if slant else ((0.0, 0.0), (x, 0.0), (x, y), (0.0, y))
    shape = ((0.0, 0.0), (wide, 0.0), (wide, high))
    whole = Polygon(wood).buffer(FITS_IN, join_style="mitre")
    if abs(wide - x) < 0.5 or abs(high - y) < 0.5 or Polygon(shape).area < 0.25 * Polygon(wood).area:
        return  # too near the tolerance to be judged by two ways of rounding, or a scrap
    turned = tuple((wide - a, high - b) for a, b in shape)
    fits = any(
        whole.covers(affinity.translate(Polygon(each), cx - px, cy - py))
        for each in (shape, turned)
        for cx, cy in wood
        for px, py in each
    )
    assert can_be_cut_down(wood, shape) == fits


def test_a_mirrored_triangle_does_not_serve(plan: Plan) -> None:
    slanted = next(p for p in pieces(plan) if len(p.polygon) == 3)
    shape = record_of(slanted, "").shape
    wide = max(x for x, _ in shape)
    mirrored = tuple((wide - x, y) for x, y in reversed(shape))
    record = CutSheet(plane=slanted.plane, label=slanted.label, shape=mirrored)
    found = cut_sheets(plan.sheathing, [record], plan.roof.planes, "", plan.units)
    place = found.served[0]
    assert place != (slanted.plane, slanted.label)


def test_a_shape_without_area_is_refused_in_one_sentence(plan: Plan) -> None:
    data = dump_job(marked(plan, 0)).decode()
    broken = replace(plan.job, cut_sheets=(CutSheet(plane="a/b", label="1A", shape=((0, 0), (1, 0), (2, 0))),))
    with pytest.raises(JobError, match=r"cut_sheets\[0\].*has no area"):
        parse_job(dump_job(broken), "job")
    assert '"cut_sheets"' in data


def test_the_cutters_list_says_what_not_to_cut_again(plan: Plan) -> None:
    with pdfplumber.open(io.BytesIO(render_handout(solve(marked(plan, 0)), parts=("cutter",)))) as pdf:
        text = " ".join((page.extract_text() or "") for page in pdf.pages)
    assert "don't cut again: front" in text.replace("\n", " ")
