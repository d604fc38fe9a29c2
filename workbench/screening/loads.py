"""Loads on each plane. Dead load is given along the slope, live load and snow on the level; all are taken to the level.

Sources: D / cos θ for dead load is geometry; snow is that of ``rules/snow.py``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from workbench.findings import GEOMETRY, SCREENING, Finding
from workbench.job.lumber import Lumber
from workbench.job.screening import Screening, Snow
from workbench.measure import Trace, Units
from workbench.roof.model import Plane
from workbench.rules.coverings import covering
from workbench.rules.frame_limits import frame_limits
from workbench.rules.snow import (
    SnowInput,
    exposure_factor,
    has_unbalanced,
    sloped_snow,
    snow_edition,
    snow_rules,
    unbalanced_snow,
)
from workbench.screening.model import PlaneLoads

_ROUGH = ("asphalt_shingles", "wood_shingles", "wood_shakes", "roll_roofing")

GIVEN = "given in the job"
ASSUMED = "assumed, not given"


@dataclass(frozen=True, slots=True)
class Wood:
    """Species and grade that a section is reckoned with, and whether they were given."""

    species: str
    grade: str
    given: bool

    @property
    def words(self) -> str:
        """``Douglas fir-larch No.2``."""
        return f"{self.species} {self.grade}"


def wood_of(lumber: Lumber, section: str) -> Wood:
    """Species and grade of a section; the assumed ones where they are not given."""
    species, grade = lumber.grade_of(section)
    limits = frame_limits()
    return Wood(species or limits.assumed_species, grade or limits.assumed_grade, bool(species and grade))


def plane_loads(screening: Screening, planes: Sequence[Plane], units: Units) -> tuple[PlaneLoads, ...]:
    """The loads of each plane."""
    return tuple(_loads(screening, plane, units) for plane in planes)


def _loads(screening: Screening, plane: Plane, units: Units) -> PlaneLoads:
    limits = frame_limits()
    given = screening.dead_of(plane.wing)
    slope_psf = limits.assumed_dead_psf if given is None else given
    dead = slope_psf * plane.stretch
    traces = [
        Trace(
            "dead load on the level",
            dead,
            "psf",
            "D / cos θ = D · √(1 + m²), D along the slope",
            f"{slope_psf:g} · √(1 + {plane.tangent:.4f}²) = {dead:.2f} psf ({ASSUMED if given is None else GIVEN})",
            GEOMETRY,
        )
    ]
    live = screening.live_psf
    if live is None and screening.snow is None:
        live = limits.assumed_live_psf
    if live is not None:
        said = GIVEN if screening.live_psf is not None else ASSUMED
        traces.append(
            Trace("roof live load", live, "psf", "on the level, not reduced", f"{units.pressure(live)} ({said})", said)
        )
    snow = None
    if screening.snow is not None:
        asked = _snow_input(screening.snow)
        found = sloped_snow(asked, plane.tangent)
        snow = found.design_psf
        traces.append(found.trace)
        drifted = unbalanced_snow(asked, plane.tangent, _run(plane)) if _leans(plane) else None
        if drifted is not None:
            snow = max(snow, drifted.value)
            traces.append(drifted)
    return PlaneLoads(plane.id, dead, live, snow, tuple(_beside(trace, units) for trace in traces))


def _beside(trace: Trace, units: Units) -> Trace:
    """A load's trace with the job's own unit at its end, where that is another than the tables'."""
    shown = units.pressure(trace.value)
    return (
        trace
        if units.system == "ft_in" or shown in trace.values
        else replace(trace, values=f"{trace.values} = {shown}")
    )


def _run(plane: Plane) -> float:
    """Level distance from the plane's foot to its top."""
    return plane.plane_length_in / plane.stretch


def _leans(plane: Plane) -> bool:
    """Whether it is a side of a gable or hip roof, from which the wind blows snow and on to which."""
    return any(edge.kind in ("ridge", "hip") for edge in plane.edges)


def _snow_input(snow: Snow) -> SnowInput:
    ce = exposure_factor(snow.terrain, snow.exposure) if snow.ce is None else snow.ce
    return SnowInput(
        ground_psf=snow.ground_psf,
        ce=ce,
        ct=snow.ct,
        importance=snow.importance,
        slippery=snow.slippery,
        edition=snow.edition,
        risk=snow.risk,
    )


def load_findings(
    screening: Screening, lumber: Lumber, sections: Sequence[str], planes: Sequence[Plane], units: Units
) -> list[Finding]:
    """What the screening had to assume, and what snow it leaves out."""
    limits = frame_limits()
    parts: list[str] = []
    if screening.live_psf is None and screening.snow is None:
        parts.append(f"{units.pressure(limits.assumed_live_psf)} roof live load")
    if screening.dead_psf is None:
        parts.append(f"{units.pressure(limits.assumed_dead_psf)} dead load along the slope")
    bare = [section for section in sections if not wood_of(lumber, section).given]
    if bare or not sections:
        parts.append(f"{limits.assumed_species} {limits.assumed_grade}")
    findings: list[Finding] = []
    if parts:
        text = (
            f"Screened with {', '.join(parts)}: assumed, not given. Give the loads of this place and the lumber on the "
            "Frame stage; until then nothing here says that the roof carries what it must."
        )
        findings.append(Finding("loads-assumed", "note", "", text, "no source: an assumption of this program"))
    if screening.snow is not None and screening.snow.ground_psf > 0.0:
        reach = units.length(snow_rules().unbalanced.most_run_in)
        text = (
            f"Snow is screened as balanced snow and, up to {reach} from eave to ridge, as unbalanced snow. Drifts "
            "against higher walls and dormers, snow that slides on to a lower roof and snow in valleys can govern: "
            "they are for the engineer. Where this roof has such places, a finding names each."
        )
        findings.append(Finding("snow-left-out", "note", "", text, snow_edition(screening.snow.edition).name))
        most = snow_rules().unbalanced.most_run_in + 1e-9
        wide = [plane for plane in planes if _leans(plane) and has_unbalanced(plane.tangent) and _run(plane) > most]
        if wide:
            names = ", ".join(plane.name for plane in wide)
            text = (
                f"{names}: over {reach} from eave to ridge, so unbalanced snow there is for the engineer. {SCREENING}"
            )
            findings.append(Finding("snow-wide-roof", "warning", wide[0].id, text, snow_rules().unbalanced.source))
    findings += _slippery(screening)
    return findings


def _slippery(screening: Screening) -> list[Finding]:
    """Coverings that hold snow though the job says that it slides off."""
    if screening.snow is None or not screening.snow.slippery or screening.covering not in _ROUGH:
        return []
    text = (
        f"Snow is let slide off {covering(screening.covering).name}, but shingles, shakes and granules are "
        f"not slippery: say so among the loads. {SCREENING}"
    )
    return [Finding("surface-not-slippery", "warning", "", text, "ASCE 7 7.4, from memory")]
