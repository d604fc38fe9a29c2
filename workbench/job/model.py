"""The job document: what the user decided, as a tree of frozen values with stable ids.

Lengths are inches, slopes inches of rise in 12, everything as in the file. A job never holds what can be computed; the
plan is a pure function of it. Range limits stand on the fields, so that the published schema shows them; what no field
can say alone is checked in ``validate.py``.
"""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta

from workbench.job.costs import Costs
from workbench.job.crickets import Cricket
from workbench.job.cut_members import CutMembers
from workbench.job.cut_sheets import MOST_CUT_SHEETS, CutSheet
from workbench.job.drying_in import DryingIn
from workbench.job.exposed import ExposedEdges
from workbench.job.fastening import Fastening
from workbench.job.hours import Hours
from workbench.job.inputs import Change
from workbench.job.issued import Issued
from workbench.job.lumber import Lumber
from workbench.job.planes import PlaneSplit, Single
from workbench.job.plies import Plies
from workbench.job.safety import Safety
from workbench.job.screening import Screening
from workbench.job.site import GableWalls, Site
from workbench.job.underlay import Underlay
from workbench.job.values import (
    Corner,
    Identifier,
    Length,
    Name,
    PlaneName,
    Position,
    PositiveLength,
    Price,
    SlopeIn12,
    Value,
)

FORMAT_NAME = "roof-workbench-job"
FORMAT_VERSION = 1

OutlineKind = Literal["eave", "rake", "wall"]
HighEnd = Literal["notched", "whole", "ridge", "face"]
Unknown = Literal["slope", "run", "low_plate", "landing", "hap_low", "hap_high", "seat"]
Rip = Literal["bottom", "top", "both"]
Split = Literal["fewest", "halves", "least"]
Tail = Literal["plumb", "square", "level"]
Blocks = Literal["none", "solid", "vented"]
Side = Literal["left", "right"]
Joins = Literal["framed", "overframed"]
StandsOn = Literal["walls", "posts"]
OpeningKind = Literal["skylight", "chimney"]


class Upper(Value, frozen=True, kw_only=True):
    """The second slope of a plane: the upper half of a gambrel or mansard, or a gable that stands on a hip.

    Where it begins is given as a height and not as a distance in from the wall: a plan's sections and elevations give
    heights, the line stays level round corners between unequal slopes, and a new lower slope does not move it up or
    down.

    Attributes:
        height_in: Plumb from the plate to the rafters' top edges where the slope changes.
        slope_in_12: Slope from there on; None goes straight up, which leaves a gable wall over the hip.
    """

    height_in: PositiveLength
    slope_in_12: SlopeIn12 | None


class Edge(Value, frozen=True, kw_only=True):
    """One side of a wing's outline, from its corner i to corner i + 1.

    Attributes:
        id: Stable id, unique in the wing.
        kind: ``eave`` (a plane rises from it), ``rake`` (the roof ends there) or ``wall`` (it ends against a higher
            wall).
        slope_in_12: Slope of the plane that rises from an eave or over a clipped gable; None takes the wing's.
        plate_in: Plate height under an eave; None takes the wing's.
        overhang_in: Level overhang past the building line; None takes the wing's for its kind (none at a wall).
        upper: Eaves only: a second slope from a height on, or None.
        clip_height_in: Rakes only: a clipped gable (half-hip). The gable wall ends on a level plate this high above
            the wing's plate, and a plane slopes back from it; None leaves the gable whole.
    """

    id: Identifier
    kind: OutlineKind
    slope_in_12: SlopeIn12 | None = None
    plate_in: Position | None = None
    overhang_in: Length | None = None
    upper: Upper | None = None
    clip_height_in: PositiveLength | None = None

    @property
    def bears_plane(self) -> bool:
        """Whether a plane rises from it: an eave, or a gable that is clipped."""
        return self.kind == "eave" or self.clip_height_in is not None

    @property
    def upper_id(self) -> str | None:
        """What the plane of its second slope is called after it; None where there is none."""
        return None if self.upper is None or self.upper.slope_in_12 is None else f"{self.id}-upper"


class Heel(Value, frozen=True, kw_only=True):
    """How the rafter sits on the low plate.

    Attributes:
        given: Which of the two is given; the other follows from it, the slope and the depth.
        hap_in: Height above plate: plumb from the plate at the bearing line to the rafter's top edge.
        seat_in: Level length of the cut on the plate.
    """

    given: Literal["hap", "seat"] = "seat"
    hap_in: Position = 5.0
    seat_in: Length = 3.5


class Rafter(Value, frozen=True, kw_only=True):
    """The rafter stock and its layout.

    Attributes:
        depth_in: Depth square to the edge (7 1/4 in for a nominal 2x8).
        thickness_in: Thickness.
        spacing_in: Layout spacing, on centre.
        start: End of the wing's first eave, seen from outside below, that the layout is measured from; rafters on the
            other side of a ridge stand opposite.
        tail: Cut at the tail: ``plumb``, ``square`` to the rafter, or a ``level`` return under a plumb face.
        offset_in: How far in from that end the whole spacings are counted from: with a rake overhang, what brings whole
            sheets laid from the rake's edge on to rafters.
    """

    depth_in: PositiveLength = 7.25
    thickness_in: PositiveLength = 1.5
    spacing_in: PositiveLength = 24.0
    start: Side = "left"
    tail: Tail = "plumb"
    offset_in: Length = 0.0


class Ridge(Value, frozen=True, kw_only=True):
    """The ridge board: its thickness and depth in inches (depth None: as deep as the cut rafter end)."""

    thickness_in: Length = 1.5
    depth_in: PositiveLength | None = None


class Hips(Value, frozen=True, kw_only=True):
    """The hip and valley rafters of a wing.

    Attributes:
        top: Hips ``dropped`` until the edges of their square top lie in the planes, or ``backed``: bevelled to both.
        head: Whether a hip's upper end fits between the ``commons`` at the end of the ridge (double cheek), or lies
            against the ``ridge`` itself (single cheek).
        thickness_in: Thickness of hip and valley rafters.
        depth_in: Depth square to the edge; None takes the least sawn board not under the cut end of the rafters.
        lower_ridge: What carries the ridge of an addition that is lower than the main one: a ``long_valley`` that runs
            on to the main ridge, the ``left`` or the ``right`` one as one looks along the lower ridge at the main roof,
            or it is ``hung`` from the main ridge and both valleys are framed to it; a dormer's also a ``header``
            between its trimmers, which both valleys end against too.
    """

    top: Literal["dropped", "backed"] = "dropped"
    head: Literal["commons", "ridge"] = "commons"
    lower_ridge: Literal["long_valley", "left", "right", "hung", "header"] = "long_valley"
    thickness_in: PositiveLength = 1.5
    depth_in: PositiveLength | None = None


class Tie(Value, frozen=True, kw_only=True):
    """Ties across a ridge from rafter to rafter.

    Attributes:
        share: Where its lower edge lies: the share of the height from the plates to the ridge.
        every: Every how manieth pair of rafters has one.
        thickness_in: Thickness.
        depth_in: Depth, plumb.
    """

    share: Annotated[float, Meta(ge=0.0, lt=1.0)] = 0.7
    every: Annotated[int, Meta(ge=1, le=12)] = 2
    thickness_in: PositiveLength = 0.75
    depth_in: PositiveLength = 3.5


class Trim(Value, frozen=True, kw_only=True):
    """What goes round and between the rafters of a wing.

    Attributes:
        fascia_in: Thickness of the fascia; 0 where there is none.
        fascia_depth_in: Its depth; None takes the least sawn board not under the rafter tail's cut.
        sub_fascia_in: Thickness of a sub-fascia behind it; 0 where there is none.
        lookouts: What carries the barge rafters: a ``ladder`` of blocks from the end rafter, lookouts that run ``back``
            over it to the next rafter inside, or ``none``.
        lookout_spacing_in: Spacing of lookouts, up the slope.
        eave_blocks: Blocks between the rafters over the plates.
        ridge_blocks: Blocks between the rafters at the ridge.
        block_rows_in: Distances up the slope, from the eave edge, at which rows of blocks stand between the rafters.
        collar_ties: Ties in the upper part of the roof, or None.
        rafter_ties: Ties in the lower part, or None.
    """

    fascia_in: Length = 0.0
    fascia_depth_in: PositiveLength | None = None
    sub_fascia_in: Length = 0.0
    lookouts: Literal["ladder", "back", "none"] = "ladder"
    lookout_spacing_in: PositiveLength = 24.0
    eave_blocks: Blocks = "none"
    ridge_blocks: Blocks = "none"
    block_rows_in: Annotated[tuple[PositiveLength, ...], Meta(max_length=40)] = ()
    collar_ties: Tie | None = None
    rafter_ties: Tie | None = None


class Landing(Value, frozen=True, kw_only=True):
    """Where the rafter must land at its high end, and what is to be found so that it does.

    Attributes:
        find: The quantity that is solved for; its own value below (or in the wing) is then only the last one known.
        high_end: ``notched`` with a given height above the landing; ``whole`` rafter on a bevelled block; into a
            ``ridge`` board, tops flush; against the ``face`` of a ledger or beam, tops flush.
        landing_in: Height of the landing; for ``ridge`` and ``face`` the height of its top.
        hap_in: Height above the landing (``notched`` only).
        bearing_in: Level length of rafter on the landing; the bearing line is so far before the drawn wall line.
        run_in: Run between the bearing lines when it is to be found; None while the drawing says it.
    """

    find: Unknown = "slope"
    high_end: HighEnd = "notched"
    landing_in: Position = 192.0
    hap_in: Position = 5.0
    bearing_in: Length = 0.0
    run_in: PositiveLength | None = None


class Wing(Value, frozen=True, kw_only=True):
    """One drawn part of the building with its own roof.

    Attributes:
        id: Stable id, unique in the job.
        name: Where it is, in words.
        outline: The building line's corners, anticlockwise, inches.
        edges: One a corner; ``edges[i]`` runs from corner i to corner i + 1.
        slope_in_12: Slope of every eave that has none of its own.
        plate_in: Top of the top plate, for every eave that has none of its own.
        eave_overhang_in: Level overhang at the eaves, from the building line to the tail's plumb cut.
        rake_overhang_in: Level overhang at the rakes.
        fascia: With unequal slopes: ``level`` (the given overhang is the shallowest eave's) or ``equal_overhang``.
        heel: How rafters sit on the low plate.
        rafter: Stock and layout.
        ridge: Ridge board.
        hips: Hip and valley rafters.
        trim: Fascia, lookouts, blocks and ties.
        landing: Where rafters must land, or None when the slope is simply given.
        joins: ``framed`` cuts the roofs below it away; ``overframed`` leaves them whole, and its planes end on them.
        stands_on: What it stands on: ``walls``, or ``posts`` and beams where it is open below.
        single: The wing is one plane drawn by hand, with its height and way of rising; None: planes rise from eaves.
        splits: Lines that split its planes, in order.
        gable_walls: Studs and sloped plates of its gable walls, or None where they are not of this job.
        plies: How many boards hips, valleys, ridges, headers and trimmers are made of.
        purlin_in: Thickness of purlins, boards on edge under pitch breaks; 0 where something else carries the rafters.
        framed_with: ``rafters``, or ``trusses`` by others: their lines are laid out, nothing of theirs is cut.
    """

    id: Identifier
    name: Name
    outline: Annotated[tuple[Corner, ...], Meta(min_length=3, max_length=400)]
    edges: tuple[Edge, ...]
    slope_in_12: SlopeIn12 = 7.0
    plate_in: Position = 97.125
    eave_overhang_in: Length = 0.0
    rake_overhang_in: Length = 0.0
    fascia: Literal["level", "equal_overhang"] = "level"
    heel: Heel = Heel()
    rafter: Rafter = Rafter()
    ridge: Ridge = Ridge()
    hips: Hips = Hips()
    trim: Trim = Trim()
    landing: Landing | None = None
    joins: Joins = "framed"
    stands_on: StandsOn = "walls"
    single: Single | None = None
    splits: Annotated[tuple[PlaneSplit, ...], Meta(max_length=60)] = ()
    gable_walls: GableWalls | None = None
    plies: Plies = Plies()
    purlin_in: Length = 0.0
    framed_with: Literal["rafters", "trusses"] = "rafters"

    @property
    def ridge_width_in(self) -> float:
        """Thickness of the ridge, all its boards together."""
        return self.ridge.thickness_in * self.plies.ridge

    @property
    def hip_width_in(self) -> float:
        """Thickness of a hip, all its boards together."""
        return self.hips.thickness_in * self.plies.hip

    @property
    def valley_width_in(self) -> float:
        """Thickness of a valley, all its boards together."""
        return self.hips.thickness_in * self.plies.valley


class Opening(Value, frozen=True, kw_only=True):
    """A skylight or chimney: an upright rectangle cut out of a plane.

    Attributes:
        id: Stable id, unique in the job.
        plane: The plane it is measured on, as ``wing/edge`` with the eave the plane rises from.
        x_in: Level distance from the plane's left end, as seen from outside below, to the opening's left side.
        y_in: Distance up the slope from the plane's lowest point to the opening's lower side.
        width_in: Level width.
        length_in: Length up the slope.
        kind: A ``skylight`` opens its own plane only, a ``chimney`` every roof it passes through, past a ridge too.
        cricket: The cricket behind it (chimneys only), or None.

    Both distances are taken on the plane as its wing has it alone, so that an opening stays where it is when a dormer
    or another wing cuts the plane.
    """

    id: Identifier
    plane: PlaneName
    x_in: Position
    y_in: Position
    width_in: PositiveLength
    length_in: PositiveLength
    kind: OpeningKind = "skylight"
    cricket: Cricket | None = None


class Sheathing(Value, frozen=True, kw_only=True):
    """The sheets and the rules they are laid by.

    Attributes:
        panel_width_in: Stated width (48 in; across the rafters' length).
        panel_length_in: Stated length (96 in; across the rafters).
        gap_in: Gap left between panels; 0 for self-gapping edges.
        least_in: Least width of a row.
        kerf_in: What the saw takes.
        rip: Where ripped rows go.
        split: How a leftover that is too narrow for one row is split in two.
        stagger_in: Least offset of end joints between neighbouring rows.
        first_piece_in: Nominal length of the first row's first piece, measured on the framing; None lets the program
            search for the one that buys fewest sheets.
        start: End of the plane, seen from outside below, that rows start from.
        halves_nominal: Whether two half sheets come out of one sheet though the saw takes its kerf.
        ridge_slot_in: Slot left open at the ridge, measured up the slope on each side.
        past_tail_in: Run of the sheathing past the rafter tail, measured up the slope.
        thickness: Performance category, such as ``7/16``.
        span_rating: Span rating, such as ``24/16``.
        mirrored: Whether pieces may be turned over: both faces of the sheets are alike.
        exposed: Eaves and rakes in another material.
    """

    panel_width_in: PositiveLength = 48.0
    panel_length_in: PositiveLength = 96.0
    gap_in: Annotated[float, Meta(ge=0.0, le=1.0, description="inches")] = 0.125
    least_in: PositiveLength = 24.0
    kerf_in: Annotated[float, Meta(ge=0.0, le=1.0, description="inches")] = 0.125
    rip: Rip = "bottom"
    split: Split = "fewest"
    stagger_in: Length = 48.0
    first_piece_in: PositiveLength | None = None
    start: Side = "left"
    halves_nominal: bool = True
    ridge_slot_in: Length = 0.0
    past_tail_in: Length = 0.0
    thickness: Annotated[str, Meta(max_length=12)] = "7/16"
    span_rating: Annotated[str, Meta(max_length=12)] = "24/16"
    mirrored: bool = False
    exposed: ExposedEdges = ExposedEdges()


class PlaneChoice(Value, frozen=True, kw_only=True):
    """What differs on one plane from the job's sheathing; None takes the job's."""

    plane: str
    rip: Rip | None = None
    split: Split | None = None
    first_piece_in: PositiveLength | None = None
    start: Side | None = None


class PriceBracket(Value, frozen=True, kw_only=True):
    """From this slope on the roofers charge this price a square (100 sq ft); None where nobody has quoted yet."""

    from_in_12: Annotated[float, Meta(ge=0.0, le=120.0)]
    price_per_square: Price | None = None


class Units(Value, frozen=True, kw_only=True):
    """How lengths are shown."""

    system: Literal["ft_in", "mm"] = "ft_in"
    fraction: Literal[8, 16, 32] = 16


class Alternative(Value, frozen=True, kw_only=True):
    """Another design of the same job, to be compared with it.

    Attributes:
        id: Stable id, unique in the job.
        name: What is different about it, in a few words.
        changes: Inputs at other values, made on the job as it is, or on the snapshot.
        snapshot: The roof as it was when the alternative was added; None starts from the job as it is.
    """

    id: Identifier
    name: Name
    changes: Annotated[tuple[Change, ...], Meta(max_length=200)] = ()
    snapshot: Job | None = None


class Job(Value, frozen=True, kw_only=True):
    """A whole job.

    Attributes:
        format: Always ``roof-workbench-job``.
        version: Version of the file format.
        name: Title of the job, printed on every page.
        note: Free text; demo jobs say here that they are invented.
        date: Date printed on paper, as the user wrote it (paper is the same bytes for the same job).
        revision: Revision code printed on paper.
        units: How lengths are shown.
        wings: The parts of the building, in the order they were drawn.
        openings: Skylights and chimneys.
        sheathing: Sheets and their rules.
        plane_choices: What differs on single planes.
        fastening: Nailing schedule.
        brackets: The roofers' price brackets, lowest first.
        safety: Ground, fall protection and loads carried.
        screening: Loads and limits that the frame is screened against.
        drying_in: How the roof is dried in.
        lumber: Lengths that can be had, the saw, species and grade.
        cut_members: Members that are cut already and stay as they are.
        cut_sheets: Pieces of sheathing that are cut already and stay as they are.
        site: Props, the layout stick and what was measured on site.
        alternatives: Other designs, compared side by side.
        costs: The user's own prices.
        hours: Crew, working day, and the log of hours that jobs really took.
        issued: Records of the last two handouts that went out, the latest last.
        underlay: The plan page under the drawing, or None.
    """

    format: Literal["roof-workbench-job"] = "roof-workbench-job"
    version: Literal[1] = 1
    name: Name = "Untitled roof"
    note: Annotated[str, Meta(max_length=2000)] = ""
    date: Annotated[str, Meta(max_length=40)] = ""
    revision: Annotated[str, Meta(max_length=20)] = "A"
    units: Units = Units()
    wings: tuple[Wing, ...] = ()
    openings: tuple[Opening, ...] = ()
    sheathing: Sheathing = Sheathing()
    plane_choices: tuple[PlaneChoice, ...] = ()
    fastening: Fastening = Fastening()
    brackets: tuple[PriceBracket, ...] = (PriceBracket(from_in_12=0.0), PriceBracket(from_in_12=8.0))
    safety: Safety = Safety()
    screening: Screening = Screening()
    drying_in: DryingIn = DryingIn()
    lumber: Lumber = Lumber()
    cut_members: tuple[CutMembers, ...] = ()
    cut_sheets: Annotated[tuple[CutSheet, ...], Meta(max_length=MOST_CUT_SHEETS)] = ()
    site: Site = Site()
    alternatives: Annotated[tuple[Alternative, ...], Meta(max_length=20)] = ()
    costs: Costs = Costs()
    hours: Hours = Hours()
    issued: Annotated[tuple[Issued, ...], Meta(max_length=2)] = ()
    underlay: Underlay | None = None

    def wing(self, wing_id: str) -> Wing:
        """The wing of this id.

        Raises:
            KeyError: There is none.
        """
        for wing in self.wings:
            if wing.id == wing_id:
                return wing
        raise KeyError(wing_id)
