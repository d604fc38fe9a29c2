"""Tails by hand, and where the sheathing's thickness enters: at hips and valleys, under an overframed roof."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from shapely.geometry import Polygon

from workbench.framing.solve import frame_roof
from workbench.job.edits import add_wing, set_rafter, set_trim
from workbench.job.model import Heel, Job
from workbench.job.read import read_job
from workbench.job.safety import GroundLine
from workbench.measure import Units
from workbench.plan import solve
from workbench.roof.build import build_roof
from workbench.site.covering import covering_findings, coverings
from workbench.site.ground_plan import eave_lines
from workbench.site.model import Tail
from workbench.site.tails import tail_notes, tails

PLATE = 97.125
UNITS = Units()
SAMPLES = Path(__file__).parents[2] / "sample_jobs"


def _job(slope: float = 7.0, kinds=("eave", "rake", "eave", "rake"), **fields) -> Job:
    outline = ((0, 0), (480, 0), (480, 336), (0, 336))
    fields.setdefault("eave_overhang_in", 16.0)
    heel = Heel(given="seat", seat_in=3.5)
    return add_wing(Job(), outline, kinds, slope_in_12=slope, plate_in=PLATE, heel=heel, **fields)[0]


def _tail(job: Job) -> Tail:
    return tails(eave_lines(build_roof(job.wings, UNITS).wings), job.safety.ground, UNITS)[0]


def test_plumb_tail_by_hand() -> None:
    """7 in 12, 2x8, 16 in overhang, 1x fascia: by trigonometry of the triangle from the plate out."""
    tail = _tail(set_trim(_job(), "wing-1", fascia_in=0.75, sub_fascia_in=1.5))
    theta = math.atan(7.0 / 12.0)
    plumb = 7.25 / math.cos(theta)
    hap = plumb - 3.5 * math.tan(theta)
    assert tail.face_in == pytest.approx(plumb)
    assert tail.top_in == pytest.approx(PLATE + hap - 16.0 * math.tan(theta))
    assert tail.soffit_in == pytest.approx(PLATE - (3.5 + 16.0) * math.tan(theta))
    assert tail.soffit_over_plate_in == pytest.approx(-19.5 * 7.0 / 12.0)
    assert tail.frieze_in == pytest.approx(PLATE - 3.5 * 7.0 / 12.0)
    assert tail.fascia_in == 9.25  # the least sawn board not under the 8.39 in of the plumb cut
    # With a square upper edge it is set down until its outer corner, 2 1/4 in out, lies in the roof's plane.
    assert tail.fascia_drop_in == pytest.approx(2.25 * 7.0 / 12.0)
    assert tail.fascia_below_in == pytest.approx(9.25 + tail.fascia_drop_in - plumb)
    assert tail.sub_fascia_bevel_deg == pytest.approx(math.degrees(theta))


def test_square_and_level_tails() -> None:
    theta = math.atan(7.0 / 12.0)
    square = _tail(set_rafter(_job(), "wing-1", tail="square"))
    assert square.face_in == 7.25
    assert square.top_in - square.bottom_in == pytest.approx(7.25 * math.cos(theta))
    assert square.sub_fascia_bevel_deg == 0.0
    level = _tail(set_rafter(_job(), "wing-1", tail="level"))
    assert level.face_in == pytest.approx(7.25 / math.cos(theta) / 2.0)


@settings(max_examples=25, deadline=None)
@given(slope=st.floats(2.0, 18.0), overhang=st.floats(2.0, 30.0), tail=st.sampled_from(["plumb", "square", "level"]))
def test_soffit_is_the_lowest_point_of_the_cut_rafter(slope: float, overhang: float, tail: str) -> None:
    """The rafter as it is cut, stood up by shapely, has nothing under the soffit."""
    job = set_rafter(_job(slope, eave_overhang_in=overhang), "wing-1", tail=tail)
    built = build_roof(job.wings, UNITS)
    found = tails(eave_lines(built.wings), (), UNITS)[0]
    rafter = next(m for m in frame_roof(built.wings, UNITS)[0].members if m.kind == "common_rafter")
    angle = math.atan(slope / 12.0)
    cos, sin = math.cos(angle), math.sin(angle)
    stood = Polygon(
        [(x * cos - (y - 7.25) * sin, found.top_in + x * sin + (y - 7.25) * cos) for x, y in rafter.profile]
    )
    lower = stood.intersection(Polygon([(-60, -500), (overhang * 0.9, -500), (overhang * 0.9, 900), (-60, 900)]))
    if overhang > 12.0 or tail == "plumb":
        assert lower.bounds[1] == pytest.approx(found.bottom_in, abs=1e-6)


def test_soffit_over_the_ground_is_at_the_lower_end_of_the_ground() -> None:
    job = _job()
    ground = (GroundLine(edge="wing-1/e1", start_in=-12.0, end_in=-30.0),)
    tail = _tail(replace(job, safety=replace(job.safety, ground=ground)))
    assert tail.soffit_over_ground_in == pytest.approx(tail.soffit_in + 30.0)


def test_notes_name_the_backspan_and_their_sources() -> None:
    job = set_trim(_job(rake_overhang_in=12.0), "wing-1", lookouts="back")
    notes = tail_notes(job.wings[0], UNITS)
    assert "run back 2' 0\"" in notes[0]
    assert "source" in notes[-1] or "memory" in notes[-1]


def test_sheets_bevelled_at_a_ridge_and_a_hip() -> None:
    """8 in 12: a ridge turns 2 · 33.69°; a hip between equal slopes turns 2 · 23.09° (backing, from check values)."""
    roof = build_roof(_job(8.0, ("eave",) * 4).wings, UNITS).roof
    found = {one.kind: one for one in coverings(roof.planes, 0.5, UNITS)}
    assert found["plane"].figure_in == pytest.approx(0.5 * math.sqrt(1.0 + (8.0 / 12.0) ** 2))
    assert found["ridge"].bevel_deg == pytest.approx(math.degrees(math.atan(8.0 / 12.0)))
    assert found["ridge"].figure_in == pytest.approx(0.5 * 8.0 / 12.0)
    assert found["hip"].bevel_deg == pytest.approx(23.09, abs=0.005)
    assert found["hip"].figure_in == pytest.approx(0.5 * math.tan(math.radians(23.09)), abs=1e-4)


def test_thicker_sheathing_shortens_what_stands_on_it() -> None:
    """An overframed roof: every jack on the sleepers is cut for the sheathing below, and the sheets end higher up."""
    job = read_job(SAMPLES / "cut-up-house.json")
    job = replace(job, wings=tuple(replace(w, joins="overframed") if w.id == "dormer" else w for w in job.wings))
    built = build_roof(job.wings, UNITS)
    laid = [one for one in coverings(built.roof.planes, 0.5, UNITS) if one.kind == "overframed"]
    assert laid
    told = covering_findings(built.roof.planes, 0.5, UNITS)
    assert {finding.code for finding in told} == {"sheets-end-short"}
    assert any(UNITS.length(laid[0].figure_in) in finding.text for finding in told)
    thin, thick = (frame_roof(built.wings, UNITS, sheathing_in=t)[0] for t in (0.5, 1.0))

    def jacks(framing) -> dict[tuple[float, float], float]:
        return {
            (round(p.end[0], 4), round(p.end[1], 4)): m.length_in
            for m in framing.members
            if m.kind == "valley_jack" and any(cut.name == "seat cut on the sleeper" for cut in m.cuts)
            for p in m.placements
        }

    before, after = jacks(thin), jacks(thick)
    assert before
    assert before.keys() == after.keys()
    for place, length in before.items():
        # Half an inch more of sheathing, plumb 0.5 · √(1 + m²), moves the foot up the slope as the covering says.
        shorter = length - after[place]
        assert any(shorter == pytest.approx(one.figure_in, abs=1e-6) for one in laid)


def test_the_thickness_of_the_job_reaches_the_sleepers() -> None:
    job = read_job(SAMPLES / "small-house.json")
    thick = replace(job, sheathing=replace(job.sheathing, thickness="23/32"))
    figures = [solve(one, "live").site.coverings[0].figure_in for one in (job, thick)]
    assert figures[1] / figures[0] == pytest.approx((23 / 32) / (7 / 16))
