"""Looking for fewest sheets while the window goes on: start, progress, cancel, and what holds for the job on show."""

from __future__ import annotations

import logging

from PySide6.QtCore import QObject, Signal

from workbench.bench.aside import Aside
from workbench.bench.document import Document
from workbench.bench.fewest_worker import Broke, Ended, Told, search
from workbench.bench.kept_sheets import Ending, Found, sheet_inputs
from workbench.job.model import Job
from workbench.plan import Plan
from workbench.quantities.lumber_model import LumberPlan
from workbench.sheathing.model import SheathingPlan

DEFAULT_LIMIT_S = 10.0
_GONE = (
    "The roof, its frame or the rules of the sheets changed, so the longer search no longer holds: these are the quick "
    "layout's sheets again. Undo brings it back, or look again."
)


class FewestSearch(QObject):
    """One search at a time, for the document's job.

    Signals:
        changed: How far it is, or what holds for the job on show, is another.
        dropped: ``(sentence)`` what was found no longer holds.
    """

    changed = Signal()
    dropped = Signal(str)

    def __init__(self, document: Document, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._aside = Aside(self)
        self._aside.heard.connect(self._hear)
        self._aside.lost.connect(self._lost)
        self._job: Job | None = None
        self._quick = 0
        self._best: SheathingPlan | None = None
        self._boards: LumberPlan | None = None
        self._stopping = False
        self.limit_s = DEFAULT_LIMIT_S
        self.told: Told | None = None
        """How far the running search is; None before it has said anything."""
        self.problem = ""
        """Why the last search broke down."""
        self._held = False
        document.shown.connect(self._shown)
        document.replaced.connect(self._replaced)

    @property
    def running(self) -> bool:
        """Whether it is looking."""
        return self._aside.running

    @property
    def found(self) -> Found | None:
        """What was found for the document's job, or None."""
        return self._document.kept.of(self._document.job)

    @property
    def worth_while(self) -> bool:
        """Whether there is anything to look for: sheets that are not proven the fewest."""
        sheets = self._document.plan.sheathing
        return bool(sheets.planes) and not sheets.proven

    def start(self, limit_s: float | None = None) -> None:
        """Look for fewest sheets for the document's job; one that runs is given up."""
        self.cancel_now()
        self.limit_s = limit_s if limit_s is not None else self.limit_s
        self._job = self._document.job
        self._quick = self._document.plan.sheathing.count
        found = self.found
        if found is not None:
            self._quick = found.quick
        self._best, self._boards, self.told, self.problem, self._stopping = None, None, None, "", False
        try:
            self._aside.start(search, self._job, self.limit_s)
        except OSError as error:
            logging.getLogger(__name__).exception("the search could not be started")
            self.problem = str(error)
        self.changed.emit()

    def cancel(self) -> None:
        """Stop looking; the best so far stays in use. A search that does not listen at once is ended by force."""
        self._stopping = True
        self._aside.ask_to_stop()

    def cancel_now(self) -> None:
        """End what runs without waiting for it; what it has told so far is kept."""
        if self.running:
            self._finish("stopped")

    def stop(self) -> None:
        """The window closes."""
        self._aside.end()

    # Following the search

    def _lost(self) -> None:
        if not self._stopping:
            self.problem = "the search ended without a word"
        self._finish("stopped")

    def _hear(self, word: object) -> None:
        match word:
            case Told():
                self.told = word
                if word.plan is not None:
                    self._take(word.plan, word.seconds, "running")
                self.changed.emit()
            case Ended(sheets=sheets, boards=boards, stopped=stopped, seconds=seconds):
                self._best, self._boards = sheets, boards
                over = not stopped and seconds >= self.limit_s - 0.5 and not sheets.proven
                self._finish("stopped" if stopped else "time" if over else "end", seconds)
            case Broke(sentence=sentence):
                logging.getLogger(__name__).error("the search broke down: %s", sentence)
                self.problem = sentence
                self._finish("stopped")
            case _:
                raise TypeError(word)

    def _finish(self, ending: Ending, seconds: float | None = None) -> None:
        if seconds is None:
            seconds = self.told.seconds if self.told is not None else 0.0
        self._aside.end()
        if self._best is not None:
            self._take(self._best, seconds, ending)
        self.changed.emit()

    def _take(self, sheets: SheathingPlan, seconds: float, ending: Ending) -> None:
        self._best = sheets
        if self._job is not None:
            boards = (self._job.lumber, self._boards) if self._boards is not None else None
            self._document.take_sheets(self._job, Found(sheets, self._quick, seconds, ending, boards))
            self._held = self.found is not None

    # Following the document

    def _shown(self, before: Plan, after: Plan) -> None:
        """Give up what is no longer asked for, and say where what was found no longer holds."""
        if self._document.previewing:
            return
        if self.running and self._job is not None and sheet_inputs(self._document.job) != sheet_inputs(self._job):
            self._finish("stopped")
        holds = self.found is not None
        if self._held and not holds and self._document.kept:
            self.dropped.emit(_GONE)
        self._held = holds
        self.changed.emit()

    def _replaced(self) -> None:
        self._held = False
        if self.running:
            self._best = None
            self._finish("stopped")
        self.changed.emit()


def fewest_words(search: FewestSearch, plan: Plan) -> str:
    """Where the search is, or what the number of sheets is worth, in plain sentences."""
    count, least = plan.sheathing.count, plan.sheathing.at_least
    if search.running:
        told = search.told
        if told is None:
            return "Looking for fewer sheets… The quick layout is in use meanwhile."
        return (
            f"Looking… {told.sheets} sheets are the best so far and in use; at least {told.at_least} are needed; "
            f"{told.seconds:.0f} s."
        )
    if search.problem:
        return f"The search broke down ({search.problem}). The layout on show is in use; the log says more."
    found = search.found
    if not plan.sheathing.planes:
        return "There are no sheets to look for yet."
    if plan.sheathing.proven:
        return f"{count} sheets, and fewer are proven impossible by these rules: there is nothing to look for."
    if found is None:
        return (
            f"{count} sheets are the quick layout's, made while you draw; at least {least} are needed. A longer search "
            "may find fewer, or prove that there are none."
        )
    return _found_words(found)


def _found_words(found: Found) -> str:
    count, least = found.sheets.count, found.sheets.at_least
    saved = found.quick - count
    less = "as many as the quick layout" if saved <= 0 else f"{saved} fewer than the quick layout"
    known = f"{count} sheets, {less}; at least {least} are needed."
    match found.ending:
        case "time":
            return f"Time was up after {found.seconds:.0f} s: {known} A longer search may find fewer."
        case "stopped" | "running":
            return f"Stopped after {found.seconds:.0f} s: {known}"
        case "end":
            return f"Searched to its end in {found.seconds:.0f} s: {known}"
