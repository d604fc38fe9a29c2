"""The open document: one job, its plan, one undo stack. Every edit in the window goes through here.

A finished edit is ``apply(job, text)``: one undo step that holds the job before and after. While a handle is dragged,
``preview(job)`` solves and shows without touching the undo stack, and the release either applies or cancels.
"""

from __future__ import annotations

import time
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack

from workbench.bench.calm import keep_calm
from workbench.bench.kept_sheets import Found, KeptSheets
from workbench.bench.previews import Preview, Reach, preview_plan
from workbench.bench.unraised import unraised
from workbench.errors import BadInput
from workbench.job.model import Job
from workbench.job.read import read_job
from workbench.job.underlay_edits import beside, found_from
from workbench.job.write import write_job
from workbench.plan import Plan, solve

_CATCH_UP_MS = 160
_FRAMES_OF_REST = 4.0


class _ReplaceJob(QUndoCommand):
    """Puts one whole job in the place of another; redo only assigns, so it can't fail."""

    # Never give a command a parent and never merge: both misbehave in the binding (DEVELOPERS.md, Qt traps).
    def __init__(self, document: Document, before: Plan, after: Plan, text: str) -> None:
        super().__init__(text)
        self._document = document
        self._before = before
        self._after = after

    def redo(self) -> None:
        self._document._show(self._after)

    def undo(self) -> None:
        self._document._show(self._before)


class Document(QObject):
    """Owner of the job and its undo stack.

    Signals:
        shown: ``(before: Plan, after: Plan)`` after every change of what is shown, previews included.
        changed: The job itself changed (not for previews): time to autosave, to rename the title.
        refused: ``(sentence, place)``: an edit could not be made; the job is as it was.
        replaced: Another document was opened; selection and view start afresh.
    """

    shown = Signal(object, object)
    changed = Signal()
    refused = Signal(str, str)
    replaced = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.stack = QUndoStack(self)
        self.stack.setUndoLimit(500)
        self._path: Path | None = None
        self.kept = KeptSheets()
        self._plan = solve(Job())
        self._committed = self._plan
        self.reach: Reach = "all"
        """How far the frames of a drag are worked out: as far as is on show."""
        self._catch_up = QTimer(self)
        self._catch_up.setSingleShot(True)
        self._catch_up.setInterval(_CATCH_UP_MS)
        self._catch_up.timeout.connect(lambda: unraised(self._complete))

    @property
    def job(self) -> Job:
        """The job as last applied, whatever a preview shows meanwhile."""
        return self._committed.job

    @property
    def plan(self) -> Plan:
        """The plan on show: the previewed one while a handle is dragged."""
        return self._plan

    @property
    def previewing(self) -> bool:
        """Whether what is on show is not the document's own."""
        return self._plan is not self._committed

    @property
    def path(self) -> Path | None:
        """The file it is kept in, or None while it has none."""
        return self._path

    @property
    def modified(self) -> bool:
        """Whether there is anything that is not in the file."""
        return not self.stack.isClean()

    @property
    def title(self) -> str:
        """File name, or the job's name while it has no file."""
        return self._path.name if self._path else self.job.name

    def apply(self, job: Job, text: str) -> None:
        """Make an edit: one undo step called ``text``. Nothing happens when the job is the same."""
        if job == self.job:
            self.cancel_preview()
            return
        before = self._committed
        after = self._solved(job)  # not the previewed plan, which was made for speed
        self.stack.push(_ReplaceJob(self, before, after, text))
        self.changed.emit()

    def preview(self, job: Job) -> None:
        """Show this job without making it the document's, as far as ``reach`` says; the rest once the hand rests."""
        keep_calm()
        begun = time.monotonic()
        known = self.kept.of(job)
        if known is not None:
            plan = solve(job, "preview", sheets=known.sheets, boards=known.boards_for(job))
        else:
            plan = preview_plan(job, self.reach, self._committed)
        before, self._plan = self._plan, plan
        self.shown.emit(before, plan)
        if isinstance(plan, Preview) and self._plan is plan:
            # On a slow machine the next frame takes its time; that is no rest.
            took_ms = 1000.0 * (time.monotonic() - begun)
            self._catch_up.start(max(_CATCH_UP_MS, round(_FRAMES_OF_REST * took_ms)))

    def cancel_preview(self) -> None:
        """Show the document's own job again."""
        self._catch_up.stop()
        if self._plan is not self._committed:
            before, self._plan = self._plan, self._committed
            self.shown.emit(before, self._plan)

    def take_sheets(self, job: Job, found: Found) -> None:
        """Use sheets that a longer search found for a job, now or whenever that job is on show again."""
        self.kept.keep(job, found)
        better = self._with_found(self._committed)
        if better is self._committed:
            return
        before, previewing = self._plan, self.previewing
        self._committed = better
        if not previewing:
            self._plan = better
            self.shown.emit(before, better)

    def refuse(self, error: BadInput, place: str = "") -> None:
        """Tell why an edit can't be made; the job stays as it was."""
        self.cancel_preview()
        self.refused.emit(str(error), place)

    def new(self, job: Job | None = None) -> None:
        """Start a fresh document without a file, empty or as a copy of ``job``."""
        self._replace(job if job is not None else Job(), None)

    def open(self, path: Path) -> None:
        """Open a job file.

        Raises:
            JobError: It can't be read; the open document is untouched.
        """
        self._replace(found_from(read_job(path), path.parent), path)

    def recover(self, job: Job, path: Path | None) -> None:
        """Open an autosaved job; it counts as modified until it is saved."""
        self._replace(job, path)
        self.stack.resetClean()
        self.changed.emit()

    def save(self, path: Path | None = None) -> None:
        """Write the job to ``path``, or to its own file.

        Raises:
            JobError: It can't be written; the old file is untouched.
            ValueError: It has no file yet and none was given.
        """
        target = path or self._path
        if target is None:
            msg = "The job has no file yet."
            raise ValueError(msg)
        write_job(beside(self.job, target.parent), target)
        self._path = target
        self.stack.setClean()
        self.changed.emit()

    def _replace(self, job: Job, path: Path | None) -> None:
        self.kept.clear()
        plan = solve(job)
        self.stack.clear()
        self._path = path
        self._show(plan)
        self.replaced.emit()
        self.changed.emit()

    def _complete(self) -> None:
        """Work out the rest of the job on show."""
        if isinstance(self._plan, Preview):
            before, self._plan = self._plan, solve(self._plan.job, "preview")
            self.shown.emit(before, self._plan)

    def _solved(self, job: Job) -> Plan:
        known = self.kept.of(job)
        return solve(job) if known is None else solve(job, sheets=known.sheets, boards=known.boards_for(job))

    def _with_found(self, plan: Plan) -> Plan:
        """The plan with what a longer search found for its job, if there is anything."""
        known = self.kept.of(plan.job)
        if known is None or (plan.sheathing is known.sheets and known.boards_for(plan.job) in (None, plan.lumber)):
            return plan
        return self._solved(plan.job)

    def _show(self, plan: Plan) -> None:
        self._catch_up.stop()
        plan = self._with_found(plan)
        before, self._plan, self._committed = self._plan, plan, plan
        self.shown.emit(before, plan)
