"""Rows of the site tables."""

from __future__ import annotations

from collections.abc import Sequence

from workbench.bench.table import Cells
from workbench.drawing.tail_section import tail_figures
from workbench.measure import Units
from workbench.site.covering import COVERING_WORDS
from workbench.site.model import Covering, JackStick, LayoutStick, MeasuredPlate, SetHeight, Squaring, Tail
from workbench.site.stick import TRUSS

_CENTRED = ("hip_rafter", "valley_rafter")
_LEAST_IN = 1.0 / 32.0  # what the finest rule shows


def height_rows(heights: Sequence[SetHeight], units: Units) -> list[Cells]:
    """A line for each thing to be set, those that read alike once, and one for each of its props."""
    found: dict[tuple[object, ...], list[SetHeight]] = {}
    for one in heights:
        props = tuple((prop.place, units.length(prop.length_in)) for prop in one.props)
        found.setdefault((one.mark, units.length(one.above_plate_in), props), []).append(one)
    rows: list[Cells] = []
    for alike in found.values():
        one = alike[0]
        times = f" × {len(alike)}" if len(alike) > 1 else ""
        key = f"member:{one.mark.partition(', ')[0]}"
        rows.append(Cells((f"{one.mark}{times}", units.length(one.above_plate_in), ""), key))
        rows += [
            Cells((f"   prop, {prop.place}", units.length(prop.length_in), _cut(prop.bevel_deg)), key)
            for prop in one.props
        ]
    return rows


def _cut(bevel_deg: float) -> str:
    return f"{bevel_deg:.1f}°" if bevel_deg > 0.05 else "square"


def stick_rows(stick: LayoutStick, units: Units) -> list[Cells]:
    """A line a mark."""
    rows: list[Cells] = []
    for mark in stick.marks:
        hand = {"left": ", left", "right": ", right"}.get(mark.hand, "")
        where = "on its centre" if mark.kind in _CENTRED else ""
        key = "" if mark.mark == TRUSS else f"member:{mark.mark}"
        rows.append(Cells((units.tape(mark.line_in), f"{mark.mark}{hand}", where), key))
    return rows


def jack_rows(jacks: Sequence[JackStick], units: Units) -> list[Cells]:
    """A heading for each hip or valley, those alike once, and a line for each point where jacks meet it."""
    rows: list[Cells] = []
    for stick in jacks:
        times = f" × {stick.count}" if stick.count > 1 else ""
        rows.append(Cells((f"{stick.mark}{times}", ""), heading=True))
        rows += [Cells((units.tape(s), mark), f"member:{mark.partition(' and ')[0]}") for s, mark in stick.marks]
    return rows


def tail_rows(tail: Tail, units: Units) -> list[Cells]:
    """A line a measure, its letter as on the drawing."""
    return [Cells(figures) for figures in tail_figures(tail, units)]


def covering_rows(coverings: Sequence[Covering], units: Units) -> list[Cells]:
    """A line for each place where the sheathing's thickness enters, those that read alike once."""
    rows: dict[tuple[str, ...], None] = {}
    for one in coverings:
        bevel = f"{one.bevel_deg:.1f}°" if one.bevel_deg > 0.05 else ""
        rows[COVERING_WORDS[one.kind], units.inches(one.figure_in), bevel] = None
    return [Cells(row) for row in rows]


def seat_rows(plate: MeasuredPlate, units: Units) -> list[Cells]:
    """A line a rafter."""
    return [
        Cells(
            (
                units.inches(seat.at_in),
                seat.mark,
                units.inches(seat.hap_in),
                units.inches(seat.seat_in) if seat.seat_in > 0.0 else "none",
                units.inches(seat.shim_in) if seat.shim_in > _LEAST_IN else "",
            ),
            f"member:{seat.mark}",
        )
        for seat in plate.seats
    ]


def shift_rows(squaring: Squaring, units: Units) -> list[Cells]:
    """A line a corner."""
    return [
        Cells((str(number), units.signed(x), units.signed(y))) for number, (x, y) in enumerate(squaring.shifts, start=1)
    ]
