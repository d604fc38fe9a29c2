"""The rafter table of the framing square.

Source of the rows: rules of the table as given in NAVEDTRA 14044, *Builder 3&2, Volume 2* (US Navy, public domain);
printed cells: common 13.89 at 7, 14.42 at 8, hip 18.76 at 8, 19.21 at 9, jack 19.23 at 8 and 16 in (NAVEDTRA 14044);
16.97 at 12 (Griffith, *Carpentry*); 17.69 at 13, 20.00 at 16 (US Army EN0069). The other cells are exact arithmetic to
two decimals.
"""

from __future__ import annotations

import csv
import math
from pathlib import Path

import pytest

from workbench.job import edits
from workbench.job.model import Job, Ridge
from workbench.plan import Plan, solve

TABLE = Path(__file__).parent / "tables" / "framing_square.csv"
ROWS = [{key: float(value) for key, value in row.items()} for row in csv.DictReader(TABLE.read_text().splitlines())]
ONE_FOOT = 12.0
TO_TWO_DECIMALS = 0.005 + 1e-9


def rectangle(width: float, depth: float) -> list[tuple[float, float]]:
    return [(0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)]


def roof(rise: float, kinds: list[str], width: float = 600.0, depth: float = 240.0) -> Plan:
    job, _ = edits.add_wing(Job(), rectangle(width, depth), kinds, slope_in_12=rise, ridge=Ridge(thickness_in=0.0))
    return solve(job)


def test_the_table_runs_from_2_to_18() -> None:
    assert [row["rise"] for row in ROWS] == list(range(2, 19))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"rise {row['rise']:g}")
def test_common_rafter_per_foot_of_run(row: dict[str, float]) -> None:
    plan = roof(row["rise"], ["eave", "rake", "eave", "rake"])
    common = next(m for m in plan.framing.members if m.kind == "common_rafter")
    assert common.length_in / (120.0 / ONE_FOOT) == pytest.approx(row["common_per_ft"], abs=TO_TWO_DECIMALS)
    plane = plan.roof.planes[0]
    assert plane.plane_length_in / (120.0 / ONE_FOOT) == pytest.approx(row["common_per_ft"], abs=TO_TWO_DECIMALS)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"rise {row['rise']:g}")
def test_hip_per_foot_of_common_run(row: dict[str, float]) -> None:
    plan = roof(row["rise"], ["eave"] * 4)
    hips = [edge for plane in plan.roof.planes for edge in plane.edges if edge.kind == "hip"]
    assert len(hips) == 8
    for hip in hips:
        assert hip.length_in / (120.0 / ONE_FOOT) == pytest.approx(row["hip_valley_per_ft"], abs=TO_TWO_DECIMALS)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"rise {row['rise']:g}")
def test_difference_of_jacks_as_the_plane_narrows(row: dict[str, float]) -> None:
    """The plane's own length over two jack positions 16 and 24 in apart differs by the table's column."""
    end = next(plane for plane in roof(row["rise"], ["eave"] * 4).roof.planes if plane.name.startswith("right"))
    half = end.width_in / 2.0
    length_at = lambda x: end.plane_length_in * (half - abs(x - half)) / half  # noqa: E731
    for spacing, column in ((16.0, "jack_16"), (24.0, "jack_24")):
        difference = length_at(spacing * 2) - length_at(spacing)
        assert difference == pytest.approx(row[column], abs=TO_TWO_DECIMALS)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"rise {row['rise']:g}")
def test_side_cuts_from_the_plane_angles(row: dict[str, float]) -> None:
    """Jack side cut 12 on the tongue and 144 / common on the blade; hip 12 and 12·16.97 / hip (NAVEDTRA 14044).

    Both follow from angles in the roof planes: the jack's from the hip line on the sheathing, the hip's from its own
    slope. Squares are stamped to a fraction, so the table's last digit is asked for here and no more.
    """
    front = next(plane for plane in roof(row["rise"], ["eave"] * 4).roof.planes if plane.name.startswith("front"))
    index = next(i for i, edge in enumerate(front.edges) if edge.kind == "hip")
    ring = front.polygon
    a, b = ring[index], ring[(index + 1) % len(ring)]
    # Angle between the hip and the rafters, in the plane: its tangent on a blade of 12 is the side cut.
    jack = 12.0 * abs(b[0] - a[0]) / abs(b[1] - a[1])
    assert jack == pytest.approx(row["side_cut_jack"], abs=TO_TWO_DECIMALS)
    hip = front.edges[index]
    run = math.hypot(hip.end[0] - hip.start[0], hip.end[1] - hip.start[1])
    assert 12.0 * run / hip.length_in == pytest.approx(row["side_cut_hip"], abs=TO_TWO_DECIMALS)
