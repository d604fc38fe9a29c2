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
    opening_of,
    ring,
    segments,
    side_of,
    targets_of,
    wing_of,
)
from workbench.bench.surface.tools.kinds import word_of_kind
from workbench.bench.surface.tools.opening import (
    corners_of,
    measures_in_words,
    moved_opening,
    plane_of,
    stretched_opening,
)
from workbench.errors import BadInput
from workbench.job.edits import move_corner, move_edge, remove_opening, remove_wing, set_edge, set_opening
from workbench.job.model import Job, OutlineKind, Wing
from workbench.roof.model import Point2

DRAG_PX = 4.0
"""A press that moves less than this is a click."""

_ARROWS: dict[str, Point2] = {"left": (-1.0, 0.0), "right": (1.0, 0.0), "up": (0.0, 1.0), "down": (0.0, -1.0)}
_DRAGGED = {
    "corner": "Move corner",
    "edge": "Move edge",
    "opening": "Move opening",
    "handle": "Change size of opening",
}
"""What can be dragged, and what the edit is called."""

_KIND_KEYS: dict[str, OutlineKind] = {"e": "eave", "r": "rake", "w": "wall"}


class SelectTool(Tool):
    """Click to select; drag a corner or an edge to move it, with one undo step on release."""

    hint = "Click a plane, an edge or a corner; drag a corner, an edge or an opening to move it."

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
        kind, _, name = pointer.target.partition(":")
        self.host.select(f"opening:{name.rpartition('/')[0]}" if kind == "handle" else pointer.target)

    def move(self, pointer: Pointer) -> None:
        """Move what was pressed along with the pointer."""
        pressed = self._pressed
        if pressed is None or not self.host.editable or pressed.target.partition(":")[0] not in _DRAGGED:
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
        if job is None:
            self.host.cancel_preview()
        else:
            self.host.apply(job, _DRAGGED[pressed.target.partition(":")[0]])
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
        """Handles at the corners of the selected wing or opening; measures while one is moved."""
        at = self._at if self.dragging else None
        job = self._job or self.host.job
        opening = opening_of(job, self.host.selected)
        if opening is not None:
            corners = corners_of(self.host.plan, opening)
            return Feedback((), (), corners, None, None, self._live, self._problem, at)
        wing = wing_of(self.host.job, self.host.selected)
        outline = self._shown_outline(wing)
        held = self._held(wing, outline)
        guides = self._snap.guides if self._snap else ()
        # Inside the roof a building line is not drawn; of the wing in hand it is shown.
        guides = (*guides, *ring(outline)) if self.host.editable else guides
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
        if pressed.target.startswith(("opening:", "handle:")):
            return self._move_opening(job, pressed, pointer)
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

    def _move_opening(self, job: Job, pressed: Pointer, pointer: Pointer) -> Job:
        kind, _, name = pressed.target.partition(":")
        key = f"opening:{name.rpartition('/')[0] if kind == 'handle' else name}"
        opening = opening_of(job, key)
        plane = None if opening is None else plane_of(self.host.plan, opening)
        if opening is None or plane is None:
            return job
        grid = 0.0 if pointer.free else self.host.grid
        if kind == "handle":
            job = stretched_opening(job, plane, opening, int(name.rpartition("/")[2]), pointer.at, grid)
        else:
            job = moved_opening(job, plane, opening, pressed.at, pointer.at, grid)
        moved = opening_of(job, key) or opening
        at, size = (moved.x_in, moved.y_in), (moved.width_in, moved.length_in)
        self._live = measures_in_words(self.host.units, at, size)
        return job

    def _nudge(self, arrow: Point2) -> bool:
        """One grid step for the selected corner, edge or opening; an edge moves square to itself."""
        if opening_of(self.host.job, self.host.selected) is not None:
            return self._nudge_opening(arrow)
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

    def _nudge_opening(self, arrow: Point2) -> bool:
        """One grid step along the plane's own axes, whichever lies nearer to the arrow."""
        opening = opening_of(self.host.job, self.host.selected)
        plane = None if opening is None else plane_of(self.host.plan, opening)
        if opening is None or plane is None:
            return False
        step = self.host.grid or 1.0
        across, uphill = (_dot(axis, arrow) for axis in (plane.across, plane.uphill))
        x, y = (across, 0.0) if abs(across) >= abs(uphill) else (0.0, uphill)
        to = (opening.x_in + math.copysign(step, x) * bool(x), opening.y_in + math.copysign(step, y) * bool(y))
        self._edit(lambda job: set_opening(job, opening.id, x_in=to[0], y_in=to[1]), "Move opening")
        return True

    def _set_kind(self, kind: OutlineKind) -> bool:
        key, _, name = self.host.selected.partition(":")
        if key != "edge":
            return False
        wing_id, _, edge_id = name.partition("/")
        self._edit(lambda job: set_edge(job, wing_id, edge_id, kind=kind), f"Make edge {word_of_kind(kind).lower()}")
        return True

    def _delete(self) -> bool:
        opening = opening_of(self.host.job, self.host.selected)
        if opening is not None and not self.dragging:
            self._edit(lambda job: remove_opening(job, opening.id), f"Remove {opening.kind}")
            self.host.select("")
            return True
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


def _dot(a: Point2, b: Point2) -> float:
    return a[0] * b[0] + a[1] * b[1]


def _along(start: Point2, end: Point2, direction: Point2) -> float:
    return (end[0] - start[0]) * direction[0] + (end[1] - start[1]) * direction[1]
