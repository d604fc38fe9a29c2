"""Revisions: recorded, compared with the last one that went out, listed on paper; only what changed."""

from __future__ import annotations

import io

import pdfplumber
import pytest

from workbench.cli import main
from workbench.errors import EditError
from workbench.handout import render_handout
from workbench.handout.changes_in_short import MOST_PIECES, rows_of
from workbench.handout.changes_page import changes_pages
from workbench.job import edits
from workbench.job.issued import next_code
from workbench.job.model import Job
from workbench.job.read import parse_job, read_job
from workbench.job.write import dump_job, write_job
from workbench.plan import Plan, solve
from workbench.resources import sample_job_path
from workbench.revisions import CUTS, MEMBERS, ChangedLine, changed_lines, issue, record, same, what_changed

HOUSE = [(0.0, 0.0), (192.0, 0.0), (192.0, 144.0), (0.0, 144.0)]


@pytest.fixture(scope="module")
def issued() -> Job:
    job, _ = edits.add_wing(Job(name="House", date="1 May"), HOUSE, ["eave", "rake", "eave", "rake"], "main")
    return issue(solve(job))


def steeper(job: Job) -> Plan:
    return solve(edits.set_wing(job, "wing-1", slope_in_12=8.0))


def test_codes_go_on() -> None:
    codes = {"": "A", "A": "B", "Z": "AA", "AZ": "BA", "ZZ": "AAA", "3": "4", "C9": "C10", "draft": "draft-2"}
    assert {code: next_code(code) for code in codes} == codes


def test_the_first_handout_lists_nothing(issued: Job) -> None:
    assert what_changed(solve(edits.set_job(issued, issued=()))) is None
    assert what_changed(solve(issued)) is None
    assert issued.revision == "A" and [r.revision for r in issued.issued] == ["A"]


def test_a_record_survives_the_file_and_is_the_same_for_the_same_plan(issued: Job) -> None:
    again = parse_job(dump_job(issued), "job")
    assert again == issued
    assert same(record(solve(again)), issued.issued[-1])


def test_only_what_changed_is_listed(issued: Job) -> None:
    plan = steeper(issued)
    changed = what_changed(plan)
    assert changed is not None and changed.against == "A" and changed.date == "1 May" and not changed.issued
    lines = {line.what: line for line in changed.lines}
    assert (lines["front main, slope"].before, lines["front main, slope"].after) == ("7 in 12", "8 in 12")
    common = next(member for member in plan.framing.members if member.kind == "common_rafter")
    assert plan.units.length(common.length_in) in lines[common.mark].after
    assert all(line.before != line.after for line in changed.lines)
    renamed = solve(edits.set_job(issued, name="Other", note="n", date="2 May"))
    assert what_changed(renamed) is None


def test_a_change_of_one_thing_leaves_the_rest_out(issued: Job) -> None:
    plan = solve(edits.set_rafter(issued, "wing-1", tail="square"))
    changed = what_changed(plan)
    assert changed is not None
    assert {line.group for line in changed.lines} <= {"Members", "Cuts", "To buy"}
    assert any("tail" in line.what for line in changed.lines)


def test_differences_too_small_to_be_shown_are_none(issued: Job) -> None:
    plan = solve(edits.set_wing(issued, "wing-1", slope_in_12=7.0000001))
    assert changed_lines(issued.issued[-1], record(plan), plan.units) == ()


def test_issuing_again_goes_on_and_a_reprint_still_lists_what_changed(issued: Job) -> None:
    plan = steeper(issued)
    second = issue(plan)
    assert second.revision == "B" and [r.revision for r in second.issued] == ["A", "B"]
    reprint = what_changed(solve(second))
    assert reprint is not None and reprint.issued and reprint.against == "A"
    assert reprint.lines == what_changed(plan).lines
    third = issue(solve(edits.set_job(edits.set_wing(second, "wing-1", slope_in_12=9.0), revision="final")))
    assert [r.revision for r in third.issued] == ["B", "final"]


def test_the_same_is_not_issued_twice_nor_nothing(issued: Job) -> None:
    with pytest.raises(EditError, match="Nothing has changed since revision A"):
        issue(solve(issued))
    with pytest.raises(EditError, match="no roof"):
        issue(solve(Job()))


def test_wings_that_come_and_go_are_new_and_gone(issued: Job) -> None:
    job, _ = edits.add_wing(
        issued, [(300, 0), (396, 0), (396, 96), (300, 96)], ["eave", "rake", "eave", "rake"], "shed"
    )
    plan = solve(job)
    lines = changed_lines(issued.issued[-1], record(plan), plan.units)
    assert any(line.what == "front shed, slope" and line.before == "none" for line in lines)
    back = changed_lines(record(plan), issued.issued[-1], plan.units)
    assert any(line.what == "front shed, slope" and line.after == "none" for line in back)
    assert changed_lines(record(plan), record(plan), plan.units) == ()


def test_the_page_says_against_what_and_stands_after_the_first(issued: Job) -> None:
    assert changes_pages(solve(issued), "letter") == []
    with pdfplumber.open(io.BytesIO(render_handout(steeper(issued)))) as pdf:
        texts = [page.extract_text() for page in pdf.pages]
    pages = [i for i, text in enumerate(texts) if text.startswith("What changed")]
    assert pages and pages[0] > 0
    text = texts[pages[0]]
    assert "Against revision A of 1 May" in text and "Not issued yet" in text
    assert "7 in 12" in text and "8 in 12" in text


def test_many_changed_pieces_are_counted(issued: Job) -> None:
    big, _ = edits.add_wing(Job(), [(0, 0), (960, 0), (960, 480), (0, 480)], ["eave", "rake", "eave", "rake"])
    plan = solve(edits.set_sheathing(issue(solve(big)), gap_in=0.25))
    pages = changes_pages(plan, "letter")
    rows = [row for page in pages for block in page.blocks if hasattr(block, "rows") for row in block.rows]
    pieces = sum(line.group == "Pieces" for line in what_changed(plan).lines)
    assert pieces > MOST_PIECES
    assert sum("pieces are others" in row[-1] for row in rows) == 2


@pytest.mark.parametrize("name", ["cut-up-house", "l-house"])
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_a_dragged_pitch_is_told_on_two_pages(name: str, paper: str) -> None:
    job = issue(solve(read_job(sample_job_path(f"{name}.json")), "preview"))
    for wing in job.wings:
        job = edits.set_wing(job, wing.id, slope_in_12=wing.slope_in_12 + 1.0)
    plan = solve(job, "preview")
    lines = what_changed(plan).lines
    assert len(lines) > 100
    pages = changes_pages(plan, paper)
    assert len(pages) <= 2
    rows = [row for page in pages for block in page.blocks if hasattr(block, "rows") for row in block.rows]
    groups = [row[0] for row in rows if len(row) == 1]
    assert list(dict.fromkeys(groups)) == list(dict.fromkeys(line.group for line in lines))
    assert sum("slope" in row[0] for row in rows) < sum("slope" in line.what for line in lines)


def test_equal_changes_stand_on_one_line() -> None:
    def line(what: str, before: str, after: str, part_of: str) -> ChangedLine:
        return ChangedLine(CUTS, what, before, after, part_of)

    lines = [line(f"Jack {n}, tail cut", "36.9°", "33.7°", f"Jack {n}") for n in (1, 2, 3, 5)]
    lines.append(line("Jack 4, tail cut", "36.9°", "30.0°", "Jack 4"))
    assert rows_of(lines) == [
        (CUTS,),
        ("Jack 1–3, 5: tail cut", "36.9°", "33.7°"),
        ("Jack 4: tail cut", "36.9°", "30.0°"),
    ]
    members = [
        ChangedLine(MEMBERS, f"Jack {n}", f"{n} of 2x6, 5'", "none" if n == 3 else "2 of 2x6, 6'") for n in (1, 2, 3)
    ]
    assert rows_of(members, [MEMBERS])[1:] == [
        ("Jack 1–3", "6 pieces", "4 pieces, other lengths or counts: see their cards")
    ]


def test_the_command_records_it(tmp_path, capsys) -> None:
    path = tmp_path / "house.json"
    write_job(edits.add_wing(Job(), HOUSE, ["eave", "rake", "eave", "rake"])[0], path)
    assert main(["issue", str(path)]) == 0
    assert read_job(path).issued[-1].revision == "A"
    before = path.read_bytes()
    capsys.readouterr()
    assert main(["issue", str(path)]) == 2
    assert "\n" not in capsys.readouterr().err.strip()
    assert path.read_bytes() == before
