"""Rules of drying in: laps, widths and distances in inches, shares of air, each with its source."""

from __future__ import annotations

from functools import cache

import msgspec

from workbench.resources import resource_text


class DryInRules(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The shipped rules.

    Attributes:
        name: What they are.
        edge_metal_lap_in: Least lap of edge metal.
        edge_metal_up_in: Least leg up the deck.
        edge_metal_down_in: How far it goes down below the sheathing.
        edge_metal_fasteners_in: Widest spacing of its fasteners.
        edge_metal_source: Source of these.
        order_source: Source of the order of work.
        valley_least_in: Least width of a valley's lining, by its kind.
        valley_under_in: Width of the lower ply of an open valley of rolls.
        valley_source: Source of these.
        flashing_least_in: Least leg of roof-to-wall flashing.
        flashing_source: Its source.
        ice_inside_in: How far past the wall line an ice barrier reaches, level.
        ice_source: Its source.
        ice_steep_from_in_12: Slope from which some editions ask for a least length up the slope too.
        ice_steep_least_in: That length.
        ice_steep_editions: Those editions.
        ice_steep_source: Their source.
        vent_source: Source of the net free area.
        vent_upper_least: With 1/300, least share of the vents in the upper part.
        vent_upper_most: With 1/300, greatest share.
        vent_upper_within_in: How far below the ridge upper vents may lie, plumb.
        vent_gap_in: Least air space over the insulation at eave vents.
        vent_gap_source: Its source.
        underlayment_double_lap_in: Lap of doubled underlayment in rolls 36 in wide.
        underlayment_source: Its source.
        least_offcut_in: Shortest off-cut that is used again.
        practice_source: What stands where nothing else does.
    """

    name: str
    edge_metal_lap_in: float
    edge_metal_up_in: float
    edge_metal_down_in: float
    edge_metal_fasteners_in: float
    edge_metal_source: str
    order_source: str
    valley_least_in: dict[str, float]
    valley_under_in: float
    valley_source: str
    flashing_least_in: float
    flashing_source: str
    ice_inside_in: float
    ice_source: str
    ice_steep_from_in_12: float
    ice_steep_least_in: float
    ice_steep_editions: tuple[str, ...]
    ice_steep_source: str
    vent_source: str
    vent_upper_least: float
    vent_upper_most: float
    vent_upper_within_in: float
    vent_gap_in: float
    vent_gap_source: str
    underlayment_double_lap_in: float
    underlayment_source: str
    least_offcut_in: float
    practice_source: str


@cache
def dry_in_rules() -> DryInRules:
    """The shipped rules."""
    return msgspec.json.decode(resource_text("rules", "dry_in.json"), type=DryInRules)
