"""Drawing one plane by its outline: corner after corner from its low line, then its slope and height in the box."""

from __future__ import annotations

import math
from collections.abc import Mapping

from workbench.bench.surface.snapping import left_of, unit
from workbench.bench.surface.tools.base import Ask, Feedback, Host, Pointer, positive, ring
from workbench.bench.surface.tools.kinds import anticlockwise, like_the_last
from workbench.bench.surface.tools.outline import OutlineTool
from workbench.errors import BadInput, EditError
from workbench.job.model import OutlineKind
from workbench.job.planes import Meets, Single
from workbench.job.planes_edits import add_single
from workbench.roof.model import Point2
from workbench.roof.single import low_edges, uphill_of

MEETS_WORDS: tuple[tuple[Meets, str], ...] = (
    ("auto", "each keeps its side"),
    ("over", "the higher one stays"),
    ("under", "the lower one stays"),
)
"""What happens where a plane drawn by hand crosses another roof, in words."""

_SLOPE_IN_12 = 7.0
_TOP_IN = 102.0  # a plate of 97 1/8 in and a usual height above it, while nothing is drawn


class DrawnPlaneTool(OutlineTool):
    """An outline whose first side is the plane's low line; slope and height are typed when it is closed."""

    hint = "Click one end of the plane's low line, or type where it is. Draw past the roof it is to end on."

    def __init__(self, host: Host) -> None:
        super().__init__(host)
        self._settled = False

    def press(self, pointer: Pointer) -> None:
        """Take the snapped place; once the outline is closed, only numbers are asked."""
        if self._settled:
            self.host.ask()
        else:
            super().press(pointer)

    def move(self, pointer: Pointer) -> None:
        """Snap the pointer while corners are drawn."""
        if not self._settled:
            super().move(pointer)

    def key(self, name: str) -> bool:
        """Backspace goes back to the outline, Enter asks for the numbers."""
        if self._settled and name in ("backspace", "enter"):
            self._settled = name == "enter"
            if self._settled:
                self.host.ask()
            self._tell()
            return True
        return super().key(name)

    def asks(self) -> tuple[Ask, ...]:
        """Slope, height and meeting of the closed outline."""
        if not self._settled:
            return super().asks()
        words = tuple(word for _, word in MEETS_WORDS)
        return (
            Ask("slope", "Slope", "slope", self._likely_slope()),
            Ask("height", "Rafter tops at the low line", "length", self._likely_height()),
            Ask("meets", "On other roofs", "choice", 0.0, words),
        )

    def typed(self, values: Mapping[str, float]) -> None:
        """Make the plane, once its outline is closed."""
        if not self._settled:
            super().typed(values)
            return
        slope = positive(values, "slope", "The slope")
        self._make_plane(slope, values["height"], MEETS_WORDS[int(values["meets"])][0])

    def feedback(self) -> Feedback:
        """The closed outline with a line up the slope."""
        if not self._settled:
            return super().feedback()
        a, b = self._corners[:2]
        middle = ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)
        up = self._uphill()
        reach = max((c[0] - middle[0]) * up[0] + (c[1] - middle[1]) * up[1] for c in self._corners) / 2.0
        arrow = (middle, (middle[0] + reach * up[0], middle[1] + reach * up[1]))
        return Feedback((*ring(self._corners), arrow), (), (a, b))

    def _close(self) -> None:
        if len(self._corners) < 3:
            msg = "A plane needs three corners at least; click or type the next one."
            raise EditError(msg)
        self._settled = True
        self._tell()
        self.host.ask()

    def _tell(self) -> None:
        if self._settled:
            self.host.say("Type the slope, Tab, and the height of the rafters' tops at the low line; Enter takes it.")
        elif len(self._corners) == 1:
            self.host.say("Click the other end of the low line, or type its length, Tab, angle.")
        else:
            super()._tell()

    def _uphill(self) -> Point2:
        """Square to the first side, into the outline."""
        along = unit(self._corners[0], self._corners[1]) or (1.0, 0.0)
        left = left_of(along)
        return left if anticlockwise(self._corners) == self._corners else (-left[0], -left[1])

    def _likely_slope(self) -> float:
        return float(like_the_last(self.host.job).get("slope_in_12", _SLOPE_IN_12)) / 12.0

    def _likely_height(self) -> float:
        """The roof under the middle of the low line, else the tops over the first plate there is."""
        plan = self.host.plan
        a, b = self._corners[:2]
        middle = ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)
        under = [plane for plane in plan.roof.planes if _over(plane.corners, middle)]
        if under:
            return max(plane.to_space(plane.to_plane(middle))[2] for plane in under)
        eave = next((eave for wing in plan.wings for eave in wing.eaves), None)
        return _TOP_IN if eave is None else eave.plate_in + eave.hap_in

    def _make_plane(self, slope: float, height: float, meets: Meets) -> None:
        outline = anticlockwise(self._corners)
        up = self._uphill()
        single = Single(
            uphill_deg=math.degrees(math.atan2(up[1], up[0])), line=self._corners[0], height_in=height, meets=meets
        )
        low = low_edges(outline, uphill_of(outline, single))
        kinds: list[OutlineKind] = ["eave" if i in low else "rake" for i in range(len(outline))]
        job = self.host.job
        fields = like_the_last(job)
        fields["slope_in_12"] = 12.0 * slope
        try:
            job, wing_id = add_single(job, outline, kinds, single, **fields)
        except BadInput:
            self._tell()
            raise
        self.host.apply(job, f"Draw {job.wing(wing_id).name}")
        self.host.finish()
        self.host.select(f"wing:{wing_id}")


def _over(corners: tuple[tuple[float, float, float], ...], point: Point2) -> bool:
    inside = False
    for (ax, ay, _), (bx, by, _) in zip(corners, corners[1:] + corners[:1], strict=True):
        if (ay > point[1]) != (by > point[1]) and point[0] < ax + (point[1] - ay) / (by - ay) * (bx - ax):
            inside = not inside
    return inside
