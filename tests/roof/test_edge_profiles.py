"""Gambrels, mansards, gablets and clipped gables from a job; expected figures are elementary geometry, by hand."""

from __future__ import annotations

import math
from typing import Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from workbench.errors import EditError, JobError
from workbench.job import edits
from workbench.job.model import Heel, Job, Upper
from workbench.job.read import parse_job
from workbench.job.write import dump_job
from workbench.measure import Units
from workbench.roof.build import build_roof
from workbench.roof.model import Plane
from workbench.roof.solved import BuiltWing

RECTANGLE = [(0.0, 0.0), (480.0, 0.0), (480.0, 288.0), (0.0, 288.0)]
L_SHAPE = [(0.0, 0.0), (480.0, 0.0), (480.0, 240.0), (240.0, 240.0), (240.0, 480.0), (0.0, 480.0)]
PLATE, HAP = 100.0, 6.0
GABLE = ["eave", "rake", "eave", "rake"]
BARN = Upper(height_in=102.0, slope_in_12=6.0)  # at 24 in 12: 96 in of rise over the wall's HAP take 48 in of run


def drawn(outline: list[tuple[float, float]], kinds: list[str], profiles: dict[str, Any], **fields: Any) -> Job:
    """A wing with, by edge, its second slope, its clip height, or other fields."""
    given_fields: dict[str, Any] = {"plate_in": PLATE, "heel": Heel(given="hap", hap_in=HAP), **fields}
    job, wing = edits.add_wing(Job(), outline, kinds, **given_fields)
    for edge, profile in profiles.items():
        job = edits.set_edge(job, wing, edge, **({"upper": profile} if isinstance(profile, Upper) else profile))
    return job


def built(job: Job) -> BuiltWing:
    (wing,) = build_roof(job.wings, Units()).wings
    return wing


def planes_of(job: Job) -> dict[str, Plane]:
    return {plane.id.removeprefix("wing-1/"): plane for plane in built(job).planes}


def kinds(plane: Plane) -> list[str]:
    return [edge.kind for edge in plane.edges]


def codes(job: Job) -> list[str]:
    return [finding.code for finding in build_roof(job.wings, Units()).findings]


def top_of(plane: Plane) -> float:
    return max(corner[2] for corner in plane.corners)


def test_gambrel() -> None:
    job = drawn(RECTANGLE, GABLE, {"e1": BARN, "e3": BARN}, slope_in_12=24.0)
    planes = planes_of(job)
    assert list(planes) == ["e1", "e1-upper", "e3", "e3-upper"]
    names = ["front main lower", "front main upper", "back main lower", "back main upper"]
    assert [plane.name for plane in planes.values()] == names
    assert [plane.in_12 for plane in planes.values()] == pytest.approx([24.0, 6.0, 24.0, 6.0])
    assert [plane.upper for plane in planes.values()] == [False, True, False, True]
    assert [plane.whole for plane in planes.values()] == [plane.id for plane in planes.values()]
    lower, upper = planes["e1"], planes["e1-upper"]
    assert kinds(lower) == ["eave", "rake", "pitch_break", "rake"]
    assert kinds(upper) == ["pitch_break", "rake", "ridge", "rake"]
    # 48 in of run below, the 96 in left to mid-span above; true area = plan area * √(1 + m²).
    assert lower.area_sqft * 144.0 == pytest.approx(480.0 * 48.0 * math.hypot(1.0, 2.0))
    assert upper.area_sqft * 144.0 == pytest.approx(480.0 * 96.0 * math.hypot(1.0, 0.5))
    assert (top_of(lower), top_of(upper)) == pytest.approx((PLATE + 102.0, PLATE + 102.0 + 48.0))
    assert lower.edges[2].neighbour == upper.id
    assert upper.edges[0].neighbour == lower.id
    assert lower.drawn == upper.drawn == "e1"
    assert upper.polygon[0] == pytest.approx((0.0, 0.0), abs=1e-9)


def test_eave_says_where_the_slope_changes() -> None:
    wing = built(drawn(RECTANGLE, GABLE, {"e1": BARN}, slope_in_12=24.0, eave_overhang_in=6.0))
    assert wing.solved is not None
    front, back = wing.solved.eaves
    assert (front.break_in, front.upper_tangent) == (PLATE + 102.0, 0.5)
    assert front.break_past_in == pytest.approx(48.0)
    assert front.tangents == pytest.approx((2.0, 0.5))
    assert front.start_in == pytest.approx(PLATE + HAP - 12.0)
    assert (back.break_in, back.upper_tangent, back.break_past_in) == (None, None, None)


def test_only_the_sections_a_landing_can_speak_of() -> None:
    wing = built(drawn(RECTANGLE, GABLE, {"e1": BARN}, slope_in_12=24.0))
    assert wing.solved is not None
    assert [section.plane for section in wing.solved.sections] == ["wing-1/e3"]


def test_two_slopes_all_round_break_level_at_one_height_though_the_lower_ones_differ() -> None:
    uppers = {f"e{k}": BARN for k in range(1, 5)}
    job = edits.set_edge(drawn(RECTANGLE, ["eave"] * 4, uppers, slope_in_12=24.0), "wing-1", "e2", slope_in_12=16.0)
    planes = planes_of(job)
    assert len(planes) == 8
    breaks = [edge for plane in planes.values() for edge in plane.edges if edge.kind == "pitch_break"]
    assert len(breaks) == 8
    assert {round(z, 6) for edge in breaks for z in (edge.start[2], edge.end[2])} == {PLATE + 102.0}
    # 96 in of rise take 48 in of run at 24 in 12 and 72 in at 16 in 12.
    assert planes["e2"].width_in == pytest.approx(288.0)
    assert max(edge.start[0] for edge in planes["e1-upper"].edges) == pytest.approx(480.0 - 72.0)
    assert kinds(planes["e2-upper"]).count("hip") == 2
    assert kinds(planes["e1-upper"]).count("ridge") == 1


def test_gablet_over_a_hip() -> None:
    gablet = Upper(height_in=HAP + 42.0, slope_in_12=None)
    job = drawn(RECTANGLE, ["eave"] * 4, {"e2": gablet, "e4": gablet}, slope_in_12=7.0)
    planes = planes_of(job)
    assert list(planes) == ["e1", "e2", "e3", "e4"]
    assert [plane.name for plane in planes.values()] == ["front main", "right main", "back main", "left main"]
    assert kinds(planes["e2"]) == ["eave", "hip", "wall", "hip"]
    assert kinds(planes["e1"]) == ["eave", "hip", "rake", "ridge", "rake", "hip"]
    assert kinds(planes["e3"]) == ["eave", "hip", "rake", "ridge", "rake", "hip"]
    # 42 in of rise at 7 in 12 take 72 in of run, so the gablet stands 72 in from the end and is 144 in wide.
    assert planes["e2"].edges[2].length_in == pytest.approx(288.0 - 144.0)
    assert planes["e2"].area_sqft * 144.0 == pytest.approx((288.0 + 144.0) / 2.0 * 72.0 * math.hypot(1.0, 7.0 / 12.0))
    assert planes["e1"].edges[3].length_in == pytest.approx(480.0 - 144.0)
    assert top_of(planes["e1"]) == pytest.approx(PLATE + HAP + 144.0 * 7.0 / 12.0)
    wing = built(job)
    assert wing.solved is not None
    section = wing.solved.section_of("wing-1/e2")
    assert section is not None
    assert section.given.high_end == "face"  # its rafters end on a ledger at the gablet
    assert section.given.run_in == pytest.approx(72.0)


def test_clipped_gable() -> None:
    clip = {"clip_height_in": 42.0}
    job = drawn(RECTANGLE, GABLE, {"e2": clip}, slope_in_12=7.0, rake_overhang_in=12.0)
    planes = planes_of(job)
    assert list(planes) == ["e1", "e2", "e3"]
    clipped = planes["e2"]
    assert clipped.name == "right main"
    assert kinds(clipped) == ["eave", "hip", "hip"]
    assert kinds(planes["e1"]) == ["eave", "rake", "hip", "ridge", "rake"]
    # Over the wall line it passes the wing's HAP above its own plate; its tail is the rake's overhang.
    wing = built(job)
    assert wing.solved is not None
    (eave,) = [eave for eave in wing.solved.eaves if eave.edge == "e2"]
    assert (eave.plate_in, eave.hap_in, eave.overhang_in) == (PLATE + 42.0, HAP, 12.0)
    assert clipped.corners[0] == pytest.approx((492.0, 60.0, PLATE + 42.0 + HAP - 7.0))
    # From 35 in over the eaves' plates to the ridge, 84 in over them, are 49 in of rise: 84 in of run at 7 in 12.
    assert clipped.area_sqft * 144.0 == pytest.approx(168.0 * 84.0 / 2.0 * math.hypot(1.0, 7.0 / 12.0))
    steep = planes_of(edits.set_edge(job, "wing-1", "e2", slope_in_12=14.0))["e2"]
    assert steep.in_12 == pytest.approx(14.0)
    assert min(z for *_, z in steep.corners) == pytest.approx(PLATE + 42.0 + HAP - 14.0)


def test_level_fascia_goes_by_the_lower_slopes() -> None:
    job = drawn(RECTANGLE, GABLE, {"e1": BARN}, slope_in_12=24.0, eave_overhang_in=12.0)
    planes = planes_of(edits.set_edge(job, "wing-1", "e3", slope_in_12=8.0))
    assert min(c[2] for c in planes["e1"].corners) == pytest.approx(min(c[2] for c in planes["e3"].corners))
    assert min(c[1] for c in planes["e1"].corners) == pytest.approx(-4.0)


def test_planes_that_look_one_way_are_numbered_with_the_lower_ones() -> None:
    outline = [(0.0, 0.0), (480.0, 0.0), (480.0, 240.0), (240.0, 240.0), (240.0, 480.0), (0.0, 480.0)]
    job = drawn(outline, ["eave"] * 6, {"e2": Upper(height_in=50.0, slope_in_12=3.0)}, slope_in_12=12.0)
    names = {key: plane.name for key, plane in planes_of(job).items()}
    assert names["e2"] == "right main 1 lower"
    assert names["e2-upper"] == "right main 1 upper"
    assert names["e4"] == "right main 2"


def test_a_change_over_the_wall_is_refused_in_a_finding_and_the_roof_still_stands() -> None:
    job = drawn(RECTANGLE, GABLE, {"e1": Upper(height_in=HAP, slope_in_12=3.0)})
    assert "upper-slope-too-low" in codes(job)
    assert list(planes_of(job)) == ["e1", "e3"]


@pytest.mark.parametrize(
    ("edge", "profile"),
    [("e1", Upper(height_in=900.0, slope_in_12=3.0)), ("e1", Upper(height_in=900.0, slope_in_12=None))],
)
def test_what_the_roof_never_comes_up_to_is_told(edge: str, profile: Upper) -> None:
    job = drawn(RECTANGLE, GABLE, {edge: profile})
    assert "profile-not-reached" in codes(job)
    assert list(planes_of(job)) == ["e1", "e3"]
    assert "profile-not-reached" in codes(drawn(RECTANGLE, GABLE, {"e2": {"clip_height_in": 900.0}}))
    assert "profile-not-reached" not in codes(drawn(RECTANGLE, GABLE, {"e1": BARN}, slope_in_12=24.0))


def test_gablets_all_round_can_not_be_closed_and_say_so() -> None:
    gablets = {f"e{k}": Upper(height_in=40.0, slope_in_12=None) for k in range(1, 5)}
    roof = build_roof(drawn(RECTANGLE, ["eave"] * 4, gablets).wings, Units())
    (finding,) = [f for f in roof.findings if f.code == "roof-unsolved"]
    assert "straight up" in finding.text


def test_a_landing_is_not_solved_over_a_change_of_slope() -> None:
    job = drawn(RECTANGLE, GABLE, {"e3": BARN}, slope_in_12=24.0)
    job = edits.set_landing(job, "wing-1", find="slope", high_end="ridge", landing_in=250.0)
    (finding,) = [f for f in build_roof(job.wings, Units()).findings if f.code == "landing-unclear"]
    assert "slope changes" in finding.text
    assert "e3-upper" in planes_of(job)


LEVELLED = [(100, -200), (196, -200), (196, 24), (300, 24), (300, 300), (0, 300), (0, 0), (100, 0)]


def test_choices_in_mid_roof_are_told_by_what_was_dropped() -> None:
    # Two edges come into line in mid-roof: once planes of unequal slope, once a plane and a rake.
    eaves = drawn(LEVELLED, ["rake", *["eave"] * 7], {"e3": {"slope_in_12": 24.0}}, slope_in_12=12.0)
    raked = [(x, 48 if y == 24 else y) for x, y in LEVELLED]
    rake = drawn(raked, ["rake", "eave", "rake", *["eave"] * 5], {}, slope_in_12=12.0)
    texts = [
        [f.text for f in build_roof(job.wings, Units()).findings if f.code == "pitch-break-chosen"]
        for job in (eaves, rake)
    ]
    ((planes_text,), (rake_text,)) = texts
    assert "steeper plane over edge 3; the shallower one goes on from a level pitch break" in planes_text
    assert "gable wall over edge 3; the gable ends level there and the plane hips over it" in rake_text


# ---- the document ----------------------------------------------------------------------------------------------------


def test_profiles_are_kept_in_the_file() -> None:
    job = drawn(RECTANGLE, GABLE, {"e1": BARN, "e2": {"clip_height_in": 40.0, "slope_in_12": 9.0}})
    job = edits.set_edge(job, "wing-1", "e3", upper=Upper(height_in=60.0, slope_in_12=None))
    assert parse_job(dump_job(job), "there and back") == job


def test_what_stands_at_the_wrong_kind_of_edge_is_refused_with_the_mend() -> None:
    plain = drawn(RECTANGLE, GABLE, {})
    with pytest.raises(EditError, match=r'edge "e2" is a rake, but has a second slope; make it an eave'):
        edits.set_edge(plain, "wing-1", "e2", upper=BARN)
    with pytest.raises(EditError, match=r'edge "e1" is an eave, but is clipped as a gable; make it a rake'):
        edits.set_edge(plain, "wing-1", "e1", clip_height_in=40.0)
    for height in (0.0, -5.0, math.nan):
        with pytest.raises(EditError):
            edits.set_edge(plain, "wing-1", "e1", upper=Upper(height_in=height, slope_in_12=6.0))
        with pytest.raises(EditError):
            edits.set_edge(plain, "wing-1", "e2", clip_height_in=height)
    text = dump_job(drawn(RECTANGLE, GABLE, {"e1": BARN})).decode()
    with pytest.raises(JobError, match="second slope"):
        parse_job(text.replace('"kind": "eave"', '"kind": "rake"', 1).encode(), "by hand")
    with pytest.raises(JobError, match='id "e1-upper" stands twice'):
        parse_job(text.replace('"id": "e3"', '"id": "e1-upper"').encode(), "by hand")


def test_another_kind_takes_the_profile_away_that_it_can_not_have() -> None:
    job = drawn(RECTANGLE, GABLE, {"e1": BARN, "e2": {"clip_height_in": 40.0}})
    assert edits.set_edge(job, "wing-1", "e1", kind="rake").wing("wing-1").edges[0].upper is None
    assert edits.set_edge(job, "wing-1", "e1", kind="eave").wing("wing-1").edges[0].upper == BARN
    assert edits.set_edge(job, "wing-1", "e2", kind="eave").wing("wing-1").edges[1].clip_height_in is None
    assert edits.set_edge(job, "wing-1", "e2", kind="rake").wing("wing-1").edges[1].clip_height_in == 40.0


def test_openings_can_stand_on_upper_planes_and_over_clipped_gables() -> None:
    job = drawn(RECTANGLE, GABLE, {"e1": BARN, "e2": {"clip_height_in": 40.0}})
    place = {"x_in": 200.0, "y_in": 20.0, "width_in": 22.0, "length_in": 38.0}
    for plane in ("wing-1/e1", "wing-1/e1-upper", "wing-1/e2"):
        assert edits.add_opening(job, plane, **place)[0].openings[0].plane == plane
    for plane in ("wing-1/e4", "wing-1/e3-upper"):
        with pytest.raises(EditError):
            edits.add_opening(job, plane, **place)


# ---- what must hold --------------------------------------------------------------------------------------------------

slopes = st.sampled_from([4.0, 6.0, 12.0, 18.0, 24.0]) | st.floats(2.0, 30.0)
second = st.builds(Upper, height_in=st.floats(20.0, 120.0), slope_in_12=slopes)


@settings(max_examples=60, deadline=None)
@given(
    outline=st.sampled_from([RECTANGLE, L_SHAPE]),
    stretch=st.tuples(st.floats(0.6, 1.6), st.floats(0.6, 1.6)),
    profiles=st.lists(st.tuples(slopes, st.none() | second), min_size=6, max_size=6),
    overhang=st.floats(0.0, 24.0),
    fascia=st.sampled_from(["level", "equal_overhang"]),
)
def test_planes_tile_the_roof_whatever_slopes_they_have(outline, stretch, profiles, overhang, fascia) -> None:
    outline = [(x * stretch[0], y * stretch[1]) for x, y in outline]
    edges = {f"e{k + 1}": {"slope_in_12": s, "upper": upper} for k, (s, upper) in enumerate(profiles[: len(outline)])}
    job = drawn(outline, ["eave"] * len(outline), edges, eave_overhang_in=overhang, fascia=fascia)
    wing = built(job)
    assert wing.solved is not None
    shapes = [Polygon([corner[:2] for corner in plane.corners]) for plane in wing.planes]
    whole = sum(shape.area for shape in shapes)
    assert shapely.union_all(shapes, grid_size=1e-7).area == pytest.approx(whole, rel=1e-6)
    assert whole >= Polygon(outline).area * (1.0 - 1e-9)
    assert len({plane.id for plane in wing.planes}) == len({plane.name for plane in wing.planes}) == len(wing.planes)
    by_id = {plane.id: plane for plane in wing.planes}
    eave_of = {eave.edge: eave for eave in wing.solved.eaves}
    outside = dict(zip([edge.id for edge in wing.effective.edges], outline, strict=True))
    for plane, shape in zip(wing.planes, shapes, strict=True):
        assert plane.area_sqft * 144.0 == pytest.approx(shape.area * plane.stretch, rel=1e-9)
        eave = eave_of[plane.drawn]
        corner = outside[plane.drawn]
        past = (plane.origin[0] - corner[0]) * plane.uphill[0] + (plane.origin[1] - corner[1]) * plane.uphill[1]
        over_wall = plane.origin[2] - past * plane.tangent  # height of the plane over the building line
        if plane.upper:
            assert eave.break_in is not None
            assert eave.break_past_in is not None
            assert over_wall + eave.break_past_in * plane.tangent == pytest.approx(eave.break_in, abs=1e-4)
            assert min(z for *_, z in plane.corners) >= eave.break_in - 1e-4
        else:
            assert over_wall == pytest.approx(eave.plate_in + HAP, abs=1e-4)
            unbroken = eave.break_in is None or eave.upper_tangent == eave.tangent
            assert unbroken or top_of(plane) < eave.break_in + 1e-4
        for edge in plane.edges:
            if edge.neighbour is not None:
                other = by_id[edge.neighbour]
                assert any({e.start, e.end} == {edge.start, edge.end} and e.kind == edge.kind for e in other.edges)
                if other.upper and not plane.upper and other.drawn == plane.drawn:
                    assert edge.kind == "pitch_break"
