"""Falls, ropes and what they serve, as solved. Inches, pounds, degrees Fahrenheit, unrounded."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from workbench.measure import Trace
from workbench.roof.model import Point2, Point3
from workbench.rules.fall_protection import Trigger

FallKind = Literal["eave", "rake", "step", "opening", "leading_edge", "bare_rafters"]
Needed = Literal["no", "ask", "yes"]
Ring = tuple[Point2, ...]
Area = tuple[tuple[Ring, ...], ...]
"""Parts of a plane in its own axes, each its outer ring and then its holes."""

FALL_WORDS: dict[FallKind, str] = {
    "eave": "eave",
    "rake": "rake",
    "step": "step",
    "opening": "opening",
    "leading_edge": "leading edge of the sheathing",
    "bare_rafters": "bare rafters",
}

_SAME_IN = 1e-6


@dataclass(frozen=True, slots=True)
class Fall:
    """One edge that a person can fall over.

    Attributes:
        id: Stable within one plan: plane id and number, such as ``main/e1#2``.
        plane: Id of the plane it belongs to.
        kind: What it is.
        name: In words, such as ``left rake of front main``.
        start: One end in space.
        end: The other.
        ring: For bare rafters the bare part, plane axes; else empty.
        drawn: The drawn edge as ``wing/edge``, else empty.
        least_drop_in: Smallest drop along it to the level below.
        drop_in: Greatest drop.
        trigger: From which height on protection is needed.
        needed: Whether it is: ``ask`` where it hangs on whether this counts as a walking and working surface.
        guarded: Whether a deck, rail or cover takes the edge away.
        why_not: Why the deck or rail that was given does not; else empty.
        opening: Id of the skylight or chimney it runs along, else empty.
    """

    id: str
    plane: str
    kind: FallKind
    name: str
    start: Point3
    end: Point3
    ring: Ring
    drawn: str
    least_drop_in: float
    drop_in: float
    trigger: Trigger
    needed: Needed
    guarded: bool = False
    why_not: str = ""
    opening: str = ""


@dataclass(frozen=True, slots=True)
class Limit:
    """How long rope, connector and lanyard together may be at most so that one edge can't be passed.

    Attributes:
        fall: The edge.
        distance_in: From the anchor to its nearest point, as the rope measures it.
        total_in: Distance less reach, stretch, grab travel and anchor movement; negative where nothing is left.
        straight: Whether it is the straight distance in space (across a valley) and not one along the surface.
        trace: The same with its formula.
    """

    fall: Fall
    distance_in: float
    total_in: float
    straight: bool
    trace: Trace


@dataclass(frozen=True, slots=True)
class Exposure:
    """An edge that a rope lets a person pass.

    Attributes:
        fall: The edge.
        area: Points of its plane the harness reaches from which the edge is within reach and stretch.
        along_in: Their length along the edge.
        passes: Whether the harness itself can pass the edge; else only a hand or foot can.
        free_fall_in: Free fall at most, the harness point no more than the reach above the feet; 0 where it can't pass.
        swing_in: Greatest level swing along the edge before the rope hangs still.
        clearance_in: From the feet to the level below, after stretch and deceleration; negative where they strike it.
    """

    fall: Fall
    area: Area
    along_in: float
    passes: bool
    free_fall_in: float
    swing_in: float
    clearance_in: float


@dataclass(frozen=True, slots=True)
class RopeToBuy:
    """A rope for an anchor out of the lengths that can be had.

    Attributes:
        length_in: The longest that is not over the permitted length; None where even the shortest is.
        next_in: The next longer one, which has to be stopped short; None where there is none.
        next_hangs_in: How much of it would hang over the nearest eave, connector and lanyard counted.
    """

    length_in: float | None
    next_in: float | None
    next_hangs_in: float


@dataclass(frozen=True)
class AnchorPlan:
    """One anchor and the rope on it.

    Attributes:
        id: Anchor id.
        name: What it is called.
        plane: Id of the plane it stands on; empty where it is off the roof.
        point: Where, plane axes.
        space: The same in space.
        built: Whether it may be used at the stage of work looked at.
        limits: One an unprotected edge, the shortest first.
        governs: The limit that a set rope keeps; None where there is no unprotected edge in reach of this roof.
        set_in: Rope, connector and lanyard together as set or as tied; 0 where the rope can't keep anyone.
        rope_in: The rope's part of it.
        to_buy: Which rope to buy.
        exposed: Edges this rope lets a person pass.
        rakes_free: Whether rakes are left out of what the rope is set by.
        served: By plane id, what hands on this rope can work on; of one tied too long, as far as it is permitted.
        permitted_in: The rope's part of what the governing edge permits; 0 where nothing is left for a rope.
    """

    id: str
    name: str
    plane: str
    point: Point2
    space: Point3
    built: bool
    limits: tuple[Limit, ...]
    governs: Limit | None
    set_in: float
    rope_in: float
    to_buy: RopeToBuy
    exposed: tuple[Exposure, ...]
    rakes_free: bool
    served: tuple[tuple[str, Area], ...]
    permitted_in: float = 0.0

    @property
    def too_long(self) -> bool:
        """Whether a rope is tied to it that is longer than the edge that governs permits."""
        return self.governs is not None and self.rope_in > self.permitted_in + _SAME_IN


@dataclass(frozen=True, slots=True)
class Strip:
    """The strip along an eave that ropes do not serve.

    Attributes:
        fall: The eave.
        least_in: Its depth up the slope where it is narrowest.
        most_in: Its depth where it is deepest: as far as the plane goes where no rope comes above the eave.
        reached: Whether a rope serves anything above this eave at all.
        served_from: What serves it, in words; empty where nothing is named yet.
    """

    fall: Fall
    least_in: float
    most_in: float
    reached: bool
    served_from: str


@dataclass(frozen=True)
class PlaneSafety:
    """What ropes serve on one plane.

    Attributes:
        plane: Plane id.
        steep: Whether it counts as steep under the rule set.
        served: What can be worked on from the ropes that may be used.
        unserved: The rest.
        share: Served part of the plane's area, 0 to 1.
        strips: Along its eaves; empty where no anchor serves the plane.
    """

    plane: str
    steep: bool
    served: Area
    unserved: Area
    share: float
    strips: tuple[Strip, ...]


@dataclass(frozen=True, slots=True)
class FewestAnchors:
    """The fewest anchors that serve all of a plane that can be served from its top edge.

    Attributes:
        plane: Plane id.
        points: Where, plane axes.
        sets_in: Rope, connector and lanyard together at each.
        share: Part of the plane's area they serve.
        best_share: Part that all candidate points together would serve.
        proven: Whether fewer are proven impossible among the candidate points.
        candidates: How many points were looked at.
        nearly: Fewer points that serve nearly as much, picked greedily: x of each; empty where none do.
        nearly_share: Part of the plane's area these serve.
    """

    plane: str
    points: tuple[Point2, ...]
    sets_in: tuple[float, ...]
    share: float
    best_share: float
    proven: bool
    candidates: int
    nearly: tuple[float, ...] = ()
    nearly_share: float = 0.0


@dataclass(frozen=True, slots=True)
class Halves:
    """Two people on one plane: one takes the left half, one the right.

    Attributes:
        plane: Plane id.
        split_in: x where the halves meet, plane axes.
        left: Ids of the anchors of the left half, as seen from outside below.
        right: Those of the right half.
        crossing: Pairs of anchors, one from each half, whose ropes can cross.
    """

    plane: str
    split_in: float
    left: tuple[str, ...]
    right: tuple[str, ...]
    crossing: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Ladder:
    """A ladder to the middle of an eave.

    Attributes:
        fall: The eave.
        height_in: From the ground to the eave at that place.
        foot_out_in: Foot out from plumb below the eave.
        working_in: Length along the ladder from foot to eave.
        rails_in: Length along the ladder to the top of the rails.
        trace: How it was found.
    """

    fall: Fall
    height_in: float
    foot_out_in: float
    working_in: float
    rails_in: float
    trace: Trace


@dataclass(frozen=True)
class Carrying:
    """What is carried up and set down.

    Attributes:
        sheet_lb: Weight of one whole sheet; 0 where its weight is not known.
        sheets_lb: Weight of all sheets.
        trips: Pieces handed up, one a trip.
        limit_lb: Weight limit of one lift by one person.
        lift_index: Weight of a sheet over that limit, one person lifting.
        shared_index: The same shared evenly between two.
        stack_lb: Weight of one stack.
        stack_psf: Its weight on its own footprint.
        live_psf: Roof load it is set beside: the least of the sheathed planes.
        deck_psf: The stack and the people of the job on its footprint, set down on a deck.
        deck_class: The lightest class of deck that carries it, empty where none does.
        traces: How the figures were found.
    """

    sheet_lb: float
    sheets_lb: float
    trips: int
    limit_lb: float
    lift_index: float
    shared_index: float
    stack_lb: float
    stack_psf: float
    live_psf: float
    deck_psf: float = 0.0
    deck_class: str = ""
    traces: tuple[Trace, ...] = ()


@dataclass(frozen=True, slots=True)
class Turn:
    """Work and rest in an hour.

    Attributes:
        work: What is done.
        sun_min: Minutes of work in full sun; 60 without rest beyond the usual, 0 where there is to be none.
        shade_min: The same in the shade.
    """

    work: str
    sun_min: int
    shade_min: int


@dataclass(frozen=True, slots=True)
class Heat:
    """How the day feels, degrees Fahrenheit.

    Attributes:
        shade_f: Heat index in the shade.
        sun_f: The same in full sun, at most.
        shade_class: Its class, or empty.
        sun_class: The class in full sun, or empty.
        advice: For the class in full sun, or empty.
        turns: Work and rest by kind of work.
        traces: How index and turns were found.
    """

    shade_f: float
    sun_f: float
    shade_class: str
    sun_class: str
    advice: str
    turns: tuple[Turn, ...]
    traces: tuple[Trace, ...]
