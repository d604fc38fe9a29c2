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
    found: list[tuple[float, Placement]] = []
    inside = [line.x for line, board in standing if board.kind != "barge_rafter"]
    for line, board in standing:
        if board.kind != "barge_rafter" or not inside:
            continue
        near = sorted(inside, key=lambda x, at=line.x: abs(x - at))
        steps = 2 if wing.trim.lookouts == "back" and len(near) > 1 else 1
        to = near[steps - 1]
        length = abs(to - line.x) - wing.rafter.thickness_in
        if length > NOISE_IN:
            found += [(length, _across(wing, plane, line, to, y)) for y in _rungs(wing, board)]
    how = "to the first rafter inside, over the end rafter" if wing.trim.lookouts == "back" else "to the end rafter"
    every = units.length(wing.trim.lookout_spacing_in)
    return [
        _piece(
            "lookout",
            _LOOKOUT_IN,
            placements,
            length,
            Trace(
                "lookout length",
                length,
                "in",
                f"clear from the barge {how}",
                f"{units.tape(length)}; every {every} up the slope",
                COMMON_PRACTICE,
            ),
        )
        for length, placements in _alike(found)
    ]


def _rungs(wing: Wing, board: Board) -> Iterator[float]:
    """How far up the slope from a barge's tail each lookout stands."""
    stick = board.stick
    top = (stick.high.last - stick.low.first) * (1.0 + stick.tangent**2) ** 0.5
    k = 1
    while k * wing.trim.lookout_spacing_in < top - 2.0 * stick.thickness:
        yield k * wing.trim.lookout_spacing_in
        k += 1


def _across(wing: Wing, plane: Plane, line: RafterLine, to: float, y: float) -> Placement:
    low, half = line.span.low * plane.stretch, wing.rafter.thickness_in / 2.0
    inward = 1.0 if to > line.x else -1.0
    left, right = sorted((line.x + inward * half, to - inward * half))
    return Placement(plane.id, plane.to_space((left, low + y)), plane.to_space((right, low + y)))


def _alike(pieces: Sequence[tuple[float, Placement]]) -> list[tuple[float, tuple[Placement, ...]]]:
    """Pieces of one length together, in the order they come."""
    groups: dict[float, list[tuple[float, Placement]]] = {}
    for length, placement in pieces:
        groups.setdefault(round(length, 6), []).append((length, placement))
    return [(group[0][0], tuple(placement for _, placement in group)) for group in groups.values()]


def blocks(group: Group, plane: Plane, standing: Standing) -> list[Member]:
    """The blocks between a plane's rafters that the wing asks for."""
    wing = group.wing_of(plane.id)
    trim, stretch = wing.trim, plane.stretch
    members: list[Member] = []
    if trim.eave_blocks != "none":
        members += _row("eave_block", wing, plane, standing, _over_plate, trim.eave_blocks == "vented")
    if trim.ridge_blocks != "none":
        members += _row("ridge_block", wing, plane, standing, _at_ridge, trim.ridge_blocks == "vented")
    for y in trim.block_rows_in:

        def at_row(line: RafterLine, board: Board, r: float = y / stretch) -> float | None:
            return r if board.stick.low.last < r < board.stick.high.first else None

        members += _row("row_block", wing, plane, standing, at_row)
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
    vented: bool = False,
) -> list[Member]:
    """Blocks between neighbours that both stand at one place up the slope and no more than a bay apart."""
    pieces: list[tuple[float, Placement]] = []
    found = [(line.x, at) for line, board in standing if (at := place(line, board)) is not None]
    thickness = wing.rafter.thickness_in
    widest = wing.rafter.spacing_in + 2.0 * thickness
    for (x0, r0), (x1, r1) in pairwise(found):
        clear = x1 - x0 - thickness
        if abs(r0 - r1) > NOISE_IN or clear < _LEAST_IN or x1 - x0 > widest:
            continue
        left, right = (plane.to_space((x, r0 * plane.stretch)) for x in (x0 + thickness / 2.0, x1 - thickness / 2.0))
        pieces.append((clear, Placement(plane.id, left, right)))
    return [
        _piece(kind, (thickness, wing.rafter.depth_in), placements, clear, _block_trace(wing, clear, vented))
        for clear, placements in _alike(pieces)
    ]


def _block_trace(wing: Wing, clear: float, vented: bool) -> Trace:
    thickness = wing.rafter.thickness_in
    return Trace(
        "block length",
        clear,
        "in",
        "clear between two rafters: their spacing less a thickness",
        f"{clear + thickness:.4f} − {thickness:g} = {clear:.4f} in"
        + ("; held down or bored for air" if vented else ""),
        _VENT_SOURCE if vented else COMMON_PRACTICE,
    )


def _piece(
    kind: MemberKind,
    section: tuple[float, float],
    placements: tuple[Placement, ...],
    length: float,
    trace: Trace,
) -> Member:
    thickness, depth = section
    return Member(
        mark=kind,
        kind=kind,
        count=len(placements),
        length_in=length,
        stock_in=stock_length(length) or length,
        section=section_name(thickness, depth),
        depth_in=depth,
        thickness_in=thickness,
        cuts=(Cut("square cut", 0.0, 0.0, 0.0, 0.0), Cut("square cut", 0.0, 0.0, 0.0, length)),
        profile=((0.0, depth), (0.0, 0.0), (length, 0.0), (length, depth)),
        measures=(Measure("length", (0.0, depth), (length, depth), length),),
        placements=placements,
        traces=(trace,),
        angle_deg=0.0,
    )
