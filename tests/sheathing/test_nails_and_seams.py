"""Nailed lines and seams of whole planes."""

from __future__ import annotations

import dataclasses

import pytest

from workbench.findings import COMMON_PRACTICE
from workbench.framing.model import Framing
from workbench.job.model import Fastening, Sheathing
from workbench.roof.model import Roof
from workbench.rules.nailing import nailing_schedules
from workbench.sheathing.solve import plan_sheathing


def solve(build, roof, schedule="irc-2021", spacing=24.0, overhang=0.0, ridge=True, **more):
    frame = build.framing(roof.planes, spacing, overhang, ridge)
    return plan_sheathing(roof, frame, Sheathing(**more), (), Fastening(schedule=schedule))


def nails_of(plan, label, plane="main/front"):
    return [line for line in plan.nail_lines if (line.plane, line.piece) == (plane, label)]


# Arithmetic on the spacings: 9 nails on each end line, 5 or 9 on each inner rafter.
@pytest.mark.parametrize(
    ("schedule", "spacing", "nails"),
    [("common-6-12", 24.0, 33), ("irc-2021", 24.0, 45), ("common-6-12", 16.0, 43), ("irc-2021", 16.0, 63)],
)
def test_a_whole_sheet_inside_the_field(build, schedule, spacing, nails):
    plan = solve(build, build.gable(480.0, 192.375), schedule, spacing)
    sheets = plan.planes[0]
    inside = next(piece for piece in sheets.pieces if piece.row == 2 and piece.whole and piece.polygon[0][0] > 1.0)
    lines = nails_of(plan, inside.label)
    assert sum(line.count for line in lines) == nails
    assert [line.kind for line in lines].count("edge") == 2
    assert [line.kind for line in lines].count("field") == 96 / spacing - 1


def test_nails_stand_at_the_edge_distance_on_their_rafters(build):
    roof = build.gable(480.0, 192.375)
    frame = build.framing(roof.planes)
    plan = solve(build, roof)
    pieces = {(piece.plane, piece.label): piece for sheets in plan.planes for piece in sheets.pieces}
    for line in plan.nail_lines:
        xs = [x for x, _ in pieces[line.plane, line.piece].polygon]
        ys = [y for _, y in pieces[line.plane, line.piece].polygon]
        for x, y in (line.start, line.end):
            assert min(ys) + 0.375 - 1e-9 <= y <= max(ys) - 0.375 + 1e-9
            assert min(xs) + 0.375 - 1e-9 <= x <= max(xs) - 0.375 + 1e-9
        if line.start[0] == line.end[0]:
            # Within the thickness of a rafter, 1 1/2 in: half of it to either side of its centre.
            assert min(abs(line.start[0] - s) for s in frame.supports_of(line.plane)) <= 0.75
    assert {line.kind for line in plan.nail_lines} == {"edge", "field", "boundary"}


def test_a_line_holds_both_end_nails_and_keeps_the_spacing(build):
    plan = solve(build, build.hip(480.0, 336.0), "common-6-12")
    for line in plan.nail_lines:
        dx, dy = line.end[0] - line.start[0], line.end[1] - line.start[1]
        length = (dx * dx + dy * dy) ** 0.5
        assert line.count >= 1
        if line.count > 1:
            assert length / (line.count - 1) <= line.spacing_in + 1e-6
            assert line.count == 2 or length / (line.count - 2) > line.spacing_in - 1e-6
        else:
            assert length < 1e-6


def test_a_shared_rafter_takes_a_line_from_each_side(build):
    plan = solve(build, build.gable(480.0, 192.375))
    at_joint = [line for line in plan.nail_lines if line.plane == "main/front" and abs(line.start[0] - 96.0) < 1.0]
    edges = sorted({line.start[0] for line in at_joint if line.kind == "edge"})
    assert edges == pytest.approx([96.0 - 0.0625 - 0.375, 96.0 + 0.0625 + 0.375])
    # Rows 1 and 3 join there, rows 2 and 4 cross it.
    assert len([line for line in at_joint if line.kind == "edge"]) == 4
    assert len([line for line in at_joint if line.kind == "field"]) == 2


def test_rakes_and_ridges_are_boundaries(build):
    plan = solve(build, build.gable(480.0, 192.375))
    boundary = [line for line in plan.nail_lines if line.kind == "boundary" and line.plane == "main/front"]
    rakes = [line for line in boundary if line.start[0] == line.end[0]]
    ridge = [line for line in boundary if line.start[0] != line.end[0]]
    assert len(rakes) == 2 * 4
    assert {line.count for line in rakes} == {9}
    assert len(ridge) == len([piece for piece in plan.planes[0].pieces if piece.row == 4])
    assert {line.start[1] for line in ridge} == {192.375 - 0.375}
    without = solve(build, build.gable(480.0, 192.375), ridge=False)
    assert without.nail_counts["boundary"] < plan.nail_counts["boundary"]
    # A slot as wide as half the board leaves nothing to nail to.
    slotted = solve(build, build.gable(480.0, 192.375), ridge_slot_in=1.0)
    assert slotted.nail_counts["boundary"] == without.nail_counts["boundary"]


def test_gable_ends_under_an_overhang_are_nailed_at_their_own_spacing(build):
    roof = build.gable(504.0, 192.375)
    plan = solve(build, roof, "irc-2018", overhang=12.0)
    gable = [line for line in plan.nail_lines if line.kind == "gable_end"]
    assert {line.start[0] for line in gable} == {12.75, 504.0 - 12.75}
    assert {line.spacing_in for line in gable} == {6.0}
    assert solve(build, roof, "irc-2018").nail_counts["gable_end"] == 0, "flush rakes are boundaries"


def test_the_2018_edge_zone_nails_the_field_closer(build):
    # 2018 IRC Table R602.3(1) note f, from memory: 6 in within 48 in of edges and ridges.
    plan = solve(build, build.gable(480.0, 240.5), "irc-2018")
    sheets = plan.planes[0]
    spacings = {}
    for line in plan.nail_lines:
        if line.plane == sheets.plane and line.kind == "field":
            row = next(piece.row for piece in sheets.pieces if piece.label == line.piece)
            near_rake = min(line.start[0], 480.0 - line.start[0]) < 48.0
            spacings.setdefault((row, near_rake), set()).add(line.spacing_in)
    assert spacings[1, False] == spacings[5, False] == {6.0}
    assert spacings[3, False] == {12.0}
    assert spacings[3, True] == {6.0}


def test_hips_are_nailed_along_their_line(build):
    roof = build.hip(480.0, 336.0)
    plan = solve(build, roof)
    slanted = [
        line
        for line in plan.nail_lines
        if line.plane == "main/front" and line.start[0] != line.end[0] and line.start[1] != line.end[1]
    ]
    assert slanted
    assert {line.kind for line in slanted} == {"boundary"}
    for line in slanted:
        for x, y in (line.start, line.end):
            along = 168.0 * y / roof.planes[0].plane_length_in
            assert min(abs(x - along), abs(480.0 - along - x)) < 1e-6


def test_no_blocking_is_counted_that_the_frame_does_not_have(build):
    plan = solve(build, build.gable(480.0, 192.375))
    assert plan.nail_counts["blocking"] == 0
    (trace,) = [trace for trace in plan.traces if trace.name == "sheathing nails"]
    assert trace.value == sum(plan.nail_counts.values())
    assert "no framing" in trace.formula.replace("no line", "")


@pytest.mark.parametrize("schedule", [schedule.id for schedule in nailing_schedules()])
def test_every_schedule_nails_a_roof(build, schedule):
    plan = solve(build, build.gable(480.0, 192.375), schedule)
    assert sum(plan.nail_counts.values()) > 0


def test_an_unknown_schedule_is_said(build):
    plan = solve(build, build.gable(480.0, 192.375), "nobody")
    assert [finding.code for finding in plan.findings] == ["unknown-schedule"]
    assert plan.nail_counts == solve(build, build.gable(480.0, 192.375)).nail_counts


def test_seams_of_a_gable(build):
    roof = build.gable(480.0, 192.375)
    front, back = roof.planes
    ridge = {2: "main/back"}
    front = dataclasses.replace(
        front, edges=tuple(dataclasses.replace(e, neighbour=ridge.get(i)) for i, e in enumerate(front.edges))
    )
    back = dataclasses.replace(
        back,
        edges=tuple(
            dataclasses.replace(e, neighbour="main/front" if i == 2 else None) for i, e in enumerate(back.edges)
        ),
    )
    plan = solve(build, Roof((front, back)))
    totals = plan.seam_totals
    assert totals.ridge == pytest.approx(480.0), "one ridge, though it stands on both planes"
    assert totals.level == pytest.approx(2 * 3 * 480.0)
    # Rows 1 and 3 have four joints, rows 2 and 4 five; inner rows run from gap middle to gap middle.
    rows = [48.0625, 48.125, 48.125, 48.0625]
    assert totals.upslope == pytest.approx(2 * sum(h * n for h, n in zip(rows, (4, 5, 4, 5), strict=True)))
    assert (totals.hip, totals.valley, totals.wall) == (0.0, 0.0, 0.0)


def test_walls_hips_and_valleys_are_seams(build):
    plane = build.polygon(
        [(0, 0), (300, 0), (260, 100), (40, 100)], ["eave", "valley", "wall", "hip"], plane_id="main/front"
    )
    plan = plan_sheathing(Roof((plane,)), Framing((), ((plane.id, build.rafters(300.0)),)), Sheathing())
    side = (40.0**2 + 100.0**2) ** 0.5
    assert plan.seam_totals.wall == pytest.approx(220.0)
    assert plan.seam_totals.hip == pytest.approx(side)
    assert plan.seam_totals.valley == pytest.approx(side)


def test_sources_are_named(build):
    plan = solve(build, build.gable(480.0, 190.0), "irc-2021", spacing=20.0)
    assert all(finding.source == COMMON_PRACTICE for finding in plan.findings)
    assert any("from memory" in trace.source for trace in plan.traces)
