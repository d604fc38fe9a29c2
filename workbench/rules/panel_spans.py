"""Span ratings of roof panels: greatest spans and the live loads they carry.

The tables are data (``resources/rules/panel_spans.csv``), each row with its table and source. They hold for panels 24
in wide or more, strength axis across two spans or more, with 10 psf dead load.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from workbench.resources import resource_text

_SPANS, _LOW = "IRC 2018/2021 T R503.2.1.1(1) sheathing", "APA E30V (2011) T31 low-slope decks (<2:12)"
LOW_SLOPE_TANGENT = 2.0 / 12.0
"""Below this slope panels are laid as a low-slope deck (APA E30V Table 31, read in a copy)."""


@dataclass(frozen=True, slots=True)
class PanelSpan:
    """One row: a span rating with its spans in inches and its loads in psf; None where the table has no figure.

    Attributes:
        table: The table it stands in.
        rating: Span rating, such as ``24/16``.
        least_thickness_in: Thinnest panel that has it, inches.
        with_support_in: Greatest span with edge support (clips, blocks, tongue and groove).
        without_support_in: Greatest span without.
        live_at_16_psf: Live load at supports 16 in apart.
        live_at_24_psf: The same at 24 in.
        clips: Clips in a span, where the table says so.
        source: Table and where its figures come from.
    """

    table: str
    rating: str
    least_thickness_in: float
    with_support_in: float
    without_support_in: float | None
    live_at_16_psf: float | None
    live_at_24_psf: float | None
    clips: int | None
    source: str


@cache
def panel_spans() -> tuple[PanelSpan, ...]:
    """The roof rows by span rating (IRC Table R503.2.1.1(1), from memory)."""
    return _rows(_SPANS)


@cache
def low_slope_spans() -> tuple[PanelSpan, ...]:
    """The rows for decks under 2 in 12 (APA E30V Table 31, read in a copy)."""
    return _rows(_LOW)


def panel_span(rating: str, *, low_slope: bool = False) -> PanelSpan | None:
    """The row of a span rating, or None where the table has no such rating."""
    wanted = rating.replace(" ", "")
    return next((row for row in (low_slope_spans() if low_slope else panel_spans()) if row.rating == wanted), None)


def _rows(table: str) -> tuple[PanelSpan, ...]:
    rows = csv.DictReader(resource_text("rules", "panel_spans.csv").splitlines())
    return tuple(_row(row) for row in rows if row["table"] == table)


def _row(row: dict[str, str]) -> PanelSpan:
    least = min(float(Fraction(part)) for part in row["min_performance_category_in"].split(", "))
    name = row["table"].replace("T R503", "Table R503").replace(" sheathing", "")
    source = row["source"] if row["source"].startswith("APA") else f"{name}, {row['source']}"
    clips = _number(row["clips_per_span"])
    return PanelSpan(
        table=row["table"],
        rating=row["span_rating"].replace(" ", ""),
        least_thickness_in=least,
        with_support_in=float(row["max_span_edge_support_in"]),
        without_support_in=_number(row["max_span_no_edge_support_in"]),
        live_at_16_psf=_number(row["live_psf_at_16oc"]),
        live_at_24_psf=_number(row["live_psf_at_24oc"]),
        clips=None if clips is None else round(clips),
        source=source,
    )


def _number(text: str) -> float | None:
    return float(text) if text else None
