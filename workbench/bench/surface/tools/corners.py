"""Splitting an edge at a new corner, and trimming a corner away."""

from __future__ import annotations

import math
from collections.abc import Mapping

from msgspec.structs import replace

from workbench.bench.surface.snapping import Segment, Snap, on_lattice, to_segment, unit
from workbench.bench.surface.tools.base import Ask, Feedback, Host, Pointer, Tool, edge_index, side_of, wing_of
from workbench.errors import BadInput, EditError
from workbench.job.edits import set_wing
from workbench.job.model import Wing
from workbench.roof.model import Point2

REACH_PX = 10.0


class SplitTool(Tool):
    """Give an edge one more corner; both parts keep what the edge was."""

    hint = "Click the edge to split, where the new corner goes."

    def __init__(self, host: Host) -> None:
        super().__init__(host)
        self._edge: tuple[str, int] | None = None
        self._snap: Snap | None = None

    def press(self, pointer: Pointer) -> None:
        """Split the edge under the pointer."""
        self.move(pointer)
        if self._edge is None or self._snap is None:
            self.host.say("There is no edge here; click on one.")
            return
        try:
            self._split(self._snap.point)
        except BadInput as error:
            self.host.refuse(error)

    def move(self, pointer: Pointer) -> None:
        """Find the place on the edge under the pointer: its middle, or whole grid steps from its start."""
        found = _edge_under(self.host, pointer)
        self._edge = found and (found[0].id, found[1])
        self._snap = None
        if found is None:
            return
        start, end = side_of(*found)
        middle = ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
        length = math.dist(start, end)
        along = min(max(_along(start, end, pointer.at), 0.0), length)
        if abs(along - length / 2.0) * self.host.scale <= REACH_PX and not pointer.free:
            self._snap = Snap(on_lattice(middle), "middle")
            return
        if self.host.grid and not pointer.free:
            along = round(along / self.host.grid) * self.host.grid
        self._snap = Snap(_at(start, end, along), "edge")

    def key(self, name: str) -> bool:
        """Esc leaves."""
        if name != "escape":
            return False
        self.host.finish()
        return True

    def asks(self) -> tuple[Ask, ...]:
        """Distance from the start of the edge, going anticlockwise round the wing; also for the selected edge."""
        side = self._side()
        if side is None:
            return ()
        along = _along(*side, self._snap.point) if self._snap is not None else math.dist(*side) / 2.0
        return (Ask("along", "From the start", "length", along),)

    def typed(self, values: Mapping[str, float]) -> None:
        """Split at a distance from the edge's start."""
        side = self._side()
        if side is not None:
            self._split(_at(*side, values["along"]))

    def feedback(self) -> Feedback:
        """The edge, and how its length would be parted."""
        side = self._side()
        if side is None:
            return Feedback()
        if self._snap is None:
            return Feedback((side,), (), (side[0],))
        units, at = self.host.units, self._snap.point
        live = f"{units.length(math.dist(side[0], at))} + {units.length(math.dist(at, side[1]))}"
        return Feedback((side,), (), (side[0],), None, self._snap, live)

    def _place(self) -> tuple[Wing, int] | None:
        job = self.host.job
        if self._edge is not None:
            return next(((wing, self._edge[1]) for wing in job.wings if wing.id == self._edge[0]), None)
        wing = wing_of(job, self.host.selected)
        if wing is None or not self.host.selected.startswith("edge:"):
            return None
        index = edge_index(wing, self.host.selected.rpartition("/")[2])
        return None if index is None else (wing, index)

    def _side(self) -> Segment | None:
        place = self._place()
        return side_of(*place) if place is not None else None

    def _split(self, at: Point2) -> None:
        place = self._place()
        if place is None:
            return
        wing, index = place
        start, end = side_of(wing, index)
        if not 0.0 < _along(start, end, at) < math.dist(start, end) or at in (start, end):
            length = self.host.units.length(math.dist(start, end))
            msg = f"The new corner has to lie between the ends of the edge: over 0 and under {length}."
            raise EditError(msg)
        corners = (*wing.outline[: index + 1], at, *wing.outline[index + 1 :])
        edge = wing.edges[index]
        new = replace(edge, id=_fresh_edge_id(wing))
        edges = (*wing.edges[: index + 1], new, *wing.edges[index + 1 :])
        self.host.apply(set_wing(self.host.job, wing.id, outline=corners, edges=edges), "Split edge")
        self.host.finish()
        self.host.select(f"corner:{wing.id}/{index + 1}")


class TrimTool(Tool):
    """Take a corner away; the edges on its two sides become one."""

    hint = "Click the corner to trim away."

    def __init__(self, host: Host) -> None:
        super().__init__(host)
        self._corner: tuple[Wing, int] | None = None

    def press(self, pointer: Pointer) -> None:
        """Trim the corner under the pointer."""
        self.move(pointer)
        if self._corner is None:
            self.host.say("There is no corner here; click on one.")
            return
        try:
            self._trim(*self._corner)
        except BadInput as error:
            self.host.refuse(error)

    def move(self, pointer: Pointer) -> None:
        """Find the corner under the pointer."""
        places = [(wing, i) for wing in self.host.job.wings for i in range(len(wing.outline))]
        best = min(places, key=lambda p: math.dist(p[0].outline[p[1]], pointer.at), default=None)
        near = best and math.dist(best[0].outline[best[1]], pointer.at) * self.host.scale <= REACH_PX
        self._corner = best if near else None

    def key(self, name: str) -> bool:
        """Esc leaves; Enter trims the selected corner."""
        if name == "escape":
            self.host.finish()
            return True
        wing = wing_of(self.host.job, self.host.selected)
        if name != "enter" or wing is None or not self.host.selected.startswith("corner:"):
            return False
        try:
            self._trim(wing, int(self.host.selected.rpartition("/")[2]))
        except BadInput as error:
            self.host.refuse(error)
        return True

    def feedback(self) -> Feedback:
        """All corners, and the side that would be left at the one under the pointer."""
        corners = tuple(corner for wing in self.host.job.wings for corner in wing.outline)
        if self._corner is None:
            return Feedback((), (), corners)
        wing, index = self._corner
        outline = wing.outline
        left = (outline[index - 1], outline[(index + 1) % len(outline)])
        return Feedback((left,), (), corners, outline[index], Snap(outline[index], "trim"))

    def _trim(self, wing: Wing, index: int) -> None:
        if len(wing.outline) <= 3:
            msg = "A wing needs three corners at least; remove the wing instead."
            raise EditError(msg)
        corners = tuple(corner for i, corner in enumerate(wing.outline) if i != index)
        edges = tuple(edge for i, edge in enumerate(wing.edges) if i != index)
        self.host.apply(set_wing(self.host.job, wing.id, outline=corners, edges=edges), "Trim corner")
        self.host.finish()
        self.host.select(f"wing:{wing.id}")


def _edge_under(host: Host, pointer: Pointer) -> tuple[Wing, int] | None:
    """The edge the pointer is on: the one picked on the drawing, else the nearest building line."""
    wing = wing_of(host.job, pointer.target)
    if wing is not None and pointer.target.startswith("edge:"):
        index = edge_index(wing, pointer.target.rpartition("/")[2])
        return None if index is None else (wing, index)
    places = [(wing, i) for wing in host.job.wings for i in range(len(wing.outline))]
    best = min(places, key=lambda place: to_segment(pointer.at, side_of(*place)), default=None)
    if best is None or to_segment(pointer.at, side_of(*best)) * host.scale > REACH_PX:
        return None
    return best


def _fresh_edge_id(wing: Wing) -> str:
    taken = {edge.id for edge in wing.edges}
    number = len(taken) + 1
    while f"e{number}" in taken:
        number += 1
    return f"e{number}"


def _along(start: Point2, end: Point2, point: Point2) -> float:
    dx, dy = unit(start, end) or (1.0, 0.0)
    return (point[0] - start[0]) * dx + (point[1] - start[1]) * dy


def _at(start: Point2, end: Point2, along: float) -> Point2:
    dx, dy = unit(start, end) or (1.0, 0.0)
    return on_lattice((start[0] + dx * along, start[1] + dy * along))
