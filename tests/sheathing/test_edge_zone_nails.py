"""The strip along the roof's edges nailed closer where the job says so; lines counted by hand."""

from __future__ import annotations

from workbench.job.model import Fastening, Sheathing
from workbench.roof.model import Roof
from workbench.sheathing.solve import plan_sheathing


def nailed(build, **zone):
    plane = build.upright(480.0, 192.375)
    plan = plan_sheathing(
        Roof((plane,)), build.framing([plane]), Sheathing(), fastening=Fastening(schedule="common-6-12", **zone)
    )
    return plan.nail_lines


def test_a_strip_of_the_jobs_own_is_nailed_closer_and_the_rest_is_not(build):
    # Rows of 48: within 40 in of eave and ridge lie rows 1 and 4, within 40 in of a rake the first bay and a half.
    plain = {(line.piece, line.kind, line.start): line for line in nailed(build)}
    closer = {(line.piece, line.kind, line.start): line for line in nailed(build, zone_in=40.0, zone_spacing_in=4.0)}
    assert plain.keys() == closer.keys()
    for key, line in closer.items():
        x, inside = line.start[0], plain[key]
        row = int(line.piece[0])
        level = abs(line.start[1] - line.end[1]) < 1.0
        if level:
            continue
        if row in (1, 4) or x < 39.0 or x > 441.0:
            assert line.spacing_in == 4.0, line
            assert line.count >= inside.count
        elif 42.0 < x < 438.0:
            assert (line.spacing_in, line.count) == (inside.spacing_in, inside.count)


def test_a_strip_wider_than_the_edges_spacing_leaves_edges_as_they_are(build):
    edges = {line.spacing_in for line in nailed(build, zone_in=40.0, zone_spacing_in=8.0) if line.kind == "edge"}
    assert edges == {6.0}
    fields = {line.spacing_in for line in nailed(build, zone_in=40.0, zone_spacing_in=8.0) if line.kind == "field"}
    assert fields == {8.0, 12.0}


def test_a_schedules_own_strip_can_be_left_out(build):
    plane = build.upright(480.0, 192.375)
    roof, frame = Roof((plane,)), build.framing([plane])
    with_zone = plan_sheathing(roof, frame, Sheathing(), fastening=Fastening(schedule="irc-2018"))
    without = plan_sheathing(roof, frame, Sheathing(), fastening=Fastening(schedule="irc-2018", zone_in=0.0))
    assert sum(with_zone.nail_counts.values()) > sum(without.nail_counts.values())
