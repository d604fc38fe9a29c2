"""The one door to dialogs that stop everything; tests put answers in its place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFileDialog,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QMessageBox,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from workbench.errors import JobError
from workbench.job.autosave import Leftover
from workbench.job.differences import differences
from workbench.job.read import read_job

Unsaved = Literal["save", "discard", "cancel"]
Overwrite = Literal["save", "save_as", "cancel"]

PAGE_FILTER = "Plan pages (*.pdf *.png *.jpg *.jpeg *.dxf);;All files (*)"
JOB_FILTER = "Jobs (*.json);;All files (*)"


@dataclass(frozen=True, slots=True)
class RecoveryChoice:
    """What to do with a leftover."""

    leftover: Leftover
    recover: bool


class Dialogs:
    """Asks with real dialogs over the window."""

    def __init__(self, parent: QWidget | None = None) -> None:
        self._parent = parent

    def ask_open(self, folder: Path) -> Path | None:
        """The job file to open, or None."""
        name, _ = QFileDialog.getOpenFileName(self._parent, "Open a job", str(folder), JOB_FILTER)
        return Path(name) if name else None

    def ask_save(self, suggested: Path) -> Path | None:
        """Where to save the job, or None."""
        name, _ = QFileDialog.getSaveFileName(self._parent, "Save the job as", str(suggested), JOB_FILTER)
        return self._ended(name, [".json"])

    def ask_page(self, folder: Path) -> Path | None:
        """The plan page to lay under the drawing, or None."""
        name, _ = QFileDialog.getOpenFileName(self._parent, "Lay a plan page below", str(folder), PAGE_FILTER)
        return Path(name) if name else None

    def ask_pdf(self, suggested: Path) -> Path | None:
        """Where to save the handout, or None."""
        name, _ = QFileDialog.getSaveFileName(self._parent, "Save the handout", str(suggested), "PDF (*.pdf)")
        return self._ended(name, [".pdf"])

    def ask_export(self, suggested: Path, formats: str) -> Path | None:
        """Where to export to, or None; a name without an ending takes that of the format chosen."""
        name, chosen = QFileDialog.getSaveFileName(self._parent, "Export the job", str(suggested), formats)
        mine = chosen.rpartition("*")[2].rstrip(")")
        return self._ended(name, [mine, *(part.partition(")")[0] for part in formats.split("*")[1:])])

    def _ended(self, name: str, endings: Sequence[str]) -> Path | None:
        """A name with one of the endings, the first where it has none of them; None for no name.

        A dot in a name makes no ending, and a handout never lands on a job. What is put to the name may lead to a file
        that the system's dialog has not asked about.
        """
        if not name:
            return None
        path = Path(name)
        if path.suffix.lower() in endings:
            return path
        path = path.with_name(path.name + endings[0])
        return path if not path.exists() or self.ask_replace(path) else None

    def ask_replace(self, path: Path) -> bool:
        """Whether a file that is there already may be replaced."""
        box = QMessageBox(self._parent)
        box.setIcon(QMessageBox.Icon.Warning)
        box.setWindowTitle("Replace the file?")
        box.setText(f"{path.name} is there already.")
        box.setInformativeText("Replacing it loses what it holds.")
        replace = box.addButton("&Replace it", QMessageBox.ButtonRole.DestructiveRole)
        cancel = box.addButton("&Cancel", QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(cancel)
        box.setEscapeButton(cancel)
        box.exec()
        return box.clickedButton() is replace

    def ask_prices(self, folder: Path) -> Path | None:
        """The price list to take over, or None."""
        formats = "Price lists (*.csv *.xlsx);;All files (*)"
        name, _ = QFileDialog.getOpenFileName(self._parent, "Take over a price list", str(folder), formats)
        return Path(name) if name else None

    def ask_unsaved(self, title: str) -> Unsaved:
        """Whether to save changes before they would be lost."""
        box = QMessageBox(self._parent)
        box.setIcon(QMessageBox.Icon.Warning)
        box.setWindowTitle("Save the changes?")
        box.setText(f"Save the changes to “{title}”?")
        box.setInformativeText("They are lost if you do not save them.")
        save = box.addButton("&Save", QMessageBox.ButtonRole.AcceptRole)
        discard = box.addButton("&Discard", QMessageBox.ButtonRole.DestructiveRole)
        cancel = box.addButton("&Cancel", QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(save)
        box.setEscapeButton(cancel)
        box.exec()
        if box.clickedButton() is save:
            return "save"
        return "discard" if box.clickedButton() is discard else "cancel"

    def ask_overwrite(self, path: Path) -> Overwrite:
        """What to do when somebody else changed the file since it was opened."""
        box = QMessageBox(self._parent)
        box.setIcon(QMessageBox.Icon.Warning)
        box.setWindowTitle("The file has changed")
        box.setText(f"{path.name} was changed by another program since it was opened here.")
        box.setInformativeText("Saving replaces what the other program wrote.")
        elsewhere = box.addButton("Save &As…", QMessageBox.ButtonRole.AcceptRole)
        replace = box.addButton("&Replace it", QMessageBox.ButtonRole.DestructiveRole)
        cancel = box.addButton("&Cancel", QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(elsewhere)
        box.setEscapeButton(cancel)
        box.exec()
        if box.clickedButton() is replace:
            return "save"
        return "save_as" if box.clickedButton() is elsewhere else "cancel"

    def ask_recovery(self, found: Sequence[Leftover]) -> RecoveryChoice | None:
        """Which autosaved job to open or forget; None leaves them for later."""
        dialog = RecoveryDialog(found, self._parent)
        dialog.exec()
        return dialog.choice

    def tell(self, title: str, sentence: str, detail: str = "") -> None:
        """Say something that can't be overlooked; the text can be copied."""
        box = QMessageBox(self._parent)
        box.setIcon(QMessageBox.Icon.Warning)
        box.setWindowTitle(title)
        box.setText(sentence)
        box.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        if detail:
            box.setDetailedText(detail)
        box.exec()


class RecoveryDialog(QDialog):
    """Lists what ended programs left unsaved."""

    def __init__(self, found: Sequence[Leftover], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Unsaved work was found")
        self._found = tuple(found)
        self.choice: RecoveryChoice | None = None
        say = QLabel("The program ended before this work was saved. Open it, or forget it for good.", self)
        say.setWordWrap(True)
        self._list = QListWidget(self)
        self._list.setAccessibleName("Unsaved work")
        self._list.setWordWrap(True)
        for leftover in self._found:
            QListWidgetItem(leftover_words(leftover), self._list)
        self._list.setCurrentRow(0)
        self._list.itemActivated.connect(self._recover)
        buttons = QDialogButtonBox(self)
        self.open_button = QPushButton("&Open it", self)
        self.forget_button = QPushButton("&Forget it", self)
        self.later_button = QPushButton("&Later", self)
        buttons.addButton(self.open_button, QDialogButtonBox.ButtonRole.AcceptRole)
        buttons.addButton(self.forget_button, QDialogButtonBox.ButtonRole.DestructiveRole)
        buttons.addButton(self.later_button, QDialogButtonBox.ButtonRole.RejectRole)
        self.open_button.setDefault(True)
        self.open_button.clicked.connect(self._recover)
        self.forget_button.clicked.connect(self._forget)
        self.later_button.clicked.connect(self.reject)
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 16, 16, 16)
        column.setSpacing(12)
        column.addWidget(say)
        column.addWidget(self._list)
        column.addWidget(buttons)
        self.resize(520, 300)

    def _recover(self) -> None:
        self._choose(recover=True)

    def _forget(self) -> None:
        self._choose(recover=False)

    def _choose(self, *, recover: bool) -> None:
        row = self._list.currentRow()
        if 0 <= row < len(self._found):
            self.choice = RecoveryChoice(self._found[row], recover)
        self.accept()


def leftover_words(leftover: Leftover) -> str:
    """Name, file, time and what differs from the file, over three lines."""
    when = leftover.saved.astimezone().strftime("%Y-%m-%d %H:%M")
    where = str(leftover.path) if leftover.path else "never saved to a file"
    return f"{leftover.job.name} · kept {when}\n{where}\n{_against_file(leftover)}"


def _against_file(leftover: Leftover) -> str:
    if leftover.path is None:
        count = len(leftover.job.wings)
        return f"{count} {'wing' if count == 1 else 'wings'}"
    try:
        saved = read_job(leftover.path)
    except JobError:
        return "the file itself can't be read any more"
    found = differences(saved, leftover.job)
    return f"differs from the file: {', '.join(found)}" if found else "the same as the file"
