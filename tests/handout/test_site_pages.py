"""Setting out, tails, gable walls, as built, order of erection on paper: what is read there is what was solved."""

from __future__ import annotations

import io
import math
from dataclasses import dataclass

import pdfplumber
import pytest

from workbench.handout.cut_cards import cut_card_pages
from workbench.handout.details_page import details_pages
from workbench.handout.document import handout_pages
from workbench.handout.erection_page import erection_pages
from workbench.handout.measured_page import measured_pages
from workbench.handout.page import draw_page
from workbench.handout.pen import Pen
from workbench.handout.setting_out_page import grouped_heights, setting_out_pages
from workbench.job.as_built_edits import measure_plate, set_gable_walls, set_site, tape
from workbench.job.edits import add_wing, set_trim
from workbench.job.model import Job, Units
from workbench.plan import Plan, solve

PLATE = 97.125
BOX = ((0, 0), (480, 0), (480, 336), (0, 336))
CLIP_PT = 30.0 / 25.4 * 72.0


@dataclass(frozen=True)
class Sheet:
    """A printed page."""

    text: str
    sizes: tuple[float, ...]
    top: float


def _job(kinds=("eave", "rake", "eave", "rake"), **fields) -> Job:
    fields = {"eave_overhang_in": 16.0, "rake_overhang_in": 12.0, **fields}
    return add_wing(Job(name="Paper house (invented)"), BOX, kinds, slope_in_12=7.0, plate_in=PLATE, **fields)[0]


def _printed(plan: Plan, pages) -> list[Sheet]:
    pen = Pen("title", "subject")
    for number, page in enumerate(pages, 1):
        draw_page(pen, plan, page, "letter", number, len(pages))
    sheets = []
    with pdfplumber.open(io.BytesIO(pen.finish())) as pdf:
        for page in pdf.pages:
            text = " ".join((page.extract_text() or "").split())
            # Of turned type the reader tells the width; it is set by the same painter in the same sizes.
            sizes = tuple(round(char["size"], 2) for char in page.chars if char["upright"])
            sheets.append(Sheet(text, sizes, min(char["top"] for char in page.chars)))
    return sheets


@pytest.fixture(scope="module")
def gable() -> Plan:
    job = set_trim(
        set_gable_walls(_job(), "wing-1", spacing_in=16.0), "wing-1", lookouts="none", fascia_in=0.75, sub_fascia_in=1.5
    )
    return solve(job)


@pytest.fixture(scope="module")
def hip() -> Plan:
    return solve(_job(("eave",) * 4))


def test_ridge_height_and_prop_stand_on_the_sheet(gable: Plan) -> None:
    text = _printed(gable, setting_out_pages(gable, "letter"))[0].text
    ridge = gable.site.heights[0]
    assert gable.units.length(ridge.above_plate_in) in text
    assert gable.units.length(ridge.props[0].length_in) in text
    assert "FALL HAZARD" in text
    assert "competent person" in text


def test_every_line_of_every_stick_is_printed(hip: Plan) -> None:
    text = " ".join(sheet.text for sheet in _printed(hip, setting_out_pages(hip, "letter")))
    for stick in hip.site.sticks:
        for mark in stick.marks:
            assert hip.units.inches(mark.line_in) in text
    assert "Hip jack 1" in text
    assert "Hip 1, centre" in text
    for s, _ in hip.site.jacks[0].marks:
        assert hip.units.inches(s) in text


def test_four_equal_hips_are_one_line(hip: Plan) -> None:
    groups = grouped_heights(hip.site.heights, hip.units)
    assert [len(names) for one, names in groups if one.kind == "hip"] == [4]
    assert "Hip 1 × 4" in _printed(hip, setting_out_pages(hip, "letter"))[0].text


def test_heights_over_a_deck_have_their_column() -> None:
    plan = solve(set_site(_job(), deck_in=1.5))
    text = _printed(plan, setting_out_pages(plan, "letter"))[0].text
    assert text.count("Top over") == 2
    assert plan.units.length(plan.site.heights[0].above_deck_in) in text


def test_tail_and_gable_wall_say_their_measures(gable: Plan) -> None:
    text = " ".join(sheet.text for sheet in _printed(gable, details_pages(gable, "letter")))
    tail = gable.site.tails[0]
    for value in (tail.face_in, tail.hap_in, tail.fascia_in, tail.fascia_drop_in):
        assert gable.units.inches(value) in text
    assert "seen from outside" in text
    studs = [member for member in gable.framing.members if member.kind == "gable_stud"]
    for stud in studs:
        assert gable.units.inches(stud.length_in) in text


def test_no_gable_wall_without_one(hip: Plan) -> None:
    assert "seen from outside" not in " ".join(s.text for s in _printed(hip, details_pages(hip, "letter")))


def test_the_form_has_blanks_until_it_is_measured(gable: Plan) -> None:
    blank = _printed(gable, measured_pages(gable, "letter"))[0].text
    assert "____" in blank
    assert gable.units.length(math.hypot(480.0, 336.0)) in blank
    job = measure_plate(gable.job, "wing-1", "e1", left_in=PLATE + 0.25, right_in=PLATE - 0.375)
    job = tape(tape(job, "wing-1", "e1", "e3", 586.5), "wing-1", "e2", "e4", 585.25)
    plan = solve(job)
    text = " ".join(sheet.text for sheet in _printed(plan, measured_pages(plan, "letter")))
    for seat in plan.site.plates[0].seats:
        assert plan.units.inches(seat.seat_in) in text
        assert plan.units.inches(seat.hap_in) in text
    assert "out of square" in text
    cards = " ".join(sheet.text for sheet in _printed(plan, cut_card_pages(plan, "letter")))
    assert "cut seats there by the table of seats" in cards
    assert "table of seats" not in " ".join(s.text for s in _printed(gable, cut_card_pages(gable, "letter")))
    assert "engineer decide" in text


def test_order_of_erection_fits_one_page_with_its_caution(gable: Plan, hip: Plan) -> None:
    for plan in (gable, hip):
        sheets = _printed(plan, erection_pages(plan, "letter"))
        assert len(sheets) == 1
        assert "competent person" in sheets[0].text
        assert "no source" in sheets[0].text
    assert "Hips on their props" in _printed(hip, erection_pages(hip, "letter"))[0].text
    assert "Gable walls" in _printed(gable, erection_pages(gable, "letter"))[0].text


def test_nothing_is_small_and_the_top_is_free(gable: Plan, hip: Plan) -> None:
    for plan in (gable, hip):
        pages = [
            *setting_out_pages(plan, "letter"),
            *details_pages(plan, "letter"),
            *measured_pages(plan, "letter"),
            *erection_pages(plan, "letter"),
        ]
        for sheet in _printed(plan, pages):
            assert min(sheet.sizes) >= 9.0
            assert sheet.top >= CLIP_PT - 1.0


def test_no_frame_no_sheets() -> None:
    empty = solve(Job())
    for pages in (setting_out_pages, details_pages, measured_pages, erection_pages):
        assert pages(empty, "letter") == []


def test_metric_sheets_read_in_millimetres() -> None:
    plan = solve(Job(units=Units(system="mm"), wings=_job().wings))
    text = " ".join(sheet.text for sheet in _printed(plan, setting_out_pages(plan, "letter")))
    assert "mm" in text
    assert '"' not in text.replace("”", "")


def test_the_pages_are_in_the_handout(gable: Plan) -> None:
    titles = [page.title for page in handout_pages(gable)]
    for title in ("As built", "Setting out", "Order of erection, bracing", "Tails and gable walls"):
        assert title in titles
