"""Price lists as files: asked for, read into the job as one step, written from it."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from workbench.bench.dialogs import Dialogs
from workbench.bench.document import Document
from workbench.bench.settings import Settings
from workbench.bench.stages.quantities import QuantitiesPanel
from workbench.errors import BadInput
from workbench.job.costs_edits import merge_prices


class PriceFiles(QObject):
    """Takes over a price list and writes one.

    Signals:
        warned: ``(sentence)`` a file could not be read or written; nothing was changed.
        noted: ``(sentence)`` what was done.
    """

    warned = Signal(str)
    noted = Signal(str)

    def __init__(self, document: Document, settings: Settings, dialogs: Dialogs, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._settings = settings
        self._dialogs = dialogs

    def serve(self, page: QuantitiesPanel) -> None:
        """Read and write where the page of quantities asks for it."""
        page.prices.read_wanted.connect(self.read)
        page.prices.write_wanted.connect(self.write)

    def read(self) -> None:
        """Ask for a price list and take its prices over: one step to undo."""
        from workbench.exchange.price_list import read_prices  # slow to import, so only where it is wanted

        path = self._dialogs.ask_prices(self._settings.folder)
        if path is None:
            return
        try:
            lines = read_prices(path)
            job = merge_prices(self._document.job, lines)
        except BadInput as error:
            self.warned.emit(str(error))
            return
        self._settings.folder = path.parent
        self._document.apply(job, "Take over prices")
        codes = {line.code for line in lines}
        used = sum(q.code in codes or q.code.rpartition("-")[0] in codes for q in self._document.plan.quantities)
        self.noted.emit(f"{len(lines)} prices taken over; {used} lines of the order list use them.")

    def write(self) -> None:
        """Ask for a file and write the price list."""
        from workbench.exchange.price_list import write_prices  # slow to import, so only where it is wanted

        path = self._dialogs.ask_export(
            self._settings.folder / "prices.csv", "Price list, plain text (*.csv);;Price list, workbook (*.xlsx)"
        )
        if path is None:
            return
        try:
            write_prices(self._document.plan, path)
        except BadInput as error:
            self.warned.emit(str(error))
            return
        self._settings.folder = path.parent
        self.noted.emit(f"Written: {path}.")
