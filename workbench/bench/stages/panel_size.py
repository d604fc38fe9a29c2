"""Usual sizes of sheets as one choice; any other size is given by its two measures."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from workbench.bench.document import Document
from workbench.bench.word_fields import ChoiceField
from workbench.job import edits
from workbench.job.model import Sheathing

Size = tuple[float, float]
"""Width and length, inches."""

SIZES: tuple[tuple[Size, str], ...] = (
    ((48.0, 96.0), "4 × 8 ft"),
    ((48.0, 108.0), "4 × 9 ft"),
    ((48.0, 120.0), "4 × 10 ft"),
    ((1220.0 / 25.4, 2440.0 / 25.4), "1220 × 2440 mm"),
)
_OTHER: Size = (0.0, 0.0)
_SAME_IN = 0.005


class PanelSizeField(ChoiceField):
    """The size of the sheets; it goes into the job when one is chosen."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__((*SIZES, (_OTHER, "other, as below")), None, "Sheet size", parent)
        self._document = document
        self.committed.connect(self._take)

    def show_size(self, sheathing: Sheathing) -> None:
        """Show the job's."""
        self.set_value(usual_size(sheathing))

    def _take(self, value: object) -> None:
        size = next((size for size, _ in SIZES if size == value), None)
        if size is None:
            self.show_size(self._document.job.sheathing)
            return
        job = edits.set_sheathing(self._document.job, panel_width_in=size[0], panel_length_in=size[1])
        self._document.apply(job, "Change sheet size")


def usual_size(sheathing: Sheathing) -> Size:
    """The usual size that a job's sheets have, or (0, 0) for another."""
    return next(
        (
            (width, length)
            for (width, length), _ in SIZES
            if abs(width - sheathing.panel_width_in) < _SAME_IN and abs(length - sheathing.panel_length_in) < _SAME_IN
        ),
        _OTHER,
    )
