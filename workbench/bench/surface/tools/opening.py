"""Drawing skylights and chimneys, and moving and stretching them where they lie: all in the axes of their plane."""

from __future__ import annotations

import math
from collections.abc import Mapping

from workbench.bench.surface.snapping import LATTICE, TOLERANCE_PX, Snap
from workbench.bench.surface.tools.base import Ask, Feedback, Host, Pointer, Tool, positive, ring
from workbench.bench.surface.tools.sites import Site, site_at, site_selected
from workbench.drawing.roof_plan import opening_ring, planes_alone
from workbench.errors import BadInput
from workbench.job.edits import add_opening, set_opening
from workbench.job.model import Job, Opening, OpeningKind
from workbench.measure import Units
from workbench.plan import Plan
from workbench.roof.joining import opening_axes
from workbench.roof.model import Plane, Point2

OPENING_KINDS: tuple[OpeningKind, ...] = ("skylight", "chimney")
OPENING_WORDS: tuple[tuple[OpeningKind, str], ...] = (("skylight", "Skylight"), ("chimney", "Chimney"))
LENGTH_IN = 48.0
_LEAST_IN = 1.0


def corners_of(plan: Plan, opening: Opening) -> tuple[Point2, ...]:
    """Plan corners of an opening from its lower left one; empty where its plane is not there."""
    return opening_ring(opening, planes_alone(plan, opening.plane.partition("/")[0]))


def plane_of(plan: Plan, opening: Opening) -> Plane | None:
    """The plane an opening is measured on, as its wing has it alone."""
    planes = planes_alone(plan, opening.plane.partition("/")[0])
    return next((plane for plane in planes if plane.id == opening.plane), None)


def moved_opening(job: Job, plane: Plane, opening: Opening, start: Point2, end: Point2, grid: float) -> Job:
    """The job with an opening carried along with the pointer, in whole grid steps of its plane's own axes.

    Raises:
        EditError: It can't lie there.
    """
    (x0, y0), (x1, y1) = opening_axes(plane, start), opening_axes(plane, end)
    to = [_stepped(now, by, grid) for now, by in ((opening.x_in, x1 - x0), (opening.y_in, y1 - y0))]
    return set_opening(job, opening.id, x_in=to[0], y_in=to[1])


def stretched_opening(job: Job, plane: Plane, opening: Opening, corner: int, to: Point2, grid: float) -> Job:
    """The job with one corner of an opening put elsewhere, the one over against it staying where it is.

    Raises:
        EditError: It can't lie there.
    """
    x, y = (_stepped(value, 0.0, grid) for value in opening_axes(plane, to))
    left, low = opening.x_in, opening.y_in
    right, high = left + opening.width_in, low + opening.length_in
    left, right = (x, right) if corner in (0, 3) else (left, x)
    low, high = (y, high) if corner in (0, 1) else (low, y)
    left, right = sorted((left, right))
    low, high = sorted((low, high))
    width, length = max(right - left, _LEAST_IN), max(high - low, _LEAST_IN)
    return set_opening(job, opening.id, x_in=left, y_in=low, width_in=width, length_in=length)


def measures_in_words(units: Units, at: Point2, size: Point2) -> str:
    """Size and place of an opening, as it is shown beside the pointer."""
    width, length, x, y = (units.length(value) for value in (*size, *at))
    return f"{width} × {length} · {x} from the left · {y} up"


def _stepped(value: float, by: float, grid: float) -> float:
    moved = value + by
    if grid:
        moved = round(moved / grid) * grid
    return round(moved * LATTICE) / LATTICE


class OpeningTool(Tool):
    """Drag the opening from corner to corner, or click its lower left corner and type its measures."""

    hint = "Drag the opening on a plane from corner to corner, or click its lower left corner."

    def __init__(self, host: Host) -> None:
        super().__init__(host)
        self._site: Site | None = None
        self._at: Point2 = (0.0, 0.0)
        self._size: Point2 | None = None
        self._pressed: Point2 | None = None
        self._settled = False
        self._word = ""
        self._kind = 0

    @property
    def unfinished(self) -> bool:
        """An opening lies where it was put and waits for Enter."""
        return self._settled

    def press(self, pointer: Pointer) -> None:
        """Take the first corner."""
        self._settled = False  # a click elsewhere puts it there
        self.move(pointer)
        if self._site is None:
            self.host.say("There is no plane here; press on one.")
            return
        self._pressed = self._at

    def move(self, pointer: Pointer) -> None:
        """Find the place on the plane, or draw the opening out."""
        if self._settled:
            return
        if self._pressed is None:
            self._site = site_at(self.host, pointer.at)
            if self._site is not None:
                self._at = self._caught(self._site, pointer)
            return
        if self._site is not None:
            x, y = self._caught(self._site, pointer)
            left, right = sorted((self._pressed[0], x))
            low, high = sorted((self._pressed[1], y))
            self._at, self._size = (left, low), (right - left, high - low)

    def release(self, pointer: Pointer) -> None:
        """An opening that was drawn out is made; after a click its measures are asked."""
        if self._pressed is None:
            return
        self._pressed = None
        if self._size is not None and min(self._size) >= _LEAST_IN:
            try:
                self._make(self._at, self._size, self._kind)
            except BadInput as error:
                self._size = None
                self.host.refuse(error)
            return
        self._settle()

    def key(self, name: str) -> bool:
        """Esc goes a step back; Enter takes the place."""
        if name in ("escape", "backspace"):
            if self._settled:
                self._settled = False
                self.host.say(self.hint)
            elif name == "escape":
                self.host.finish()
        elif name == "enter":
            self._begin_without_pointer()
            self._settle()
        else:
            return False
        return True

    def asks(self) -> tuple[Ask, ...]:
        """Where it lies on its plane, its size, and what it is."""
        self._begin_without_pointer()
        if self._site is None:
            return ()
        width, length = self._shown_size(self._site)
        return (
            Ask("x", "From the left end", "length", self._at[0]),
            Ask("y", "Up the slope", "length", self._at[1]),
            Ask("width", "Width", "length", width),
            Ask("length", "Length up the slope", "length", length),
            Ask("kind", "It is a", "choice", float(self._kind), OPENING_KINDS),
        )

    def typed(self, values: Mapping[str, float]) -> None:
        """Make it."""
        size = (positive(values, "width", "Width"), positive(values, "length", "Length"))
        self._make((values["x"], values["y"]), size, int(values["kind"]))

    def feedback(self) -> Feedback:
        """The rectangle on its plane, and its measures."""
        site = self._site
        if site is None:
            return Feedback()
        (x, y), (width, length) = self._at, self._shown_size(site)
        corners = self._ring(site, (width, length))
        live = measures_in_words(self.host.units, (x, y), (width, length))
        held = corners[0] if self._pressed is None else None
        snap = None if self._settled else Snap(corners[0] if held else corners[2], self._word)
        return Feedback(ring(corners), (), corners, held, snap, live, "", corners[2])

    def _ring(self, site: Site, size: Point2) -> tuple[Point2, ...]:
        (x, y), (width, length) = self._at, size
        places = ((x, y), (x + width, y), (x + width, y + length), (x, y + length))
        return tuple(site.alone.to_space(place)[:2] for place in places)

    def _shown_size(self, site: Site) -> Point2:
        """As drawn out, else one bay between two rafters wide."""
        rafter = site.wing.rafter
        return self._size or (max(rafter.spacing_in - rafter.thickness_in, _LEAST_IN), LENGTH_IN)

    def _caught(self, site: Site, pointer: Pointer) -> Point2:
        """The place in the plane's axes: at a rafter's face, else on the grid."""
        x, y = opening_axes(site.alone, pointer.at)
        self._word = ""
        if not pointer.free:
            grid, reach = self.host.grid, TOLERANCE_PX / self.host.scale
            face = min(self._faces(site), key=lambda at: abs(at - x), default=math.inf)
            if abs(face - x) <= reach:
                x, self._word = face, "rafter"
            elif grid:
                x, self._word = round(x / grid) * grid, "grid"
            y = round(y / grid) * grid if grid else y
        return round(x * LATTICE) / LATTICE, round(y * LATTICE) / LATTICE

    def _faces(self, site: Site) -> list[float]:
        """Sides of the rafters, in the plane's axes."""
        half = site.wing.rafter.thickness_in / 2.0
        offset = opening_axes(site.alone, site.plane.to_space((0.0, 0.0))[:2])[0]
        lines = self.host.plan.framing.supports_of(site.plane.id)
        return [x + offset + side for x in lines for side in (-half, half)]

    def _begin_without_pointer(self) -> None:
        """On the selected plane, in the middle of it."""
        if self._site is not None:
            return
        self._site = site = site_selected(self.host)
        if site is not None:
            width, length = self._shown_size(site)
            plane = site.alone
            x, y = (plane.width_in - width) / 2.0, (plane.plane_length_in - length) / 2.0
            self._at = (float(round(x)), float(round(y)))

    def _settle(self) -> None:
        if self._site is None:
            self.host.say("There is no plane yet to open; draw a wing first.")
            return
        self._settled, self._size = True, None
        self.host.say("Type its measures, Tab between them; Enter in the box takes them as they are shown.")
        self.host.ask()

    def _make(self, at: Point2, size: Point2, kind: int) -> None:
        if self._site is None:
            return
        job, opening_id = add_opening(
            self.host.job,
            self._site.alone.id,
            x_in=at[0],
            y_in=at[1],
            width_in=size[0],
            length_in=size[1],
            kind=OPENING_KINDS[kind],
        )
        self.host.apply(job, f"Draw {OPENING_KINDS[kind]}")
        self.host.finish()
        self.host.select(f"opening:{opening_id}")
