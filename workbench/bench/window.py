"""The main window: stages on top, one drawing, one right side, the section strip, the standing figures."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QKeySequence
from PySide6.QtWidgets import (
    QMainWindow,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from workbench.bench import theme
from workbench.bench.best import BestChoices
from workbench.bench.dialogs import Dialogs
from workbench.bench.document import Document
from workbench.bench.exporting import Exporter
from workbench.bench.fewest import FewestSearch
from workbench.bench.figures import FiguresLine
from workbench.bench.files import Files, dropped_file
from workbench.bench.handout_view import HandoutView, default_name
from workbench.bench.history import History
from workbench.bench.job_panel import UNIT_CHOICES, known_units
from workbench.bench.menus import Menus, stage_beside
from workbench.bench.message import MessageBar
from workbench.bench.panel import Panel
from workbench.bench.parts_in_turn import focus_next_part
from workbench.bench.previews import Reach
from workbench.bench.price_files import PriceFiles
from workbench.bench.selection import Selection
from workbench.bench.settings import Settings
from workbench.bench.shortcuts import ShortcutSheet
from workbench.bench.space.dock import SpaceDock
from workbench.bench.stage_bar import StageBar
from workbench.bench.stage_pages import StagePages
from workbench.bench.start import StartPage, samples_offered
from workbench.bench.status_line import StatusLine
from workbench.bench.strip.widget import SectionStrip
from workbench.bench.surface.view import Surface
from workbench.bench.theme import Choice
from workbench.bench.underlay.layer import UnderlayLayer
from workbench.bench.underlay.tracing import Tracing
from workbench.bench.window_menus import fill_menus
from workbench.bench.window_shape import WindowShape
from workbench.errors import BadInput
from workbench.job import edits
from workbench.job.model import Units as JobUnits
from workbench.revisions import issue

_LEAST_SIDE = 340
_LEAST_WIDTH = 960
_STD = QKeySequence.StandardKey
_REACH: dict[str, Reach] = {"plan": "roof", "slope": "roof", "frame": "frame", "sheets": "sheets", "safety": "safety"}


class Window(QMainWindow):
    """One open job."""

    def __init__(
        self, settings: Settings | None = None, dialogs: Dialogs | None = None, state: Path | None = None
    ) -> None:
        super().__init__()
        self.settings = settings or Settings()
        self.dialogs = dialogs or Dialogs(self)
        self.document = Document(self)
        self.selection = Selection(self)
        self.history = History(self.document, self.selection, self)
        self.files = Files(self.document, self.settings, self.dialogs, state, self)
        self.search = FewestSearch(self.document, self)
        self.best = BestChoices(self.document, self)
        self.exporter = Exporter(self.document, self.settings, self.dialogs, self)
        self.price_files = PriceFiles(self.document, self.settings, self.dialogs, self)
        self.samples = samples_offered()
        self.setAcceptDrops(True)
        self.setMinimumSize(_LEAST_WIDTH, 640)
        with theme.current().undressed():
            self._build_centre()
        self.status = StatusLine(self.statusBar(), self.search)
        self.menus = Menus(self)
        fill_menus(self)
        self.tracing = Tracing(self)
        self._connect()
        self.show_stage("plan")
        self._restore_layout()
        self._titled()
        self._recent_changed()
        self.files.start()

    # Building

    def _build_centre(self) -> None:
        self.message = MessageBar(self)
        self.stages = StageBar(self)
        self.surface = Surface(self.document, self.selection, self)
        # The window takes dropped files, wherever they are dropped.
        self.surface.setAcceptDrops(False)
        self.surface.viewport().setAcceptDrops(False)
        self.underlay = UnderlayLayer(self.document, self.surface.scene(), self)
        self.strip = SectionStrip(self.document, self.selection, self)
        self.figures = FiguresLine(self.document, self.selection, self)
        self.side = QStackedWidget(self)
        self.side.setMinimumWidth(_LEAST_SIDE)
        self.pages = StagePages(self.document, self.selection, self.search, self.best, self.side)
        self.upright = QSplitter(Qt.Orientation.Vertical, self)
        self.upright.addWidget(self.surface)
        self.upright.addWidget(self.strip)
        self.across = QSplitter(Qt.Orientation.Horizontal, self)
        self.across.addWidget(self.upright)
        self.across.addWidget(self.side)
        for splitter in (self.upright, self.across):
            splitter.setChildrenCollapsible(False)
            splitter.setHandleWidth(5)
            splitter.setStretchFactor(0, 1)
            splitter.setStretchFactor(1, 0)
        self.shape = WindowShape(self, self.across, self.upright, self.settings)
        work = QWidget(self)
        column = _column(work)
        column.addWidget(self.stages)
        column.addWidget(self.across, 1)
        column.addWidget(self.figures)
        self.start = StartPage(self.samples, self)
        self.centre = QStackedWidget(self)
        self.centre.addWidget(self.start)
        self.centre.addWidget(work)
        whole = QWidget(self)
        column = _column(whole)
        column.addWidget(self.message)
        column.addWidget(self.centre, 1)
        self.setCentralWidget(whole)
        self.space = SpaceDock(self.document, self.selection, self.settings, self)
        self.addDockWidget(Qt.DockWidgetArea.LeftDockWidgetArea, self.space)

    def _connect(self) -> None:
        document, files, start = self.document, self.files, self.start
        document.changed.connect(self._titled)
        document.stack.cleanChanged.connect(self._titled)
        document.stack.indexChanged.connect(self._titled)
        document.stack.undoTextChanged.connect(self._undo_changed)
        document.stack.redoTextChanged.connect(self._undo_changed)
        document.stack.indexChanged.connect(self._undo_changed)
        document.refused.connect(self._refused)
        document.replaced.connect(self._replaced)
        files.warned.connect(self.message.warn)
        files.noted.connect(self._noted)
        for teller in (self.exporter, self.price_files):
            teller.warned.connect(self.message.warn)
            teller.noted.connect(self._noted)
        self.pages.when_made("quantities", self.price_files.serve)
        files.recent_changed.connect(self._recent_changed)
        files.begun.connect(self._begun)
        self.centre.currentChanged.connect(self._centre_changed)
        self.space.wanted_changed.connect(self.menus.actions["space"].setChecked)
        self.space.wanted_changed.connect(self._reach_as_shown)
        self.space.visibilityChanged.connect(self._keep_room)
        self.menus.recent.aboutToShow.connect(self._recent_changed)
        self.menus.file.aboutToShow.connect(self._recovery_changed)
        self.stages.chosen.connect(self.show_stage)
        self.stages.handout.clicked.connect(self.show_handout)
        self.stages.job.clicked.connect(self.show_job)
        self.figures.findings_wanted.connect(self.show_findings)
        self.surface.hint.connect(self.status.hint.setText)
        self.surface.cursor_at.connect(self.status.cursor_at.setText)
        self.search.dropped.connect(self.message.note)
        self.status.looking.clicked.connect(self.show_search)
        start.new_wanted.connect(files.new)
        start.open_wanted.connect(files.open)
        start.path_wanted.connect(files.open_path)
        start.sample_wanted.connect(files.open_sample)
        start.recovery_wanted.connect(files.offer_recovery)
        self._undo_changed()

    # What the user can do

    @property
    def stage(self) -> str:
        """Name of the stage in use."""
        return self.surface.stage

    def show_stage(self, name: str) -> None:
        """Go to a stage."""
        self.surface.set_stage(name)
        self.underlay.show_stage(name)
        self._reach_as_shown()
        self.stages.show_stage(name)
        self.menus.actions[f"stage {name}"].setChecked(True)
        self.side.setCurrentWidget(self.pages[name])

    def _keep_room(self) -> None:
        """With the 3-D view beside them the drawing, the strip and the page still have the width they need."""
        docked = self.space.isVisible() and not self.space.isFloating()
        beside = self.space.minimumSizeHint().width() + 8 if docked else 0
        self.setMinimumWidth(max(_LEAST_WIDTH, self.strip.minimumWidth() + _LEAST_SIDE + 8 + beside))

    def _reach_as_shown(self) -> None:
        """Let the frames of a drag be worked out as far as stage and 3-D view show them, and no further."""
        self.document.reach = "drawn" if self.space.wanted else _REACH.get(self.stage, "roof")

    def start_tool(self, name: str) -> None:
        """Take a drawing tool, by its verb, in the stage it belongs to."""
        self.centre.setCurrentIndex(1)
        self.statusBar().show()
        self.show_stage("plan")
        self.surface.start_tool(name)
        self.surface.setFocus()

    def next_stage(self) -> None:
        """Go one stage on."""
        self._step(1)

    def previous_stage(self) -> None:
        """Go one stage back."""
        self._step(-1)

    def next_part(self) -> None:
        """Let the keyboard go on to the next part of the window: drawing, section, right side."""
        focus_next_part((self.surface, self.strip, self.side))

    def show_findings(self) -> None:
        """List the findings on the right side; choosing a stage leads back."""
        self._show_page("findings")

    def show_job(self) -> None:
        """Show the job's name, date, revision and units on the right side."""
        self._show_page("job")

    def show_search(self) -> None:
        """Go to where the search for fewest sheets is told."""
        self.centre.setCurrentIndex(1)
        self.statusBar().show()
        self.show_stage("sheets")

    def look_for_fewest(self) -> None:
        """Look for fewest sheets, in the sheets stage."""
        self.show_search()
        if self.search.worth_while:
            self.search.start()

    def compare_choices(self) -> None:
        """Find the best choices for the job, in the sheets stage."""
        self.show_search()
        if self.document.plan.sheathing.planes:
            self.best.start()

    def show_handout(self) -> HandoutView:
        """Open the handout's preview."""
        name = default_name(self.document.path, self.document.job.name)
        view = HandoutView(self.document.plan, self.settings, self.dialogs, name, self)
        view.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        view.setModal(True)
        view.open()
        return view

    def issue_revision(self) -> None:
        """Record what the handout says now as gone out; one step to undo."""
        try:
            job = issue(self.document.plan)
        except BadInput as error:
            self.message.warn(str(error))
            return
        self.document.apply(job, f"Issue revision {job.revision}")
        self._noted(f"Issued: revision {job.revision}. The next handout lists what changed since.")

    def show_shortcuts(self) -> ShortcutSheet:
        """Open the sheet of shortcuts."""
        sheet = ShortcutSheet(self.menus.groups, self)
        sheet.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        sheet.open()
        return sheet

    def show_start(self) -> None:
        """Show the start page."""
        self._recovery_changed()
        self.centre.setCurrentWidget(self.start)
        self.statusBar().hide()

    def reset_layout(self) -> None:
        """The window's parts as they were at first."""
        self.settings.forget_layout()
        self.shape.reset_sizes()
        self.space.reset()

    def choose_units(self, units: JobUnits) -> None:
        """Show the job's lengths in other units."""
        try:
            self.document.apply(edits.set_job(self.document.job, units=units), "Change units")
        except BadInput as error:
            self.message.warn(str(error))
        self.menus.show_units(self.document.job.units)

    def choose_colours(self, choice: Choice) -> None:
        """Take other colours."""
        self.settings.colours = choice
        theme.current().choose(choice)
        self.menus.show_colours()

    # Qt's own

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask about unsaved work, remember the shape, stop what runs."""
        if not self.files.close():
            event.ignore()
            return
        self.space.keep_look()
        self.shape.keep()
        self.pages.stop()
        self.underlay.stop()
        self.search.stop()
        self.best.stop()
        self.exporter.stop()
        # The stack tells of changes while it is taken down; nobody must listen by then.
        self.document.stack.disconnect(self)
        event.accept()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """One local file may be dropped."""
        if dropped_file(event) is not None:
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Open the dropped job, or lay the dropped plan page under the drawing."""
        path = dropped_file(event)
        if path is not None:
            event.acceptProposedAction()
            self.tracing.take(path)

    # Following the document

    def _titled(self) -> None:
        self.setWindowTitle(f"{self.document.title}[*] – Roof Workbench")
        self.setWindowModified(self.document.modified)
        self.setWindowFilePath("" if self.document.path is None else str(self.document.path))
        job = self.document.job
        self.stages.show_job(job.name, job.revision)
        self.menus.show_units(job.units)
        self.status.show_units(next(words for units, words in UNIT_CHOICES if units == known_units(job.units)))

    def _undo_changed(self) -> None:
        self.menus.show_undo(self.document.stack)

    def _refused(self, sentence: str, place: str) -> None:
        # A place means that a field shows the sentence beside itself.
        if not place:
            self.message.warn(sentence)

    def _noted(self, sentence: str) -> None:
        self.message.clear()
        self.statusBar().showMessage(sentence, 6_000)

    def _replaced(self) -> None:
        self.selection.select("")
        self.message.clear()
        self.surface.fit()

    def _centre_changed(self, index: int) -> None:
        self.space.offer(self.centre.widget(index) is not self.start)

    def _begun(self) -> None:
        self.centre.setCurrentIndex(1)
        self.statusBar().show()
        self.show_stage("plan")
        self.surface.setFocus()

    def _recent_changed(self) -> None:
        recent = self.settings.recent
        self.menus.show_recent(recent, self.files.open_path, self._clear_recent)
        self.start.show_recent(recent)

    def _clear_recent(self) -> None:
        self.settings.clear_recent()
        self._recent_changed()

    def _recovery_changed(self) -> None:
        found = self.files.has_leftovers()
        self.menus.actions["recover"].setEnabled(found)
        self.start.show_recovery(found)

    def _show_page(self, name: str) -> None:
        self.centre.setCurrentIndex(1)
        self.statusBar().show()
        page = self.pages[name]
        self.side.setCurrentWidget(page)
        if isinstance(page, Panel):
            page.refresh_now()

    def _step(self, by: int) -> None:
        there = stage_beside(self.stage, by)
        if there:
            self.show_stage(there)

    # Shape

    def _restore_layout(self) -> None:
        self.shape.restore()
        self.menus.actions["space"].setChecked(self.space.wanted)
        self._reach_as_shown()
        self._centre_changed(self.centre.currentIndex())
        self.menus.show_colours()


def _column(parent: QWidget) -> QVBoxLayout:
    column = QVBoxLayout(parent)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(0)
    return column
