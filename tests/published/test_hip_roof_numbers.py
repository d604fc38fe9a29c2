"""Hips, valleys and jacks against published numbers.

Sources: NAVEDTRA 14044, *Builder 3&2, Volume 2* (US Navy): hip and valley lengths, shortening at the ridge, drop and
backing, jack lengths, long and short valley rafters, ridges of additions. Griffith, *Carpentry*: hips at 12 in 12.
Published roof-geometry notes (GEOM in the project's reference): unequal pitches. The table of equal pitches is exact
arithmetic to three decimals; its angles agree with those notes.
"""

from __future__ import annotations

import csv
import math
from pathlib import Path

import pytest

from workbench.framing.model import Cut, Framing, Member
from workbench.framing.solve import frame_roof
from workbench.job import edits
from workbench.job.model import Heel, Hips, Job, Rafter, Ridge
from workbench.measure import Trace, Units
from workbench.roof.build import build_roof

TABLES = Path(__file__).parent / "tables"


def rows(name: str) -> list[dict[str, float]]:
    return [{k: float(v) for k, v in row.items()} for row in csv.DictReader((TABLES / name).read_text().splitlines())]


SQUARE = rows("framing_square.csv")
EQUAL = rows("equal_pitch_angles.csv")


def rectangle(width: float, depth: float) -> list[tuple[float, float]]:
    return [(0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)]


def solve(job: Job) -> Framing:
    return frame_roof(build_roof(job.wings, Units()).wings, Units())[0]


def roof(outline: list[tuple[float, float]], rise: float, **fields: object) -> Framing:
    return solve(edits.add_wing(Job(), outline, ["eave"] * len(outline), slope_in_12=rise, **fields)[0])


def two_slopes(rise: float, ends: float, **fields: object) -> Framing:
    """A hip roof whose long sides have one slope and whose ends have another."""
    job, wing = edits.add_wing(Job(), rectangle(600.0, 240.0), ["eave"] * 4, slope_in_12=rise, **fields)
    for edge in ("e2", "e4"):
        job = edits.set_edge(job, wing, edge, slope_in_12=ends)
    return solve(job)


def tee(depth: float, across: float, out: float) -> list[tuple[float, float]]:
    """A main building 600 long with an addition on its back, from x = 192 on."""
    return [
        (0.0, 0.0),
        (600.0, 0.0),
        (600.0, depth),
        (192.0 + across, depth),
        (192.0 + across, depth + out),
        (192.0, depth + out),
        (192.0, depth),
        (0.0, depth),
    ]


GABLED_TEE = ["eave", "eave", "eave", "eave", "rake", "eave", "eave", "eave"]


def marks(plan: Framing, kind: str) -> list[Member]:
    return [m for m in plan.members if m.kind == kind]


def the(plan: Framing, kind: str) -> Member:
    found = marks(plan, kind)
    assert len(found) == 1
    return found[0]


def trace(member: Member, start: str) -> Trace:
    return next(t for t in member.traces if t.name.startswith(start))


def cheek(member: Member) -> Cut:
    return member.cuts[-1]


# Framing square: what the table says of rafters, read off the rafters themselves.


@pytest.mark.parametrize("row", SQUARE, ids=lambda row: f"rise {row['rise']:g}")
def test_jacks_differ_by_the_squares_column(row: dict[str, float]) -> None:
    for spacing, column in ((16.0, "jack_16"), (24.0, "jack_24")):
        plan = roof(rectangle(480.0, 240.0), row["rise"], rafter=Rafter(spacing_in=spacing))
        lengths = sorted(m.length_in for m in marks(plan, "hip_jack"))
        steps = [b - a for a, b in zip(lengths, lengths[1:], strict=False)]
        assert len(steps) >= 3
        assert steps == pytest.approx([row[column]] * len(steps), abs=0.005 + 1e-9)
        assert trace(marks(plan, "hip_jack")[0], "common difference").value == pytest.approx(row[column], abs=0.005)


@pytest.mark.parametrize("row", SQUARE, ids=lambda row: f"rise {row['rise']:g}")
def test_side_cuts_of_jacks_and_hips(row: dict[str, float]) -> None:
    """Side cut of jacks and of hips; squares are stamped to a fraction, the table holds two decimals."""
    plan = roof(rectangle(480.0, 240.0), row["rise"])
    for jack in marks(plan, "hip_jack"):
        assert cheek(jack).side_in_12 == pytest.approx(row["side_cut_jack"], abs=0.005 + 1e-9)
        assert cheek(jack).bevel_deg == pytest.approx(45.0)
    hip = the(plan, "hip_rafter")
    assert cheek(hip).side_in_12 == pytest.approx(row["side_cut_hip"], abs=0.005 + 1e-9)
    assert cheek(hip).other_side_in_12 == pytest.approx(row["side_cut_hip"], abs=0.005 + 1e-9)


@pytest.mark.parametrize("row", SQUARE, ids=lambda row: f"rise {row['rise']:g}")
def test_hip_rafter_per_foot_of_common_run(row: dict[str, float]) -> None:
    hip = the(roof(rectangle(480.0, 240.0), row["rise"]), "hip_rafter")
    assert trace(hip, "hip line").value / 10.0 == pytest.approx(row["hip_valley_per_ft"], abs=0.005 + 1e-9)


def test_printed_side_cuts() -> None:
    """J3: 12 and 10 at 8 in 12 (NAVEDTRA 14044), to a fraction; 12 and 15 at rise 9, 17 and 19 1/4 (Hodgson)."""
    plan = roof(rectangle(480.0, 240.0), 8.0)
    assert cheek(marks(plan, "hip_jack")[0]).side_in_12 == pytest.approx(10.0, abs=1 / 8)
    nine = roof(rectangle(480.0, 240.0), 9.0)
    # "12 and 15, cut on 15" and "side cut on 12" say the same angle: 12 · 12 / 15.
    assert cheek(marks(nine, "hip_jack")[0]).side_in_12 == pytest.approx(12.0 * 12.0 / 15.0, abs=1e-9)
    assert cheek(the(nine, "hip_rafter")).side_in_12 == pytest.approx(12.0 * 17.0 / 19.25, abs=0.02)


# Worked examples.


def test_h1_hip_length() -> None:
    """H1: 8 in 12, common run 15 ft: hip run 21.21 ft, 18.76 per 16.97, length 23.45 ft (NAVEDTRA 14044)."""
    hip = the(roof(rectangle(600.0, 360.0), 8.0), "hip_rafter")
    length = trace(hip, "hip line").value
    assert length / 12.0 == pytest.approx(23.45, abs=0.005)
    assert length / math.hypot(1.0, math.tan(math.radians(hip.angle_deg))) / 12.0 == pytest.approx(21.21, abs=0.005)


def test_h2_hip_at_12_in_12() -> None:
    """H2: common run 12.5 ft: 12.5 x 20.78 in = 21 ft 7 3/4 in; side cut 17 and 20.78 (Griffith)."""
    hip = the(roof(rectangle(600.0, 300.0), 12.0), "hip_rafter")
    assert trace(hip, "hip line").value == pytest.approx(21 * 12 + 7.75, abs=0.1)
    assert cheek(hip).side_in_12 == pytest.approx(12.0 * 17.0 / 20.78, abs=0.02)


@pytest.mark.parametrize("head", ["commons", "ridge"])
def test_h4_shortening_at_the_ridge(head: str) -> None:
    """H4: half the 45° thickness of the ridge, or of the common it is framed to (NAVEDTRA 14044): 1 1/2 in → 1.061."""
    hip = the(roof(rectangle(480.0, 240.0), 8.0, hips=Hips(head=head)), "hip_rafter")
    stretch = math.hypot(1.0, math.tan(math.radians(hip.angle_deg)))
    for placement in hip.placements:
        run = math.dist(placement.start[:2], placement.end[:2])
        assert 120.0 * math.sqrt(2.0) - run == pytest.approx(1.061, abs=0.0005)
    long_point = 0.0 if head == "commons" else 0.75  # the cheek's long point stands half a thickness further on
    assert hip.length_in / stretch == pytest.approx(120.0 * math.sqrt(2.0) - 1.0607 + long_point, abs=0.0005)


def test_h5_the_same_in_metric_stock() -> None:
    """H5: 38 mm stock shortens by 26.87 mm, used as 27 mm (seen in a copy)."""
    stock = 38.0 / 25.4
    plan = roof(
        rectangle(480.0, 240.0),
        8.0,
        rafter=Rafter(thickness_in=stock),
        ridge=Ridge(thickness_in=stock),
        hips=Hips(thickness_in=stock),
    )
    value = trace(the(plan, "hip_rafter"), "shortening").value
    assert value * 25.4 == pytest.approx(26.87, abs=0.005)


def test_h6_drop_of_the_hip() -> None:
    """H6: 8 in 12, 1 1/2 in stock: 0.320 in square to the edge, 0.354 in plumb (NAVEDTRA 14044's rule)."""
    hip = the(roof(rectangle(480.0, 240.0), 8.0), "hip_rafter")
    assert hip.drop_in == pytest.approx(0.354, abs=0.0005)
    assert hip.drop_in * math.cos(math.radians(hip.angle_deg)) == pytest.approx(0.320, abs=0.0005)


def test_j1_jack_lengths() -> None:
    """J1: 16 in on centre, 8 in 12: shortest jack and common difference 19.23, nth jack n x 19.23 (NAVEDTRA 14044).

    The line length runs to the middle of the hip; the hip takes half its 45° thickness off it.
    """
    plan = roof(rectangle(480.0, 240.0), 8.0, rafter=Rafter(spacing_in=16.0))
    stretch = math.hypot(1.0, 8.0 / 12.0)
    for n, jack in enumerate(sorted(marks(plan, "hip_jack"), key=lambda m: m.length_in), start=1):
        line = n * 19.23
        on_centre = line - 0.75 * math.sqrt(2.0) * stretch
        place = jack.placements[0]
        assert math.dist(place.start, place.end) == pytest.approx(on_centre, abs=0.01 * n)


def test_j2_valley_jacks_and_cripples() -> None:
    """J2: a valley jack's run equals the matching hip jack's; a cripple between valleys has twice the spacing's run."""
    plan = solve(edits.add_wing(Job(), tee(360.0, 192.0, 240.0), ["eave"] * 8, slope_in_12=8.0)[0])
    stretch = math.hypot(1.0, 8.0 / 12.0)
    cripples = marks(plan, "cripple_jack")
    assert cripples
    for cripple in cripples:
        run = [math.dist(p.start[:2], p.end[:2]) + 2.0 * 0.75 * math.sqrt(2.0) for p in cripple.placements]
        assert all(r / 48.0 == pytest.approx(round(r / 48.0), abs=1e-6) for r in run)  # twice 24 in each
        assert trace(cripple, "common difference").value == pytest.approx(48.0 * stretch)


def test_r1_ridge_of_an_equal_addition_hung_on_the_main_one() -> None:
    """R1: the addition's plate and half the building's span; the main ridge takes half its thickness off it."""
    plan = solve(edits.add_wing(Job(), tee(168.0, 168.0, 120.0), GABLED_TEE, slope_in_12=8.0)[0])
    assert any(m.length_in == pytest.approx(120.0 + 84.0 - 0.75) for m in marks(plan, "ridge_board"))


def test_r2_and_v2_long_and_short_valley() -> None:
    """R2: plate and half the addition's span less half the 45° thickness of the long valley.

    V2: the long valley uses the main half span and has a side cut, the short one the addition's half span and is cut
    square to it (NAVEDTRA 14044).
    """
    plan = solve(edits.add_wing(Job(), tee(240.0, 168.0, 120.0), GABLED_TEE, slope_in_12=8.0)[0])
    expected = 120.0 + 84.0 - 0.75 * math.sqrt(2.0)
    assert any(m.length_in == pytest.approx(expected) for m in marks(plan, "ridge_board"))
    long, short = sorted(marks(plan, "valley_rafter"), key=lambda m: -m.length_in)
    assert trace(long, "valley line").value == pytest.approx(10.0 * 18.76, abs=0.05)
    assert trace(short, "valley line").value == pytest.approx(7.0 * 18.76, abs=0.05)
    assert cheek(long).bevel_deg == pytest.approx(45.0)
    assert cheek(long).other_bevel_deg is None
    assert cheek(short).bevel_deg == 0.0


def test_ridge_lengths_of_a_hip_roof() -> None:
    """Theoretical length and half a common each end; or half the ridge and half the hip's 45° thickness each end.

    Common practice; both read in a copy of an open carpentry textbook, the former in NAVEDTRA 14044 too (from memory).
    """
    commons = the(roof(rectangle(432.0, 288.0), 6.0), "ridge_board")
    assert commons.length_in == pytest.approx(432.0 - 288.0 + 1.5)
    ridge = the(roof(rectangle(432.0, 288.0), 6.0, hips=Hips(head="ridge")), "ridge_board")
    assert ridge.length_in == pytest.approx(144.0 + 2.0 * (0.75 + 0.75 * math.sqrt(2.0)))


# Angles.


@pytest.mark.parametrize("row", EQUAL, ids=lambda row: f"rise {row['rise']:g}")
def test_equal_pitch_angles(row: dict[str, float]) -> None:
    three = 0.0005 + 1e-9
    plan = roof(rectangle(480.0, 240.0), row["rise"], hips=Hips(top="backed"))
    hip, jack = the(plan, "hip_rafter"), marks(plan, "hip_jack")[0]
    assert jack.angle_deg == pytest.approx(row["pitch_deg"], abs=three)
    assert hip.angle_deg == pytest.approx(row["hip_valley_pitch_deg"], abs=three)
    assert hip.backing_deg == pytest.approx([row["backing_deg"]] * 2, abs=three)
    assert trace(hip, "angle between").value == pytest.approx(row["dihedral_deg"], abs=three)
    side = cheek(jack).side_in_12
    assert side is not None
    assert math.degrees(math.atan(side / 12.0)) == pytest.approx(row["jack_side_cut_deg"], abs=three)
    assert 90.0 - math.degrees(math.atan(side / 12.0)) == pytest.approx(row["sheathing_angle_deg"], abs=three)
    dropped = the(roof(rectangle(480.0, 240.0), row["rise"]), "hip_rafter")
    assert dropped.drop_in == pytest.approx(row["hip_drop_plumb_1p5in_in"], abs=three)
    assert hip.angle_deg == pytest.approx(math.degrees(math.acos(1.0 / row["hip_length_per_hip_run"])), abs=0.01)
    # A valley between the same planes: a sleeper's rip bevel is 90° − twice the backing.
    assert trace(hip, "angle between").value - 90.0 == pytest.approx(row["valley_sleeper_blade_bevel_deg"], abs=three)


def test_7_and_12_in_12() -> None:
    """Main 7 in 12, ends 12 in 12: 30.25644°, plan angle 59.74356°, sheathing angle 63.25779° (GEOM)."""
    plan = two_slopes(7.0, 12.0)
    hip = the(plan, "hip_rafter")
    main = next(m for m in marks(plan, "hip_jack") if m.angle_deg < 31.0)
    assert main.angle_deg == pytest.approx(30.25644, abs=5e-6)
    assert cheek(main).bevel_deg == pytest.approx(59.74356, abs=5e-6)
    angles = sorted((trace(hip, "plan angle").value, 90.0 - trace(hip, "plan angle").value))
    assert angles[1] == pytest.approx(59.74356, abs=5e-6)
    side = cheek(main).side_in_12
    assert side is not None
    assert 90.0 - math.degrees(math.atan(side / 12.0)) == pytest.approx(63.25779, abs=5e-6)


def test_45_degrees_and_19_83593() -> None:
    """45° main, 19.83593° shed: D 19.83593° and 70.16407°, backing 41.69405° and 6.61190° (GEOM)."""
    shed = 12.0 * math.tan(math.radians(19.83593))
    plan = two_slopes(12.0, shed, hips=Hips(top="backed"))
    hip = the(plan, "hip_rafter")
    assert sorted(hip.backing_deg) == pytest.approx([6.61190, 41.69405], abs=1.1e-5)  # one digit of rounding in print
    angle = trace(hip, "plan angle").value
    assert sorted((angle, 90.0 - angle)) == pytest.approx([19.83593, 70.16407], abs=1e-5)


def test_10_and_7_in_12() -> None:
    """10 and 7 in 12: hip slope 25.54245° (GEOM); backing 31.63° and 16.80°."""
    hip = the(two_slopes(10.0, 7.0, hips=Hips(top="backed")), "hip_rafter")
    assert hip.angle_deg == pytest.approx(25.54245, abs=5e-6)
    assert sorted(hip.backing_deg) == pytest.approx([16.80, 31.63], abs=0.005)


def test_4_in_12() -> None:
    """4 and 4 in 12: hip 13.26268°, backing 12.92097°, sheathing 46.50848°, sleeper bevel 64.15807° (in a copy)."""
    plan = roof(rectangle(480.0, 240.0), 4.0, hips=Hips(top="backed"), heel=Heel(given="seat", seat_in=2.0))
    hip = the(plan, "hip_rafter")
    assert hip.angle_deg == pytest.approx(13.26268, abs=5e-6)
    assert hip.backing_deg == pytest.approx([12.92097] * 2, abs=5e-6)
    side = cheek(marks(plan, "hip_jack")[0]).side_in_12
    assert side is not None
    assert 90.0 - math.degrees(math.atan(side / 12.0)) == pytest.approx(46.50848, abs=5e-6)
    assert 90.0 - sum(hip.backing_deg) == pytest.approx(64.15807, abs=5e-6)


def test_6_in_12_backing() -> None:
    """6 in 12: the backing's slope is 1/3, 18.435° (seen in a copy)."""
    hip = the(roof(rectangle(480.0, 240.0), 6.0, hips=Hips(top="backed")), "hip_rafter")
    assert [math.tan(math.radians(a)) for a in hip.backing_deg] == pytest.approx([1.0 / 3.0] * 2)
