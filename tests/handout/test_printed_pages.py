"""The PDF read back: what stands on the pages, where, how large, in which fonts."""

from __future__ import annotations

import math

import pypdfium2
import pytest
import shapely
from pdfminer.pdftypes import resolve1

from workbench.drawing.cut_card import is_plain
from workbench.errors import JobError
from workbench.findings import SCREENING
from workbench.handout import render_handout, write_handout
from workbench.handout.cut_families import differing_measures, families
from workbench.handout.cutters_list import cut_batches
from workbench.handout.document import handout_pages
from workbench.handout.painter import INCH_SCALES, scale_text
from workbench.handout.words import FALL_CAUTION, FALL_CAUTION_SHORT, amount_text, sheet_count
from workbench.job.model import Job
from workbench.plan import solve

CLIP_PT = 30.0 / 25.4 * 72.0
MARGIN_PT = 36.0
SIZES = {"letter": (612.0, 792.0), "a4": (595.276, 841.890)}
"""ANSI/ASME Y14.1 size A, 8.5 by 11 in, and ISO 216 A4, 210 by 297 mm; both from memory."""


def plain(text: str) -> str:
    return " ".join(text.split())


def plane_pages(printed):
    """Text of every page by the plane it is about."""
    names = {plane.id: plane.name[:1].upper() + plane.name[1:] for plane in printed.plan.roof.planes}
    return {
        plane: [text for text in printed.texts if text.startswith((f"{name} page", f"{name}, part"))]
        for plane, name in names.items()
    }


def test_every_page_stands_alone(any_print):
    job, count = any_print.plan.job, len(any_print.pages)
    assert count == len(handout_pages(any_print.plan)) or job.units.system == "mm"
    for number, text in enumerate(any_print.texts, 1):
        assert f"page {number} of {count}" in text
        assert plain(job.name) in text
        assert f"Revision {job.revision}" in text
        assert SCREENING in text
        assert "long when printed at 100 %" in text
        assert (job.date or "date ____") in text


def test_size_of_paper_and_free_margins(any_print):
    for page in any_print.pages:
        width, height = SIZES["a4" if any_print.plan.job.units.system == "mm" else "letter"]
        assert sorted((page.width, page.height)) == pytest.approx(sorted((width, height)), abs=0.01)
        marks = [*page.chars, *page.lines, *page.rects, *page.curves]
        assert marks
        assert min(mark["top"] for mark in marks) >= CLIP_PT - 0.5
        assert min(mark["x0"] for mark in marks) >= MARGIN_PT - 1.0
        assert max(mark["x1"] for mark in marks) <= page.width - MARGIN_PT + 1.0
        assert max(mark["bottom"] for mark in marks) <= page.height - MARGIN_PT + 2.0


def test_nothing_smaller_than_nine_points(any_print):
    """Text is turned but never stretched, so that the size set is the size printed."""
    reader = pypdfium2.PdfDocument(any_print.data)
    for page in reader:
        text = page.get_textpage()
        sizes = [pypdfium2.raw.FPDFText_GetFontSize(text, i) for i in range(text.count_chars())]
        # Ends of lines, which the reader makes up, have none.
        assert min(size for size in sizes if size > 1.0) >= 9.0
        text.close()
        page.close()
    reader.close()
    for page in any_print.pages:
        for char in page.chars:
            a, b, c, d, *_ = char["matrix"]
            assert (a * a + b * b, c * c + d * d) == pytest.approx((1.0, 1.0), abs=1e-4)


def test_fonts_are_ours_embedded_and_searchable(any_print):
    for page in any_print.pages:
        fonts = resolve1(resolve1(page.page_obj.resources)["Font"])
        assert fonts
        for reference in fonts.values():
            font = resolve1(reference)
            assert str(font["BaseFont"].name).split("+")[-1].startswith("DejaVuSans")
            assert "FontFile2" in resolve1(font["FontDescriptor"])
            assert "ToUnicode" in font
        assert {char["fontname"].split("+")[-1] for char in page.chars} <= {"DejaVuSans", "DejaVuSans-Bold"}


def test_no_text_on_other_text(any_print):
    for page in any_print.pages:
        boxes = [shapely.box(c["x0"], c["top"], c["x1"], c["bottom"]) for c in page.chars if c["text"] != " "]
        upright = [abs(c["matrix"][1]) < 1e-6 for c in page.chars if c["text"] != " "]
        for i, j in zip(*shapely.STRtree(boxes).query(boxes, predicate="intersects"), strict=True):
            if i < j and upright[i] and upright[j]:
                shared = boxes[i].intersection(boxes[j]).area
                assert shared < 0.3 * min(boxes[i].area, boxes[j].area)


def test_only_greys_and_no_blank_page(any_print):
    for image in any_print.images:
        spread = image.max(axis=2).astype(int) - image.min(axis=2)
        assert spread.max() == 0
        ink = (image[:, :, 0] < 200).mean()
        assert 0.003 < ink < 0.3


def test_document_says_what_it_is(gable):
    assert gable.metadata["Title"] == gable.plan.job.name
    assert gable.metadata["Author"] == "Roof Workbench"
    assert gable.catalog["Lang"] in (b"en-US", "en-US")
    assert resolve1(gable.catalog["ViewerPreferences"])["PrintScaling"].name == "None"
    assert len(gable.bookmarks) == len(gable.pages)
    assert gable.bookmarks[0] == "The roof"


def test_same_plan_same_bytes(gable, gable_job):
    assert render_handout(solve(gable_job)) == gable.data
    assert render_handout(gable.plan, "a4") != gable.data


def test_first_page_has_the_whole_roof(gable):
    plan, text = gable.plan, gable.texts[0]
    for plane in plan.roof.planes:
        assert plane.name in text
        assert plan.units.area(plane.area_sqft) in text
    assert "6.62 in 12, called 7" in text
    assert sheet_count(plan) in text
    assert plain(FALL_CAUTION) in text
    assert "Order of work" in text
    for kind in ("eave", "rake", "ridge"):
        assert f"{kind} " in text
    assert f"{sum(plan.sheathing.nail_counts.values()):,} nails" in text


def test_every_piece_row_and_snap_line_on_its_plane(any_print):
    plan = any_print.plan
    for plane, texts in plane_pages(any_print).items():
        assert texts
        together = " ".join(texts)
        sheets = plan.sheets_of(plane)
        words = set(together.split())
        for piece in sheets.pieces:
            assert piece.label in words
        for text in texts:
            assert FALL_CAUTION_SHORT in text
            for row in sheets.rows:
                assert plan.units.inches(row.snap_in) in text
                assert plan.units.tape(row.snap_in) in text
            assert plan.units.slope(plan.plane(plane).tangent) in text


def first_plane_page(printed):
    name = printed.plan.roof.planes[0].name
    return next(i for i, text in enumerate(printed.texts) if text.startswith(name[0].upper() + name[1:]))


def test_what_is_read_on_the_roof_is_large(gable):
    labels = {piece.label for sheets in gable.plan.sheathing.planes for piece in sheets.pieces}
    page = gable.pages[first_plane_page(gable)]
    words = page.extract_words(extra_attrs=["size"], keep_blank_chars=False)
    sizes = [word["size"] for word in words if word["text"] in labels and word["upright"]]
    assert sizes
    assert min(sizes) >= 13.9
    assert min(word["size"] for word in words if word["text"] in ("FALL", "HAZARD.")) >= 13.9


def test_tape_reading_from_the_tail(shed_mm):
    plan = shed_mm.plan
    text = plane_pages(shed_mm)[plan.roof.planes[0].id][0]
    assert "Hooked on the tail" in text
    for row in plan.sheathing.planes[0].rows:
        assert plan.units.inches(row.snap_in - 0.75) in text


def test_a_whole_sheet_measures_right_at_the_named_scale(gable):
    """48 by 95 7/8 in of a sheet at 1:96 are 36 by 71.9 pt (72 pt to the inch: ISO 32000-1, 8.3.2.3, from memory)."""
    number = first_plane_page(gable)
    assert "Scale 1:96" in gable.texts[number]
    plane = gable.plan.roof.planes[0].id
    whole = [piece for piece in gable.plan.sheets_of(plane).pieces if piece.whole]
    drawn = [(shape["width"], shape["height"]) for shape in (*gable.pages[number].rects, *gable.pages[number].curves)]
    assert whole
    for piece in whole:
        xs, ys = [x for x, _ in piece.polygon], [y for _, y in piece.polygon]
        size = ((max(xs) - min(xs)) * 0.75, (max(ys) - min(ys)) * 0.75)
        assert any(math.dist(size, shape) < 0.02 for shape in drawn)


def test_stock_sheets_are_drawn_to_the_scale_that_is_named(gable):
    number = next(i for i, text in enumerate(gable.texts) if text.startswith("Cutter's list"))
    assert "Scale 1:32" in gable.texts[number]
    drawn = [(shape["width"], shape["height"]) for shape in (*gable.pages[number].rects, *gable.pages[number].curves)]
    assert any(math.dist(shape, (96.0 * 72 / 32, 48.0 * 72 / 32)) < 0.01 for shape in drawn)


def test_print_bar(gable, shed_mm):
    for printed, length in ((gable, 144.0), (shed_mm, 50.0 / 25.4 * 72.0)):
        for page in printed.pages:
            assert any(
                line["width"] == pytest.approx(length, abs=0.01) and line["bottom"] > page.height - 80.0
                for line in page.lines
            )


def test_long_plane_comes_in_parts(long_barn):
    plan = long_barn.plan
    for texts in plane_pages(long_barn).values():
        assert len(texts) >= 2
        assert all("match line" in text for text in texts)
    pieces = sum(len(sheets.pieces) for sheets in plan.sheathing.planes)
    assert pieces > 100


def test_cutters_list_accounts_for_every_sheet(any_print):
    plan = any_print.plan
    text = " ".join(t for t in any_print.texts if t.startswith("Cutter's list"))
    batches = cut_batches(plan)
    cut = [sheet.name for batch in batches for sheet in batch.sheets]
    assert len(set(cut)) == len(cut)
    whole = plan.sheathing.count - len(cut)
    assert f"Whole sheets, no cut: {whole}" in text or (whole == 0 and "No whole sheets" in text)
    if cut:
        assert f"Sheets to cut: {len(cut)}" in text
    for batch in batches:
        if len(batch.sheets) > 1:
            assert f"Cut {len(batch.sheets)} like this" in text
        for sheet in batch.sheets:
            assert f"{sheet.name}:" in text
            patterns = {
                tuple(sorted(tuple(round(v, 2) for p in c.polygon for v in p) for c in s.cuts)) for s in batch.sheets
            }
            assert len(patterns) == 1


def test_cut_cards_have_every_mark(any_print):
    text = " ".join(t for t in any_print.texts if t.startswith("Cut cards"))
    units = any_print.plan.units
    words = set(text.split())
    for family in families(any_print.plan.framing.members):
        for member in family:
            pieces = "piece" if member.count == 1 else "pieces"
            head = f"{member.mark}: {member.count} {pieces} of {member.section}"
            alone = len(family) == 1 and not is_plain(member)
            assert head in text if alone else f"{member.mark} {member.count} " in text
            tape = units.tape if len(differing_measures(family)) < 2 else units.inches
            said = [tape(member.length_in)]
            said += [units.inches(measure.length_in) for measure in member.measures]
            said += [cut.name for cut in member.cuts if not is_plain(member)]
            assert set(" ".join(said).split()) <= words


def test_marks_on_one_card_differ_only_in_length(hipped):
    members = hipped.plan.framing.members
    grouped = families(members)
    assert sorted(m.mark for family in grouped for m in family) == sorted(m.mark for m in members)
    for family in grouped:
        assert len({(m.kind, m.section, tuple(c.name for c in m.cuts)) for m in family}) == 1
        assert len({round(c.angle_deg, 3) for m in family for c in m.cuts if "plumb" in c.name}) <= 1
    assert any(len(family) > 3 for family in grouped)


def test_order_list_has_every_quantity(any_print):
    text = " ".join(t for t in any_print.texts if t.startswith("Order list"))
    for quantity in any_print.plan.quantities:
        assert amount_text(quantity, any_print.plan.units) in text
        assert set(plain(quantity.name).split()) <= set(text.split())


def test_findings_stand_in_full_on_the_last_page(hipped):
    text = " ".join(t for t in hipped.texts if t.startswith("Findings"))
    assert hipped.plan.findings
    for finding in hipped.plan.findings:
        assert set(plain(finding.text).split()) <= set(text.split())
    for finding in hipped.plan.findings:
        if finding.severity == "error" and hipped.plan.plane(finding.object):
            assert any(plain(finding.text) in t for t in plane_pages(hipped)[finding.object])


def test_a_job_without_a_roof_still_prints():
    data = render_handout(solve(Job(name="Empty (invented)")))
    assert data.startswith(b"%PDF-")


def test_writing_is_safe(tmp_path, gable):
    target = tmp_path / "handout.pdf"
    assert write_handout(gable.plan, target) == len(gable.pages)
    assert target.read_bytes() == gable.data
    with pytest.raises(JobError, match="can't be written"):
        write_handout(gable.plan, tmp_path / "missing" / "handout.pdf")
    assert [path.name for path in tmp_path.iterdir()] == ["handout.pdf"]


@pytest.mark.parametrize(
    ("scale", "said"),
    [
        (8, "1 1/2"),
        (12, "1"),
        (16, "3/4"),
        (24, "1/2"),
        (32, "3/8"),
        (48, "1/4"),
        (64, "3/16"),
        (96, "1/8"),
        (128, "3/32"),
        (192, "1/16"),
    ],
)
def test_scales_in_words(scale, said):
    """Inches on paper for a foot; the usual architect's scales, common practice, no source."""
    assert scale in INCH_SCALES
    assert scale_text(scale) == f"Scale 1:{scale} ({said}\" = 1')"


def test_other_scales_in_words():
    assert scale_text(50, metric=True) == "Scale 1:50"
    assert scale_text(None) == "Not to scale"
    assert scale_text(1000) == "Scale 1:1000"
