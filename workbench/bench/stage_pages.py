"""The pages of the right side: one a stage, the list of findings, and the job itself."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from PySide6.QtWidgets import QStackedWidget, QWidget

from workbench.bench.best import BestChoices
from workbench.bench.document import Document
from workbench.bench.fewest import FewestSearch
from workbench.bench.findings_panel import FindingsPanel
from workbench.bench.job_panel import JobPanel
from workbench.bench.panel import Panel
from workbench.bench.selection import Selection
from workbench.bench.stages.frame import FramePanel
from workbench.bench.stages.plan import PlanPanel
from workbench.bench.stages.quantities import QuantitiesPanel
from workbench.bench.stages.safety import SafetyPanel
from workbench.bench.stages.sheets import SheetsPanel
from workbench.bench.stages.slope import SlopePanel

_KINDS: dict[str, type[Panel]] = {
    "plan": PlanPanel,
    "slope": SlopePanel,
    "frame": FramePanel,
    "sheets": SheetsPanel,
    "safety": SafetyPanel,
    "quantities": QuantitiesPanel,
    "findings": FindingsPanel,
    "job": JobPanel,
}


class StagePages(Mapping[str, QWidget]):
    """The pages by their names, each made when it is first asked for: a window opens with one of them in sight."""

    def __init__(
        self, document: Document, selection: Selection, search: FewestSearch, best: BestChoices, side: QStackedWidget
    ) -> None:
        self._document, self._selection, self._search, self._best = document, selection, search, best
        self._side = side
        self._made: dict[str, QWidget] = {}
        self._wanted: dict[str, list[Callable[[Any], object]]] = {}

    def __getitem__(self, name: str) -> QWidget:
        if name not in self._made:
            self._made[name] = page = self._make(name)
            self._side.addWidget(page)
            for tell in self._wanted.pop(name, []):
                tell(page)
        return self._made[name]

    def __iter__(self) -> Iterator[str]:
        return iter(_KINDS)

    def __len__(self) -> int:
        return len(_KINDS)

    def when_made(self, name: str, tell: Callable[[Any], object]) -> None:
        """Have something done with a page as soon as it is there."""
        if name in self._made:
            tell(self._made[name])
        else:
            self._wanted.setdefault(name, []).append(tell)

    def stop(self) -> None:
        """Let nothing of them run any more; the window closes."""
        for page in self._made.values():
            stop = getattr(page, "stop", None)
            if stop is not None:
                stop()

    def _make(self, name: str) -> QWidget:
        page = _KINDS[name](self._document, self._selection, self._side)
        if isinstance(page, SheetsPanel):
            page.fewest.serve(self._search)
            page.best.serve(self._best, self._search)
        return page
