"""Greatest rafter span by bending, deflection and shear. Screening, never design.

Loads act on the horizontal projection and the span is horizontal. With w the load a foot of rafter, s the spacing:

- bending: L = √(8·Fb·CF·Cr·CD·S / (12·w)) ft;
- deflection under live or snow load alone: L = (384·E·I / (5·k·(live·s/144)))^(1/3) in, the limit being L/k;
- shear at a depth from the support: L = (4/3)·Fv·CD·A/w + 2·d/12 ft.

The least of these to the nearest inch, at most 26 ft, is what published tables print. Source: elementary mechanics of a
uniformly loaded beam with NDS factors; the cap and the rounding as in the tables of the IRC and IBC.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from workbench.errors import BadInput
from workbench.framing.stock import NOMINAL_DEPTHS_IN
from workbench.measure import Trace, Units
from workbench.rules.lumber import Basis, LoadType, design_values, lumber_table

Governs = Literal["bending", "deflection", "shear", "limit"]

LONGEST_IN = 312
_TIE_IN = 1e-6


@dataclass(frozen=True, slots=True)
class SpanInput:
    """What a span is asked for: inches and psf on the horizontal projection; ``deflection`` is k of L/k.

    ``repetitive`` is whether three or more stand no more than 24 in apart and share their loads (NDS, from memory).
    """

    species: str
    grade: str
    size: str
    spacing_in: float
    live_psf: float
    dead_psf: float
    deflection: float
    load: LoadType = "roof_live"
    basis: Basis = "current"
    thickness_in: float = 1.5
    repetitive: bool = True


@dataclass(frozen=True, slots=True)
class SpanAnswer:
    """The greatest horizontal span, what governs it, the unrounded candidates in inches, and how it was found."""

    span_in: int
    governs: Governs
    bending_in: float
    deflection_in: float
    shear_in: float
    trace: Trace
    source: str


def greatest_span(asked: SpanInput) -> SpanAnswer:
    """Greatest horizontal span of a rafter.

    Raises:
        BadInput: A load, spacing or limit is not over 0, or the table has no such lumber.
    """
    _check(asked)
    values = design_values(asked.species, asked.grade, asked.size, asked.basis)
    table = lumber_table()
    depth = _depth(asked.size)
    wide = asked.thickness_in
    area, modulus, inertia = wide * depth, wide * depth**2 / 6.0, wide * depth**3 / 12.0
    shared = table.repetitive if asked.repetitive else 1.0
    duration = table.duration[asked.load]
    load_plf = (asked.live_psf + asked.dead_psf) * asked.spacing_in / 12.0
    bending_psi = values.fb_psi * values.size_factor * shared * duration
    bending = 12.0 * math.sqrt(8.0 * bending_psi * modulus / (12.0 * load_plf))
    live_pli = asked.live_psf * asked.spacing_in / 144.0
    deflection = (384.0 * values.e_psi * inertia / (5.0 * asked.deflection * live_pli)) ** (1.0 / 3.0)
    shear = 12.0 * (4.0 / 3.0 * values.fv_psi * duration * area / load_plf) + 2.0 * depth
    candidates: tuple[tuple[float, Governs], ...] = (
        (bending, "bending"),
        (deflection, "deflection"),
        (shear, "shear"),
        (float(LONGEST_IN), "limit"),
    )
    least, governs = min(candidates)
    span = math.floor(least + 0.5 + _TIE_IN)
    units = Units()
    trace = Trace(
        "greatest rafter span",
        float(span),
        "in",
        "least of bending √(8·Fb·CF·Cr·CD·S/(12·w)), deflection (384·E·I/(5·k·w_live))^(1/3), "
        "shear (4/3)·Fv·CD·A/w + 2d, 26 ft; to the nearest inch",
        f"Fb {values.fb_psi:g}·{values.size_factor:g}·{shared:g}·{duration:g} psi, S {modulus:.2f} in³, "
        f"w {load_plf:.2f} plf: bending {bending:.1f} in; E {values.e_psi:g} psi, I {inertia:.1f} in⁴, "
        f"L/{asked.deflection:g}: deflection {deflection:.1f} in; shear {shear:.1f} in "
        f"→ {units.length(span)} ({governs})",
        values.source,
    )
    return SpanAnswer(span, governs, bending, deflection, shear, trace, f"{values.source}; {table.duration_source}")


def _check(asked: SpanInput) -> None:
    for name, value in (
        ("spacing", asked.spacing_in),
        ("live load", asked.live_psf),
        ("deflection limit", asked.deflection),
        ("thickness", asked.thickness_in),
    ):
        if not (math.isfinite(value) and value > 0.0):
            msg = f"The {name} is {value:g}; give a number over 0."
            raise BadInput(msg)
    if not (math.isfinite(asked.dead_psf) and asked.dead_psf >= 0.0):
        msg = f"The dead load is {asked.dead_psf:g}; give 0 or more."
        raise BadInput(msg)


def _depth(size: str) -> float:
    nominal = size.strip().lower().removeprefix("2x")
    for depth, name in NOMINAL_DEPTHS_IN.items():
        if str(name) == nominal:
            return depth
    sizes = ", ".join(f"2x{name}" for name in NOMINAL_DEPTHS_IN.values())
    msg = f'There is no size "{size}"; the sizes are {sizes}.'
    raise BadInput(msg)
