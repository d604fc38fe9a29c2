"""Moving a whole wing, and repeating it at another place."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from workbench.bench.surface.snapping import Segment, Snap, on_lattice, snap
from workbench.bench.surface.tools.base import Ask, Feedback, Host, Pointer, Tool, ring, targets_of, wing_of
from workbench.errors import BadInput, EditError
from workbench.job.edits import add_wing, set_wing
from workbench.job.model import Job, OutlineKind, Wing
from workbench.job.planes_edits import moved_lines
from workbench.roof.model import Point2

_KEPT = (
    "slope_in_12",
    "plate_in",
    "eave_overhang_in",
    "rake_overhang_in",
    "fascia",
    "heel",
    "rafter",
    "ridge",
    "hips",
    "landing",
    "joins",
    "stands_on",
)


class MoveTool(Tool):
    """Take a wing at a place, put that place down elsewhere; or type how far."""

    hint = "Click the wing to move, at the place you want to put down elsewhere."

    def __init__(self, host: Host) -> None:
        super().__init__(host)
        self._wing: Wing | None = None
        self._from: Point2 = (0.0, 0.0)
        self._snap = Snap((0.0, 0.0))
        self._seen = False
        self._problem = ""

    def press(self, pointer: Pointer) -> None:
        """Take the wing under the pointer, then put it down."""
        if self._wing is None:
            self._take(pointer)
        else:
            self.move(pointer)
            self._put(self._offset())

    def move(self, pointer: Pointer) -> None:
        """Carry the wing along."""
        self._seen = True
        but = self._wing.id if self._wing is not None and not self._keeps() else ""
        targets = targets_of(self.host.job, but=but)
        base = self._from if self._wing is not None else None
        caught = snap(pointer.at, self.host.scale, targets, base=base, grid=self.host.grid)
        self._snap = Snap(on_lattice(pointer.at)) if pointer.free else caught
        if self._wing is not None:
            self._show(self._offset())

    def key(self, name: str) -> bool:
        """Esc lets go, then leaves; Enter puts down."""
        if name == "escape":
            self.cancel()
            if self._wing is None:
                self.host.finish()
            self._wing = None
        elif name == "enter" and self._wing is not None:
            self._put(self._offset())
        else:
            return False
        return True

    def asks(self) -> tuple[Ask, ...]:
        """How far to the right and up; for the selected wing also before it is taken."""
        if self._wing is None and wing_of(self.host.job, self.host.selected) is None:
            return ()
        right, up = self._offset() if self._wing is not None else (0.0, 0.0)
        return (Ask("right", "Right", "length", right), Ask("up", "Up", "length", up))

    def typed(self, values: Mapping[str, float]) -> None:
        """Put down so far from where it was."""
        if self._wing is None:
            self._wing = wing_of(self.host.job, self.host.selected)
            self.host.say(self._next())
        self._change_or_raise(on_lattice((values["right"], values["up"])))

    def feedback(self) -> Feedback:
        """The wing in the hand, and how far it went."""
        if self._wing is None:
            wing = wing_of(self.host.job, self.host.selected)
            return Feedback((), (), wing.outline if wing else (), None, self._snap if self._seen else None)
        offset = self._offset()
        units = self.host.units
        lines: tuple[Segment, ...] = ring(_shifted(self._wing.outline, offset))
        live = f"{units.signed(offset[0])} right · {units.signed(offset[1])} up"
        return Feedback(lines, self._snap.guides, (), self._from, self._snap, live, self._problem)

    def _keeps(self) -> bool:
        """Whether the wing stays where it was as well."""
        return False

    def _next(self) -> str:
        return "Click where that place goes, or type how far right, Tab, up."

    def _take(self, pointer: Pointer) -> None:
        wing = wing_of(self.host.job, pointer.target)
        if wing is None:
            self.host.say("There is no wing here; click on a plane or an edge of one.")
            return
        self._wing = wing
        self.move(pointer)
        corner = min(wing.outline, key=lambda c: math.dist(c, pointer.at))
        near = math.dist(corner, pointer.at) * self.host.scale <= 10.0
        self._from = corner if near else self._snap.point
        self._snap = Snap(self._from)
        self.host.select(f"wing:{wing.id}")
        self.host.say(self._next())

    def _offset(self) -> Point2:
        return self._snap.point[0] - self._from[0], self._snap.point[1] - self._from[1]

    def _show(self, offset: Point2) -> None:
        try:
            self.host.preview(self._changed(offset)[0])
            self._problem = ""
        except BadInput as error:
            self._problem = str(error)

    def _put(self, offset: Point2) -> None:
        try:
            self._change_or_raise(offset)
        except BadInput as error:
            self.host.refuse(error)

    def _change_or_raise(self, offset: Point2) -> None:
        if self._wing is None or offset == (0.0, 0.0):
            return
        job, wing_id, text = self._changed(offset)
        self.host.apply(job, text)
        self.host.finish()
        self.host.select(f"wing:{wing_id}")

    def _changed(self, offset: Point2) -> tuple[Job, str, str]:
        """The job with the wing there, the id of the wing put down, and what to call the edit."""
        wing = self._held()
        job = set_wing(self.host.job, wing.id, outline=_shifted(wing.outline, offset), **moved_lines(wing, *offset))
        return job, wing.id, f"Move {wing.name}"

    def _held(self) -> Wing:
        if self._wing is None:
            msg = "No wing is taken; click on one first."
            raise EditError(msg)
        return self._wing


class RepeatTool(MoveTool):
    """Put a copy of a wing elsewhere."""

    hint = "Click the wing to repeat, at the place you want to put down elsewhere."

    def _keeps(self) -> bool:
        return True

    def _changed(self, offset: Point2) -> tuple[Job, str, str]:
        wing = self._held()
        fields: dict[str, Any] = {name: getattr(wing, name) for name in _KEPT}
        kinds: list[OutlineKind] = [edge.kind for edge in wing.edges]
        job, wing_id = add_wing(self.host.job, _shifted(wing.outline, offset), kinds, **fields)
        fields = moved_lines(wing, *offset)
        return set_wing(job, wing_id, edges=wing.edges, **fields), wing_id, f"Repeat {wing.name}"


def _shifted(outline: tuple[Point2, ...], offset: Point2) -> tuple[Point2, ...]:
    return tuple((x + offset[0], y + offset[1]) for x, y in outline)
