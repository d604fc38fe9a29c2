"""Drawing a dormer: a wing that stands on a plane, its back running into the roof."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from workbench.bench.surface.snapping import LATTICE, TOLERANCE_PX, Snap, on_lattice
from workbench.bench.surface.tools.base import Ask, Feedback, Host, Pointer, Tool, ring
from workbench.bench.surface.tools.sites import Site, site_at, site_selected
from workbench.errors import BadInput, EditError
from workbench.job.edits import add_wing, set_edge
from workbench.job.model import Edge, Job, OutlineKind, Wing
from workbench.roof.eaves import wing_hap
from workbench.roof.model import Point2

FORMS = ("gable", "shed", "hip")
_KINDS: dict[str, tuple[OutlineKind, ...]] = {
    "gable": ("rake", "eave", "rake", "eave"),
    "shed": ("eave", "rake", "wall", "rake"),
    "hip": ("eave", "eave", "rake", "eave"),
}
WIDTH_IN = 72.0
FRONT_IN = 48.0
"""Usual height of the front wall over the roof before it; common practice, no source."""

_OVERHANG_IN = 8.0
_SHED_IN_12 = 3.0
_PAST_IN = 1.0  # the walls run this far on into the roof, so that nothing ends just where both are level
_DRAG_PX = 4.0


@dataclass(frozen=True)
class Dormer:
    """What a dormer is made from; None is worked out.

    Attributes:
        right: Left end of the front wall, to the right of the eave's left end.
        inward: Front wall, in from the eave's building line.
        width: Level width.
        form: ``gable``, ``shed`` or ``hip``.
        slope: rise/run; None takes the roof's, or for a shed a flat one.
        plate: Height of its plate; None stands the front wall on the roof.
        depth: From the front wall back; None takes what it needs to meet the roof.
    """

    right: float
    inward: float
    width: float = WIDTH_IN
    form: str = "gable"
    slope: float | None = None
    plate: float | None = None
    depth: float | None = None


def settled(site: Site, dormer: Dormer) -> Dormer:
    """The dormer with everything worked out.

    Raises:
        EditError: It has no room there, or would not stand out of the roof.
    """
    slope = dormer.slope if dormer.slope is not None else _usual_slope(site, dormer.form)
    if dormer.form == "shed" and slope >= site.plane.tangent - 1e-6:
        msg = f"A shed dormer has to be flatter than the roof below it; give less than {site.plane.in_12:.4g} in 12."
        raise EditError(msg)
    dormer = replace(dormer, slope=slope)
    front, hap = site.height(dormer.inward), _hap(site, slope)
    plate = dormer.plate if dormer.plate is not None else _usual_plate(site, dormer, hap)
    if plate + hap <= front:
        msg = "The dormer would not stand out of the roof: its plate lies under it there. Give the plate higher."
        raise EditError(msg)
    dormer = replace(dormer, plate=plate)
    depth = dormer.depth if dormer.depth is not None else _needed_depth(site, dormer, hap)
    return replace(dormer, depth=depth)


def with_dormer(job: Job, site: Site, dormer: Dormer) -> tuple[Job, str]:
    """The job with the dormer as a wing, and its id.

    Raises:
        EditError: It can't be built there.
    """
    dormer = settled(site, dormer)
    wing = site.wing
    job, wing_id = add_wing(
        job,
        outline_of(site, dormer),
        _KINDS[dormer.form],
        name=_name(job),
        slope_in_12=round(12.0 * (dormer.slope or 0.0), 10),
        plate_in=dormer.plate,
        eave_overhang_in=min(wing.eave_overhang_in, _OVERHANG_IN),
        rake_overhang_in=min(wing.rake_overhang_in or wing.eave_overhang_in, _OVERHANG_IN),
        heel=wing.heel,
        rafter=wing.rafter,
        ridge=wing.ridge,
        hips=wing.hips,
    )
    # The back ends inside the roof: nothing hangs over there.
    return set_edge(job, wing_id, job.wing(wing_id).edges[2].id, overhang_in=0.0), wing_id


def outline_of(site: Site, dormer: Dormer) -> tuple[Point2, ...]:
    """Corners of the walls, anticlockwise from the left end of the front one."""
    left, right = dormer.right, dormer.right + dormer.width
    low, high = dormer.inward, dormer.inward + (dormer.depth or 0.0)
    return tuple(on_lattice(site.at(x, y)) for x, y in ((left, low), (right, low), (right, high), (left, high)))


def _usual_slope(site: Site, form: str) -> float:
    if form != "shed":
        return site.plane.tangent
    return min(_SHED_IN_12 / 12.0, site.plane.tangent / 2.0)


def _hap(site: Site, slope: float) -> float:
    wing = Wing(
        id="new",
        name="new",
        outline=((0.0, 0.0), (1.0, 0.0), (0.0, 1.0)),
        edges=(Edge(id="e1", kind="eave"),),
        slope_in_12=12.0 * slope,
        heel=site.wing.heel,
        rafter=site.wing.rafter,
    )
    return wing_hap(wing)


def _rise(dormer: Dormer) -> float:
    """How far the dormer's top lies over its rafters' tops at the wall, where it meets the roof level with it."""
    return 0.0 if dormer.form == "shed" else (dormer.slope or 0.0) * dormer.width / 2.0


def _usual_plate(site: Site, dormer: Dormer, hap: float) -> float:
    """The front wall on the roof, lower where it would otherwise come out over the ridge."""
    front = site.height(dormer.inward)
    top_in, top = site.top
    reach = (dormer.slope or 0.0) * (top_in - dormer.inward) if dormer.form == "shed" else _rise(dormer)
    plate = float(math.floor(min(front + FRONT_IN, top - hap - reach - _PAST_IN)))
    if plate + hap <= front:
        msg = "There is no room for a dormer here: it would come out over the ridge. Put it lower, or make it narrower."
        raise EditError(msg)
    return plate


def _needed_depth(site: Site, dormer: Dormer, hap: float) -> float:
    """From the front wall to where the dormer's highest line meets the roof, to the next inch."""
    slope, m = dormer.slope or 0.0, site.plane.tangent
    over = (dormer.plate or 0.0) + hap + _rise(dormer) - site.height(dormer.inward)
    needed = over / (m - slope) if dormer.form == "shed" else over / m
    return float(math.ceil(needed + _PAST_IN))


def _name(job: Job) -> str:
    taken = {wing.name for wing in job.wings}
    number = 1
    while (name := "dormer" if number == 1 else f"dormer {number}") in taken:
        number += 1
    return name


class DormerTool(Tool):
    """Click where the front wall goes, or draw the wall itself along the slope; then its measures in the box."""

    hint = "Click a plane where the front wall goes, or drag along the wall; G, S and H change the form."

    def __init__(self, host: Host) -> None:
        super().__init__(host)
        self._site: Site | None = None
        self._dormer = Dormer(0.0, 0.0)
        self._pressed: Point2 | None = None
        self._settled = False
        self._snap: Snap | None = None
        self._problem = ""

    @property
    def unfinished(self) -> bool:
        """A dormer stands where it was put and waits for Enter."""
        return self._settled

    def press(self, pointer: Pointer) -> None:
        """Begin the front wall."""
        if self._settled:
            self._unsettle()  # a click elsewhere puts it there
        self.move(pointer)
        if self._site is None:
            self.host.say("There is no plane here; click on one.")
            return
        self._pressed = pointer.at

    def move(self, pointer: Pointer) -> None:
        """Carry the dormer along, or draw its front wall out."""
        if self._settled:
            return
        if self._pressed is not None and self._site is not None:
            self._stretch(self._site, pointer)
            return
        self._site = site_at(self.host, pointer.at)
        if self._site is not None:
            self._carry(self._site, pointer)
            self._check()

    def release(self, pointer: Pointer) -> None:
        """The place is settled; the measures can be typed."""
        if self._pressed is not None:
            self._pressed = None
            self._settle()

    def key(self, name: str) -> bool:
        """Esc goes a step back; Enter takes the place; G, S and H choose the form."""
        if name in ("escape", "backspace"):
            if self._settled:
                self._unsettle()
            elif name == "escape":
                self.host.finish()
        elif name == "enter":
            if self._settled:
                self.host.ask()
            else:
                self._begin_without_pointer()
                self._settle()
        elif name in ("g", "s", "h"):
            self._dormer = replace(self._dormer, form=next(form for form in FORMS if form[0] == name))
            self._check()
            if self._settled:
                self._show()
        else:
            return False
        return True

    def asks(self) -> tuple[Ask, ...]:
        """All its measures, as they would be taken now."""
        self._begin_without_pointer()
        site = self._site
        if site is None:
            return ()
        dormer = self._worked_out(site)
        return (
            Ask("right", "From the left end", "length", dormer.right),
            Ask("inward", "In from the wall line", "length", dormer.inward),
            Ask("width", "Width", "length", dormer.width),
            Ask("form", "Form", "choice", float(FORMS.index(dormer.form)), tuple(form for form in FORMS)),
            Ask("slope", "Slope", "slope", dormer.slope),
            Ask("plate", "Plate height", "length", dormer.plate),
            Ask("depth", "Depth", "length", dormer.depth),
        )

    def typed(self, values: Mapping[str, float]) -> None:
        """Make it; what was left as shown is worked out anew from the rest."""
        site = self._site
        if site is None:
            return
        shown = self._worked_out(site)

        def given(name: str, was: float | None) -> float | None:
            return None if was is not None and abs(values[name] - was) < 1e-9 else values[name]

        if values["width"] <= 0.0:
            msg = "The width has to be over 0; write a length like 6'."
            raise EditError(msg)
        dormer = Dormer(
            values["right"],
            values["inward"],
            values["width"],
            FORMS[int(values["form"])],
            given("slope", shown.slope),
            given("plate", shown.plate),
            given("depth", shown.depth),
        )
        job, wing_id = with_dormer(self.host.job, site, dormer)
        self.host.apply(job, f"Draw {job.wing(wing_id).name}")
        self.host.finish()
        self.host.select(f"wing:{wing_id}")

    def feedback(self) -> Feedback:
        """The walls, and what they measure."""
        site = self._site
        if site is None:
            return Feedback()
        dormer, units = self._worked_out(site), self.host.units
        corners = outline_of(site, dormer)
        live = (
            f"{dormer.form} · {units.length(dormer.width)} wide · {units.length(dormer.right)} from the left · "
            f"{units.length(dormer.inward)} in"
        )
        guides = (corners[:2],) if not self._settled else ()
        snap = None if self._settled else self._snap
        return Feedback(ring(corners), guides, corners[:2], None, snap, live, self._problem, corners[1])

    def cancel(self) -> None:
        """Leave everything as it was."""
        self._settled = False
        super().cancel()

    def _worked_out(self, site: Site) -> Dormer:
        try:
            return settled(site, self._dormer)
        except EditError:
            slope = self._dormer.slope or _usual_slope(site, self._dormer.form)
            plate = site.height(self._dormer.inward) + FRONT_IN
            return replace(self._dormer, slope=slope, plate=plate, depth=self._dormer.width)

    def _carry(self, site: Site, pointer: Pointer) -> None:
        right, inward = site.along(pointer.at)
        width, word = self._dormer.width, ""
        left = right - width / 2.0
        middle = math.dist(site.start, site.end) / 2.0
        if not pointer.free:
            if abs(right - middle) * self.host.scale <= TOLERANCE_PX:
                left, word = middle - width / 2.0, "middle"
            else:
                left, word = self._on_grid(left), "grid" if self.host.grid else ""
            inward = self._on_grid(inward)
            if abs(inward) * self.host.scale <= TOLERANCE_PX:
                inward, word = 0.0, f"{word}, wall line" if word == "middle" else "wall line"
        left, inward = round(left * LATTICE) / LATTICE, round(inward * LATTICE) / LATTICE
        self._dormer = replace(self._dormer, right=left, inward=inward)
        self._snap = Snap(site.at(left + width / 2.0, inward), word)

    def _stretch(self, site: Site, pointer: Pointer) -> None:
        """The front wall from where it was pressed to the pointer."""
        if self._pressed is None or math.dist(self._pressed, pointer.at) * self.host.scale < _DRAG_PX:
            return
        first, second = site.along(self._pressed)[0], site.along(pointer.at)[0]
        if not pointer.free:
            first, second = self._on_grid(first), self._on_grid(second)
        left, right = sorted((first, second))
        if right - left > 0.0:
            self._dormer = replace(self._dormer, right=left, width=right - left)
            self._snap = Snap(site.at(second, self._dormer.inward), "grid" if self.host.grid else "")
            self._check()

    def _on_grid(self, value: float) -> float:
        grid = self.host.grid
        return round(value / grid) * grid if grid else value

    def _begin_without_pointer(self) -> None:
        """On the selected plane, in its middle, a little up from the wall."""
        if self._site is not None:
            return
        self._site = site = site_selected(self.host)
        if site is not None:
            middle = math.dist(site.start, site.end) / 2.0
            top_in, _ = site.top
            inward = float(math.floor(max(0.0, top_in) / 4.0))
            self._dormer = replace(self._dormer, right=middle - self._dormer.width / 2.0, inward=inward)

    def _check(self) -> None:
        self._problem = ""
        if self._site is not None:
            try:
                settled(self._site, self._dormer)
            except EditError as error:
                self._problem = str(error)

    def _settle(self) -> None:
        if self._site is None:
            self.host.say("There is no plane yet to put a dormer on; draw a wing first.")
            return
        self._settled = True
        self._show()
        self.host.say("Type its measures, Tab between them; Enter in the box takes them as they are shown.")
        self.host.ask()

    def _show(self) -> None:
        """The roof with the dormer on it."""
        if self._site is None:
            return
        try:
            job, _ = with_dormer(self.host.job, self._site, self._dormer)
        except BadInput as error:
            self._problem = str(error)
            self.host.cancel_preview()
        else:
            self._problem = ""
            self.host.preview(job)

    def _unsettle(self) -> None:
        self._settled = False
        self.host.cancel_preview()
        self.host.say(self.hint)
