"""The handout's preview: the pages that will be saved and printed, nothing drawn twice."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QImage, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QLabel,
    QMenu,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from workbench.bench import theme
from workbench.bench.background import Background
from workbench.bench.dialogs import Dialogs
from workbench.bench.fields import ChoiceField
from workbench.bench.pages import PREVIEW_DPI, PRINT_DPI, Page, draw_pages, handout_bytes
from workbench.bench.panel import note
from workbench.bench.settings import Settings
from workbench.errors import BadInput
from workbench.handout import PARTS, Part
from workbench.job.write import write_bytes
from workbench.plan import Plan

ALL_PARTS = "All parts"


class PageView(QWidget):
    """One page, as wide as its place."""

    def __init__(self, page: Page, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._image = page.image
        self.setAccessibleName(f"Page {page.number} of {page.count}")
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    @property
    def image(self) -> QImage:
        """The picture."""
        return self._image

    def sizeHint(self) -> QSize:
        """The picture's own size."""
        return self._image.size()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """As high as the width asks for."""
        super().resizeEvent(event)
        self.setFixedHeight(round(self.width() * self._image.height() / max(1, self._image.width())))

    def paintEvent(self, event: QPaintEvent) -> None:
        """The picture and a thin frame."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.drawImage(self.rect(), self._image)
        painter.setPen(theme.current().line)
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))


class HandoutView(QDialog):
    """Preview, Save PDF and Print; the pages are made off to the side."""

    def __init__(
        self, plan: Plan, settings: Settings, dialogs: Dialogs, name: str, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle("Handout")
        self._plan = plan
        self._settings = settings
        self._dialogs = dialogs
        self._name = name
        self._pdf = b""
        self._parts: tuple[Part, ...] = ()
        self._views: list[PageView] = []
        self._background = Background(self)
        self._background.answered.connect(self._answered)
        self._background.failed.connect(self._failed)
        self.finished.connect(self._stop)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self._bar())
        self.worth = note(sheets_worth(plan), self)
        self.worth.setContentsMargins(16, 0, 16, 10)
        self.worth.setVisible(bool(self.worth.text()))
        column.addWidget(self.worth)
        column.addWidget(self._paper_side(), 1)
        self.resize(860, 920)
        self.make()

    @property
    def views(self) -> tuple[PageView, ...]:
        """The pages on show."""
        return tuple(self._views)

    @property
    def pdf(self) -> bytes:
        """The PDF on show; empty while it is being made."""
        return self._pdf

    def make(self) -> None:
        """Make the handout again, for the paper chosen."""
        self._pdf = b""
        self.state.setText("Making the pages…")
        self.save.setEnabled(False)
        self.print.setEnabled(False)
        self._clear()
        plan, paper, parts = self._plan, self._settings.paper, self._parts

        def task(tell: Callable[[object], None], given_up: Callable[[], bool]) -> None:
            pdf = handout_bytes(plan, paper, parts)
            tell(pdf)
            draw_pages(pdf, PREVIEW_DPI, tell, given_up)

        self._background.start(task)

    def save_pdf(self) -> bool:
        """Ask for a file and save the PDF on show."""
        path = self._dialogs.ask_pdf(self._settings.folder / f"{self._name}.pdf")
        if path is None:
            return False
        try:
            write_bytes(path, self._pdf)
        except BadInput as error:
            self.state.setText(f"⚠ {error}")
            return False
        self.state.setText(f"Saved to {path}.")
        return True

    def _bar(self) -> QWidget:
        bar = QWidget(self)
        row = QHBoxLayout(bar)
        row.setContentsMargins(16, 10, 16, 10)
        row.setSpacing(10)
        self.paper = ChoiceField((("letter", "Letter"), ("a4", "A4")), self._settings.paper, "Paper", bar)
        self.paper.setFixedWidth(110)
        self.paper.committed.connect(self._paper_changed)
        self.parts = QPushButton(ALL_PARTS, bar)
        self.parts.setToolTip("Print all of the handout, or some parts of it")
        self.parts.setMenu(self._parts_menu())
        self.state = QLabel(bar)
        self.state.setWordWrap(True)
        self.save = QPushButton("&Save PDF…", bar)
        self.print = QPushButton("&Print…", bar)
        self.save.setDefault(True)
        self.save.clicked.connect(self.save_pdf)
        self.print.clicked.connect(self._print)
        row.addWidget(QLabel("Paper", bar))
        row.addWidget(self.paper)
        row.addWidget(self.parts)
        row.addWidget(self.state, 1)
        row.addWidget(self.print)
        row.addWidget(self.save)
        return bar

    def _parts_menu(self) -> QMenu:
        menu = QMenu(self)
        self.part_actions = {part: menu.addAction(words) for part, words in PARTS}
        for action in self.part_actions.values():
            action.setCheckable(True)
            action.toggled.connect(self._parts_chosen)
        menu.addSeparator()
        everything = menu.addAction("All parts")
        everything.triggered.connect(self._choose_all)
        return menu

    def _choose_all(self) -> None:
        for action in self.part_actions.values():
            action.setChecked(False)

    def _parts_chosen(self) -> None:
        """Make the pages of what is ticked; with nothing ticked all of them."""
        parts = tuple(part for part, action in self.part_actions.items() if action.isChecked())
        self.parts.setText(ALL_PARTS if not parts else f"{len(parts)} of {len(PARTS)} parts")
        if parts != self._parts:
            self._parts = parts
            self.make()

    def _paper_side(self) -> QWidget:
        self._scroll = QScrollArea(self)
        self._scroll.setWidgetResizable(True)
        self._scroll.setAccessibleName("Pages")
        inside = QWidget(self._scroll)
        self._pages = QVBoxLayout(inside)
        self._pages.setContentsMargins(24, 16, 24, 24)
        self._pages.setSpacing(16)
        self._pages.addStretch(1)
        self._scroll.setWidget(inside)
        return self._scroll

    def _answered(self, run: int, answer: object) -> None:
        if run != self._background.current:
            return
        match answer:
            case bytes():
                self._pdf = answer
                self.save.setEnabled(True)
                self.print.setEnabled(True)
            case Page():
                view = PageView(answer, self)
                self._views.append(view)
                self._pages.insertWidget(self._pages.count() - 1, view)
                done = answer.number == answer.count
                pages = "1 page" if answer.count == 1 else f"{answer.count} pages"
                self.state.setText(pages if done else f"Drawing page {answer.number} of {answer.count}…")
            case _:
                raise TypeError(answer)

    def _failed(self, run: int, sentence: str) -> None:
        if run == self._background.current:
            self.state.setText(f"⚠ The handout could not be made ({sentence}). The log says more.")

    def _paper_changed(self, paper: object) -> None:
        self._settings.paper = str(paper)
        self.make()

    def _print(self) -> None:
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setFullPage(True)
        printer.setDocName(self._name)
        dialog = QPrintDialog(printer, self)
        if dialog.exec() == QDialog.DialogCode.Accepted:
            print_pages(self._pdf, printer)
            self.state.setText("Sent to the printer at full size.")

    def _clear(self) -> None:
        for view in self._views:
            self._pages.removeWidget(view)
            view.deleteLater()
        self._views = []

    def _stop(self) -> None:
        self._background.stop()


def print_pages(pdf: bytes, printer: QPrinter) -> None:
    """Print every page at full size, so that what is drawn to scale stays to scale."""
    painter = QPainter(printer)

    def put(page: Page) -> None:
        if page.number > 1:
            printer.newPage()
        across = printer.resolution() / PRINT_DPI
        size = page.image.size()
        painter.drawImage(QRectF(0.0, 0.0, size.width() * across, size.height() * across), page.image)

    draw_pages(pdf, PRINT_DPI, put, lambda: False)
    painter.end()


def sheets_worth(plan: Plan) -> str:
    """What to know about the sheets before they are printed: whether a longer search could find fewer."""
    sheets = plan.sheathing
    if not sheets.planes or sheets.proven:
        return ""
    return (
        f"These pages lay out {sheets.count} sheets; at least {sheets.at_least} are needed. To have the fewest, look "
        "for them first: Ctrl+L in the window."
    )


def default_name(path: Path | None, job_name: str) -> str:
    """What the PDF is called unless the user says otherwise."""
    return f"{path.stem if path is not None else job_name or 'roof'} handout"
