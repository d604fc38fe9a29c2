"""The Slope page: the answer large, what is to find, whole slopes near by, price brackets, and the sweep."""

from __future__ import annotations

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QHBoxLayout, QLabel

from workbench.bench import theme
from workbench.bench.how import HowButton
from workbench.bench.panel import Panel
from workbench.bench.stages.slope.bracket_rows import BracketRows
from workbench.bench.stages.slope.ending import UpperEnd
from workbench.bench.stages.slope.known import KnownMeasures
from workbench.bench.stages.slope.said import (
    Said,
    answer_words,
    finding_words,
    miss_trace,
    price_traces,
    section_findings,
)
from workbench.bench.stages.slope.sweep_part import SweepPart
from workbench.bench.stages.slope.way_list import WayList
from workbench.bench.stages.slope.ways import near_slopes, verdict, ways_to
from workbench.bench.strip.measures import Cut, cut_of
from workbench.bench.strip.words import trouble
from workbench.bench.table import Cells, Table
from workbench.findings import SCREENING
from workbench.job.model import Job
from workbench.roof.brackets import bracket_of
from workbench.roof.nominal import called_in_12
from workbench.sweep import price_table

_WAIT_MS = 90


class SlopePanel(Panel):
    """What is to find, what that gives, what would have to move, and what it costs."""

    title = "Slope"

    def build(self) -> None:
        """Answer, measures, upper end, findings, whole slopes, brackets, sweep."""
        self._cut: Cut | None = None
        self._wait = QTimer(self)
        self._wait.setSingleShot(True)
        self._wait.setInterval(_WAIT_MS)
        self._wait.timeout.connect(self._show_rest)
        self._add_answer()
        self.measures_heading = self.add_heading("To find, and given")
        self.known = KnownMeasures(self.document, self)
        self.add(self.known)
        self.end = UpperEnd(self.document, self)
        self.add(self.end)
        self.built_heading = self.add_heading("Can it be built so?")
        self.built = Said(self)
        self.add(self.built)
        self._add_near()
        self._add_brackets()
        self.sweep_heading = self.add_heading("What another slope would make it")
        self.sweep = SweepPart(self.document, self)
        self.add(self.sweep)

    def refresh(self) -> None:
        """Show the section of the selected plane; what takes longer waits until a drag pauses."""
        plane = self.plane
        cut = None if plane is None else cut_of(self.plan, plane.id)
        self._cut = cut
        self._show_answer(cut)
        self.known.show_cut(cut, self.plan.units)
        self.end.show_cut(cut, self.plan.units)
        here = None
        if cut is not None:
            found = bracket_of(cut.section.answer.tangent, price_table(cut.job.brackets))
            here = next((i for i, b in enumerate(cut.job.brackets) if found and b.from_in_12 == found.from_in_12), None)
        self.bracket_rows.show_brackets(self.plan.job.brackets, here)
        self.sweep.show_cut(None if cut is None or cut.unsolved else cut)
        self.sweep_heading.setVisible(cut is not None and not cut.unsolved)
        if self.plan.job == self.document.job:
            self._show_rest()
        else:
            self._wait.start()

    def stop(self) -> None:
        """Let nothing run on; call it before the page goes."""
        self._wait.stop()
        self.sweep.stop()

    def _add_answer(self) -> None:
        self.figure = QLabel(self)
        self.figure.setFont(theme.heading_font(20))
        self.how = HowButton("the slope", self)
        row = QHBoxLayout()
        row.addWidget(self.figure, 1)
        row.addWidget(self.how)
        self.pinned.addLayout(row)
        self.called = QLabel(self)
        self.called.setFont(theme.heading_font(11))
        self.pinned.addWidget(self.called)
        self.state = QLabel(self)
        self.state.setWordWrap(True)
        self.pinned.addWidget(self.state)

    def _add_near(self) -> None:
        self.near_how = HowButton("the miss", self)
        self.near_heading = self.add_heading("Whole slopes near by", self.near_how)
        self.near = Table("Whole slopes near by", ("Slope", "Framed so"), stretch=1, parent=self)
        self.near.chosen.connect(self._near_chosen)
        self.add(self.near)
        self.near_about = self.add_note()
        self.near_ways = WayList("What would make the marked slope hit", self)
        self.near_ways.taken.connect(self._take_near)
        self.add(self.near_ways)

    def _add_brackets(self) -> None:
        self.price_how = HowButton("the price of roofing", self)
        self.add_heading("Price brackets", self.price_how)
        self.bracket_rows = BracketRows(self.document, self)
        self.add(self.bracket_rows)
        self.price_about = self.add_note()
        self.price_ways = WayList("What would bring it under the bracket", self)
        self.price_ways.taken.connect(self._take_price)
        self.add(self.price_ways)
        said = "What roofers charge is common practice, no source. It says nothing on safety: over 4 in 12 is steep."
        self.add_note(said)

    def _show_answer(self, cut: Cut | None) -> None:
        figure, called = answer_words(cut, self.plan.units)
        self.figure.setText(figure)
        self.called.setText(called)
        self.called.setVisible(bool(called))
        wrong = "" if cut is None else trouble(self.plan, cut)
        judged = None if cut is None or wrong else verdict(cut)
        over = judged is not None and judged.over
        text = wrong or ("" if judged is None else f"⚠ {judged.words}" if over else judged.words)
        if cut is None:
            text = "Draw a roof in the plan, or select a plane that has a section."
        self.state.setText(text)
        self.state.setVisible(bool(text))
        _warn(self.state, bool(wrong) or over)
        self.how.set_traces(() if cut is None or wrong else cut.section.answer.traces)

    def _show_rest(self) -> None:
        """Findings, near slopes, ways, prices: a few dozen solvings of one rafter."""
        cut = self._cut
        solved = cut is not None and not cut.unsolved
        for widget in (self.near_heading, self.near_how, self.near, self.near_about, self.built_heading, self.built):
            widget.setVisible(solved)
        if cut is None or not solved:
            self.near_ways.show_ways(())
            self.price_ways.show_ways(())
            self.price_about.setText("")
            self.price_how.set_traces(())
            return
        self.built.say(finding_words(section_findings(self.plan, cut)), SCREENING)
        self._show_near(cut)
        self._show_prices(cut)

    def _show_near(self, cut: Cut) -> None:
        near = near_slopes(cut, self.plan.units)
        key = self.near.key
        self.near.set_rows([Cells((f"{n.in_12} in 12", n.words), str(n.in_12)) for n in near])
        if key not in {str(n.in_12) for n in near}:
            self.near.select_key(str(called_in_12(cut.section.answer.tangent)))
        self._near_chosen(self.near.key)

    def _near_chosen(self, key: str) -> None:
        cut = self._cut
        if cut is None or not key:
            self.near_about.setText("")
            self.near_how.set_traces(())
            self.near_ways.show_ways(())
            return
        if abs(float(key) - cut.section.answer.in_12) < 1e-6:
            self.near_about.setText(f"{key} in 12 is the slope to be framed.")
            self.near_how.set_traces(cut.section.answer.traces[:1])
            self.near_ways.show_ways(())
            return
        self.near_how.set_traces((miss_trace(cut, float(key), self.plan.units),))
        each = ", each alone" if cut.unknown == "slope" else ""
        self.near_about.setText(f"To make it {key} in 12{each}:")
        self.near_ways.show_ways(ways_to(cut, float(key), self.plan.units))

    def _show_prices(self, cut: Cut) -> None:
        judged = verdict(cut)
        self.price_how.set_traces(price_traces(self.plan, cut))
        if judged is None or judged.target_in_12 is None:
            self.price_about.setText("" if judged is None else judged.words)
            self.price_ways.show_ways(())
            return
        each = ", each alone" if cut.unknown == "slope" else ""
        self.price_about.setText(f"{judged.words} To come down to {judged.target_in_12:g} in 12{each}:")
        self.price_ways.show_ways(ways_to(cut, judged.target_in_12, self.plan.units))

    def _take_near(self, job: Job) -> None:
        self.document.apply(job, f"Make it {self.near.key} in 12")

    def _take_price(self, job: Job) -> None:
        self.document.apply(job, "Come under the price bracket")


def _warn(label: QLabel, on: bool) -> None:
    if label.property("warning") != on:
        label.setProperty("warning", on)
        label.style().unpolish(label)
        label.style().polish(label)
