"""Measures: reading them as typed, showing them, and the way each figure was found."""

from __future__ import annotations

from workbench.measure.parse import (
    LARGEST_LENGTH,
    MM_PER_INCH,
    parse_angle,
    parse_length,
    parse_number,
    parse_points,
    parse_slope,
)
from workbench.measure.trace import Trace, TraceUnit
from workbench.measure.units import KG_PER_LB, SQ_M_PER_SQ_FT, FractionOf, System, Units

__all__ = [
    "KG_PER_LB",
    "LARGEST_LENGTH",
    "MM_PER_INCH",
    "SQ_M_PER_SQ_FT",
    "FractionOf",
    "System",
    "Trace",
    "TraceUnit",
    "Units",
    "parse_angle",
    "parse_length",
    "parse_number",
    "parse_points",
    "parse_slope",
]
