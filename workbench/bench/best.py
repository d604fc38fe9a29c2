"""Comparing every choice of laying the sheets while the window goes on: start, progress, stop, what came out."""

from __future__ import annotations

import logging
import os
from dataclasses import dataclass
from multiprocessing.connection import Connection

from msgspec.structs import replace
from PySide6.QtCore import QObject, Signal

from workbench.bench.aside import Aside
from workbench.bench.document import Document
from workbench.bench.kept_sheets import sheet_inputs
from workbench.job import edits
from workbench.job.model import Job, Sheathing
from workbench.measure import Units
from workbench.plan import Plan, solve
from workbench.sheathing.choices import Bought, Compared, best_for_me

LIMIT_S = 20.0
_STOP_WITHIN_MS = 4_000
_RIPS = {"bottom": "ripped row at the bottom", "top": "ripped row at the top", "both": "ripped rows at both ends"}
_SPLITS = {"fewest": "split as buys fewest", "halves": "leftover in two halves", "least": "least width first"}
_STARTS = {"left": "rows from the left", "right": "rows from the right"}


@dataclass(frozen=True, slots=True)
class Looked:
    """How many sets of choices were looked at."""

    done: int
    total: int


def compare(line: Connection, job: Job, limit_s: float) -> None:
    """Compare the choices in a process of its own; whatever comes the other way means stop."""
    if hasattr(os, "nice"):
        os.nice(5)  # drawing goes first

    def told(done: int, total: int) -> bool:
        line.send(Looked(done, total))
        return not line.poll()

    try:
        plan = solve(job, "preview")
        measured = job.site.as_built.planes
        given = (plan.roof, plan.framing, job.sheathing, job.plane_choices, measured, plan.units)
        line.send(best_for_me(*given, progress=told, limit_s=limit_s))
    except (BrokenPipeError, EOFError):
        return  # the window is gone
    except Exception as error:
        line.send(f"{type(error).__name__}: {error}")
    finally:
        line.close()


class BestChoices(QObject):
    """One comparison at a time, of the document's job.

    Signals:
        changed: How far it is, or what it found, is another.
    """

    changed = Signal()

    def __init__(self, document: Document, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._aside = Aside(self)
        self._aside.heard.connect(self._hear)
        self._aside.lost.connect(self._lost)
        self._about: Job | None = None
        self._stopping = False
        self.looked: Looked | None = None
        self.compared: Compared | None = None
        self.problem = ""
        document.shown.connect(self._shown)

    @property
    def running(self) -> bool:
        """Whether it compares."""
        return self._aside.running

    @property
    def listed(self) -> tuple[Bought, ...]:
        """The best set of choices, then the others, the job's own among them."""
        if self.compared is None:
            return ()
        found = (self.compared.best, *self.compared.others)
        own = () if any(self.in_use(one, self.compared.now.settings) for one in found) else (self.compared.now,)
        return (*found, *own)

    def in_use(self, bought: Bought, settings: Sheathing | None = None) -> bool:
        """Whether these are the choices of the document's job."""
        return _choices_of(bought.settings) == _choices_of(settings or self._document.job.sheathing)

    def start(self) -> None:
        """Compare the choices for the document's job."""
        job = self._document.job
        self._about = _without_choices(job)
        self.looked, self.compared, self.problem, self._stopping = None, None, "", False
        try:
            self._aside.start(compare, job, LIMIT_S)
        except OSError as error:
            logging.getLogger(__name__).exception("the comparison could not be started")
            self.problem = str(error)
        self.changed.emit()

    def cancel(self) -> None:
        """Stop comparing; what was compared so far is listed where it can be had."""
        self._stopping = True
        self._aside.ask_to_stop(_STOP_WITHIN_MS)
        self.changed.emit()

    def take(self, bought: Bought) -> None:
        """Make these choices the job's own: one step to undo."""
        names = ("rip", "split", "stagger_in", "first_piece_in", "start")
        fields = {name: getattr(bought.settings, name) for name in names}
        self._document.apply(edits.set_sheathing(self._document.job, **fields), "Take these choices")

    def stop(self) -> None:
        """The window closes."""
        self._aside.end()

    def _hear(self, word: object) -> None:
        match word:
            case Looked():
                self.looked = word
            case Compared():
                self.compared = word
                self._aside.end()
            case _:
                logging.getLogger(__name__).error("the comparison broke down: %s", word)
                self.problem = str(word)
                self._aside.end()
        self.changed.emit()

    def _lost(self) -> None:
        if not self._stopping:
            self.problem = "it ended without a word"
        self.changed.emit()

    def _shown(self, before: Plan, after: Plan) -> None:
        if self._document.previewing:
            return
        if self._about is not None and _without_choices(self._document.job) != self._about:
            self._aside.end()
            self._about = self.looked = self.compared = None
            self.problem = ""
        self.changed.emit()


def best_words(best: BestChoices) -> str:
    """Where the comparison is, in a sentence."""
    if best.running:
        looked = best.looked
        return "Comparing…" if looked is None else f"Comparing… {looked.done} of {looked.total} sets of choices."
    if best.problem:
        return f"The comparison broke down ({best.problem}); the log says more."
    if best.compared is None:
        return (
            "Tries every way to rip, split, stagger and start the rows, and searches the leading ones longer: fewest "
            "rules broken first, then fewest sheets, saw cuts and different pieces."
        )
    rest = "" if best.compared.finished else " Not all of them were looked at in the time there was."
    if best.compared.best.key[:-1] == best.compared.now.key[:-1]:
        return f"The choices you have are the best of those compared.{rest}"
    return f"The best first. Mark a row and take it; undo brings yours back.{rest}"


def choice_words(bought: Bought, units: Units) -> str:
    """What a set of choices changes."""
    settings = bought.settings
    first = (
        "first piece searched"
        if settings.first_piece_in is None
        else (f"first piece {units.length(settings.first_piece_in)}")
    )
    words = {
        "rip": _RIPS[settings.rip],
        "split": _SPLITS[settings.split],
        "stagger_in": f"stagger {units.length(settings.stagger_in)}",
        "first_piece_in": first,
        "start": _STARTS[settings.start],
    }
    said = ", ".join(words[name] for name in bought.changed)
    broken = bought.errors + bought.warnings
    rules = "" if not broken else f"; {broken} rule{'' if broken == 1 else 's'} broken"
    return f"{said[:1].upper()}{said[1:]}{rules}" if said else f"As it was{rules}"


def _choices_of(settings: Sheathing) -> tuple[object, ...]:
    return settings.rip, settings.split, settings.stagger_in, settings.first_piece_in, settings.start


def _without_choices(job: Job) -> Job:
    plain = Sheathing()
    sheathing = replace(
        job.sheathing,
        rip=plain.rip,
        split=plain.split,
        stagger_in=plain.stagger_in,
        first_piece_in=None,
        start=plain.start,
    )
    return replace(sheet_inputs(job), sheathing=sheathing)
