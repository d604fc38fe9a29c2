"""How figures are shown: the one formatter of lengths, slopes, angles, areas and weights.

Rounding happens here and nowhere else: to the nearest step, halves away from zero.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from workbench.errors import MeasureError

System = Literal["ft_in", "mm"]
FractionOf = Literal[8, 16, 32]

SQ_M_PER_SQ_FT = 0.09290304
"""Exact, 0.3048 m squared: NIST SP 811, Appendix B."""

KG_PER_LB = 0.45359237
"""Exact by definition: international yard and pound agreement of 1959 (NIST SP 811, Appendix B)."""

KN_PER_LB = KG_PER_LB * 9.80665 / 1000.0
"""Exact by the standard acceleration of free fall: NIST SP 811, Appendix B."""

KPA_PER_PSF = KN_PER_LB / SQ_M_PER_SQ_FT
KN_M_PER_PLF = KN_PER_LB / 0.3048

# Two ways of reckoning one length differ in the last bits; a half of a step must round the same either way.
_NUDGE = 1e-9


@dataclass(frozen=True, slots=True)
class Units:
    """What a job shows its figures in. All lengths passed in are inches.

    Every method raises ``MeasureError`` for a value that is not finite.

    Attributes:
        system: ``ft_in`` feet and inches, ``mm`` whole millimetres.
        fraction: The smallest part of an inch shown, one over this; without effect in ``mm``.
    """

    system: System = "ft_in"
    fraction: FractionOf = 16

    def length(self, x: float) -> str:
        """A length as ``13' 6 1/2"`` from a foot on, below that ``6 1/2"``; or ``4128 mm``."""
        if self.system == "mm":
            return f"{self._steps(x)} mm"
        steps = self._steps(x)
        feet, rest = divmod(abs(steps), 12 * self.fraction)
        sign = "-" if steps < 0 else ""
        if not feet:
            return f'{sign}{self._mixed(rest)}"'
        # The 0 before a bare fraction keeps 1' 0 1/2" from being taken for a foot and a half.
        zero = "0 " if 0 < rest < self.fraction else ""
        return f"{sign}{feet}' {zero}{self._mixed(rest)}\""

    def inches(self, x: float) -> str:
        """A length in running inches, as a tape reads: ``162 1/2"``; or ``4128 mm``."""
        return f"{self.compact(x)} mm" if self.system == "mm" else f'{self.compact(x)}"'

    def tape(self, x: float) -> str:
        """Both readings, ``162 1/2" (13' 6 1/2")``; one where they are the same; or ``4128 mm``."""
        running, feet = self.inches(x), self.length(x)
        return running if running == feet else f"{running} ({feet})"

    def compact(self, x: float) -> str:
        """A length for a label, without a unit: inches as ``43 7/16``, or millimetres as ``4128``."""
        steps = self._steps(x)
        if self.system == "mm":
            return str(steps)
        return f"{'-' if steps < 0 else ''}{self._mixed(abs(steps))}"

    def signed(self, x: float) -> str:
        """A length with its sign, + or − (U+2212), for differences; zero has none."""
        steps = self._steps(x)
        shown = self.length(abs(x))
        return shown if steps == 0 else f"{'+' if steps > 0 else '−'}{shown}"

    def round_to_fraction(self, x: float) -> Fraction:
        """The length as it is shown, in inches and exact, for places that compare shown values."""
        steps = self._steps(x)
        return Fraction(steps * 10, 254) if self.system == "mm" else Fraction(steps, self.fraction)

    def slope(self, m: float) -> str:
        """A slope m = rise/run as ``7 in 12`` or ``6.62 in 12``."""
        shown = _decimals(12 * m, 2)
        return f"{shown.rstrip('0').rstrip('.')} in 12"

    def angle(self, radians: float, digits: int = 1) -> str:
        """An angle in radians as degrees with a fixed number of decimals: ``28.9°``."""
        return f"{_decimals(math.degrees(radians), digits)}°"

    def area(self, sqft: float) -> str:
        """An area in square feet as ``1,344 sq ft`` (one decimal below 10), or ``124.9 m²``."""
        if self.system == "mm":
            return f"{_decimals(sqft * SQ_M_PER_SQ_FT, 1)} m²"
        return f"{_amount(sqft)} sq ft"

    def weight(self, lb: float) -> str:
        """A weight in pounds as ``1,240 lb`` (one decimal below 10), or ``562 kg``."""
        return f"{_amount(lb * KG_PER_LB)} kg" if self.system == "mm" else f"{_amount(lb)} lb"

    def pressure(self, psf: float) -> str:
        """A load on an area as ``20 psf``; or with the tables' own unit beside it: ``0.96 kPa (20 psf)``."""
        shown = f"{_decimals(psf, 1).removesuffix('.0')} psf"
        return f"{_decimals(psf * KPA_PER_PSF, 2)} kPa ({shown})" if self.system == "mm" else shown

    def line_load(self, plf: float) -> str:
        """A force along a wall, up to a whole pound: ``312 lb a foot``; or ``4.56 kN/m (312 lb a foot)``."""
        shown = f"{math.ceil(plf - 1e-6):,} lb a foot"
        return f"{_decimals(plf * KN_M_PER_PLF, 2)} kN/m ({shown})" if self.system == "mm" else shown

    def force(self, lb: float) -> str:
        """A force, up to a whole pound: ``312 lb``; or ``1.39 kN (312 lb)``."""
        shown = f"{math.ceil(lb - 1e-6):,} lb"
        return f"{_decimals(lb * KN_PER_LB, 2)} kN ({shown})" if self.system == "mm" else shown

    def _steps(self, x: float) -> int:
        """The length in whole steps of what is shown: fractions of an inch, or millimetres."""
        return _nearest(x * 25.4 if self.system == "mm" else x * self.fraction)

    def _mixed(self, steps: int) -> str:
        whole, part = divmod(steps, self.fraction)
        if not part:
            return str(whole)
        fraction = Fraction(part, self.fraction)
        shown = f"{fraction.numerator}/{fraction.denominator}"
        return f"{whole} {shown}" if whole else shown


def _nearest(x: float) -> int:
    if not math.isfinite(x):
        raise MeasureError("A figure that is not a finite number can't be shown; check the measures it comes from.")
    size = math.floor(abs(x) + 0.5 + _NUDGE)
    return -size if x < 0 else size


def _decimals(x: float, digits: int) -> str:
    """A fixed number of decimals, thousands parted by commas, never a negative zero."""
    steps = _nearest(x * 10**digits)
    whole, part = divmod(abs(steps), 10**digits)
    sign = "-" if steps < 0 else ""
    return f"{sign}{whole:,}.{part:0{digits}d}" if digits else f"{sign}{whole:,}"


def _amount(x: float) -> str:
    shown = _decimals(x, 1)
    return shown.removesuffix(".0") if abs(x) < 9.95 else _decimals(x, 0)
