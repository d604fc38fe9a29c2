"""The pages of the right side: one a stage, the list of findings, and the job itself."""

from __future__ import annotations

from PySide6.QtWidgets import QStackedWidget, QWidget

from workbench.bench.best import BestChoices
from workbench.bench.document import Document
from workbench.bench.fewest import FewestSearch
from workbench.bench.findings_panel import FindingsPanel
from workbench.bench.job_panel import JobPanel
from workbench.bench.selection import Selection
from workbench.bench.stages.frame import FramePanel
from workbench.bench.stages.plan import PlanPanel
from workbench.bench.stages.quantities import QuantitiesPanel
from workbench.bench.stages.safety import SafetyPanel
from workbench.bench.stages.sheets import SheetsPanel
from workbench.bench.stages.slope import SlopePanel

_KINDS = (
    ("plan", PlanPanel),
    ("slope", SlopePanel),
    ("frame", FramePanel),
    ("sheets", SheetsPanel),
    ("safety", SafetyPanel),
    ("quantities", QuantitiesPanel),
    ("findings", FindingsPanel),
    ("job", JobPanel),
)


def make_pages(
    document: Document, selection: Selection, search: FewestSearch, best: BestChoices, side: QStackedWidget
) -> dict[str, QWidget]:
    """Make every page, by its name, and put it into the right side."""
    pages: dict[str, QWidget] = {}
    for name, kind in _KINDS:
        page = kind(document, selection, side)
        if isinstance(page, SheetsPanel):
            page.fewest.serve(search)
            page.best.serve(best, search)
        pages[name] = page
        side.addWidget(page)
    return pages


def stop_pages(pages: dict[str, QWidget]) -> None:
    """Let nothing of them run any more; the window closes."""
    for page in pages.values():
        stop = getattr(page, "stop", None)
        if stop is not None:
            stop()
