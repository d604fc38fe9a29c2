"""Nailing schedules against the tables they come from, and the nail arithmetic of one sheet.

Spacings: 2018 and 2021 IRC Table R602.3(1), from memory, to be verified against the adopted edition; the 6/12 practice
table as restated in an inspection guide, read in a copy. Nails a sheet are arithmetic on those spacings.
"""

from __future__ import annotations

import pytest

from workbench.rules.nailing import edge_distance_in, nailing_schedule, nailing_schedules, nails_in_line

BETWEEN_END_NAILS = 48.0 - 2 * 0.375  # nails 3/8 in from panel edges: common practice, no source


@pytest.mark.parametrize(
    ("schedule", "edge", "field", "gable_end"),
    [
        ("irc-2018", 6.0, 12.0, 6.0),  # from memory
        ("irc-2018-thick", 6.0, 12.0, 6.0),  # from memory
        ("irc-2021", 6.0, 6.0, 6.0),  # from memory
        ("ibc-2018", 6.0, 12.0, 6.0),  # from memory
        ("common-6-12", 6.0, 12.0, 12.0),  # inspection guide, read in a copy
    ],
)
def test_spacings(schedule, edge, field, gable_end):
    found = nailing_schedule(schedule)
    assert (found.edge_in, found.field_in, found.gable_end_in) == (edge, field, gable_end)


def test_the_2018_edge_zone_is_four_feet_wide():
    # 2018 IRC Table R602.3(1) note f, from memory.
    found = nailing_schedule("irc-2018")
    assert (found.zone_width_in, found.zone_field_in) == (48.0, 6.0)
    assert nailing_schedule("irc-2021").zone_width_in == 0.0


def test_what_was_not_read_says_so():
    for schedule in nailing_schedules():
        assert schedule.source
        assert "from memory" in schedule.source or "read in a copy" in schedule.source


def test_ids_are_unique_and_unknown_ones_are_refused():
    ids = [schedule.id for schedule in nailing_schedules()]
    assert len(ids) == len(set(ids))
    with pytest.raises(KeyError):
        nailing_schedule("nobody's")


# Arithmetic on the spacings: a 4 by 8 sheet across its supports has two end lines and its inner supports' field lines.
@pytest.mark.parametrize(
    ("spacing_of_supports", "field", "nails"),
    [(16.0, 12.0, 43), (16.0, 6.0, 63), (24.0, 12.0, 33), (24.0, 6.0, 45)],
)
def test_nails_of_a_sheet(spacing_of_supports, field, nails):
    inner = int(96 / spacing_of_supports) - 1
    end_line = nails_in_line(BETWEEN_END_NAILS, 6.0)
    assert end_line == 9
    assert 2 * end_line + inner * nails_in_line(BETWEEN_END_NAILS, field) == nails


@pytest.mark.parametrize(
    ("length", "spacing", "nails"), [(47.25, 12, 5), (48, 6, 9), (6, 6, 2), (6.5, 6, 3), (0, 6, 1)]
)
def test_end_nails_count_and_no_two_are_further_apart_than_the_spacing(length, spacing, nails):
    assert nails_in_line(length, spacing) == nails


def test_edge_distance():
    assert edge_distance_in() == 0.375
