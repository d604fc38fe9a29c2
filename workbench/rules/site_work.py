"""Weights, lifting, ladders, roof load and heat on site: figures as data, each with its source.

The figures are data (``resources/rules/site_work.json``). Screening: the maker's data and the rule in force go first.
"""

from __future__ import annotations

import math
from functools import cache

import msgspec

from workbench.resources import resource_text


class PanelWeight(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Weight of a panel of one performance category, pounds a square foot; None where it is not known."""

    thickness: str
    plywood: float | None
    osb: float | None

    @property
    def heavier(self) -> float:
        """The heavier of the two."""
        return max(value for value in (self.plywood, self.osb, 0.0) if value is not None)


class _Panels(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    source: str
    psf: tuple[PanelWeight, ...]


class Lifting(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The constant of the lifting equation, pounds."""

    constant_lb: float
    source: str


class LadderRule(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """How a ladder stands: foot out by a share of its working length, rails above the landing."""

    out_share: float
    out_source: str
    above_in: float
    above_source: str


class _LiveStep(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    under_in_12: float
    psf: float


class RoofLive(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Least roof live load by slope, pounds a square foot."""

    source: str
    psf: tuple[_LiveStep, ...]

    def at(self, tangent: float) -> float:
        """The load for a slope (rise / run)."""
        return next((step.psf for step in self.psf if 12.0 * tangent < step.under_in_12 - 1e-9), self.psf[-1].psf)


class HeatClass(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A class of the heat index, from a value on, degrees Fahrenheit."""

    from_f: float
    name: str
    advice: str


class WorkTurns(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Minutes of work in an hour of one kind of work: from each adjusted temperature on, degrees Fahrenheit."""

    name: str
    kind: str
    minutes: tuple[tuple[float, int], ...]

    def at(self, adjusted_f: float) -> int:
        """Minutes of work in the hour; 60 below the first step, 0 where there is to be none."""
        return next((work for start, work in reversed(self.minutes) if adjusted_f >= start - 1e-9), 60)


class Turns(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Work and rest by the air's temperature, adjusted for humidity and full sun."""

    source: str
    adjust_source: str
    sun_f: float
    humidity: tuple[tuple[float, float], ...]
    works: tuple[WorkTurns, ...]
    works_source: str

    def adjusted_f(self, temperature_f: float, humidity: float) -> float:
        """The temperature the schedule goes by, in the shade: straight between the table's humidities and past it."""
        table = self.humidity
        pairs = list(zip(table, table[1:], strict=False))
        low, high = next((pair for pair in pairs if humidity <= pair[1][0]), pairs[-1])
        share = (max(humidity, table[0][0]) - low[0]) / (high[0] - low[0])
        return temperature_f + low[1] + share * (high[1] - low[1])


class Water(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """How much to drink, in words."""

    text: str
    metric: str
    source: str


class DeckClass(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What a working deck of a class carries, pounds a square foot."""

    name: str
    psf: float


class DeckRule(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Loads of a working deck, lightest class first, and the weight of a person with tools."""

    person_lb: float
    classes: tuple[DeckClass, ...]
    source: str

    def class_for(self, psf: float) -> DeckClass | None:
        """The lightest class that carries a load; None where none does."""
        return next((each for each in self.classes if psf <= each.psf + 1e-9), None)


class HeatRule(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Classes of the heat index, lowest first; what full sun adds, degrees Fahrenheit."""

    source: str
    sun_f: float
    sun_source: str
    classes: tuple[HeatClass, ...]
    advice_source: str
    turns: Turns
    water: Water

    def class_of(self, index_f: float) -> HeatClass | None:
        """The class a heat index falls in, or None below the first."""
        return next((step for step in reversed(self.classes) if index_f >= step.from_f - 1e-9), None)


class SiteWork(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """All of it."""

    note: str
    panels: _Panels
    lifting: Lifting
    ladder: LadderRule
    roof_live: RoofLive
    heat: HeatRule
    deck: DeckRule

    def panel(self, thickness: str) -> PanelWeight | None:
        """The weights of a performance category such as ``7/16``, or None."""
        wanted = thickness.strip()
        return next((panel for panel in self.panels.psf if panel.thickness == wanted), None)


@cache
def site_work() -> SiteWork:
    """The figures."""
    return msgspec.json.decode(resource_text("rules", "site_work.json"), type=SiteWork)


def heat_index_f(temperature_f: float, humidity: float) -> float:
    """Heat index in the shade, degrees Fahrenheit.

    The regression of US National Weather Service Technical Attachment SR 90-23 (1990) with the adjustments of the
    Weather Prediction Center's page "The Heat Index Equation"; below 80 °F its simpler formula.

    Args:
        temperature_f: Air temperature, degrees Fahrenheit.
        humidity: Relative humidity, per cent.
    """
    t, rh = temperature_f, humidity
    simple = 0.5 * (t + 61.0 + (t - 68.0) * 1.2 + rh * 0.094)
    if (simple + t) / 2.0 < 80.0:
        return (simple + t) / 2.0
    index = (
        -42.379
        + 2.04901523 * t
        + 10.14333127 * rh
        - 0.22475541 * t * rh
        - 6.83783e-3 * t * t
        - 5.481717e-2 * rh * rh
        + 1.22874e-3 * t * t * rh
        + 8.5282e-4 * t * rh * rh
        - 1.99e-6 * t * t * rh * rh
    )
    if rh < 13.0 and 80.0 <= t <= 112.0:
        return index - (13.0 - rh) / 4.0 * math.sqrt((17.0 - abs(t - 95.0)) / 17.0)
    if rh > 85.0 and 80.0 <= t <= 87.0:
        return index + (rh - 85.0) / 10.0 * ((87.0 - t) / 5.0)
    return index


def lifting_limit_lb(hold_in: float, lift_in: float, start_in: float = 30.0) -> float:
    """Weight limit of one lift: 51 · (10/H) · (1 − 0.0075·|V − 30|) · (0.82 + 1.8/D), pounds.

    Revised NIOSH lifting equation (DHHS (NIOSH) publication 94-110). Frequency, twisting and grip are not counted; they
    only lower it.

    Args:
        hold_in: H, level distance from the ankles to the hands, 10 to 25 in.
        lift_in: D, height lifted through, 10 to 70 in.
        start_in: V, height of the hands at the start.
    """
    horizontal = min(1.0, 10.0 / hold_in)
    vertical = 1.0 - 0.0075 * abs(start_in - 30.0)
    distance = min(1.0, 0.82 + 1.8 / lift_in)
    return site_work().lifting.constant_lb * horizontal * vertical * distance
