"""Anchors on the roof: selecting, dragging along the ridge or over the plane, setting new ones."""

from __future__ import annotations

import math

from workbench.bench.surface.tools.base import Feedback, Host, Pointer, Tool
from workbench.bench.surface.tools.sites import Site, site_at, site_of, site_selected
from workbench.errors import BadInput, EditError
from workbench.job.model import Job
from workbench.job.safety import Anchor
from workbench.job.safety_edits import add_anchor, move_anchor, remove_anchor
from workbench.roof.model import Plane, Point2
from workbench.safety.anchors import top_of
from workbench.safety.surface import outside_in
from workbench.safety.words import rope_words

DRAG_PX = 4.0
REACH_PX = 11.0
RIDGE_PX = 14.0
"""Nearer than this to its plane's top edge an anchor stands on it."""

_STEPS = {"left": -1.0, "right": 1.0}
_NUDGE_IN = 1.0


class AnchorsTool(Tool):
    """What the safety stage rests in: click to select; drag an anchor, with one undo step on release."""

    hint = "Drag an anchor along the ridge; click a plane or an edge to select it."

    def __init__(self, host: Host) -> None:
        super().__init__(host)
        self._held = ""
        self._from: Point2 = (0.0, 0.0)
        self._start: Job | None = None
        self._job: Job | None = None
        self._at: Point2 = (0.0, 0.0)
        self._live = ""
        self._problem = ""

    @property
    def dragging(self) -> bool:
        """Whether an anchor is being moved."""
        return self._start is not None

    def press(self, pointer: Pointer) -> None:
        """Take the anchor under the pointer, else select what is there."""
        self._held = self._near(pointer)
        self._from = pointer.at
        self.host.select(f"anchor:{self._held}" if self._held else pointer.target)

    def move(self, pointer: Pointer) -> None:
        """Carry the anchor along; its plane's top edge catches it."""
        if not self._held:
            return
        if self._start is None:
            if math.dist(self._from, pointer.at) * self.host.scale < DRAG_PX:
                return
            self._start = self.host.job
        self._at = pointer.at
        try:
            self._job = self._moved(self._start, pointer)
        except BadInput as error:
            self._problem = str(error)
            return
        self._problem = ""
        self.host.preview(self._job)
        self._live = self._words()

    def release(self, pointer: Pointer) -> None:
        """Make what is shown the job's."""
        job, held = self._job, self._held
        dragged = self._start is not None
        self._forget()
        if not dragged:
            return
        if job is None:
            self.host.cancel_preview()
        else:
            self.host.apply(job, f"Move anchor {held}")
        self.host.say(self.hint)

    def key(self, name: str) -> bool:
        """Esc, Delete, left and right."""
        if name == "escape":
            if self.dragging:
                self.cancel()
            else:
                self.host.select("")
            return True
        anchor = anchor_of(self.host.job, self.host.selected)
        if anchor is None or self.dragging:
            return False
        if name == "delete":
            self.host.apply(remove_anchor(self.host.job, anchor.id), f"Remove anchor {anchor.id}")
            self.host.select("")
            return True
        if name in _STEPS:
            return self._nudge(anchor, _STEPS[name])
        return False

    def cancel(self) -> None:
        """Put the anchor back."""
        self._forget()
        self.host.cancel_preview()

    def feedback(self) -> Feedback:
        """A handle at every anchor; the rope's length while one is moved."""
        standing = [anchor for anchor in self.host.plan.safety.anchors if anchor.plane]
        points = {anchor.id: (anchor.space[0], anchor.space[1]) for anchor in standing}
        kind, _, name = self.host.selected.partition(":")
        held = points.get(self._held or (name if kind == "anchor" else ""))
        at = self._at if self.dragging else None
        return Feedback((), (), tuple(points.values()), held, None, self._live, self._problem, at)

    def _near(self, pointer: Pointer) -> str:
        """Id of the anchor under the pointer, or empty."""
        here = [anchor for anchor in self.host.plan.safety.anchors if anchor.plane]
        nearest = min(here, key=lambda anchor: math.dist(anchor.space[:2], pointer.at), default=None)
        if nearest is None or math.dist(nearest.space[:2], pointer.at) * self.host.scale > REACH_PX:
            return ""
        return nearest.id

    def _moved(self, job: Job, pointer: Pointer) -> Job:
        anchor = anchor_of(job, f"anchor:{self._held}")
        site = self._site(anchor, pointer.at)
        if anchor is None or site is None:
            msg = "There is no roof here; put the anchor down on a plane."
            raise EditError(msg)
        x, y = place_on(site.alone, pointer.at, RIDGE_PX / self.host.scale, free=pointer.free)
        step = self.host.grid
        x = round(x / step) * step if step and not pointer.free else round(x * 16.0) / 16.0
        return move_anchor(job, anchor.id, x_in=x, y_in=y, plane=site.alone.id)

    def _site(self, anchor: Anchor | None, at: Point2) -> Site | None:
        """Its own plane as long as the pointer is on it or just past its top; else the one under the pointer."""
        plan = self.host.plan
        own = next((plane for plane in plan.roof.planes if anchor is not None and plane.whole == anchor.plane), None)
        if own is not None and outside_in(own.polygon, own.to_plane(at)) * self.host.scale <= RIDGE_PX:
            return site_of(plan, own)
        return site_at(self.host, at)

    def _words(self) -> str:
        found = self.host.plan.safety.anchor(self._held)
        if found is None or not found.plane:
            return "off the roof"
        units = self.host.units
        governs = f", by the {found.governs.fall.name}" if found.governs is not None else ""
        rope = f"rope {rope_words(found, units)}" if found.rope_in > 0.0 else "no rope is left"
        return f"{units.length(found.point[0])} from the left · {rope}{governs}"

    def _nudge(self, anchor: Anchor, way: float) -> bool:
        step = self.host.grid or _NUDGE_IN
        try:
            job = move_anchor(self.host.job, anchor.id, x_in=anchor.x_in + way * step, y_in=anchor.y_in)
            self.host.apply(job, f"Move anchor {anchor.id}")
        except BadInput as error:
            self.host.refuse(error)
        return True

    def _forget(self) -> None:
        self._held = ""
        self._start = self._job = None
        self._live = self._problem = ""


class SetAnchorTool(Tool):
    """Click where a new anchor stands; near the top edge of a plane it stands on that edge."""

    hint = "Click on the ridge, or anywhere on a plane, where the anchor stands; Enter puts it in the ridge's middle."

    def __init__(self, host: Host) -> None:
        super().__init__(host)
        self._at: Point2 | None = None

    def press(self, pointer: Pointer) -> None:
        """Set it there."""
        site = site_at(self.host, pointer.at)
        if site is None:
            self.host.say("There is no roof here; click on a plane.")
            return
        x, y = place_on(site.alone, pointer.at, RIDGE_PX / self.host.scale, free=pointer.free)
        self._set(site.alone, x, y)

    def move(self, pointer: Pointer) -> None:
        """Show where it would stand."""
        self._at = pointer.at

    def key(self, name: str) -> bool:
        """Enter sets it in the middle of the selected plane's top edge, Esc leaves."""
        if name == "escape":
            self.host.finish()
            return True
        site = site_selected(self.host)
        if name != "enter" or site is None:
            return False
        xs = [corner[0] for corner in site.alone.polygon]
        self._set(site.alone, (min(xs) + max(xs)) / 2.0, None)
        return True

    def feedback(self) -> Feedback:
        """A handle where it would stand."""
        site = None if self._at is None else site_at(self.host, self._at)
        if site is None or self._at is None:
            return Feedback()
        x, y = place_on(site.alone, self._at, RIDGE_PX / self.host.scale, free=False)
        spot = site.alone.to_space((x, top_of(site.alone, x)[0] if y is None else y))
        word = "ridge" if y is None else "on the plane"
        return Feedback((), (), ((spot[0], spot[1]),), None, None, word, "", self._at)

    def _set(self, plane: Plane, x: float, y: float | None) -> None:
        try:
            job, anchor_id = add_anchor(self.host.job, plane.id, x_in=round(x * 16.0) / 16.0, y_in=y)
            self.host.apply(job, f"Set anchor {anchor_id}")
        except BadInput as error:
            self.host.refuse(error)
            return
        self.host.finish()
        self.host.select(f"anchor:{anchor_id}")


def anchor_of(job: Job, key: str) -> Anchor | None:
    """The anchor of a key, or None."""
    kind, _, name = key.partition(":")
    return next((anchor for anchor in job.safety.anchors if kind == "anchor" and anchor.id == name), None)


def place_on(plane: Plane, at: Point2, near_in: float, *, free: bool) -> tuple[float, float | None]:
    """Where an anchor put down at a plan point is measured on a plane: x, and y or None on the top edge.

    Args:
        plane: The plane as its wing has it alone.
        at: The plan point.
        near_in: Level distance from the top edge within which it stands on it.
        free: Whether nothing catches it.
    """
    left, right = min(corner[0] for corner in plane.polygon), max(corner[0] for corner in plane.polygon)
    x, y = plane.to_plane(at)
    x = min(max(x, left), right)
    top = top_of(plane, x)[0]
    if y >= top or (not free and (top - y) / plane.stretch <= near_in):
        return x, None
    return x, round(y * 16.0) / 16.0
