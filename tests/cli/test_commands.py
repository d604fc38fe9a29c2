"""The command contract: arguments, JSON fields, exit status, one sentence for bad input."""

from __future__ import annotations

import json
import math
import os
import subprocess
import sys
from pathlib import Path

import pytest

from workbench.cli import main
from workbench.job.samples import sample_jobs

SAMPLES = [sample.path for sample in sample_jobs()]
GABLE = ["--outline", "0,0 480,0 480,336 0,336", "--edges", "eave,rake,eave,rake"]


def run(capsys, *arguments: str) -> tuple[int, str, str]:
    status = main(arguments)
    out, err = capsys.readouterr()
    return status, out, err


def run_json(capsys, *arguments: str, status: int = 0):
    got, out, err = run(capsys, *arguments)
    assert got == status, err
    return json.loads(out)


def new_job(capsys, path: Path, *more: str) -> Path:
    status, _, err = run(capsys, "new", str(path), *GABLE, *more)
    assert status == 0, err
    return path


def test_slope_by_hand(capsys) -> None:
    got = run_json(capsys, "slope", "--run", "14'", "--rise", "98", "--heel-low", "6", "--heel-high", "5", "--json")
    # tan θ = (z1 + h1 − z0 − h0) / R = 97 / 168 (geometry).
    assert got["slope_in_12"] == pytest.approx(12 * 97 / 168)
    assert got["angle_deg"] == pytest.approx(math.degrees(math.atan(97 / 168)))
    assert got["length_in"] == pytest.approx(math.hypot(168, 97))
    assert got["called_in_12"] == 7
    misses = {row["in_12"]: row["miss_in"] for row in got["nominal"]}
    assert misses[7] == pytest.approx(168 * 7 / 12 - 97)
    assert misses[6] == pytest.approx(168 * 6 / 12 - 97)
    assert got["bracket"]["over"] is False
    assert got["bracket"]["from_in_12"] == 8


def test_slope_over_the_bracket_and_the_changes_put_back(capsys) -> None:
    base = {"run": 160.0, "rise": 112.0, "heel-low": 6.0, "heel-high": 5.0}
    arguments = [f"--{key}={value}" for key, value in base.items()]
    got = run_json(capsys, "slope", *arguments, "--target", "7", "--json")
    assert got["bracket"]["over"] is True
    assert got["bracket"]["target_in_12"] == 7
    changes = {change["what"]: change["change_in"] for change in got["bracket"]["to_reach_target"]}
    assert set(changes) == {"run", "rise", "heel_low", "heel_high"}
    for what, change in changes.items():
        key = what.replace("_", "-")
        again = [f"--{k}={v + change if k == key else v!r}" for k, v in base.items()]
        assert run_json(capsys, "slope", *again, "--json")["slope_in_12"] == pytest.approx(7.0)


def test_slope_whole_rafter_by_substitution(capsys) -> None:
    got = run_json(
        capsys, "slope", "--run", "160", "--rise", "100", "--heel-low", "6", "--depth", "9.25", "--whole", "--json"
    )
    m = got["slope_in_12"] / 12
    # Top edge over the landing's corner: rise + d / cos θ = h0 + m·R (geometry).
    assert 100 + 9.25 * math.hypot(1, m) == pytest.approx(6 + m * 160)
    assert "outward-push" in [finding["code"] for finding in got["findings"]]


def test_an_unbuildable_slope_is_still_answered(capsys) -> None:
    got = run_json(
        capsys,
        "slope",
        "--run",
        "120",
        "--rise",
        "120",
        "--heel-low",
        "1",
        "--heel-high",
        "1",
        "--depth",
        "9.25",
        "--json",
    )
    assert "notch-too-deep" in [finding["code"] for finding in got["findings"]]


def test_rows_rules_of_the_trade(capsys) -> None:
    """Common practice, no source: 78 in left is 48 + 30; 62 in left is 24 + 38, or 31 + 31."""
    widths = lambda *a: [row["width_in"] for row in run_json(capsys, "rows", *a, "--gap", "0", "--json")["rows"]]  # noqa: E731
    assert widths("78") == [30, 48]
    assert widths("78", "--rip", "top") == [48, 30]
    assert widths("62") == [24, 38]
    assert widths("62", "--split", "halves") == [31, 31]
    assert run_json(capsys, "rows", "62", "--gap", "0", "--json")["sheets_per_column"] == 1.5


def test_rows_with_gaps_add_up(capsys) -> None:
    got = run_json(capsys, "rows", "17' 9\"", "--json")
    rows = got["rows"]
    total = sum(row["width_in"] for row in rows) + (len(rows) - 1) * 0.125
    assert total == pytest.approx(213.0)
    assert rows[-1]["snap_in"] == pytest.approx(213.0)
    assert isinstance(got["notes"], list)


SPAN = ["span", "--species", "Douglas fir-larch", "--grade", "No.2", "--size", "2x8", "--spacing", "16", "--live", "20",
        "--dead", "10", "--deflection", "180"]  # fmt: skip


def test_span_of_a_published_row(capsys) -> None:
    """Douglas fir-larch No.2 2x8 at 16 in, 20 psf live, 10 psf dead, L/180: 18-5 (IRC R802.4.1(1), from memory)."""
    got = run_json(capsys, *SPAN, "--json")
    assert got["span_in"] == 18 * 12 + 5
    assert got["governs"] == "bending"
    assert got["trace"]["values"]
    assert got["source"]
    assert run(capsys, *SPAN)[0] == 0


def test_new_then_solve(capsys, tmp_path: Path) -> None:
    job = new_job(capsys, tmp_path / "gable.json", "--slope", "6/12")
    got = run_json(capsys, "solve", str(job), "--json")
    plane = got["planes"][0]
    assert set(plane) >= {"id", "name", "slope_in_12", "angle_deg", "area_sqft", "plane_length_in", "polygon_in"}
    assert plane["plane_length_in"] == pytest.approx(168 * math.sqrt(1.25))
    assert plane["area_sqft"] == pytest.approx(480 * 168 * math.sqrt(1.25) / 144)
    assert [edge["kind"] for edge in plane["edges"]] == ["eave", "rake", "ridge", "rake"]
    assert {member["kind"] for member in got["members"]} == {"common_rafter", "ridge_board"}
    # 40 by 28 ft, 6 in 12, no overhangs: 40 sheets and an area bound of 40, so proven.
    assert got["sheets"] == {"count": 40, "at_least": 40, "proven": True}
    stocks = {piece["stock"] for plane in got["planes"] for piece in plane["pieces"]}
    assert len(stocks) == got["sheets"]["count"]
    assert got["nails"]["count"] == sum(got["nails"]["by_line"].values())
    assert set(got["nails"]["by_line"]) == {"edge", "field", "boundary", "blocking", "gable_end"}
    assert set(got["seams_in"]) == {"upslope", "level", "ridge", "hip", "valley", "wall"}
    assert got["seams_in"]["ridge"] == pytest.approx(480.0)
    # Three level joints between four rows, each as long as the plane, on both planes.
    assert got["seams_in"]["level"] == pytest.approx(2 * 3 * 480.0)


def test_new_takes_values_per_edge_and_keeps_an_old_file(capsys, tmp_path: Path) -> None:
    path = tmp_path / "job.json"
    path.write_text("precious")
    status, _, err = run(capsys, "new", str(path), *GABLE, "--slope", "4/12,4/12,8/12,8/12", "--plate", "97,97,121,97")
    assert status == 0
    assert (tmp_path / "job.json.bak").read_text() == "precious"
    assert "kept" in err
    planes = run_json(capsys, "solve", str(path), "--json", status=run(capsys, "check", str(path))[0])["planes"]
    assert [round(plane["slope_in_12"], 9) for plane in planes] == [4, 8]


@pytest.mark.parametrize("slope", ["2/12", "4/12", "7/12", "12/12", "45deg", "18/12"])
def test_a_new_gable_has_no_errors_at_any_ordinary_slope(capsys, tmp_path: Path, slope: str) -> None:
    job = new_job(capsys, tmp_path / "job.json", "--slope", slope, "--overhang", "16", "--rake-overhang", "12")
    assert run(capsys, "check", str(job))[0] == 0


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_sample_runs_through_every_command(capsys, tmp_path: Path, path: Path) -> None:
    assert run_json(capsys, "solve", str(path), "--json")["planes"]
    assert run_json(capsys, "check", str(path), "--json")["findings"] is not None
    status, out, _ = run(capsys, "solve", str(path))
    assert status == 0
    assert "Sheets:" in out
    status, out, _ = run(
        capsys, "list", str(path), "--csv", str(tmp_path / "l.csv"), "--xlsx", str(tmp_path / "l.xlsx")
    )
    assert status == 0
    assert "sheathing panels" in out
    assert (tmp_path / "l.csv").read_text(encoding="utf-8").startswith("code,")
    assert (tmp_path / "l.xlsx").stat().st_size > 1000
    for paper in ("letter", "a4"):
        status, out, _ = run(capsys, "handout", str(path), "-o", str(tmp_path / "h.pdf"), "--paper", paper)
        assert status == 0
        assert (tmp_path / "h.pdf").read_bytes().startswith(b"%PDF")


def test_the_vaulted_sample_needs_the_bracket_work(capsys) -> None:
    path = next(path for path in SAMPLES if path.stem == "vaulted-room")
    got = run_json(capsys, "solve", str(path), "--json")
    slope = got["planes"][0]["slope_in_12"]
    assert slope > 8
    assert abs(slope - round(slope)) > 0.1
    assert "over-price-bracket" in [finding["code"] for finding in got["findings"]]


def test_schema(capsys) -> None:
    assert run_json(capsys, "schema")["$schema"].endswith("schema")


BAD = [
    ["slope", "--run", "0", "--rise", "50"],
    ["slope", "--run", "-12", "--rise", "50"],
    ["slope", "--run", "100", "--rise", "13' 6 1/"],
    ["slope", "--run", "nan", "--rise", "50"],
    ["slope", "--run", "100", "--rise", "0"],
    ["slope", "--run", "100", "--rise", "-5"],
    ["slope", "--run", "100"],
    ["slope", "--run", "100", "--rise", "50", "--whole"],
    ["slope", "--run", "100", "--rise", "50", "--colour", "red"],
    ["rows", "0"],
    ["rows", "-5"],
    ["rows", "200", "--least", "30"],
    ["rows", "200", "--panel", "0"],
    ["rows", "200", "--rip", "middle"],
    ["rows", "200", "--gap", "inf"],
    ["rows"],
    ["solve"],
    ["solve", "no such file.json"],
    ["nonsense"],
    [
        "span",
        "--species",
        "balsa",
        *["--grade", "No.2", "--size", "2x8", "--spacing", "16", "--live", "20"],
        *["--dead", "10", "--deflection", "240"],
    ],
    ["solve", "a.json", "b.json"],
    ["a.json", "b.json"],
]


@pytest.mark.parametrize("arguments", BAD, ids=" ".join)
def test_bad_input_is_one_sentence_and_status_2(capsys, arguments: list[str]) -> None:
    status, out, err = run(capsys, *arguments)
    assert status == 2
    assert out == ""
    assert err.count("\n") == 1
    assert "Traceback" not in err
    assert len(err) > 20


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["rows", "100", "--split", "third"], '--split can\'t be "third"; choose fewest, halves, least'),
        (["slope", "--rise", "10"], "--run is missing"),
        (["slope", "--rise", "10", "--run"], "--run has nothing after it"),
        (["solve", "a.json", "b.json"], 'takes no "b.json"'),
        (["rows", "abc"], "LENGTH: Length"),
    ],
)
def test_what_the_arguments_lack_is_told_in_plain_words(capsys, arguments: list[str], words: str) -> None:
    assert words in run(capsys, *arguments)[2]


BAD_NEW = [
    ["--outline", "0,0 480,0 480,336", "--edges", "eave,rake,eave,rake", "--slope", "7/12"],
    ["--outline", "0,0 480,336 480,0 0,336", "--edges", "eave,rake,eave,rake", "--slope", "7/12"],
    ["--outline", "0,0 480,0 480,x 0,336", "--edges", "eave,rake,eave,rake", "--slope", "7/12"],
    [*GABLE, "--slope", "0/12"],
    [*GABLE, "--slope", "90deg"],
    [*GABLE, "--slope", "7"],
    [*GABLE, "--slope", "7/12,8/12"],
    [*GABLE, "--slope", "7/12", "--plate", "13' 6 1/"],
    [*GABLE, "--slope", "7/12", "--overhang", "-4"],
    [*GABLE, "--slope", "7/12", "--spacing", "0"],
    ["--outline", "0,0 480,0 480,336 0,336", "--edges", "eave,ridge,eave,rake", "--slope", "7/12"],
    ["--outline", "0,0 480,0 480,336 0,336", "--edges", "rake,rake,rake,rake", "--slope", "7/12"],
]


@pytest.mark.parametrize("arguments", BAD_NEW, ids=" ".join)
def test_bad_new_writes_nothing(capsys, tmp_path: Path, arguments: list[str]) -> None:
    path = tmp_path / "job.json"
    status, out, err = run(capsys, "new", str(path), *arguments)
    assert status == 2
    assert out == ""
    assert err.count("\n") == 1
    assert list(tmp_path.iterdir()) == []


def test_a_broken_job_writes_no_handout(capsys, tmp_path: Path) -> None:
    job = tmp_path / "job.json"
    job.write_bytes(SAMPLES[0].read_bytes()[:-300])
    status, _, err = run(capsys, "handout", str(job), "-o", str(tmp_path / "h.pdf"))
    assert status == 2
    assert err.count("\n") == 1
    assert not (tmp_path / "h.pdf").exists()


def test_errors_among_the_findings_give_status_1(capsys, tmp_path: Path) -> None:
    job = new_job(capsys, tmp_path / "job.json", "--slope", "12/12")
    text = job.read_text().replace('"seat_in": 2.5', '"seat_in": 5.5')
    job.write_text(text)
    assert run(capsys, "check", str(job))[0] == 1
    assert run(capsys, "handout", str(job), "-o", str(tmp_path / "h.pdf"))[0] == 1
    assert (tmp_path / "h.pdf").exists()


def without_display(**more: str) -> dict[str, str]:
    hidden = {"DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"}
    return {key: value for key, value in os.environ.items() if key not in hidden} | more


def test_without_a_display_the_job_is_done_on_paper(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "workbench", str(SAMPLES[0])],
        cwd=tmp_path, env=without_display(), capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert done.stderr.count("\n") == 1
    assert "no display" in done.stderr
    assert "Sheets" in done.stdout
    assert (tmp_path / f"{SAMPLES[0].stem}-handout.pdf").read_bytes().startswith(b"%PDF")


def test_without_a_display_and_a_job_the_status_is_3(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "workbench"],
        cwd=tmp_path, env=without_display(), capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 3
    assert done.stdout == ""
    assert done.stderr.count("\n") == 1


def test_an_unreachable_display_is_told_too(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "workbench"],
        cwd=tmp_path, env=without_display(DISPLAY=":987"), capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 3
    assert done.stderr.count("\n") == 1


def test_output_into_a_closed_pipe_is_no_traceback(tmp_path: Path) -> None:
    command = f'"{sys.executable}" -m workbench schema | head -1'
    done = subprocess.run(["bash", "-c", command], capture_output=True, text=True, check=False)
    assert done.stderr == ""
