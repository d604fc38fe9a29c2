"""Drawing a line on a plane: it splits the plane, or the slope beside it is solved so that planes meet there."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from workbench.bench.surface.snapping import TOLERANCE_PX, Snap, Targets, on_lattice, snap
from workbench.bench.surface.tools.base import (
    Ask,
    Feedback,
    Host,
    Pointer,
    Tool,
    line_words,
    point_asks,
    positive,
    ring,
    side_of,
    targets_of,
    typed_point,
)
from workbench.errors import BadInput
from workbench.job.model import Job, Wing
from workbench.job.planes import Fold, PlaneSplit, SplitSide
from workbench.job.planes_edits import add_split, remove_split, set_split, solve_for_line
from workbench.roof.model import Plane, Point2

FOLD_WORDS: tuple[tuple[Fold, str], ...] = (("up", "up"), ("down", "down"))
"""Which way a part turned about its line goes from it, in words."""

_WAYS = ("a plane of its own there", "solve the slope there for this line")
_NEAR_IN = 1e-6
_PARALLEL = 1e-6


@dataclass(frozen=True)
class _Held:
    """An end of a line in the hand."""

    wing: str
    split: PlaneSplit
    end: int


class PlaneLineTool(Tool):
    """Two clicks for the line, one for the side, then what becomes of that side in the box."""

    hint = "Click one end of the line on a plane, or type where it is; ends of lines there already can be dragged."

    def __init__(self, host: Host) -> None:
        super().__init__(host)
        self._ends: tuple[Point2, ...] = ()
        self._side: SplitSide | None = None
        self._snap = Snap((0.0, 0.0))
        self._seen = False
        self._held: _Held | None = None
        self._shown: Job | None = None

    def press(self, pointer: Pointer) -> None:
        """Take an end of a line that is there, else the next place, else the side."""
        if not self._ends and (held := self._end_under(pointer.at)) is not None:
            self._held = held
            self.host.select(f"plane:{held.wing}/{held.split.id}")
            return
        self.move(pointer)
        if len(self._ends) < 2:
            self._take(self._snap.point)
        elif self._side is None:
            self._settle()
        else:
            self.host.ask()

    def move(self, pointer: Pointer) -> None:
        """Snap the pointer; the end in the hand goes with it."""
        self._seen = True
        if len(self._ends) == 2:
            if self._side is None:
                self._snap = Snap(pointer.at)
            return
        base = self._base
        here = Snap(on_lattice(pointer.at))
        self._snap = (
            here if pointer.free else snap(pointer.at, self.host.scale, self._targets(), base=base, grid=self.host.grid)
        )
        if self._held is not None:
            self._drag(self._held)

    def release(self, pointer: Pointer) -> None:
        """Put down the end in the hand."""
        held, shown, self._held, self._shown = self._held, self._shown, None, None
        if held is not None and shown is not None:
            self.host.apply(shown, "Move line")

    def key(self, name: str) -> bool:
        """Esc leaves, Backspace goes a step back, Enter takes the place or asks, Delete removes the selected line."""
        if name == "escape":
            self.cancel()
            self.host.finish()
        elif name == "backspace":
            self._back()
        elif name == "enter":
            if len(self._ends) < 2:
                self._take(self._snap.point)
            else:
                self._settle()
        elif name == "delete":
            self._remove()
        else:
            return False
        return True

    def cancel(self) -> None:
        """Leave everything as it was."""
        self._held = self._shown = None
        super().cancel()

    @property
    def unfinished(self) -> bool:
        """An end of the line has been set."""
        return bool(self._ends)

    def asks(self) -> tuple[Ask, ...]:
        """The numbers of the present step."""
        if len(self._ends) == 2:
            plane = self._plane()
            live = None if plane is None else plane.tangent
            fold = Ask("fold", "From the line it goes", "choice", self._likely_fold(), tuple(w for _, w in FOLD_WORDS))
            made = (Ask("slope", "Its slope", "slope", live), fold)
            if self._solvable() is None:
                return made
            return (*made, Ask("way", "Make it", "choice", 1.0, _WAYS))
        return point_asks(self._base, self._snap.point)

    def typed(self, values: Mapping[str, float]) -> None:
        """Take the numbers of the present step."""
        if len(self._ends) == 2:
            self._make(values)
        else:
            self._take(on_lattice(typed_point(values, self._base)))

    def feedback(self) -> Feedback:
        """The line, the ends of lines already there, and on which side the new plane would lie."""
        if not self._ends:
            there = tuple(end for _, split in self._splits() for end in (split.start, split.end))
            return Feedback((), (), there, self._snap.point if self._held else None, self._snap if self._seen else None)
        if len(self._ends) == 1:
            base, end = self._ends[0], self._snap.point
            live = line_words(self.host.units, base, end)
            return Feedback(((base, end),), self._snap.guides, self._ends, None, self._snap, live)
        a, b = self._ends
        middle = ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)
        away = _away(a, b, self._side or self._pointed())
        mark = (middle[0] + 30.0 / self.host.scale * away[0], middle[1] + 30.0 / self.host.scale * away[1])
        return Feedback(((a, b), (middle, mark)), (), self._ends, None, None, "this side", at=mark)

    @property
    def _base(self) -> Point2 | None:
        return self._ends[0] if self._ends else None

    def _take(self, point: Point2) -> None:
        if not self._ends or point != self._ends[0]:
            self._ends = (*self._ends, point)
            self._snap = Snap(point)
        self._tell()

    def _settle(self) -> None:
        self._side = self._pointed()
        self._tell()
        self.host.ask()

    def _back(self) -> None:
        if self._side is not None:
            self._side = None
        else:
            self._ends = self._ends[:-1]
        self._tell()

    def _tell(self) -> None:
        if self._side is not None:
            self.host.say("Type the slope of that side; its own slope makes two planes of one. Enter takes it.")
        elif len(self._ends) == 2:
            self.host.say("Click on the side of the line that changes, or type its slope.")
        elif self._ends:
            self.host.say("Click the other end of the line, or type its length, Tab, angle.")
        else:
            self.host.say(self.hint)

    def _targets(self) -> Targets:
        """Corners and edges of the drawing and of the roof: hips and ridges too."""
        known = targets_of(self.host.job)
        rings = [tuple((x, y) for x, y, _ in plane.corners) for plane in self.host.plan.roof.planes]
        return Targets(
            (*known.corners, *(corner for its in rings for corner in its)),
            (*known.edges, *(side for its in rings for side in ring(its))),
        )

    def _pointed(self) -> SplitSide:
        """The side of the line the pointer is on; the left while it says nothing."""
        (ax, ay), (bx, by) = self._ends
        x, y = self._snap.point
        return "right" if (bx - ax) * (y - ay) - (by - ay) * (x - ax) < 0.0 else "left"

    def _plane(self) -> Plane | None:
        """The plane under the middle of the line, on the chosen side."""
        (a, b), side = self._ends, self._side or self._pointed()
        away = _away(a, b, side)
        spot = ((a[0] + b[0]) / 2.0 + 0.1 * away[0], (a[1] + b[1]) / 2.0 + 0.1 * away[1])
        over = [plane for plane in self.host.plan.roof.planes if _holds(plane, spot)]
        return max(over, key=lambda plane: plane.to_space(plane.to_plane(spot))[2], default=None)

    def _likely_fold(self) -> float:
        """The way the plane goes from the line now."""
        plane = self._plane()
        if plane is None:
            return 0.0
        away = _away(*self._ends, self._side or self._pointed())
        return 0.0 if away[0] * plane.uphill[0] + away[1] * plane.uphill[1] >= 0.0 else 1.0

    def _solvable(self) -> tuple[Wing, str, str] | None:
        """The wing with the eave that keeps its slope and the one whose slope the line can give, or None.

        The two eaves are those that meet in the corner a line begins at, or those parallel to it on either side.
        """
        plane = self._plane()
        wing = None if plane is None else next((w for w in self.host.job.wings if w.id == plane.wing), None)
        if wing is None or wing.single is not None:
            return None
        left = _beside(wing, self._ends, "left")
        right = _beside(wing, self._ends, "right")
        if not left or not right:
            return None
        side = self._side or self._pointed()
        keep, change = (right[0], left[0]) if side == "left" else (left[0], right[0])
        return wing, keep, change

    def _make(self, values: Mapping[str, float]) -> None:
        solvable, plane = self._solvable(), self._plane()
        a, b = self._ends
        if solvable is not None and values.get("way") == 1.0:
            wing, keep, change = solvable
            job = solve_for_line(self.host.job, wing.id, keep, change, a, b)
            self._done(job, "Solve slope for line", f"edge:{wing.id}/{change}")
            return
        if plane is None:
            self.host.say("There is no plane under the middle of the line; Backspace goes back.")
            return
        slope, fold = positive(values, "slope", "The slope"), FOLD_WORDS[int(values["fold"])][0]
        same = abs(slope - plane.tangent) < 1e-9 and values["fold"] == self._likely_fold()
        job, split = add_split(
            self.host.job,
            plane.wing,
            plane.whole.partition("/")[2],
            a,
            b,
            side=self._side or self._pointed(),
            slope_in_12=None if same else round(12.0 * slope, 10),
            fold=fold,
        )
        self._done(job, "Split plane by a line", f"plane:{plane.wing}/{split}")

    def _done(self, job: Job, text: str, key: str) -> None:
        self.host.apply(job, text)
        self.host.finish()
        self.host.select(key)

    def _splits(self) -> list[tuple[Wing, PlaneSplit]]:
        return [(wing, split) for wing in self.host.job.wings for split in wing.splits]

    def _end_under(self, at: Point2) -> _Held | None:
        found = [
            (math.dist(at, end), wing.id, split, number)
            for wing, split in self._splits()
            for number, end in enumerate((split.start, split.end))
        ]
        best = min(found, key=lambda each: each[0], default=None)
        if best is None or best[0] * self.host.scale > TOLERANCE_PX:
            return None
        return _Held(*best[1:])

    def _drag(self, held: _Held) -> None:
        field = "start" if held.end == 0 else "end"
        try:
            self._shown = set_split(self.host.job, held.wing, held.split.id, **{field: self._snap.point})
        except BadInput as error:
            self.host.say(str(error))
            return
        self.host.preview(self._shown)

    def _remove(self) -> None:
        wing_id, _, name = self.host.selected.removeprefix("plane:").partition("/")
        if any(wing.id == wing_id and split.id == name for wing, split in self._splits()):
            self.host.apply(remove_split(self.host.job, wing_id, name), "Remove line")
            self.host.select(f"wing:{wing_id}")


def _away(a: Point2, b: Point2, side: SplitSide) -> Point2:
    """Unit vector square to a line, to one side."""
    length = math.dist(a, b)
    x, y = (a[1] - b[1]) / length, (b[0] - a[0]) / length
    return (x, y) if side == "left" else (-x, -y)


def _holds(plane: Plane, point: Point2) -> bool:
    x, y = point
    inside = False
    for edge in plane.edges:
        (ax, ay, _), (bx, by, _) = edge.start, edge.end
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
            inside = not inside
    return inside


def _beside(wing: Wing, ends: tuple[Point2, ...], side: SplitSide) -> list[str]:
    """Eaves on one side of a line that the plane beside it can rise from, the nearest first."""
    a, b = ends
    away = _away(a, b, side)
    found: list[tuple[float, str]] = []
    for i, edge in enumerate(wing.edges):
        start, end = side_of(wing, i)
        offs = [(x - a[0]) * away[0] + (y - a[1]) * away[1] for x, y in (start, end)]
        touches = any(math.dist(corner, spot) < _NEAR_IN for corner in (start, end) for spot in ends)
        parallel = abs(offs[0] - offs[1]) < _PARALLEL * math.dist(start, end)
        inside = min(offs) > -_NEAR_IN and max(offs) > _NEAR_IN
        if edge.kind == "eave" and inside and (touches or parallel):
            found.append((0.0 if touches else offs[0], edge.id))
    return [name for _, name in sorted(found)]
