"""Snow on sloped roofs: balanced ps = Cs · 0.7 · Ce · Ct · Is · pg, unbalanced Is · pg; psf on the level.

Editions differ in how they group the thermal factor, in the importance factor, and in the level the ground snow is
mapped at; all that is data (``resources/rules/snow.json``), each part with its source. Drifts and sliding snow are
not in it, nor is unbalanced snow on wide roofs.
"""

from __future__ import annotations

import math
from functools import cache
from typing import Literal

import msgspec

from workbench.measure import Trace
from workbench.resources import resource_text

Edition = Literal["7-16", "7-22"]
Terrain = Literal["B", "C", "D"]
RoofExposure = Literal["fully", "partially", "sheltered"]
RiskCategory = Literal[1, 2, 3, 4]

_NOISE = 1e-9
_COLD_DEG = 10.0  # the warm slippery graph falls from a smaller angle


class Curve(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One of the three graphs: full load up to an angle, degrees, then straight down to none."""

    ct_from: float
    ct_words: str
    slippery_full_deg: float
    other_full_deg: float


class SnowEdition(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What one edition says; ``minimum_psf`` by risk category, ``allowable_share`` of S in allowable stress."""

    id: str
    name: str
    curves: tuple[Curve, ...]
    importance: bool
    allowable_share: float
    allowable_source: str
    minimum_psf: tuple[float, float, float, float]
    minimum_source: str
    flat_source: str
    slope_source: str


class Unbalanced(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Where rafters between eave and ridge are held against unbalanced snow: slopes in 12, run from eave to ridge."""

    least_in_12: float
    most_in_12: float
    most_run_in: float
    source: str


class SnowRules(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The whole table."""

    name: str
    source: str
    editions: tuple[SnowEdition, ...]
    zero_from_deg: float
    minimum_below_deg: float
    flat_share: float
    exposure: dict[str, dict[str, float]]
    exposure_source: str
    unbalanced: Unbalanced


class SnowInput(msgspec.Struct, frozen=True, kw_only=True):
    """What a roof's balanced snow is asked for.

    Attributes:
        ground_psf: Ground snow load.
        ce: Exposure factor.
        ct: Thermal factor.
        importance: Importance factor; without effect in editions that have none.
        slippery: Unobstructed slippery surface.
        edition: Which edition.
        risk: Risk category, for the least load on low slopes.
    """

    ground_psf: float
    ce: float
    ct: float
    importance: float = 1.0
    slippery: bool = False
    edition: Edition = "7-16"
    risk: RiskCategory = 2


class SnowLoad(msgspec.Struct, frozen=True, kw_only=True):
    """A plane's balanced snow, psf on the level.

    Attributes:
        flat_psf: Flat roof load.
        slope_factor: Cs.
        sloped_psf: Load on the slope, not under the least one on low slopes.
        design_psf: What a check in allowable stress takes of it.
        trace: How it was found.
    """

    flat_psf: float
    slope_factor: float
    sloped_psf: float
    design_psf: float
    trace: Trace


@cache
def snow_rules() -> SnowRules:
    """The shipped table."""
    return msgspec.json.decode(resource_text("rules", "snow.json"), type=SnowRules)


def snow_edition(edition: str) -> SnowEdition:
    """What an edition says.

    Raises:
        KeyError: There is no such edition.
    """
    for known in snow_rules().editions:
        if known.id == edition:
            return known
    raise KeyError(edition)


def exposure_factor(terrain: Terrain, exposure: RoofExposure) -> float:
    """Ce of a terrain category and a roof's exposure (ASCE 7 Table 7.3-1, from memory)."""
    return snow_rules().exposure[terrain][exposure]


def slope_factor(angle_deg: float, ct: float, *, slippery: bool, edition: Edition = "7-16") -> float:
    """Cs: 1 up to an angle that depends on Ct and surface, then straight down to 0 at 70°.

    Source: ASCE 7-16 Fig. 7.4-1, read in a transcription; how ASCE 7-22 groups Ct, from memory.
    """
    rules = snow_rules()
    full, zero = full_until_deg(ct, slippery=slippery, edition=edition), rules.zero_from_deg
    return min(1.0, max(0.0, 1.0 - (angle_deg - full) / (zero - full)))


def full_until_deg(ct: float, *, slippery: bool, edition: Edition = "7-16") -> float:
    """Angle up to which a roof holds its full snow, degrees."""
    curve = [c for c in snow_edition(edition).curves if ct >= c.ct_from - _NOISE][-1]
    return curve.slippery_full_deg if slippery else curve.other_full_deg


def sloped_snow(asked: SnowInput, tangent: float) -> SnowLoad:
    """Balanced snow on a plane.

    Args:
        asked: Loads and factors.
        tangent: The plane's slope, rise / run.
    """
    rules, edition = snow_rules(), snow_edition(asked.edition)
    angle = math.degrees(math.atan(tangent))
    importance = asked.importance if edition.importance else 1.0
    flat = rules.flat_share * asked.ce * asked.ct * importance * asked.ground_psf
    factor = slope_factor(angle, asked.ct, slippery=asked.slippery, edition=asked.edition)
    sloped, least = factor * flat, 0.0
    if angle < rules.minimum_below_deg:
        least = importance * min(asked.ground_psf, edition.minimum_psf[asked.risk - 1])
    balanced = max(sloped, least)
    design = edition.allowable_share * balanced
    named = f" · Is {importance:g}" if edition.importance else ""
    values = (
        f"pf = 0.7 · Ce {asked.ce:g} · Ct {asked.ct:g}{named} · pg {asked.ground_psf:g} = {flat:.1f} psf; "
        f"Cs at {angle:.1f}° = {factor:.3f}; ps = {sloped:.1f} psf"
    )
    if least > sloped:
        values += f"; under {rules.minimum_below_deg:g}° not less than {least:.1f} psf ({edition.minimum_source})"
    if edition.allowable_share < 1.0:
        values += f"; {edition.allowable_share:g} of it in allowable stress = {design:.1f} psf"
    if asked.slippery and full_until_deg(asked.ct, slippery=True, edition=asked.edition) < _COLD_DEG:
        values += "; the warm slippery line needs R 30 unventilated or R 20 ventilated (from memory)"
    source = f"{edition.flat_source}; {edition.slope_source}; Ce: {rules.exposure_source}"
    if edition.allowable_share < 1.0:
        source += f"; {edition.allowable_source}"
    formula = "ps = Cs · 0.7 · Ce · Ct · Is · pg" if edition.importance else "ps = Cs · 0.7 · Ce · Ct · pg"
    trace = Trace("balanced snow, psf on the level", design, "psf", formula, values, source)
    return SnowLoad(flat_psf=flat, slope_factor=factor, sloped_psf=balanced, design_psf=design, trace=trace)


def has_unbalanced(tangent: float) -> bool:
    """Whether hip and gable roofs of this slope get unbalanced snow (ASCE 7 7.6.1, from memory)."""
    rule = snow_rules().unbalanced
    return rule.least_in_12 - _NOISE <= 12.0 * tangent <= rule.most_in_12 + 1e-6


def unbalanced_snow(asked: SnowInput, tangent: float, run_in: float) -> Trace | None:
    """Unbalanced snow on the side away from the wind, psf on the level; None where the simple rule does not hold.

    Args:
        asked: Loads and factors.
        tangent: The plane's slope, rise / run.
        run_in: Level distance from eave to ridge, inches.
    """
    rule, edition = snow_rules().unbalanced, snow_edition(asked.edition)
    if not has_unbalanced(tangent) or run_in > rule.most_run_in + _NOISE:
        return None
    importance = asked.importance if edition.importance else 1.0
    share = edition.allowable_share
    design = share * importance * asked.ground_psf
    reduced = f" · {share:g} in allowable stress" if share < 1.0 else ""
    factor = f"Is {importance:g} · " if edition.importance else ""
    values = f"{factor}pg {asked.ground_psf:g}{reduced} = {design:.1f} psf"
    return Trace(
        "unbalanced snow, psf on the level", design, "psf", "Is · pg on one side of the ridge", values, rule.source
    )
