"""What the user decides about falls: ground, guards, anchors, ropes, the rule set; and loads carried and heat.

Allowances have cautious defaults that are common practice and have no source; the user's own measured gear goes first.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated, Literal

from msgspec import Meta
from msgspec.structs import replace

from workbench.errors import JobError
from workbench.job.values import Identifier, Length, Name, PlaneName, Position, PositiveLength, Value

LEAST_REACH_IN = 60.0
OWN_RULES = "own"
UNNAMED_SOURCE = "not named yet"
"""What the window puts for the source of a new own rule set; until it is named the rule set is not used."""

WorkStage = Literal["framed", "sheathing", "sheathed"]
GuardKind = Literal["deck", "guardrail"]
Rating = Literal["unknown", "restraint", "arrest"]
Restrain = Literal["all", "eaves"]
Access = Literal["ladder", "scaffold", "deck"]
EdgeName = PlaneName
Height = Annotated[float, Meta(gt=0.0, le=1200.0, description="inches")]
Temperature = Annotated[float, Meta(ge=-60.0, le=140.0, description="degrees Fahrenheit")]
Humidity = Annotated[float, Meta(ge=0.0, le=100.0, description="per cent")]


class GroundLine(Value, frozen=True, kw_only=True):
    """The ground below one drawn edge, straight from its corner i to corner i + 1; level 0 where no line is given.

    Attributes:
        edge: The drawn edge, as ``wing/edge``.
        start_in: Height at corner i, from the level that plates are measured from.
        end_in: Height at corner i + 1.
    """

    edge: EdgeName
    start_in: Position = 0.0
    end_in: Position = 0.0


class Guard(Value, frozen=True, kw_only=True):
    """A deck or guardrail along one drawn edge. It takes the edge away only where all of it holds.

    Attributes:
        edge: The drawn edge, as ``wing/edge``.
        kind: ``deck`` built against the edge, or ``guardrail`` on it.
        guarded: Whether a deck has a rail of its own; whether a guardrail has mid-rail and toeboard.
        wide: Whether a deck is wide enough; whether a guardrail runs along the whole edge.
        strong: Whether a competent person says that it is strong enough.
        drop_in: Drop from the roof's edge on to the deck; 0 for a guardrail.
    """

    edge: EdgeName
    kind: GuardKind
    guarded: bool = False
    wide: bool = False
    strong: bool = False
    drop_in: Length = 0.0


class ServedFrom(Value, frozen=True, kw_only=True):
    """What serves the strip along an eave that restraint can't serve."""

    edge: EdgeName
    by: Access


class Anchor(Value, frozen=True, kw_only=True):
    """One anchor on the roof.

    Attributes:
        id: Stable id, unique in the job.
        plane: The plane it is measured on, as ``wing/edge`` with the eave the plane rises from.
        x_in: Level distance from the left end of the plane as its wing has it alone, seen from outside below.
        y_in: Distance up the slope from the plane's lowest point; None on its top edge, wherever that is.
        name: What it is called on paper; empty takes the id.
        valid_from: The stage of work from which it is built and may be used.
        rated: What it is rated for by its maker or a qualified person.
        people: People it is rated for.
        rope_in: The rope that is tied to it, full length; None sets a rope by the permitted length.
    """

    id: Identifier
    plane: PlaneName
    x_in: Position
    y_in: Position | None = None
    name: Name = ""
    valid_from: WorkStage = "sheathed"
    rated: Rating = "unknown"
    people: Annotated[int, Meta(ge=1, le=4)] = 1
    rope_in: PositiveLength | None = None


class OwnRules(Value, frozen=True, kw_only=True):
    """The user's own rule set: from which height on protection is needed. Its source has to be named.

    Attributes:
        name: What it is called.
        source: Where it stands; refused when empty.
        steep_over_in_12: A plane steeper than this counts as steep.
        steep_in: From this height on, on a steep plane.
        low_slope_in: The same on another plane.
        leading_edge_in: The same at the leading edge of unfinished sheathing, and over bare rafters.
        opening_in: The same at an opening.
        walking_surface_in: The same on a walking and working surface, such as a deck.
    """

    name: Name
    source: Name
    steep_over_in_12: Annotated[float, Meta(ge=0.0, le=120.0)] = 4.0
    steep_in: Height = 48.0
    low_slope_in: Height = 48.0
    leading_edge_in: Height = 48.0
    opening_in: Height = 48.0
    walking_surface_in: Height = 48.0


class Safety(Value, frozen=True, kw_only=True):
    """Falls, ropes, loads and heat.

    Attributes:
        rule_set: Id of a rule set of the rule tables, or ``own``.
        own_rules: The user's own rule set.
        ground: Ground lines.
        floor_in: Height of the floor below bare rafters and openings.
        guards: Decks and guardrails.
        covered_openings: Ids of openings that are covered or railed in.
        served_from: What serves the strips along eaves.
        anchors: In the order they were set.
        ropes_in: Lengths of rope that can be had, full length.
        reach_in: From the harness point to the far foot or hand; not under 60 in.
        work_reach_in: How far past the harness point a hand can work.
        stretch_in: How much the rope gives under load.
        grab_travel_in: How far the rope grab or adjuster slips.
        anchor_movement_in: How far the anchor gives.
        connector_in: Length of connectors and lanyard together.
        restrain: Which edges a set rope must keep a person from: ``all``, or all but the rakes.
        stage: The stage of work looked at.
        rows_laid: While ``sheathing``: rows of sheets laid and nailed on every plane.
        people: People on the roof at one time.
        stack_sheets: Sheets in one stack on the roof.
        hold_in: Level distance from a carrier's ankles to the hands while lifting a sheet.
        lift_in: Height a sheet is lifted through in one lift.
        temperature_f: Air temperature in the shade.
        humidity: Relative humidity.
    """

    rule_set: Identifier = "federal-residential"
    own_rules: OwnRules | None = None
    ground: tuple[GroundLine, ...] = ()
    floor_in: Position = 0.0
    guards: tuple[Guard, ...] = ()
    covered_openings: tuple[Identifier, ...] = ()
    served_from: tuple[ServedFrom, ...] = ()
    anchors: tuple[Anchor, ...] = ()
    ropes_in: Annotated[tuple[PositiveLength, ...], Meta(max_length=20)] = (300.0, 600.0, 900.0, 1200.0)
    reach_in: Annotated[float, Meta(ge=LEAST_REACH_IN, le=240.0, description="inches")] = LEAST_REACH_IN
    work_reach_in: Annotated[float, Meta(ge=0.0, le=96.0, description="inches")] = 24.0
    stretch_in: Length = 12.0
    grab_travel_in: Length = 12.0
    anchor_movement_in: Length = 6.0
    connector_in: Length = 24.0
    restrain: Restrain = "all"
    stage: WorkStage = "sheathed"
    rows_laid: Annotated[int, Meta(ge=0, le=400)] = 0
    people: Literal[1, 2] = 1
    stack_sheets: Annotated[int, Meta(ge=1, le=200)] = 8
    hold_in: Annotated[float, Meta(ge=10.0, le=25.0, description="inches")] = 16.0
    lift_in: Annotated[float, Meta(ge=10.0, le=70.0, description="inches")] = 40.0
    temperature_f: Temperature | None = None
    humidity: Humidity | None = None


def check_safety(safety: Safety) -> None:
    """Check what no field of the safety settings can say alone.

    Raises:
        JobError: One sentence with the place and the mend.
    """
    unique("safety, anchors", [anchor.id for anchor in safety.anchors])
    for place, edges in (
        ("ground", [line.edge for line in safety.ground]),
        ("guards", [guard.edge for guard in safety.guards]),
        ("served_from", [served.edge for served in safety.served_from]),
    ):
        unique(f"safety, {place}", edges)
    if safety.work_reach_in > safety.reach_in:
        msg = (
            f"safety.work_reach_in is {safety.work_reach_in:g} in, more than the reach of {safety.reach_in:g} in; "
            "a hand that works so far out is reach too."
        )
        raise JobError(msg)
    rules = safety.own_rules
    if rules is not None and not rules.source.strip():
        msg = f'safety.own_rules: the rule set "{rules.name}" names no source, so it is refused; say where it stands.'
        raise JobError(msg)
    if rules is None and safety.rule_set == OWN_RULES:
        msg = 'safety.rule_set is "own", but there are no own_rules; give them with their source, or name another set.'
        raise JobError(msg)


def without_wing(safety: Safety, wing_id: str) -> Safety:
    """The settings without all that stands on a wing's planes and edges."""

    def kept(name: str) -> bool:
        return not name.startswith(f"{wing_id}/")

    return replace(
        safety,
        anchors=tuple(anchor for anchor in safety.anchors if kept(anchor.plane)),
        ground=tuple(line for line in safety.ground if kept(line.edge)),
        guards=tuple(guard for guard in safety.guards if kept(guard.edge)),
        served_from=tuple(served for served in safety.served_from if kept(served.edge)),
    )


def unique(place: str, ids: Iterable[str]) -> None:
    """Refuse an id that stands twice.

    Raises:
        JobError: One sentence with the place and the mend.
    """
    seen: set[str] = set()
    for name in ids:
        if name in seen:
            msg = f'{place}: the id "{name}" stands twice; give each its own.'
            raise JobError(msg)
        seen.add(name)
