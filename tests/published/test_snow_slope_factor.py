"""Slope factors of snow against every row of the published table.

Sources stand in each row: ASCE 7-16 Fig. 7.4-1 (read in a transcription) and two published examples. Values for other
slopes, marked so, are arithmetic from the figure and no independent evidence.
"""

from __future__ import annotations

import csv
import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.rules.snow import SnowInput, exposure_factor, full_until_deg, slope_factor, sloped_snow

ROWS = list(csv.DictReader((Path(__file__).parent / "tables" / "snow_cs.csv").read_text().splitlines()))
POINTS = [row for row in ROWS if row["kind"] == "breakpoint"]
PUBLISHED = [row for row in ROWS if row["kind"] == "published value"]


def angle(rise: float) -> float:
    return math.degrees(math.atan2(rise, 12.0))


@pytest.mark.parametrize("row", POINTS, ids=lambda row: f"{row['Ct']} {row['surface']}")
def test_break_points(row: dict[str, str]) -> None:
    ct, slippery = float(row["Ct"]), row["surface"] == "slippery"
    full, none = float(row["cs_1_up_to_deg"]), float(row["cs_0_from_deg"])
    assert full_until_deg(ct, slippery=slippery) == full
    assert slope_factor(full, ct, slippery=slippery) == 1.0
    assert slope_factor(none, ct, slippery=slippery) == pytest.approx(0.0, abs=1e-12)
    assert slope_factor((full + none) / 2.0, ct, slippery=slippery) == pytest.approx(0.5)
    assert slope_factor(none + 5.0, ct, slippery=slippery) == 0.0


@pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: row["slope"])
def test_published_values(row: dict[str, str]) -> None:
    rise = float(row["slope"].split(":")[0])
    found = slope_factor(angle(rise), float(row["Ct"]), slippery=row["surface"] == "slippery")
    assert found == pytest.approx(float(row["Cs"]), abs=0.004)  # the second is printed to two places, from 26.6 degrees


def test_the_table_is_whole() -> None:
    assert len(POINTS) == 6 and len(PUBLISHED) == 2


@pytest.mark.parametrize(
    ("rise", "ct", "cs"),
    [(8, 1.0, 0.908), (10, 1.0, 0.755), (12, 1.0, 0.625), (18, 1.0, 0.342), (10, 1.1, 0.929), (12, 1.1, 0.769)],
)
def test_other_surfaces(rise: float, ct: float, cs: float) -> None:
    """Arithmetic from the figure, no independent evidence."""
    assert slope_factor(angle(rise), ct, slippery=False) == pytest.approx(cs, abs=0.0006)


def test_flat_load() -> None:
    """40 psf on the ground with all factors 1 is 28 psf on the roof: ASCE 7 Eq. 7.3-1, arithmetic."""
    asked = SnowInput(ground_psf=40.0, ce=1.0, ct=1.0)
    assert sloped_snow(asked, 6.0 / 12.0).flat_psf == pytest.approx(28.0)
    assert sloped_snow(asked, 6.0 / 12.0).sloped_psf == pytest.approx(28.0)


def test_low_slopes_keep_a_least_load() -> None:
    """Under 15 degrees not less than 20 psf times Is in ASCE 7-16, from memory."""
    asked = SnowInput(ground_psf=25.0, ce=0.9, ct=1.0)
    assert sloped_snow(asked, 3.0 / 12.0).sloped_psf == pytest.approx(20.0)
    assert sloped_snow(asked, 4.0 / 12.0).sloped_psf == pytest.approx(0.7 * 0.9 * 25.0)


def test_strength_level_snow_is_brought_down_for_allowable_stress() -> None:
    """0.7 S with the maps of ASCE 7-22 (2.4.1, read in a trade article); they have no importance factor."""
    asked = SnowInput(ground_psf=60.0, ce=1.0, ct=1.2, importance=1.2, edition="7-22")
    found = sloped_snow(asked, 6.0 / 12.0)
    assert found.sloped_psf == pytest.approx(0.7 * 1.2 * 60.0)
    assert found.design_psf == pytest.approx(0.7 * found.sloped_psf)
    older = sloped_snow(SnowInput(ground_psf=60.0, ce=1.0, ct=1.2, importance=1.2), 6.0 / 12.0)
    assert older.design_psf == pytest.approx(1.2 * 0.7 * 1.2 * 60.0)


def test_exposure() -> None:
    """ASCE 7 Table 7.3-1, from memory."""
    assert exposure_factor("B", "sheltered") == 1.2
    assert exposure_factor("C", "partially") == 1.0
    assert exposure_factor("D", "fully") == 0.8


@given(
    a=st.floats(0.0, 89.0), b=st.floats(0.0, 89.0), ct=st.floats(0.85, 1.3), slippery=st.booleans(),
    edition=st.sampled_from(["7-16", "7-22"]),
)  # fmt: skip
def test_steeper_never_holds_more(a: float, b: float, ct: float, slippery: bool, edition: str) -> None:
    low, high = sorted((a, b))
    first, second = (slope_factor(x, ct, slippery=slippery, edition=edition) for x in (low, high))
    assert 0.0 <= second <= first <= 1.0
    assert slope_factor(a, ct, slippery=True, edition=edition) <= slope_factor(a, ct, slippery=False, edition=edition)
