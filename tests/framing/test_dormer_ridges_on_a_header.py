"""A gable dormer whose ridge and valleys end against a header between its trimmers.

Worked example R3 of the US Navy's Builder 3&2 (NAVEDTRA 14044): dormer without side walls.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import STRtree
from shapely.geometry import Polygon

from workbench.framing.model import Member
from workbench.job import edits
from workbench.job.model import Heel, Hips, Job
from workbench.plan import Plan, solve

FRONT, SPAN = 60.0, 96.0
HEEL = Heel(given="hap", hap_in=6.0)


def solved(how: str = "header", span: float = SPAN, slope: float = 8.0, own: float = 8.0, walls: float = 0.0) -> Plan:
    """A dormer whose plates lie where the main roof passes its front wall, or its side walls' height above that."""
    main = [(0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0)]
    job, _ = edits.add_wing(Job(), main, ["eave", "rake"] * 2, slope_in_12=slope, plate_in=96.0, heel=HEEL)
    outline = [(180.0, FRONT), (180.0 + span, FRONT), (180.0 + span, 200.0), (180.0, 200.0)]
    plate = 96.0 + FRONT * slope / 12.0 + walls
    job, _ = edits.add_wing(
        job,
        outline,
        ["rake", "eave"] * 2,
        slope_in_12=own,
        plate_in=plate,
        heel=HEEL,
        hips=Hips(lower_ridge=how),
    )
    return solve(job, "preview")


def of_kind(plan: Plan, kind: str) -> list[Member]:
    return [member for member in plan.framing.members if member.kind == kind]


def ridge_length(plan: Plan) -> float:
    """The dormer's ridge, which runs along y."""
    ends = [p for m in of_kind(plan, "ridge_board") for p in m.placements if abs(p.start[0] - p.end[0]) < 1e-6]
    ys = [y for p in ends for y in (p.start[1], p.end[1])]
    return max(ys) - min(ys)


def footprints(plan: Plan) -> list[Polygon]:
    """Headers, and the rafters, jacks and boards that run straight up or across, from above."""
    shapes: list[Polygon] = []
    for member in plan.framing.members:
        if member.kind in ("header", "common_rafter", "ridge_board", "valley_jack"):
            half = member.thickness_in / 2.0
            for p in member.placements:
                (x0, y0), (x1, y1) = p.start[:2], p.end[:2]
                run = math.hypot(x1 - x0, y1 - y0)
                nx, ny = -(y1 - y0) / run * half, (x1 - x0) / run * half
                shapes.append(Polygon([(x0 + nx, y0 + ny), (x1 + nx, y1 + ny), (x1 - nx, y1 - ny), (x0 - nx, y0 - ny)]))
    return shapes


def test_r3_half_the_dormers_span_less_half_the_header() -> None:
    plan = solved()
    assert ridge_length(plan) == pytest.approx(SPAN / 2.0 - 1.5 / 2.0)
    headers = of_kind(plan, "header")
    # One board thick up to 4 ft, else two (IRC R802.9, from memory): two below and two above, between the trimmers.
    assert sum(member.count for member in headers) == 4
    assert {round(member.length_in, 6) for member in headers} == {SPAN}
    (valley,) = of_kind(plan, "valley_rafter")
    assert valley.count == 2
    # Both end in the corner between the ridge's face and the header's, which lies 0.75 in from either line.
    short = next(trace.value for trace in valley.traces if trace.name.startswith("shortening"))
    assert short == pytest.approx(0.75 * math.sqrt(2.0))
    # Between the lines' ends at the trimmer and at the corner: equal slopes, so 45° in plan, at 8 in 12.
    line = next(trace.value for trace in valley.traces if trace.name.startswith("valley line"))
    assert line == pytest.approx(SPAN / 2.0 * math.sqrt(2.0 + (8.0 / 12.0) ** 2), abs=0.01)
    assert (valley.cuts[-1].bevel_deg, valley.cuts[-1].other_bevel_deg) == pytest.approx((45.0, 45.0))


def test_rafters_above_end_on_the_header_and_jacks_stand_under_it() -> None:
    plan = solved()
    inside = [
        (member, p)
        for member in plan.framing.members
        for p in member.placements
        if p.plane == "wing-1/e1" and 181.0 < p.start[0] < 275.0 and abs(p.start[0] - p.end[0]) < 1e-6
    ]
    top, face = FRONT + SPAN / 2.0 + 0.75 + 1.5, FRONT + SPAN / 2.0 - 0.75
    above = [p.start[1] for member, p in inside if member.kind == "common_rafter" and p.start[1] > FRONT]
    under = [p.end[1] for member, p in inside if member.kind == "valley_jack"]
    assert above
    assert above == pytest.approx([top] * len(above))
    assert under
    assert under == pytest.approx([face] * len(under))
    assert {member.cuts[-1].name for member, _ in inside if member.kind == "valley_jack"} == {"upper plumb cut"}


@pytest.mark.parametrize("how", ["header", "long_valley"])
@pytest.mark.parametrize("walls", [0.0, 20.0])
def test_a_dormers_valleys_start_against_its_trimmers(how: str, walls: float) -> None:
    """With side walls or without: the trimmer's face is where the hole's side is, 45° to a valley of equal slopes."""
    plan = solved(how, walls=walls)
    assert "member-left-out" not in {finding.code for finding in plan.findings}
    made = of_kind(plan, "valley_rafter")
    assert sum(member.count for member in made) == 2
    for member in made:
        foot = member.cuts[0]
        assert foot.name == ("cheek cut at the foot" if walls else "double cheek cut at the foot")
        assert foot.bevel_deg == pytest.approx(45.0)
        for placement in member.placements:
            assert placement.start[1] == pytest.approx(FRONT + walls * 1.5)  # where main roof and plate are level


def test_a_dormers_long_valley_parts_the_rafters_it_crosses() -> None:
    """J2: between a short and a long valley a cripple's run is twice its way from where they meet (NAVEDTRA 14044)."""
    plan = solved("long_valley")
    apex = 180.0 + SPAN / 2.0
    found = [(member, p) for member in of_kind(plan, "cripple_jack") for p in member.placements]
    assert len(found) == 2
    for member, p in found:
        run = 2.0 * abs(p.start[0] - apex)
        # Both ends stand against valleys at 45°, half their 45° thickness short of the lines.
        assert p.end[1] - p.start[1] == pytest.approx(run - 2.0 * 0.75 * math.sqrt(2.0))
        assert member.count == 1
    headers = sum(member.count for member in of_kind(plan, "header"))
    assert headers == 2  # below the front wall, the dormer's sides still have their trimmers
    trimmers = [p.start[0] for m in of_kind(plan, "valley_jack") for p in m.placements if 276.0 < p.start[0] < 279.0]
    assert sorted(trimmers) == pytest.approx([276.75, 278.25])


def test_without_a_hole_in_the_main_roof_a_long_valley_carries_the_ridge() -> None:
    """An addition whose eaves meet the main roof's has no trimmers to hang a header between."""
    job, _ = edits.add_wing(Job(), [(0, 0), (480, 0), (480, 336), (0, 336)], ["eave", "rake"] * 2, slope_in_12=8.0)
    lengths = []
    for how in ("header", "long_valley"):
        outline = [(180.0, -100.0), (276.0, -100.0), (276.0, 150.0), (180.0, 150.0)]
        fields = {"slope_in_12": 8.0, "hips": Hips(lower_ridge=how)}
        plan = solve(edits.add_wing(job, outline, ["rake", "eave"] * 2, **fields)[0], "preview")
        lengths.append(sorted(member.length_in for member in of_kind(plan, "valley_rafter")))
    assert lengths[0] == pytest.approx(lengths[1])


@settings(max_examples=10, deadline=None)
@given(st.floats(50.0, 130.0), st.floats(5.0, 12.0), st.floats(5.0, 12.0), st.floats(0.0, 20.0))
def test_nothing_stands_in_a_header(span: float, slope: float, own: float, walls: float) -> None:
    plan = solved("header", span, slope, own, walls)
    assert "stage-failed" not in {finding.code for finding in plan.findings}
    rise = span / 2.0 * own / 12.0 + walls
    if FRONT + rise * 12.0 / slope > 150.0:
        return  # the dormer's ridge would come near the main one or over it
    assert ridge_length(plan) == pytest.approx(rise * 12.0 / slope - 0.75, abs=1e-6)
    shapes = footprints(plan)
    pairs = STRtree(shapes).query(shapes, predicate="intersects").T
    overlap = sum(shapes[i].intersection(shapes[k]).area for i, k in pairs if i < k)
    # A jack with cheeks is drawn square here, through its middle: up to half a thickness squared is not really there.
    assert overlap < 0.6 * sum(member.count for member in of_kind(plan, "valley_jack")) + 0.01
