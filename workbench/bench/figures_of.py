"""The standing figures of a plan, as text with the way each was found. No widgets here."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from workbench.bench.previews import is_fresh
from workbench.findings import COMMON_PRACTICE, GEOMETRY, Finding
from workbench.framing.model import RAFTER_KINDS
from workbench.job.model import PriceBracket
from workbench.measure import Trace, Units
from workbench.plan import Plan
from workbench.roof.brackets import Bracket, bracket_of, next_bracket
from workbench.roof.model import Plane
from workbench.roof.nominal import called_in_12

NOT_YET = "…"
"""Stands for a figure that is not worked out while something is dragged."""


@dataclass(frozen=True, slots=True)
class FigureText:
    """One standing figure.

    Attributes:
        name: Its caption.
        value: What is shown large.
        traces: How it was found; empty where there is nothing to tell.
    """

    name: str
    value: str
    traces: tuple[Trace, ...] = ()


def standing_figures(plan: Plan, plane: Plane | None) -> tuple[FigureText, ...]:
    """Slope, angle, price bracket, plane length, rafters and sheets, in this order."""
    if plane is None:
        return tuple(
            FigureText(name, "–") for name in ("Slope", "Angle", "Price bracket", "Plane length", "Rafters", "Sheets")
        )
    return (
        _slope(plan, plane),
        _angle(plan.units, plane),
        _bracket(plan, plane),
        _plane_length(plan, plane),
        _rafters(plan, plane) if is_fresh(plan, "frame") else FigureText("Rafters", NOT_YET),
        _sheets(plan) if is_fresh(plan, "sheets") else FigureText("Sheets", NOT_YET),
    )


def findings_words(findings: Sequence[Finding]) -> str:
    """``2 errors, 1 warning``; notes are counted only where there is nothing worse."""
    counts = {kind: sum(1 for finding in findings if finding.severity == kind) for kind in ("error", "warning", "note")}
    kinds = ["error", "warning"] if counts["error"] or counts["warning"] else ["note"]
    said = [f"{counts[kind]} {kind}{'' if counts[kind] == 1 else 's'}" for kind in kinds if counts[kind]]
    return ", ".join(said) or "none"


def _slope(plan: Plan, plane: Plane) -> FigureText:
    called = called_in_12(plane.tangent)
    framed = plan.units.slope(plane.tangent)
    exact = math.isclose(plane.in_12, called, abs_tol=0.005)
    value = framed if exact else f"{framed}, called {called}"
    section = plan.section_of(plane.id)
    found = [trace for trace in section.answer.traces if trace.unit == "in_12"] if section is not None else []
    if not found:
        found = [Trace("slope", plane.in_12, "in_12", "m = rise / run", f"given as {framed}", "the job")]
    if not exact:
        found.append(
            Trace(
                "called",
                float(called),
                "in_12",
                "the nearest whole rise in 12",
                f"{framed} ≈ {called} in 12",
                COMMON_PRACTICE,
            )
        )
    return FigureText("Slope", value, tuple(found))


def _angle(units: Units, plane: Plane) -> FigureText:
    shown = units.angle(plane.angle)
    values = f"atan({plane.in_12:.4g} / 12) = {shown}"
    return FigureText(
        "Angle", shown, (Trace("slope angle", math.degrees(plane.angle), "deg", "θ = atan m", values, GEOMETRY),)
    )


def _bracket(plan: Plan, plane: Plane) -> FigureText:
    table = [Bracket(row.from_in_12, row.price_per_square) for row in plan.job.brackets]
    here, above = bracket_of(plane.tangent, table), next_bracket(plane.tangent, table)
    if here is None:
        value = f"below {_number(above.from_in_12)} in 12" if above is not None else "none given"
    elif above is None:
        value = f"from {_number(here.from_in_12)} in 12"
    elif here.from_in_12 == 0:
        value = f"under {_number(above.from_in_12)} in 12"
    else:
        value = f"{_number(here.from_in_12)} to {_number(above.from_in_12)} in 12"
    trace = Trace(
        "price bracket",
        here.from_in_12 if here is not None else 0.0,
        "in_12",
        "the steepest bracket that the framed slope has reached",
        f"{plan.units.slope(plane.tangent)} among {_table_words(plan.job.brackets)}",
        f"the job's price brackets; that brackets exist is {COMMON_PRACTICE}",
    )
    return FigureText("Price bracket", value, (trace,))


def _table_words(rows: Sequence[PriceBracket]) -> str:
    if not rows:
        return "no brackets"
    return "; ".join(
        f"from {_number(row.from_in_12)} in 12: "
        + ("no price yet" if row.price_per_square is None else f"{row.price_per_square:,.2f} a square")
        for row in rows
    )


def _plane_length(plan: Plan, plane: Plane) -> FigureText:
    length = plane.plane_length_in
    run = length / plane.stretch
    shown = plan.units.length(length)
    values = f"{plan.units.length(run)} · √(1 + ({plane.in_12:.4g}/12)²) = {shown}"
    trace = Trace("plane length", length, "in", "L = run of the plane · √(1 + m²)", values, GEOMETRY)
    return FigureText("Plane length", shown, (trace,))


def _rafters(plan: Plan, plane: Plane) -> FigureText:
    here = every = 0
    counts: list[str] = []
    for member in plan.framing.members:
        if member.kind not in RAFTER_KINDS:
            continue
        every += member.count
        of_plane = sum(1 for placement in member.placements if placement.plane == plane.id)
        here += of_plane
        counts.append(f"{member.mark} {member.count}")
    trace = Trace(
        "rafters", float(every), "count", "the sum over all rafter marks", ", ".join(counts) or "none", "the frame"
    )
    return FigureText("Rafters", f"{here} here, {every} in all" if here != every else f"{every}", (trace,))


def _sheets(plan: Plan) -> FigureText:
    sheathing = plan.sheathing
    value = f"{sheathing.count}"
    if sheathing.count:
        value += ", fewest proven" if sheathing.proven else f", at least {sheathing.at_least}"
    traces = sheathing.traces or (
        Trace("sheets", float(sheathing.count), "count", "the stock sheets of the cut list", value, "the layout"),
    )
    return FigureText("Sheets", value, traces)


def _number(value: float) -> str:
    return f"{value:g}"
