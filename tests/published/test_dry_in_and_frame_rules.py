"""Shipped figures of drying in, coverings and frame limits, written out again beside their sources.

Read in copies: IRC R905.2.8.5 (edge metal), R905.1.2 (ice barrier), R905.2.8.2 (valleys), R905.2.2 (shingle slope),
sidewall flashing of 4 x 4 in, R806.2 and R806.3 (air), WAC 246-359-250 (notch). From memory: the other
coverings, raised ties, panels' rake overhang, headroom.
"""

from __future__ import annotations

import pytest

from workbench.rules.coverings import covering, coverings
from workbench.rules.dry_in import dry_in_rules
from workbench.rules.frame_limits import frame_limits, tie_multiplier


def test_edge_metal() -> None:
    rules = dry_in_rules()
    figures = (
        rules.edge_metal_lap_in, rules.edge_metal_up_in, rules.edge_metal_down_in, rules.edge_metal_fasteners_in,
    )  # fmt: skip
    assert figures == (2.0, 2.0, 0.25, 12.0)
    assert "R905.2.8.5" in rules.edge_metal_source


def test_ice_barrier() -> None:
    rules = dry_in_rules()
    assert (rules.ice_inside_in, rules.ice_steep_from_in_12, rules.ice_steep_least_in) == (24.0, 8.0, 36.0)
    assert rules.ice_steep_editions == ("2018", "2021")


def test_valleys_and_flashing() -> None:
    rules = dry_in_rules()
    assert rules.valley_least_in == {"open_metal": 24.0, "open_roll": 36.0, "closed": 36.0}
    assert (rules.valley_under_in, rules.flashing_least_in) == (18.0, 4.0)


def test_air() -> None:
    rules = dry_in_rules()
    assert (rules.vent_upper_least, rules.vent_upper_most, rules.vent_gap_in) == (0.4, 0.5, 1.0)


@pytest.mark.parametrize(
    ("kind", "least", "double"),
    [
        ("asphalt_shingles", 2.0, 4.0), ("tile", 2.5, 4.0), ("metal_panels", 3.0, 0.0), ("standing_seam", 0.25, 0.0),
        ("metal_panels_sealed", 0.5, 0.0), ("metal_shingles", 3.0, 0.0), ("slate", 4.0, 0.0),
        ("wood_shingles", 3.0, 0.0), ("wood_shakes", 3.0, 0.0), ("roll_roofing", 1.0, 0.0),
    ],
)  # fmt: skip
def test_coverings(kind: str, least: float, double: float) -> None:
    found = covering(kind)
    assert (found.least_in_12, found.double_below_in_12) == (least, double)
    assert "from memory" in found.source or kind == "asphalt_shingles"


def test_every_covering_is_checked_here() -> None:
    assert len(coverings()) == 10
    with pytest.raises(KeyError):
        covering("thatch")


@pytest.mark.parametrize(
    ("share", "multiplier"), [(0.0, 1.0), (1 / 7.5, 1.0), (1 / 6, 0.9), (1 / 5, 0.83), (1 / 4, 0.76), (1 / 3, 0.67)]
)
def test_raised_ties(share: float, multiplier: float) -> None:
    row = tie_multiplier(share)
    assert row is not None and row.multiplier == multiplier


def test_limits() -> None:
    limits = frame_limits()
    assert tie_multiplier(0.34) is None
    assert (limits.least_bearing_in, limits.bare_panel_overhang_in, limits.headroom_in) == (1.5, 9.0, 84.0)
    assert limits.overhang_source == "common practice, no source"
