"""Openings, roofs of several wings and roofs framed over others: who is cut by what. Source: geometry, else as said."""

from __future__ import annotations

import math

import pytest

from workbench.framing.group import sheathing_thickness
from workbench.framing.model import Framing, Member
from workbench.framing.solve import frame_roof
from workbench.job import edits
from workbench.job.model import Job, Opening
from workbench.measure import Units
from workbench.roof.build import build_roof

GABLE = ["eave", "rake", "eave", "rake"]
ACROSS = ["rake", "eave", "rake", "eave"]
RECTANGLE = [(0.0, 0.0), (480.0, 0.0), (480.0, 240.0), (0.0, 240.0)]


def framed(job: Job) -> tuple[Framing, list[str]]:
    framing, findings = frame_roof(build_roof(job.wings, Units(), job.openings).wings, Units())
    return framing, [finding.code for finding in findings]


def marks(framing: Framing, kind: str) -> list[Member]:
    return [m for m in framing.members if m.kind == kind]


def skylight(width: float) -> Framing:
    job, _ = edits.add_wing(Job(), RECTANGLE, GABLE, slope_in_12=6.0)
    hole = Opening(id="s1", plane="wing-1/e1", x_in=100.0, y_in=50.0, width_in=width, length_in=40.0)
    return framed(edits.set_job(job, openings=(hole,)))[0]


def test_a_skylight_has_headers_and_trimmers() -> None:
    framing = skylight(30.0)
    (header,) = marks(framing, "header")
    assert (header.count, header.length_in) == (2, pytest.approx(30.0))
    xs = framing.supports_of("wing-1/e1")
    assert 100.0 - 0.75 in [pytest.approx(x) for x in xs]  # a trimmer's face is flush with the opening
    assert 130.0 + 0.75 in [pytest.approx(x) for x in xs]
    assert 96.0 in [pytest.approx(x) for x in xs]
    # The rafter at 120 is cut at the headers, whose boards take their thickness off it.
    below = 50.0 / math.sqrt(1.25) - 1.5
    cut_off = [m for m in marks(framing, "common_rafter") if m.cuts[-1].name == "upper plumb cut"]
    short = min(cut_off, key=lambda m: m.length_in)
    assert short.length_in == pytest.approx(below * math.sqrt(1.25))


def test_a_wide_opening_doubles_its_headers_and_trimmers() -> None:
    """Over 4 ft two boards each (IRC R802.9, from memory)."""
    framing = skylight(60.0)
    (header,) = marks(framing, "header")
    assert header.count == 4
    xs = framing.supports_of("wing-1/e1")
    for x in (100.0 - 0.75, 100.0 - 2.25, 160.0 + 0.75, 160.0 + 2.25):
        assert any(abs(x - other) < 1e-6 for other in xs)


def test_a_chimney_through_the_ridge_has_headers_and_trimmers_on_both_slopes() -> None:
    """Its sides lie on two lines of the layout: rafters there give way to trimmers beside it, which carry the ridge."""
    job, _ = edits.add_wing(Job(), RECTANGLE, GABLE, slope_in_12=6.0)
    up = 120.0 * math.sqrt(1.25)
    hole = Opening(
        id="c1", plane="wing-1/e1", x_in=160.0, y_in=up - 20.0, width_in=32.0, length_in=40.0, kind="chimney"
    )
    framing, codes = framed(edits.set_job(job, openings=(hole,)))
    assert "member-left-out" not in codes
    assert [(m.count, m.length_in) for m in marks(framing, "header")] == [(2, pytest.approx(32.0))]
    for plane, sides in (("wing-1/e1", (160.0, 192.0)), ("wing-1/e3", (480.0 - 192.0, 480.0 - 160.0))):
        near = [x for x in framing.supports_of(plane) if sides[0] - 8.0 < x < sides[1] + 8.0]
        assert (near[0], near[-1]) == (pytest.approx(sides[0] - 0.75), pytest.approx(sides[1] + 0.75))
        assert all(sides[0] + 0.75 < x < sides[1] - 0.75 for x in near[1:-1])  # what ends on the headers
    ends = sorted(x for m in marks(framing, "ridge_board") for p in m.placements for x in (p.start[0], p.end[0]))
    assert any(abs(x - 160.0) < 1e-6 for x in ends)
    assert any(abs(x - 192.0) < 1e-6 for x in ends)


def addition(joins: str, to: float) -> Job:
    job, _ = edits.add_wing(Job(), RECTANGLE, GABLE, slope_in_12=6.0, eave_overhang_in=16.0)
    outline = [(140.0, to), (340.0, to), (340.0, 420.0), (140.0, 420.0)]
    return edits.add_wing(job, outline, ACROSS, slope_in_12=6.0, eave_overhang_in=16.0, joins=joins)[0]


def test_wings_that_meet_share_framed_valleys() -> None:
    framing, codes = framed(addition("framed", 60.0))
    assert sum(m.count for m in marks(framing, "valley_rafter")) == 2
    assert not marks(framing, "sleeper")
    assert "member-left-out" not in codes


def test_the_same_roof_in_one_outline_or_in_two_has_the_same_valley_jacks() -> None:
    out = [(340.0, 240.0), (340.0, 420.0), (140.0, 420.0), (140.0, 240.0)]
    one = [*RECTANGLE[:3], *out, RECTANGLE[3]]
    kinds = ["eave", "rake", "eave", "eave", "rake", "eave", "eave", "rake"]
    single, _ = framed(edits.add_wing(Job(), one, kinds, slope_in_12=6.0, eave_overhang_in=16.0)[0])
    double, _ = framed(addition("framed", 60.0))
    for framing in (single, double):
        short, long = sorted(marks(framing, "valley_rafter"), key=lambda m: m.length_in)
        stretch = math.hypot(1.0, 6.0 / 12.0 / math.sqrt(2.0))
        # Short valley: the addition's half span and the overhang at 45°, less half the long one's thickness at the
        # head; at the tail its two long points reach half its own thickness past the inside corner.
        assert short.length_in == pytest.approx((116.0 * math.sqrt(2.0) - 0.75 + 0.75) * stretch, abs=1e-6)
        assert long.length_in > short.length_in


def test_an_overframed_wing_stands_on_sleepers() -> None:
    """Rip bevel 90° − both backings: at 6 and 6 in 12 36.870° under 90° (published sleeper rule, seen in a copy)."""
    framing, _ = framed(addition("overframed", 60.0))
    assert not marks(framing, "valley_rafter")
    (sleeper,) = marks(framing, "sleeper")
    assert (sleeper.left, sleeper.right) == (1, 1)
    assert sleeper.cuts[2].bevel_deg == pytest.approx(53.130, abs=0.0005)  # equal_pitch_angles.csv at 6
    assert 90.0 - sleeper.cuts[0].angle_deg == pytest.approx(48.190, abs=0.0005)  # its sheathing angle
    for jack in marks(framing, "valley_jack"):
        # On a roof that runs square to it a jack has a level cut, bevelled by that roof's slope.
        assert jack.cuts[0].angle_deg == pytest.approx(90.0 - jack.angle_deg)
        assert jack.cuts[0].bevel_deg == pytest.approx(math.degrees(math.atan(0.5)))


def test_wings_apart_are_framed_apart() -> None:
    job, _ = edits.add_wing(Job(), RECTANGLE, GABLE)
    alone, _ = framed(job)
    job, _ = edits.add_wing(job, [(x + 900.0, y) for x, y in RECTANGLE], GABLE)
    both, _ = framed(job)
    assert [m.mark for m in both.members] == [m.mark for m in alone.members]
    assert [m.count for m in both.members] == [2 * m.count for m in alone.members]


@pytest.mark.parametrize(
    ("category", "inches"),
    [("7/16", 0.4375), ("15/32", 0.46875), ("1 1/8", 1.125), ('3/4"', 0.75), ("thick", 0.4375), ("1/0", 0.4375)],
)
def test_thickness_of_a_panel(category: str, inches: float) -> None:
    assert sheathing_thickness(category) == pytest.approx(inches)


def test_thicker_sheathing_lifts_the_jacks_of_an_overframed_roof() -> None:
    roof = build_roof(addition("overframed", 60.0).wings, Units())
    thin, _ = frame_roof(roof.wings, Units(), sheathing_in=0.5)
    thick, _ = frame_roof(roof.wings, Units(), sheathing_in=1.5)
    for a, b in zip(marks(thin, "valley_jack"), marks(thick, "valley_jack"), strict=True):
        # On a roof that runs square to it: an inch of plumb rise over the slope of the jack, along its edge.
        plumb = math.sqrt(1.25)
        assert a.length_in - b.length_in == pytest.approx(plumb / 0.5 * math.sqrt(1.25))
