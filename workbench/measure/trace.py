"""A number with the way it was found, so that every figure can answer "How?"."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

TraceUnit = Literal["in", "deg", "in_12", "sqft", "sqin", "lb", "psf", "plf", "count", "money", "ratio"]


@dataclass(frozen=True, slots=True)
class Trace:
    """One figure, its formula and where the rule comes from.

    Attributes:
        name: What the figure is called, such as ``plane length``.
        value: The unrounded value, in ``unit``.
        unit: ``in`` inches, ``deg`` degrees, ``in_12`` rise in 12, ``sqft``, ``sqin``, ``lb``,
            ``psf``, ``plf`` pounds a foot, ``count``, ``money``, ``ratio``.
        formula: The formula in words or symbols, such as ``L = (run + overhang) · √(1 + m²)``.
        values: The same with the values substituted, formatted for reading.
        source: The rule's source; ``geometry`` where it is plain geometry.
    """

    name: str
    value: float
    unit: TraceUnit
    formula: str
    values: str
    source: str
