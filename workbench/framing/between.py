"""Short pieces between rafters: lookouts at the rakes, blocks over the plate, at the ridge and in rows. Inches."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

from workbench.findings import COMMON_PRACTICE
from workbench.framing.board import Board
from workbench.framing.group import Group
from workbench.framing.layout import RafterLine
from workbench.framing.model import Cut, Measure, Member, MemberKind, Placement
from workbench.framing.stick import NOISE_IN
from workbench.framing.stock import section_name, stock_length
from workbench.job.model import Wing
from workbench.measure import Trace, Units
from workbench.roof.model import Plane

Standing = Sequence[tuple[RafterLine, Board]]
"""The rafters of one plane from left to right."""

_LEAST_IN = 2.0
_LOOKOUT_IN = (1.5, 3.5)
_VENT_SOURCE = "at least 1 in over the insulation, IRC R806.3, read in a copy; common practice, no source"


def lookouts(group: Group, plane: Plane, standing: Standing, units: Units) -> list[Member]:
    """The lookouts that carry a plane's barge rafters.

    A ladder's blocks reach from the barge to the end rafter; lookouts that run back go on over the end rafter, which
    is dropped or notched for them, to the next one inside. They stand at whole spacings from the tail; fascia and ridge
    hold the barge's ends (common practice, no source).
    """
    wing = group.wing_of(plane.id)
    if wing.trim.lookouts == "none":
        return []
    members: list[Member] = []
    inside = [line.x for line, board in standing if board.kind != "barge_rafter"]
    for line, board in standing:
        if board.kind != "barge_rafter" or not inside:
            continue
        near = sorted(inside, key=lambda x, at=line.x: abs(x - at))
        steps = 2 if wing.trim.lookouts == "back" and len(near) > 1 else 1
        to = near[steps - 1]
        length = abs(to - line.x) - wing.rafter.thickness_in
        if length > NOISE_IN:
            members += [_lookout(wing, plane, line, to, y, length, units) for y in _rungs(wing, board)]
    return members


def _rungs(wing: Wing, board: Board) -> Iterator[float]:
    """How far up the slope from a barge's tail each lookout stands."""
    stick = board.stick
    top = (stick.high.last - stick.low.first) * (1.0 + stick.tangent**2) ** 0.5
    k = 1
    while k * wing.trim.lookout_spacing_in < top - 2.0 * stick.thickness:
        yield k * wing.trim.lookout_spacing_in
        k += 1


def _lookout(wing: Wing, plane: Plane, line: RafterLine, to: float, y: float, length: float, units: Units) -> Member:
    low = line.span.low * plane.stretch
    half = wing.rafter.thickness_in / 2.0
    inward = 1.0 if to > line.x else -1.0
    xs = sorted((line.x + inward * half, to - inward * half))
    ends = [plane.to_space((x, low + y)) for x in xs]
    back = wing.trim.lookouts == "back"
    how = "barge to the first rafter inside, over the end rafter" if back else "barge to the end rafter"
    trace = Trace(
        "lookout length",
        length,
        "in",
        f"clear, {how}",
        f"{units.tape(length)}; every {units.length(wing.trim.lookout_spacing_in)} up the slope",
        COMMON_PRACTICE,
    )
    thickness, depth = _LOOKOUT_IN
    return _piece("lookout", (thickness, depth), length, Placement(plane.id, ends[0], ends[1]), trace)


def blocks(group: Group, plane: Plane, standing: Standing, units: Units) -> list[Member]:
    """The blocks between a plane's rafters that the wing asks for."""
    wing = group.wing_of(plane.id)
    trim, stretch = wing.trim, plane.stretch
    members: list[Member] = []
    if trim.eave_blocks != "none":
        members += _row("eave_block", wing, plane, standing, _over_plate, trim.eave_blocks == "vented", units)
    if trim.ridge_blocks != "none":
        members += _row("ridge_block", wing, plane, standing, _at_ridge, trim.ridge_blocks == "vented", units)
    for y in trim.block_rows_in:

        def at_row(line: RafterLine, board: Board, r: float = y / stretch) -> float | None:
            return r if board.stick.low.last < r < board.stick.high.first else None

        members += _row("row_block", wing, plane, standing, at_row, False, units)
    return members


def _over_plate(line: RafterLine, board: Board) -> float | None:
    return next((notch.at for notch in board.stick.notches if not notch.name), None)


def _at_ridge(line: RafterLine, board: Board) -> float | None:
    high = board.stick.high
    square = high.last - high.first < NOISE_IN
    return high.last if line.high_kind == "ridge" and square and board.kind != "barge_rafter" else None


def _row(
    kind: MemberKind,
    wing: Wing,
    plane: Plane,
    standing: Standing,
    place: Callable[[RafterLine, Board], float | None],
    vented: bool,
    units: Units,
) -> list[Member]:
    """Blocks between neighbours that both stand at one place up the slope and no more than a bay apart."""
    members: list[Member] = []
    found = [(line.x, at) for line, board in standing if (at := place(line, board)) is not None]
    widest = wing.rafter.spacing_in + 2.0 * wing.rafter.thickness_in
    for (x0, r0), (x1, r1) in pairwise(found):
        clear = x1 - x0 - wing.rafter.thickness_in
        if abs(r0 - r1) > NOISE_IN or clear < _LEAST_IN or x1 - x0 > widest:
            continue
        half = wing.rafter.thickness_in / 2.0
        ends = [plane.to_space((x, r0 * plane.stretch)) for x in (x0 + half, x1 - half)]
        trace = Trace(
            "block length",
            clear,
            "in",
            "clear between two rafters: their spacing less a thickness",
            f"{x1 - x0:.4f} − {wing.rafter.thickness_in:g} = {clear:.4f} in"
            + ("; held down or bored for air" if vented else ""),
            _VENT_SOURCE if vented else COMMON_PRACTICE,
        )
        section = (wing.rafter.thickness_in, wing.rafter.depth_in)
        members.append(_piece(kind, section, clear, Placement(plane.id, ends[0], ends[1]), trace))
    return members


def _piece(kind: MemberKind, section: tuple[float, float], length: float, placement: Placement, trace: Trace) -> Member:
    thickness, depth = section
    return Member(
        mark=kind,
        kind=kind,
        count=1,
        length_in=length,
        stock_in=stock_length(length) or length,
        section=section_name(thickness, depth),
        depth_in=depth,
        thickness_in=thickness,
        cuts=(Cut("square cut", 0.0, 0.0, 0.0, 0.0), Cut("square cut", 0.0, 0.0, 0.0, length)),
        profile=((0.0, depth), (0.0, 0.0), (length, 0.0), (length, depth)),
        measures=(Measure("length", (0.0, depth), (length, depth), length),),
        placements=(placement,),
        traces=(trace,),
        angle_deg=0.0,
    )
