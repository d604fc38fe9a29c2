"""Drawing one sloped plane: the low wall, the distance to the higher one, and the height the rafters land at."""

from __future__ import annotations

import math
from collections.abc import Mapping

from workbench.bench.surface.snapping import LATTICE, Snap, left_of, on_lattice, snap, unit
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
    targets_of,
    typed_point,
)
from workbench.bench.surface.tools.kinds import like_the_last
from workbench.errors import BadInput
from workbench.job.edits import add_wing, set_landing
from workbench.job.model import OutlineKind, Wing
from workbench.roof.model import Point2

_KINDS: tuple[OutlineKind, ...] = ("eave", "rake", "wall", "rake")
_DEFAULTS = Wing(id="new", name="", outline=(), edges=())


class SinglePlaneTool(Tool):
    """Two clicks for the low wall, one for the higher wall, then the landing height in the box."""

    hint = "Click one end of the low wall, or type where it is."

    def __init__(self, host: Host) -> None:
        super().__init__(host)
        self._wall: tuple[Point2, ...] = ()
        self._distance = 0.0
        self._settled = False
        self._snap = Snap((0.0, 0.0))
        self._seen = False

    def press(self, pointer: Pointer) -> None:
        """Take the snapped place; once the higher wall stands, the landing height is only typed."""
        self.move(pointer)
        if len(self._wall) < 2:
            self._end(self._snap.point)
        elif not self._settled:
            self._settle(self._across())

    def move(self, pointer: Pointer) -> None:
        """Snap the pointer."""
        self._seen = True
        if pointer.free:
            self._snap = Snap(on_lattice(pointer.at))
            return
        base = self._wall[0] if len(self._wall) == 1 else None
        self._snap = snap(pointer.at, self.host.scale, targets_of(self.host.job), base=base, grid=self.host.grid)

    def key(self, name: str) -> bool:
        """Esc leaves, Backspace goes a step back, Enter takes the place under the pointer."""
        if name == "escape":
            self.host.finish()
        elif name == "backspace":
            self._back()
        elif name == "enter":
            if self._settled:
                self.host.ask()
            elif len(self._wall) == 2:
                self._settle(self._across())
            else:
                self._end(self._snap.point)
        else:
            return False
        return True

    def asks(self) -> tuple[Ask, ...]:
        """The numbers of the present step."""
        if self._settled:
            return (Ask("landing", "Landing height", "length", self._likely_landing()),)
        if len(self._wall) == 2:
            return (Ask("distance", "Distance to the higher wall", "length", abs(self._across())),)
        return point_asks(self._base, self._snap.point)

    def typed(self, values: Mapping[str, float]) -> None:
        """Take the numbers of the present step."""
        if self._settled:
            self._make(values["landing"])
        elif len(self._wall) == 2:
            self._settle(math.copysign(positive(values, "distance", "The distance"), self._across()))
        else:
            self._end(on_lattice(typed_point(values, self._base)))

    def feedback(self) -> Feedback:
        """The low wall, the plane it would give, and the measure of the present step."""
        if not self._wall:
            return Feedback(snap=self._snap if self._seen else None)
        if len(self._wall) == 1:
            base, end = self._wall[0], self._snap.point
            live = line_words(self.host.units, base, end)
            return Feedback(((base, end),), self._snap.guides, self._wall, None, self._snap, live)
        outline = self._outline(self._distance if self._settled else self._across())
        if self._settled:
            return Feedback(ring(outline), (), outline)
        live = self.host.units.length(abs(self._across()))
        return Feedback(ring(outline), (), self._wall, None, self._snap, live)

    @property
    def _base(self) -> Point2 | None:
        return self._wall[0] if self._wall else None

    def _end(self, point: Point2) -> None:
        if not self._wall or point != self._wall[0]:
            self._wall = (*self._wall, point)
            self._snap = Snap(point)
        self._tell()

    def _across(self) -> float:
        """Distance of the pointer from the low wall, over 0 on its left."""
        direction = unit(self._wall[0], self._wall[1]) or (1.0, 0.0)
        normal = left_of(direction)
        at = self._snap.point
        across = (at[0] - self._wall[0][0]) * normal[0] + (at[1] - self._wall[0][1]) * normal[1]
        return round(across * LATTICE) / LATTICE

    def _settle(self, distance: float) -> None:
        if distance == 0.0:
            return
        self._distance, self._settled = distance, True
        self._tell()
        self.host.ask()

    def _back(self) -> None:
        if self._settled:
            self._settled = False
        else:
            self._wall = self._wall[:-1]
        self._tell()

    def _outline(self, distance: float) -> tuple[Point2, ...]:
        """Anticlockwise, beginning with the low wall."""
        a, b = self._wall
        normal = left_of(unit(a, b) or (1.0, 0.0))
        far = (normal[0] * distance, normal[1] * distance)
        a2, b2 = on_lattice((a[0] + far[0], a[1] + far[1])), on_lattice((b[0] + far[0], b[1] + far[1]))
        return (a, b, b2, a2) if distance >= 0.0 else (b, a, a2, b2)

    def _likely_landing(self) -> float:
        """Where the slope of the wing drawn before would land, to the nearest inch."""
        fields = like_the_last(self.host.job)
        plate = float(fields.get("plate_in", _DEFAULTS.plate_in))
        slope = float(fields.get("slope_in_12", _DEFAULTS.slope_in_12)) / 12.0
        return float(round(plate + slope * abs(self._distance)))

    def _make(self, landing: float) -> None:
        job = self.host.job
        try:
            job, wing_id = add_wing(job, self._outline(self._distance), _KINDS, **like_the_last(job))
            job = set_landing(job, wing_id, landing_in=landing)
        except BadInput:
            self._tell()
            raise
        self.host.apply(job, f"Draw {job.wing(wing_id).name}")
        self.host.finish()
        self.host.select(f"wing:{wing_id}")

    def _tell(self) -> None:
        if self._settled:
            self.host.say("Type the height the rafters land at on the higher wall; Enter takes it.")
        elif len(self._wall) == 2:
            self.host.say("Click on the higher wall, or type how far it is from the low wall.")
        elif self._wall:
            self.host.say("Click the other end of the low wall, or type its length, Tab, angle.")
        else:
            self.host.say(self.hint)
