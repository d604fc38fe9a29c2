"""Limits that a stick-framed roof is screened against, each with its source. Inches, psf."""

from __future__ import annotations

from functools import cache

import msgspec

from workbench.resources import resource_text

_NOISE = 1e-9


class RaisedTie(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What a tabulated rafter span is multiplied by where ties stand no higher than a share of the ridge's height."""

    most_share: float
    words: str
    multiplier: float


class FrameLimits(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The shipped limits.

    Attributes:
        name: What they are.
        raised_ties: Lowest ties first.
        raised_ties_source: Its source.
        least_bearing_in: Bearing a span is counted with, half of it at each end.
        least_bearing_source: Its source.
        widest_repetitive_in: Widest spacing at which rafters share loads.
        repetitive_source: Its source.
        headroom_in: Clear height asked for where the job gives no other.
        headroom_source: Its source.
        bare_panel_overhang_in: Rake overhang of panels without lookouts.
        bare_panel_overhang_source: Its source.
        ladder_overhang_in: Rake overhang on a ladder of blocks.
        lookout_overhang_in: Rake overhang on lookouts that run back.
        lookout_backspan_share: How far lookouts run back, as a share of how far they stand out.
        tail_overhang_in: Level overhang of rafter tails.
        tail_overhang_span_share: The same as a share of the rafter's span.
        overhang_source: Source of the overhangs.
        table_dead_psf: Dead load in the panel tables.
        assumed_live_psf: Roof live load where none is given.
        assumed_dead_psf: Dead load along the slope where none is given.
        assumed_species: Species where none is given.
        assumed_grade: Grade where none is given.
        least_notch_source: Source of the notch at a bearing.
    """

    name: str
    raised_ties: tuple[RaisedTie, ...]
    raised_ties_source: str
    least_bearing_in: float
    least_bearing_source: str
    widest_repetitive_in: float
    repetitive_source: str
    headroom_in: float
    headroom_source: str
    bare_panel_overhang_in: float
    bare_panel_overhang_source: str
    ladder_overhang_in: float
    lookout_overhang_in: float
    lookout_backspan_share: float
    tail_overhang_in: float
    tail_overhang_span_share: float
    overhang_source: str
    table_dead_psf: float
    assumed_live_psf: float
    assumed_dead_psf: float
    assumed_species: str
    assumed_grade: str
    least_notch_source: str


@cache
def frame_limits() -> FrameLimits:
    """The shipped limits."""
    return msgspec.json.decode(resource_text("rules", "frame_limits.json"), type=FrameLimits)


def tie_multiplier(share: float) -> RaisedTie | None:
    """The row for ties at a share of the ridge's height over the plates, never a kinder one; None over a third."""
    return next((row for row in frame_limits().raised_ties if share <= row.most_share + _NOISE), None)
