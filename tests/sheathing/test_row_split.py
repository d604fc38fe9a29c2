"""Rows up the slope: the trade's own worked figures, and what every split must keep whatever the length."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.errors import BadInput
from workbench.findings import COMMON_PRACTICE
from workbench.sheathing.rows import split_rows

LENGTHS = st.one_of(
    st.floats(min_value=1.0, max_value=900.0),
    st.integers(min_value=16, max_value=900 * 16).map(lambda sixteenths: sixteenths / 16.0),
)
GAPS = st.sampled_from([0.0, 0.0625, 0.125, 0.25])
LEASTS = st.sampled_from([12.0, 16.0, 20.0, 24.0])
RIPS = st.sampled_from(["bottom", "top", "both"])
SPLITS = st.sampled_from(["fewest", "halves", "least"])


def widths(length_in, **options):
    return [row.width_in for row in split_rows(length_in, **options).rows]


# Common practice, no source: 78 in left is 48 + 30; 62 in left is not 48 + 14 but 24 + 38, or 31 + 31.
def test_seventy_eight_left_is_a_full_row_and_a_rip():
    split = split_rows(78.0, gap_in=0.0)
    assert [row.width_in for row in split.rows] == [30.0, 48.0]
    assert split.sheets_per_column == 2.0


def test_sixty_two_left_is_shared_by_two_rips():
    least = split_rows(62.0, gap_in=0.0)
    halves = split_rows(62.0, gap_in=0.0, split="halves")
    assert [row.width_in for row in least.rows] == [24.0, 38.0]
    assert [row.width_in for row in halves.rows] == [31.0, 31.0]
    # Two 24 in rips come out of one sheet, so the first buys half a sheet less a column.
    assert least.sheets_per_column == 1.5
    assert halves.sheets_per_column == 2.0


def test_a_half_rip_costs_a_sheet_where_the_kerf_is_counted():
    split = split_rows(62.0, gap_in=0.0, halves_nominal=False)
    assert split.sheets_per_column == 2.0
    assert split.chosen.split == "halves", "equal sheets: one saw setting wins"


def test_snap_lines_are_running_sums_of_widths_and_gaps():
    split = split_rows(161.0)
    assert [row.width_in for row in split.rows] == pytest.approx([24.0, 40.625, 48.0, 48.0])
    assert [row.snap_in for row in split.rows] == pytest.approx([24.0, 64.75, 112.875, 161.0])


def test_the_full_row_is_at_the_top_or_at_the_bottom_as_asked():
    assert widths(126.0, gap_in=0.0, rip="bottom") == [30.0, 48.0, 48.0]
    assert widths(126.0, gap_in=0.0, rip="top") == [48.0, 48.0, 30.0]
    assert widths(110.0, gap_in=0.0, rip="bottom") == [24.0, 38.0, 48.0]
    assert widths(110.0, gap_in=0.0, rip="top") == [48.0, 38.0, 24.0]
    assert widths(110.0, gap_in=0.0, rip="both") == [24.0, 48.0, 38.0]


def test_whole_rows_leave_no_rip():
    assert widths(192.0, gap_in=0.0) == [48.0] * 4
    assert widths(192.375, gap_in=0.125) == [48.0] * 4


def test_a_leftover_no_wider_than_a_gap_opens_the_gaps():
    split = split_rows(192.45, gap_in=0.125)
    assert [row.width_in for row in split.rows] == [48.0] * 4
    assert split.gap_in == pytest.approx(0.15)
    assert split.rows[-1].snap_in == pytest.approx(192.45)
    assert any("gaps open" in note for note in split.notes)


def test_a_single_row_stays_short_by_less_than_a_gap():
    split = split_rows(48.05)
    assert [row.width_in for row in split.rows] == [48.0]
    assert any("short of the top" in note for note in split.notes)


def test_less_than_the_least_width_is_one_rip_with_a_finding():
    split = split_rows(20.0)
    assert [row.width_in for row in split.rows] == [20.0]
    (finding,) = split.findings
    assert (finding.code, finding.severity, finding.source) == ("row-too-narrow", "error", COMMON_PRACTICE)
    assert not split_rows(24.0).findings


@pytest.mark.parametrize(
    ("length_in", "options", "word"),
    [
        (0.0, {}, "length"),
        (math.nan, {}, "length"),
        (1e9, {}, "unit"),
        (100.0, {"panel_in": 0.0}, "panel"),
        (100.0, {"least_in": 25.0}, "half"),
        (100.0, {"gap_in": -0.1}, "gap"),
        (100.0, {"kerf_in": 30.0}, "kerf"),
    ],
)
def test_a_measure_that_cant_be_used_is_named(length_in, options, word):
    with pytest.raises(BadInput, match=word):
        split_rows(length_in, **options)


@given(length=LENGTHS, gap=GAPS, least=LEASTS, rip=RIPS, rule=SPLITS)
def test_rows_fill_the_length_with_no_row_too_narrow_or_too_wide(length, gap, least, rip, rule):
    split = split_rows(length, gap_in=gap, least_in=least, rip=rip, split=rule)
    found = [row.width_in for row in split.rows]
    short = length - math.fsum(found) - (len(found) - 1) * split.gap_in
    assert all(width <= 48.0 + 1e-9 for width in found)
    if len(found) > 1:
        assert abs(short) < 2e-6
        assert min(found) >= least - 2e-6
    else:
        assert -1e-9 < short <= gap + 2e-6
        assert (length < least - 1e-6) == bool(split.findings)
    # Only a leftover smaller than one gap may open the gaps.
    assert 0.0 <= (split.gap_in - gap) * (len(found) - 1) <= gap + 2e-6


@given(length=LENGTHS, gap=GAPS, least=LEASTS, rule=SPLITS)
def test_no_fewer_rows_could_do_it(length, gap, least, rule):
    rows = split_rows(length, gap_in=gap, least_in=least, split=rule).rows
    fewer = len(rows) - 1
    # One row less, every row a whole panel and every gap kept, must fall short.
    assert fewer == 0 or fewer * 48.0 + (fewer - 1) * gap < length + 1e-6


@given(length=LENGTHS, gap=GAPS, least=LEASTS, rule=SPLITS)
def test_where_rips_go_changes_only_the_order(length, gap, least, rule):
    orders = [widths(length, gap_in=gap, least_in=least, split=rule, rip=rip) for rip in ("bottom", "top", "both")]
    assert sorted(orders[0]) == sorted(orders[1]) == sorted(orders[2])
    assert orders[0] == orders[1][::-1]


@given(length=LENGTHS, gap=GAPS, least=LEASTS, nominal=st.booleans())
def test_the_fewest_split_buys_no_more_than_any_option(length, gap, least, nominal):
    split = split_rows(length, gap_in=gap, least_in=least, halves_nominal=nominal)
    assert split.sheets_per_column == min(option.sheets_per_column for option in split.options)


@given(length=LENGTHS, gap=GAPS, least=LEASTS, rip=RIPS, rule=SPLITS)
def test_snaps_rise_by_gap_and_width(length, gap, least, rip, rule):
    split = split_rows(length, gap_in=gap, least_in=least, rip=rip, split=rule)
    below = -split.gap_in
    for number, row in enumerate(split.rows, start=1):
        assert row.number == number
        assert row.bottom_in == pytest.approx(below + split.gap_in, abs=1e-9)
        assert row.snap_in == pytest.approx(row.bottom_in + row.width_in, abs=1e-9)
        below = row.snap_in
