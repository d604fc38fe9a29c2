"""Drawing a wing: corner by corner, or as a rectangle."""

from __future__ import annotations

import math
from collections.abc import Mapping

from workbench.bench.surface.snapping import Snap, Targets, on_lattice, snap
from workbench.bench.surface.tools.base import (
    Ask,
    Feedback,
    Host,
    Pointer,
    Tool,
    direction_of,
    line_words,
    positive,
    ring,
    segments,
    targets_of,
    typed_point,
)
from workbench.bench.surface.tools.kinds import anticlockwise, like_the_last, likely_kinds
from workbench.errors import BadInput, EditError
from workbench.job.edits import add_wing
from workbench.roof.model import Point2


class _Draw(Tool):
    """What drawing tools share: the snapped pointer, the first corner, and making the wing."""

    def __init__(self, host: Host) -> None:
        super().__init__(host)
        self._corners: tuple[Point2, ...] = ()
        self._snap = Snap((0.0, 0.0))
        self._seen = False

    def press(self, pointer: Pointer) -> None:
        """Take the snapped place."""
        self.move(pointer)
        self._try(self._snap.point)

    def move(self, pointer: Pointer) -> None:
        """Snap the pointer."""
        self._seen = True
        self._snap = Snap(on_lattice(pointer.at)) if pointer.free else self._caught(pointer.at)

    def key(self, name: str) -> bool:
        """Esc leaves, Backspace takes the last corner back, Enter takes the place or ends."""
        if name == "escape":
            self.host.finish()
        elif name == "backspace":
            self._corners = self._corners[:-1]
            self._tell()
        elif name == "enter":
            self._enter()
        else:
            return False
        return True

    @property
    def unfinished(self) -> bool:
        """Corners have been set."""
        return bool(self._corners)

    def asks(self) -> tuple[Ask, ...]:
        """At first the place of the first corner."""
        x, y = self._snap.point
        return (Ask("x", "Right", "length", x), Ask("y", "Up", "length", y))

    def _caught(self, at: Point2) -> Snap:
        base = self._corners[-1] if self._corners else None
        drawn = segments(self._corners)
        known = targets_of(self.host.job)
        targets = Targets((*known.corners, *self._corners[:-1]), (*known.edges, *drawn))
        last, start = (drawn[-1], drawn[0]) if drawn else (None, None)
        return snap(at, self.host.scale, targets, base=base, last=last, start=start, grid=self.host.grid)

    def _place(self, point: Point2) -> None:
        """Take a typed place and wait there for the pointer to move on."""
        exact = on_lattice(point)
        self._take(exact)
        self._snap = Snap(exact)

    def _try(self, point: Point2) -> None:
        try:
            self._take(point)
        except BadInput as error:
            self.host.refuse(error)

    def _take(self, point: Point2) -> None:
        """Take a place; raises ``EditError`` when it can't be used."""
        raise NotImplementedError

    def _enter(self) -> None:
        self._try(self._snap.point)

    def _tell(self) -> None:
        """Say what comes next."""
        raise NotImplementedError

    def _make(self, corners: tuple[Point2, ...]) -> None:
        outline = anticlockwise(corners)
        job = self.host.job
        job, wing_id = add_wing(job, outline, likely_kinds(outline), **like_the_last(job))
        self.host.apply(job, f"Draw {job.wing(wing_id).name}")
        self.host.finish()
        self.host.select(f"wing:{wing_id}")


class OutlineTool(_Draw):
    """Corner after corner, closed on the first one or with Enter."""

    hint = "Click the first corner, or type where it is."

    def asks(self) -> tuple[Ask, ...]:
        """Length and angle of the next side."""
        if not self._corners:
            return super().asks()
        base, end = self._corners[-1], self._snap.point
        return (
            Ask("length", "Length", "length", math.dist(base, end)),
            Ask("angle", "Angle", "angle", direction_of(base, end) if base != end else self._square()),
        )

    def typed(self, values: Mapping[str, float]) -> None:
        """The next corner from numbers."""
        self._place(typed_point(values, self._corners[-1] if self._corners else None))

    def feedback(self) -> Feedback:
        """The line so far, the rubber line and its measures."""
        if not self._corners:
            return Feedback(snap=self._snap if self._seen else None)
        base, end = self._corners[-1], self._snap.point
        live = line_words(self.host.units, base, end)
        lines = (*segments(self._corners), (base, end))
        return Feedback(lines, self._snap.guides, self._corners, None, self._snap, live)

    def _square(self) -> float:
        """The direction a quarter turn to the left of the last side, while the pointer says none."""
        if len(self._corners) < 2:
            return 0.0
        return (direction_of(*self._corners[-2:]) + math.pi / 2.0) % math.tau

    def _take(self, point: Point2) -> None:
        if self._corners and point == self._corners[-1]:
            return
        if len(self._corners) >= 3 and point == self._corners[0]:
            self._close()
            return
        if point in self._corners:
            msg = "The outline would touch itself at this corner; choose another place, or Backspace to go back."
            raise EditError(msg)
        self._corners = (*self._corners, point)
        self._tell()

    def _enter(self) -> None:
        if not self._corners:
            self._try(self._snap.point)
            return
        try:
            self._close()
        except BadInput as error:
            self.host.refuse(error)

    def _close(self) -> None:
        if len(self._corners) < 3:
            msg = "An outline needs three corners at least; click or type the next one."
            raise EditError(msg)
        self._make(self._corners)

    def _tell(self) -> None:
        if not self._corners:
            self.host.say(self.hint)
        elif len(self._corners) < 3:
            self.host.say("Click the next corner, or type its length, Tab, angle. Backspace takes a corner back.")
        else:
            self.host.say("Click the next corner, or close with Enter or on the first corner.")


class RectangleTool(_Draw):
    """Two opposite corners, or a corner with width and depth."""

    hint = "Click one corner of the rectangle, or type where it is."

    def asks(self) -> tuple[Ask, ...]:
        """Width and depth."""
        if not self._corners:
            return super().asks()
        width, depth = self._size()
        return (Ask("width", "Width", "length", abs(width)), Ask("depth", "Depth", "length", abs(depth)))

    def typed(self, values: Mapping[str, float]) -> None:
        """The rectangle from numbers, to the side of the first corner that the pointer is on."""
        if not self._corners:
            self._place((values["x"], values["y"]))
            return
        width, depth = positive(values, "width", "Width"), positive(values, "depth", "Depth")
        x, y = self._corners[0]
        right, up = self._size()
        self._place((x + math.copysign(width, right), y + math.copysign(depth, up)))

    def feedback(self) -> Feedback:
        """The rectangle and its measures."""
        if not self._corners:
            return Feedback(snap=self._snap if self._seen else None)
        width, depth = self._size()
        units = self.host.units
        live = f"{units.length(abs(width))} × {units.length(abs(depth))}" if width or depth else ""
        corners = _rectangle(self._corners[0], self._snap.point)
        return Feedback(ring(corners), (), self._corners, None, self._snap, live)

    def _caught(self, at: Point2) -> Snap:
        # Square to the first corner is no help here: it would make a rectangle without width.
        return snap(at, self.host.scale, targets_of(self.host.job), grid=self.host.grid)

    def _size(self) -> Point2:
        """Width and depth with their signs; right and up while the pointer says nothing."""
        (x, y), (px, py) = self._corners[0], self._snap.point
        return px - x, py - y

    def _take(self, point: Point2) -> None:
        if not self._corners:
            self._corners = (point,)
            self._tell()
            return
        if point[0] == self._corners[0][0] or point[1] == self._corners[0][1]:
            return
        self._make(_rectangle(self._corners[0], point))

    def _tell(self) -> None:
        self.host.say("Click the opposite corner, or type the width, Tab, depth." if self._corners else self.hint)


def _rectangle(a: Point2, b: Point2) -> tuple[Point2, ...]:
    return a, (b[0], a[1]), b, (a[0], b[1])
