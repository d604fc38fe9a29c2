"""What the Slope page says: the answer, findings in words, and how the price came about."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from workbench.bench.panel import note
from workbench.bench.stages.slope.ways import asked
from workbench.bench.strip.measures import Cut
from workbench.findings import GEOMETRY, SCREENING, Finding, in_order
from workbench.measure import Trace, Units
from workbench.plan import Plan
from workbench.quantities.hours import plan_hours
from workbench.quantities.waste import LUMBER
from workbench.roof.brackets import bracket_of
from workbench.roof.landing import landing_miss, settled
from workbench.roof.nominal import called_in_12
from workbench.sweep import SweepQuantity, price_table, rafter_length

_SIGNS = {"error": "⚠ Error", "warning": "⚠ Warning", "note": "Note"}


@dataclass(frozen=True, slots=True)
class Sentence:
    """One finding in words.

    Attributes:
        text: With its severity as a word in front.
        source: Where the rule comes from.
        warns: Whether it warns.
    """

    text: str
    source: str
    warns: bool


def answer_words(cut: Cut | None, units: Units) -> tuple[str, str]:
    """The slope large, and the line under it: angle, what it is called, rafter length."""
    if cut is None:
        return "No slope yet", ""
    if cut.unsolved:
        return "No answer", f"drawn at {units.slope(cut.section.answer.tangent)} meanwhile"
    answer = cut.section.answer
    called = called_in_12(answer.tangent)
    name = "" if abs(answer.in_12 - called) < 0.005 else f" · called {called} in 12"
    length = units.length(rafter_length(cut.section))
    return units.slope(answer.tangent), f"{units.angle(answer.angle)}{name} · rafter {length}"


def section_findings(plan: Plan, cut: Cut) -> tuple[Finding, ...]:
    """What stands against building the section so, worst first; the same rule is not told twice."""
    about = {cut.plane.id, cut.plane.wing}
    of_wing = (f for f in plan.findings if f.object in about and f.code.startswith(("landing-", "outward-", "ridge-")))
    return in_order((*cut.section.answer.findings, *of_wing))


def finding_words(findings: Sequence[Finding]) -> tuple[Sentence, ...]:
    """Findings as sentences; the caution stands once under them all."""
    return tuple(
        Sentence(f"{_SIGNS[f.severity]}: {f.text.replace(SCREENING, '').strip()}", f.source, f.severity != "note")
        for f in findings
    )


def price_traces(plan: Plan, cut: Cut) -> tuple[Trace, ...]:
    """How roofing the wing's planes is priced, one trace a plane; none where a price is missing."""
    table = price_table(plan.job.brackets)
    traces: list[Trace] = []
    for plane in plan.roof.planes:
        bracket = bracket_of(plane.tangent, table)
        if plane.wing != cut.plane.wing:
            continue
        if bracket is None or bracket.price_per_square is None:
            return ()
        squares = plane.area_sqft / 100.0
        price = squares * bracket.price_per_square
        values = f"{squares:,.2f} squares · {bracket.price_per_square:,.2f} = {price:,.2f}"
        formula = "squares of 100 sq ft · price a square of its bracket"
        traces.append(Trace(f"roofing {plane.name}", price, "money", formula, values, "the job's price brackets"))
    return tuple(traces)


def miss_trace(cut: Cut, in_12: float, units: Units) -> Trace:
    """How the miss of a slope at the landing came about."""
    given, m = settled(asked(cut), cut.section.answer), in_12 / 12.0
    plumb = given.depth_in * math.hypot(1.0, m)
    low = given.hap_low_in if given.low_end == "hap" else plumb - given.seat_in * m
    high = {"notched": given.hap_high_in, "whole": plumb}.get(given.high_end, 0.0)
    miss = landing_miss(given, m)
    values = (
        f"{units.length(given.low_plate_in)} + {units.length(low)} + {in_12:g}/12 · {units.length(given.reach_in)} − "
        f"{units.length(given.landing_in)} − {units.length(high)} = {units.signed(miss)}"
    )
    formula = "low plate + height above it + m · run − landing − height above it"
    return Trace(f"miss at {in_12:g} in 12, + above the landing", miss, "in", formula, values, GEOMETRY)


def sweep_traces(plan: Plan, cut: Cut, quantity: SweepQuantity) -> tuple[Trace, ...]:
    """How the plotted figure of the present roof came about."""
    planes, units, section = [p for p in plan.roof.planes if p.wing == cut.plane.wing], plan.units, cut.section
    match quantity:
        case "area":
            total = sum(plane.area_sqft for plane in planes)
            values = " + ".join(units.area(plane.area_sqft) for plane in planes) + f" = {units.area(total)}"
            return (Trace("roof area", total, "sqft", "sum of the planes, overhangs included", values, GEOMETRY),)
        case "ridge_height":
            top = max(corner[2] for plane in planes for corner in plane.corners)
            words = "highest corner of the planes"
            return (Trace("height of the ridge", top, "in", words, units.length(top), GEOMETRY),)
        case "rafter_length":
            length, m = rafter_length(section), section.answer.tangent
            level = length / math.hypot(1.0, m)
            values = f"{units.length(level)} · √(1 + ({12 * m:.4g}/12)²) = {units.length(length)}"
            formula = "level length from tail to top · √(1 + m²)"
            return (Trace("rafter length", length, "in", formula, values, GEOMETRY),)
        case "price":
            return price_traces(plan, cut)
        case "sheets":
            return plan.sheathing.traces
        case "lumber":
            return tuple(q.trace for q in plan.quantities if q.code.startswith(LUMBER))
        case "hours":
            found = plan_hours(plan.job, plan.roof.planes, plan.framing, plan.sheathing)
            return tuple(task.trace for task in found.tasks)


class Said(QWidget):
    """Sentences one under the other, each with its source, and the caution last."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(2)
        self._lines: list[tuple[QLabel, QLabel]] = []
        self._caution = note("", self)
        self._column.addWidget(self._caution)
        self._shown: tuple[Sentence, ...] | None = None

    @property
    def texts(self) -> tuple[str, ...]:
        """The sentences on show."""
        return tuple(sentence.text for sentence in self._shown or ())

    def say(self, sentences: Sequence[Sentence], caution: str) -> None:
        """Say these sentences; without any, that nothing stands against it."""
        self._caution.setText(caution)
        if tuple(sentences) == self._shown:
            return
        self._shown = tuple(sentences)
        lines = self._shown or (Sentence("Nothing found against it: notches, bearing, height above plate.", "", False),)
        while len(self._lines) < len(lines):
            self._add_line()
        for number, (text, source) in enumerate(self._lines):
            on = number < len(lines)
            text.setVisible(on)
            source.setVisible(on and bool(lines[number].source))
            if on:
                text.setText(lines[number].text)
                text.setProperty("warning", lines[number].warns)
                text.style().unpolish(text)
                text.style().polish(text)
                source.setText(f"Source: {lines[number].source}")

    def _add_line(self) -> None:
        text, source = QLabel(self), note("", self)
        text.setWordWrap(True)
        at = 2 * len(self._lines)
        self._column.insertWidget(at, text)
        self._column.insertWidget(at + 1, source)
        self._lines.append((text, source))
