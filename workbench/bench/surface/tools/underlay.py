"""Placing the plan page under the drawing: scaled by two points, turned along a line, moved."""

from __future__ import annotations

import math
from collections.abc import Mapping

from workbench.bench.surface.snapping import Segment, Snap, on_lattice, snap
from workbench.bench.surface.tools.base import Ask, Feedback, Host, Pointer, Tool, positive, targets_of
from workbench.errors import BadInput
from workbench.job.model import Job
from workbench.job.underlay_edits import move_underlay, scale_underlay, turn_underlay
from workbench.roof.model import Point2


class _TwoPoints(Tool):
    """A tool that wants two points of the page; what is drawn by hand on a page does not lie on a grid."""

    catches = False
    """Whether corners of the drawing catch the second point."""

    def __init__(self, host: Host) -> None:
        super().__init__(host)
        self._from: Point2 | None = None
        self._to: Point2 | None = None
        self._snap: Snap | None = None

    def start(self) -> None:
        """Begin, if there is a page."""
        none = "There is no plan page under the drawing yet; lay one there first."
        self.host.say(self.hint if self.host.job.underlay is not None else none)

    def press(self, pointer: Pointer) -> None:
        """The first point, then the second."""
        if self.host.job.underlay is None or self._to is not None:
            return
        self.move(pointer)
        at = self._at(pointer)
        if self._from is None:
            self._from = at
            self.host.say(self.then)
        elif math.dist(self._from, at) > 0.0:
            self._to = at
            self.second()

    def move(self, pointer: Pointer) -> None:
        """Show the line to the pointer."""
        self._snap = self._caught(pointer)

    def key(self, name: str) -> bool:
        """Esc takes the last point back, then leaves."""
        if name not in {"escape", "backspace"}:
            return False
        if self._from is None and name == "escape":
            self.host.finish()
        self._from, self._to = (self._from, None) if self._to is not None else (None, None)
        self.cancel()
        self.host.say(self.hint if self._from is None else self.then)
        return True

    def feedback(self) -> Feedback:
        """The line and both points."""
        end = self._to or (self._snap.point if self._snap is not None else None)
        handles = tuple(point for point in (self._from, self._to) if point is not None)
        lines: tuple[Segment, ...] = ((self._from, end),) if self._from is not None and end is not None else ()
        return Feedback(lines=lines, handles=handles, snap=self._snap if self._to is None else None, live=self.live())

    then = ""
    """What to do after the first point."""

    def live(self) -> str:
        """What stands beside the pointer."""
        return ""

    def second(self) -> None:
        """Both points are there."""
        raise NotImplementedError

    def change(self, job: Job, text: str) -> None:
        """Make the edit and go back to selecting."""
        self.host.apply(job, text)
        self.host.finish()

    def _at(self, pointer: Pointer) -> Point2:
        return self._caught(pointer).point

    def _caught(self, pointer: Pointer) -> Snap:
        if not self.catches or self._from is None or pointer.free:
            return Snap(pointer.at)
        return snap(pointer.at, self.host.scale, targets_of(self.host.job), grid=self.host.grid)


class ScaleUnderlayTool(_TwoPoints):
    """Two points of the page, and how far they are apart in truth."""

    hint = "Click one end of a measure that is written on the plan page."
    then = "Click the other end of the measure."

    def second(self) -> None:
        """Ask for the distance."""
        self.host.say("Type how far these two points are apart in truth, then Enter.")
        self.host.ask()

    def asks(self) -> tuple[Ask, ...]:
        """The distance; what the page says at its present scale is only offered."""
        if self._from is None or self._to is None:
            return ()
        return (Ask("distance", "Distance", "length", math.dist(self._from, self._to)),)

    def typed(self, values: Mapping[str, float]) -> None:
        """Scale."""
        if self._from is None or self._to is None:
            return
        distance = positive(values, "distance", "The distance")
        self.change(scale_underlay(self.host.job, self._from, self._to, distance), "Scale the plan page")

    def live(self) -> str:
        """The distance at the present scale."""
        if self._from is None or self._to is not None or self._snap is None:
            return ""
        return f"{self.host.units.length(math.dist(self._from, self._snap.point))} now"


class TurnUnderlayTool(_TwoPoints):
    """Two points along a line that runs level or upright in truth."""

    hint = "Click a corner on the plan page; it stays where it is."
    then = "Click along a wall that should run level or upright."

    def second(self) -> None:
        """Turn."""
        if self._from is None or self._to is None:
            return
        try:
            self.change(turn_underlay(self.host.job, self._from, self._to), "Turn the plan page")
        except BadInput as error:
            self.host.refuse(error)


class MoveUnderlayTool(_TwoPoints):
    """A point of the page, and where it belongs on the drawing."""

    catches = True
    hint = "Click a point of the plan page, such as a corner of the building."
    then = "Click where that point belongs; corners of the drawing catch it."

    def move(self, pointer: Pointer) -> None:
        """Carry the page along."""
        super().move(pointer)
        by = self._by()
        if by is not None:
            try:
                self.host.preview(move_underlay(self.host.job, by))
            except BadInput:
                self.host.cancel_preview()

    def second(self) -> None:
        """Put it down."""
        by = self._by()
        if by is not None:
            try:
                self.change(move_underlay(self.host.job, by), "Move the plan page")
            except BadInput as error:
                self.host.refuse(error)

    def asks(self) -> tuple[Ask, ...]:
        """How far to the right and up."""
        by = self._by()
        if by is None:
            return ()
        return (Ask("right", "Right", "length", by[0]), Ask("up", "Up", "length", by[1]))

    def typed(self, values: Mapping[str, float]) -> None:
        """Move so far."""
        self.change(move_underlay(self.host.job, (values["right"], values["up"])), "Move the plan page")

    def _by(self) -> Point2 | None:
        if self._from is None or self._snap is None:
            return None
        return on_lattice((self._snap.point[0] - self._from[0], self._snap.point[1] - self._from[1]))
