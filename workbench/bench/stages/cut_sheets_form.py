"""Which pieces of sheathing are cut already: the piece in hand, its whole sheet, and what fits nowhere any more."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from workbench.bench.document import Document
from workbench.bench.panel import note
from workbench.errors import BadInput
from workbench.job.cut_sheets import CutSheet
from workbench.job.edits import set_job
from workbench.plan import Plan
from workbench.sheathing.already_cut import with_cut, without_cut, without_misfits
from workbench.sheathing.model import Piece


class CutSheetsForm(QWidget):
    """Pieces that are cut stay as they are when the job changes; a finding says where they no longer fit."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._piece: Piece | None = None
        self.cut = QCheckBox("This piece is cut already", self)
        self.cut.setToolTip("What is cut stays as it is when the job changes")
        self.sheet = QPushButton("All of its sheet", self)
        self.sheet.setToolTip("Every piece of this stock sheet is cut")
        self.said = note("", self)
        self.scrap = QPushButton("Scrap what fits nowhere", self)
        self.scrap.setToolTip("Take the pieces that fit nowhere now off the list of what is cut")
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.cut, 1)
        row.addWidget(self.sheet)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addLayout(row)
        column.addWidget(self.said)
        column.addWidget(self.scrap)
        self.cut.clicked.connect(self._mark)
        self.sheet.clicked.connect(self._mark_sheet)
        self.scrap.clicked.connect(self._scrap)

    def show_piece(self, plan: Plan, piece: Piece | None) -> None:
        """Show whether a piece is cut, and how many are in all."""
        self._piece = piece
        done, lost = len(plan.sheets_cut.done), plan.sheets_cut.served.count(None)
        for part in (self.cut, self.sheet):
            part.setVisible(piece is not None)
        self.cut.setChecked(piece is not None and (piece.plane, piece.label) in plan.sheets_cut.done)
        pieces = [p for sheets in plan.sheathing.planes for p in sheets.pieces]
        spent = len({p.stock for p in pieces if (p.plane, p.label) in plan.sheets_cut.done})
        said = f"{done} of {len(pieces)} pieces are cut already, from {spent} of the {plan.sheathing.count} sheets"
        nowhere = f"; {lost} {'fits' if lost == 1 else 'fit'} nowhere now, see the findings" if lost else ""
        self.said.setText(f"{said}{nowhere}.")
        self.said.setVisible(bool(done or lost))
        self.scrap.setVisible(bool(lost))

    def _mark(self, on: bool) -> None:
        piece = self._piece
        if piece is None:
            return
        plan = self._document.plan
        if on:
            self._change(lambda job: with_cut(job, plan.sheets_cut, [piece], self._thickness()), "Mark a piece as cut")
        else:
            places = [(piece.plane, piece.label)]
            self._change(lambda job: without_cut(job, plan.sheets_cut, places), "Take a piece back as cut")

    def _mark_sheet(self) -> None:
        piece, plan = self._piece, self._document.plan
        if piece is None:
            return
        mates = [p for sheets in plan.sheathing.planes for p in sheets.pieces if p.stock == piece.stock]
        self._change(lambda job: with_cut(job, plan.sheets_cut, mates, self._thickness()), "Mark a sheet as cut")

    def _scrap(self) -> None:
        cut = self._document.plan.sheets_cut
        self._change(lambda job: without_misfits(job, cut), "Scrap pieces that fit nowhere")

    def _thickness(self) -> str:
        return self._document.job.sheathing.thickness

    def _change(self, change: Callable[[Sequence[CutSheet]], list[CutSheet]], text: str) -> None:
        job = self._document.job
        try:
            self._document.apply(set_job(job, cut_sheets=tuple(change(job.cut_sheets))), text)
        except BadInput as error:
            self._document.refuse(error)
