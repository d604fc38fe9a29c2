"""Loads and limits that the frame and the sheets are screened against. Screening, never design.

Nothing here is known until the user gives it: where no load is given, a stated assumption stands in, and nothing that
fails under it is an error. Species and grade stand with the lumber, panels and their rating with the sheathing.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Literal

from msgspec import Meta
from msgspec.structs import replace

from workbench.errors import JobError
from workbench.job.values import Identifier, Length, Name, Position, PositiveLength, Value

Pressure = Annotated[float, Meta(ge=0.0, le=400.0, description="pounds a square foot")]
Edition = Literal["7-16", "7-22"]
Terrain = Literal["B", "C", "D"]
RoofExposure = Literal["fully", "partially", "sheltered"]
RiskCategory = Literal[1, 2, 3, 4]
Covering = Literal[
    "asphalt_shingles",
    "metal_panels_sealed",
    "metal_panels",
    "standing_seam",
    "metal_shingles",
    "tile",
    "slate",
    "wood_shingles",
    "wood_shakes",
    "roll_roofing",
]
TiedBy = Literal["not_said", "ceiling_joists", "rafter_ties", "ridge_beam", "engineer"]
ConnectorPlace = Literal["rafter_plate", "rafter_ridge", "hip_end", "jack_end", "tie_end", "given"]


class Snow(Value, frozen=True, kw_only=True):
    """Snow on the ground and what turns it into snow on the roof.

    Attributes:
        ground_psf: Ground snow load of the place, from the map or the local code of the edition below.
        edition: Edition of ASCE 7; the maps of different editions are not interchangeable.
        terrain: Terrain category.
        exposure: How the roof is exposed.
        ce: Exposure factor, where it is given outright; None takes it from terrain and exposure.
        ct: Thermal factor: 1.0 heated, 1.1 cold and ventilated (1.2 from ASCE 7-22 on), 1.2 unheated, 1.3 freezer.
        importance: Importance factor, where the edition has one.
        risk: Risk category, for the least load on low slopes.
        slippery: Whether the surface is slippery and nothing holds the snow up. Shingles with granules are not.
    """

    ground_psf: Pressure
    edition: Edition = "7-16"
    terrain: Terrain = "B"
    exposure: RoofExposure = "partially"
    ce: Annotated[float, Meta(ge=0.7, le=1.5)] | None = None
    ct: Annotated[float, Meta(ge=0.8, le=1.4)] = 1.1
    importance: Annotated[float, Meta(ge=0.5, le=1.5)] = 1.0
    risk: RiskCategory = 2
    slippery: bool = False


class WingLimits(Value, frozen=True, kw_only=True):
    """What differs in one wing; None takes the job's.

    Attributes:
        wing: Id of the wing.
        ceiling_attached: Whether a ceiling hangs on its rafters.
        tied_by: What keeps its plates from spreading.
        deflection: k of the limit L / k.
        dead_psf: Dead load along the slope.
        supports_in: Level distances in from the building line at which a purlin, beam or wall carries the rafters
            between plate and ridge; what carries that is for the engineer.
    """

    wing: Identifier
    ceiling_attached: bool | None = None
    tied_by: TiedBy | None = None
    deflection: Annotated[float, Meta(ge=60.0, le=720.0)] | None = None
    dead_psf: Pressure | None = None
    supports_in: Annotated[tuple[PositiveLength, ...], Meta(max_length=12)] = ()


class HeadroomPoint(Value, frozen=True, kw_only=True):
    """A point in plan where somebody has to stand upright.

    Attributes:
        id: Stable id, unique in the job.
        name: What is there; empty takes the id.
        x_in: Plan place.
        y_in: Plan place.
        floor_in: Finished floor, from the level that plates are measured from.
        least_in: Clear height that is needed; None takes that of the rule tables.
        ceiling_in: Thickness of what is fixed under the rafters, square to them.
    """

    id: Identifier
    x_in: Position
    y_in: Position
    name: Name = ""
    floor_in: Position = 0.0
    least_in: PositiveLength | None = None
    ceiling_in: Length = 0.0


class Connector(Value, frozen=True, kw_only=True):
    """Hardware that the engineer or the code called for, to be counted.

    Attributes:
        id: Stable id, unique in the job.
        name: What to buy, in the words of the engineer's sheet.
        place: Where it goes: one set at every rafter over a plate, at every rafter's ridge end, at each hip or valley
            end, at each jack's end on a hip or valley, at each end of a tie; or ``given`` in number.
        each: How many there.
        count: How many in all, where ``place`` is ``given``.
    """

    id: Identifier
    name: Name
    place: ConnectorPlace = "rafter_plate"
    each: Annotated[int, Meta(ge=1, le=12)] = 1
    count: Annotated[int, Meta(ge=0, le=100_000)] = 0


class Screening(Value, frozen=True, kw_only=True):
    """Loads, limits and what was called for.

    Attributes:
        live_psf: Roof live load on the level; None while not given.
        dead_psf: Dead load along the slope; None while not given.
        snow: Snow, or None while not given (or where there is none).
        ceiling_attached: Whether a ceiling hangs on the rafters.
        deflection: k of the limit L / k; None takes 240 with a ceiling on the rafters, else 180.
        tied_by: What keeps the plates from spreading.
        covering: Kind of covering.
        ridge_limit_in: Height no part of the roof may pass, from the level that plates are measured from.
        covering_in: Thickness of the covering over the sheathing, square to it.
        headroom: Points to stand upright at.
        connectors: Ties, hangers and straps called for.
        wings: What differs in single wings.
    """

    live_psf: Pressure | None = None
    dead_psf: Pressure | None = None
    snow: Snow | None = None
    ceiling_attached: bool = False
    deflection: Annotated[float, Meta(ge=60.0, le=720.0)] | None = None
    tied_by: TiedBy = "not_said"
    covering: Covering = "asphalt_shingles"
    ridge_limit_in: Position | None = None
    covering_in: Length = 0.25
    headroom: Annotated[tuple[HeadroomPoint, ...], Meta(max_length=100)] = ()
    connectors: Annotated[tuple[Connector, ...], Meta(max_length=60)] = ()
    wings: Annotated[tuple[WingLimits, ...], Meta(max_length=200)] = ()

    @property
    def loads_given(self) -> bool:
        """Whether the user gave a dead load, and a live load or snow."""
        return self.dead_psf is not None and (self.live_psf is not None or self.snow is not None)

    def of_wing(self, wing_id: str) -> WingLimits:
        """What differs in a wing."""
        return next((limits for limits in self.wings if limits.wing == wing_id), WingLimits(wing=wing_id))

    def deflection_of(self, wing_id: str) -> float:
        """The limit L / k of a wing, as k."""
        own = self.of_wing(wing_id)
        if own.deflection is not None:
            return own.deflection
        if self.deflection is not None:
            return self.deflection
        return 240.0 if self.ceiling_of(wing_id) else 180.0

    def ceiling_of(self, wing_id: str) -> bool:
        """Whether a ceiling hangs on a wing's rafters."""
        own = self.of_wing(wing_id).ceiling_attached
        return self.ceiling_attached if own is None else own

    def tied_of(self, wing_id: str) -> TiedBy:
        """What keeps a wing's plates from spreading."""
        own = self.of_wing(wing_id).tied_by
        return self.tied_by if own is None else own

    def dead_of(self, wing_id: str) -> float | None:
        """Dead load along the slope in a wing; None while not given."""
        own = self.of_wing(wing_id).dead_psf
        return self.dead_psf if own is None else own


def check_screening(screening: Screening) -> None:
    """Check what no field can say alone.

    Raises:
        JobError: One sentence with the place and the mend.
    """
    for place, ids in (
        ("headroom", [point.id for point in screening.headroom]),
        ("connectors", [connector.id for connector in screening.connectors]),
        ("wings", [limits.wing for limits in screening.wings]),
    ):
        _once(place, ids)
    if screening.live_psf == 0.0 and screening.snow is None:
        msg = "screening.live_psf is 0 and there is no snow; give a load over 0, or take it away while it is not known."
        raise JobError(msg)
    for connector in screening.connectors:
        if connector.place == "given" and not connector.count:
            msg = (
                f'screening, connectors: "{connector.id}" is given in number, but its count is 0; say how many, or '
                "where it goes."
            )
            raise JobError(msg)
        if not connector.name.strip():
            msg = f'screening, connectors: "{connector.id}" has no name; write what to buy.'
            raise JobError(msg)


def without_wing(screening: Screening, wing_id: str) -> Screening:
    """The settings without what differs in a wing."""
    return replace(screening, wings=tuple(limits for limits in screening.wings if limits.wing != wing_id))


def _once(place: str, ids: Sequence[str]) -> None:
    double = next((name for name in ids if ids.count(name) > 1), None)
    if double is not None:
        msg = f'screening, {place}: the id "{double}" stands twice; give each its own.'
        raise JobError(msg)
