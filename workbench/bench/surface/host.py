"""The door between a tool and the surface: what a tool may see and do, and nothing more."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from workbench.bench.document import Document
from workbench.bench.selection import Selection
from workbench.bench.surface.snapping import grid_step
from workbench.errors import BadInput
from workbench.job.model import Job
from workbench.measure import Units
from workbench.plan import Plan


@dataclass(frozen=True)
class Hands:
    """What the surface does for a tool: show a hint, open the number box, end the tool, tell its scale."""

    say: Callable[[str], None]
    ask: Callable[[], None]
    finish: Callable[[], None]
    scale: Callable[[], float]


class SurfaceHost:
    """The host of the surface's tools (see ``tools.base.Host``)."""

    def __init__(self, document: Document, selection: Selection, hands: Hands) -> None:
        self._document = document
        self._selection = selection
        self._hands = hands
        self.catching = True
        self._editable = True

    @property
    def editable(self) -> bool:
        """Whether what is drawn may be moved and removed: in the plan stage."""
        return self._editable

    def set_editable(self, on: bool) -> None:
        """Let what is drawn be changed, or only looked at."""
        self._editable = on

    @property
    def job(self) -> Job:
        """The job as last applied."""
        return self._document.job

    @property
    def plan(self) -> Plan:
        """The plan on show."""
        return self._document.plan

    @property
    def units(self) -> Units:
        """How lengths are shown."""
        return self._document.plan.units

    @property
    def scale(self) -> float:
        """Pixels an inch."""
        return self._hands.scale()

    @property
    def grid(self) -> float:
        """Grid spacing in inches; 0 while the grid does not catch."""
        return grid_step(self.scale, self.units.system) if self.catching else 0.0

    @property
    def selected(self) -> str:
        """Key of the selected object."""
        return self._selection.key

    def preview(self, job: Job) -> None:
        """Show a job that is not the document's yet."""
        self._document.preview(job)

    def cancel_preview(self) -> None:
        """Show the document's own job again."""
        self._document.cancel_preview()

    def apply(self, job: Job, text: str) -> None:
        """Make an edit: one undo step called ``text``."""
        self._document.apply(job, text)

    def refuse(self, error: BadInput) -> None:
        """Say why an edit can't be made: in the window's message line, and where hints stand."""
        self._document.refuse(error)
        self._hands.say(str(error))

    def select(self, key: str) -> None:
        """Select an object."""
        self._selection.select(key)

    def say(self, hint: str) -> None:
        """Tell what to do next."""
        self._hands.say(hint)

    def ask(self) -> None:
        """Open the number box now."""
        self._hands.ask()

    def finish(self) -> None:
        """Go back to selecting."""
        self._hands.finish()
