"""Selecting, and moving corners and edges of what is drawn."""

from __future__ import annotations

import math
from collections.abc import Callable

from workbench.bench.surface.snapping import Snap, Targets, on_lattice, snap, unit
from workbench.bench.surface.tools.base import (
    Feedback,
    Host,
    Pointer,
    Tool,
    edge_index,
    segments,
    side_of,
    targets_of,
    wing_of,
)
from workbench.bench.surface.tools.kinds import word_of_kind
from workbench.errors import BadInput
from workbench.job.edits import move_corner, move_edge, remove_wing, set_edge
from workbench.job.model import Job, OutlineKind, Wing
from workbench.roof.model import Point2

DRAG_PX = 4.0
"""A press that moves less than this is a click."""

_ARROWS: dict[str, Point2] = {"left": (-1.0, 0.0), "right": (1.0, 0.0), "up": (0.0, 1.0), "down": (0.0, -1.0)}
_KIND_KEYS: dict[str, OutlineKind] = {"e": "eave", "r": "rake", "w": "wall"}


class SelectTool(Tool):
    """Click to select; drag a corner or an edge to move it, with one undo step on release."""

    hint = "Click a plane, an edge or a corner; drag a corner or an edge to move it."

    def __init__(self, host: Host) -> None:
        super().__init__(host)
        self._pressed: Pointer | None = None
        self._start: Job | None = None
        self._job: Job | None = None
        self._snap: Snap | None = None
        self._live = ""
        self._problem = ""
        self._at: Point2 = (0.0, 0.0)

    @property
    def dragging(self) -> bool:
        """Whether something is being moved."""
        return self._start is not None

    def press(self, pointer: Pointer) -> None:
        """Select what is under the pointer."""
        self._pressed = pointer
        self.host.select(pointer.target)

    def move(self, pointer: Pointer) -> None:
        """Move what was pressed along with the pointer."""
        pressed = self._pressed
        if pressed is None or not self.host.editable or not pressed.target.startswith(("corner:", "edge:")):
            return
        if self._start is None:
            if math.dist(pressed.at, pointer.at) * self.host.scale < DRAG_PX:
                return
            self._start = self.host.job
        self._at = pointer.at
        self._attempt(lambda job: self._moved(job, pressed, pointer))

    def release(self, pointer: Pointer) -> None:
        """Make what is shown the job's."""
        start, job, pressed = self._start, self._job, self._pressed
        self._forget()
        if start is None or pressed is None:
            return
        what = "corner" if pressed.target.startswith("corner:") else "edge"
        if job is None:
            self.host.cancel_preview()
        else:
            self.host.apply(job, f"Move {what}")
        self.host.say(self.hint)

    def key(self, name: str) -> bool:
        """Esc, Delete, the arrows, and E, R and W for what an edge is."""
        if name == "escape":
            if self.dragging:
                self.cancel()
            else:
                self.host.select("")
        elif not self.host.editable:
            return False
        elif name == "delete":
            return self._delete()
        elif name in _ARROWS:
            return self._nudge(_ARROWS[name])
        elif name in _KIND_KEYS:
            return self._set_kind(_KIND_KEYS[name])
        else:
            return False
        return True

    def cancel(self) -> None:
        """Put back what was being moved."""
        self._forget()
        self.host.cancel_preview()
        self.host.say(self.hint)

    def feedback(self) -> Feedback:
        """Handles at the corners of the selected wing; measures while one is moved."""
        wing = wing_of(self.host.job, self.host.selected)
        outline = self._shown_outline(wing)
        held = self._held(wing, outline)
        guides = self._snap.guides if self._snap else ()
        at = self._at if self.dragging else None
        return Feedback((), guides, outline, held, self._snap, self._live, self._problem, at)

    def _shown_outline(self, wing: Wing | None) -> tuple[Point2, ...]:
        if wing is None:
            return ()
        moved = self._job.wing(wing.id) if self._job is not None else wing
        return moved.outline

    def _held(self, wing: Wing | None, outline: tuple[Point2, ...]) -> Point2 | None:
        kind, _, name = self.host.selected.partition(":")
        if wing is None or kind != "corner":
            return None
        index = int(name.rpartition("/")[2])
        return outline[index] if index < len(outline) else None

    def _attempt(self, change: Callable[[Job], Job]) -> None:
        """Show a changed job; where it can't be, keep the last one that could and say why."""
        if self._start is None:
            return
        try:
            job = change(self._start)
        except BadInput as error:
            self._problem = str(error)
            self.host.say(self._problem)
            return
        if self._problem:
            self.host.say(self.hint)
        self._problem, self._job = "", job
        self.host.preview(job)

    def _moved(self, job: Job, pressed: Pointer, pointer: Pointer) -> Job:
        wing = wing_of(job, pressed.target)
        name = pressed.target.rpartition("/")[2]
        if wing is None:
            return job
        if pressed.target.startswith("corner:"):
            return self._move_corner(job, wing, int(name), pointer)
        return self._move_edge(job, wing, name, pressed, pointer)

    def _move_corner(self, job: Job, wing: Wing, index: int, pointer: Pointer) -> Job:
        count = len(wing.outline)
        before, after = wing.outline[index - 1], wing.outline[(index + 1) % count]
        rest = [wing.outline[(index + step) % count] for step in range(1, count)]
        known = targets_of(job, but=wing.id)
        targets = Targets((*known.corners, *rest), (*known.edges, *segments(tuple(rest))))
        last = (wing.outline[index - 2], before)
        caught = snap(
            pointer.at, self.host.scale, targets, base=before, last=last, start=(after, rest[1]), grid=self.host.grid
        )
        self._snap = Snap(on_lattice(pointer.at)) if pointer.free else caught
        to = self._snap.point
        units = self.host.units
        self._live = f"{units.length(math.dist(before, to))} · {units.length(math.dist(to, after))}"
        return move_corner(job, wing.id, index, to)

    def _move_edge(self, job: Job, wing: Wing, edge_id: str, pressed: Pointer, pointer: Pointer) -> Job:
        index = edge_index(wing, edge_id)
        if index is None:
            return job
        side = side_of(wing, index)
        direction = unit(*side) or (1.0, 0.0)
        outward = (direction[1], -direction[0])
        distance = _along(pressed.at, pointer.at, outward)
        self._snap = None
        if not pointer.free:
            caught = snap(pointer.at, self.host.scale, targets_of(job, but=wing.id))
            if caught.word in {"corner", "middle"}:
                self._snap, distance = caught, _along(side[0], caught.point, outward)
            elif self.host.grid:
                distance = round(distance / self.host.grid) * self.host.grid
        self._live = self.host.units.signed(distance)
        return move_edge(job, wing.id, edge_id, distance)

    def _nudge(self, arrow: Point2) -> bool:
        """One grid step for the selected corner or edge; an edge moves square to itself."""
        wing = wing_of(self.host.job, self.host.selected)
        kind, _, name = self.host.selected.partition(":")
        if wing is None or kind not in {"corner", "edge"}:
            return False
        step = self.host.grid or 1.0
        last = name.rpartition("/")[2]
        if kind == "corner":
            x, y = wing.outline[int(last)]
            to = on_lattice((x + step * arrow[0], y + step * arrow[1]))
            self._edit(lambda job: move_corner(job, wing.id, int(last), to), "Move corner")
            return True
        index = edge_index(wing, last)
        if index is None:
            return False
        direction = unit(*side_of(wing, index)) or (1.0, 0.0)
        outward = direction[1] * arrow[0] - direction[0] * arrow[1]
        if abs(outward) > 0.5:
            self._edit(lambda job: move_edge(job, wing.id, last, math.copysign(step, outward)), "Move edge")
        return True

    def _set_kind(self, kind: OutlineKind) -> bool:
        key, _, name = self.host.selected.partition(":")
        if key != "edge":
            return False
        wing_id, _, edge_id = name.partition("/")
        self._edit(lambda job: set_edge(job, wing_id, edge_id, kind=kind), f"Make edge {word_of_kind(kind).lower()}")
        return True

    def _delete(self) -> bool:
        wing = wing_of(self.host.job, self.host.selected)
        if wing is None or self.dragging:
            return False
        self._edit(lambda job: remove_wing(job, wing.id), f"Remove {wing.name}")
        self.host.select("")
        return True

    def _edit(self, change: Callable[[Job], Job], text: str) -> None:
        try:
            self.host.apply(change(self.host.job), text)
        except BadInput as error:
            self.host.refuse(error)

    def _forget(self) -> None:
        self._pressed = self._start = self._job = self._snap = None
        self._live = self._problem = ""


def _along(start: Point2, end: Point2, direction: Point2) -> float:
    return (end[0] - start[0]) * direction[0] + (end[1] - start[1]) * direction[1]
