"""Every member cut from boards that can be had, fewest feet bought: the cutting list of the frame. Inches."""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from functools import lru_cache
from typing import Literal

from workbench.findings import COMMON_PRACTICE, SCREENING, Finding
from workbench.framing.model import Hand, Member
from workbench.job.lumber import ORDINARY_LENGTHS_IN, Lumber
from workbench.measure import Trace, Units
from workbench.quantities.lumber_check import cutting_faults
from workbench.quantities.lumber_exact import BRANCHES, fewest
from workbench.quantities.lumber_model import BoardBatch, BoardPiece, LumberPlan, SectionBoards
from workbench.quantities.lumber_pack import COST_UNITS, MICRO, Cutting, Task, packed

Effort = Literal["preview", "live", "full"]

MOST_KINDS_LIVE, MOST_PIECES_LIVE = 8, 160
"""The fewest feet for so many different lengths and pieces are found in the blink of an eye."""

BRANCHES_LIVE = 8
"""Nodes of a choice in whole numbers while somebody waits; most need one."""

_SAME_IN = 1e-6
_SOURCE = "geometry; lengths sold and the kerf are the job's"


def plan_lumber(members: Sequence[Member], lumber: Lumber, units: Units, effort: Effort = "live") -> LumberPlan:
    """The boards of some members, by section.

    Args:
        members: What is to be cut.
        lumber: Lengths that can be had, kerf, what can be carried.
        units: How lengths are shown.
        effort: ``full`` looks for the fewest feet and proves them, ``live`` too where there are few pieces, ``preview``
            packs them in a moment.

    Raises:
        ValueError: The boards do not hold what is needed: a fault of this program.
    """
    sections: list[SectionBoards] = []
    findings: list[Finding] = []
    for section, mine in by_section(members).items():
        made = _section_of(section, tuple(pieces_of(mine)), lumber, units, effort)
        sections.append(made)
        findings += _findings(made, lumber, units)
    findings += [*_unknown_kinds(members, lumber), *_to_nail(members)]
    return LumberPlan(tuple(sections), lumber.kerf_in, tuple(findings))


@lru_cache(maxsize=128)
def _section_of(
    section: str, pieces: tuple[BoardPiece, ...], lumber: Lumber, units: Units, effort: Effort
) -> SectionBoards:
    made = _section(section, pieces, lumber, units, effort)
    faults = cutting_faults(made, pieces, lumber.kerf_in)
    if faults:
        raise ValueError("; ".join(faults[:3]))
    return made


def by_section(members: Sequence[Member]) -> dict[str, list[Member]]:
    """Members by section, in the order of work."""
    found: dict[str, list[Member]] = {}
    for member in members:
        if member.count:
            found.setdefault(member.section, []).append(member)
    return found


def pieces_of(members: Sequence[Member]) -> list[BoardPiece]:
    """Every single piece of some members."""
    pieces: list[BoardPiece] = []
    for member in members:
        xs = [x for x, _ in member.profile]
        length = max(xs) - min(xs)
        either = member.count - member.left - member.right
        hands: tuple[tuple[Hand, int], ...] = (("left", member.left), ("right", member.right), ("", either))
        pieces += [BoardPiece(member.mark, member.kind, hand, length) for hand, n in hands for _ in range(n)]
    return pieces


def _section(section: str, pieces: Sequence[BoardPiece], lumber: Lumber, units: Units, effort: Effort) -> SectionBoards:
    lengths = lumber.lengths_of(section)
    special = [piece for piece in pieces if piece.length_in > lengths[-1] + _SAME_IN]
    alone = [piece for piece in pieces if piece.kind in lumber.alone and piece not in special]
    shared = [piece for piece in pieces if piece.kind not in lumber.alone and piece not in special]
    boards = [(_special_length(piece.length_in), (piece,)) for piece in special]
    boards += [(min(x for x in lengths if x >= piece.length_in - _SAME_IN), (piece,)) for piece in alone]
    settled = sum(stock for stock, _ in boards)
    task = Task.of([piece.length_in for piece in shared], lengths, lumber.kerf_in)
    cutting = _cut(task, effort)
    boards += _filled(task, cutting, shared, sorted(set(lengths)), lumber.kerf_in)
    batches = _batches(boards, lumber.kerf_in)
    made = SectionBoards(
        section,
        lumber.name_of(section),
        lengths,
        batches,
        settled + cutting.at_least / COST_UNITS,
        tuple(sorted({stock for stock, _ in boards} - set(lengths))),
        Trace("", 0.0, "in", "", "", ""),
    )
    return _traced(made, len(pieces), lumber, units)


def _cut(task: Task, effort: Effort) -> Cutting:
    small = len(task.sizes) <= MOST_KINDS_LIVE and sum(task.demand) <= MOST_PIECES_LIVE
    if effort == "full":
        return _fewest(task, BRANCHES)
    if effort == "live" and small:
        return _fewest(task, BRANCHES_LIVE)
    return packed(task, quick=effort == "preview")


@lru_cache(maxsize=256)
def _fewest(task: Task, branches: int) -> Cutting:
    return fewest(task, branches)


def _filled(
    task: Task, cutting: Cutting, pieces: Sequence[BoardPiece], stocks: Sequence[float], kerf_in: float
) -> list[tuple[float, tuple[BoardPiece, ...]]]:
    """The boards of a cutting with their pieces: those that are cut alike take pieces of the same marks."""
    waiting: dict[int, deque[BoardPiece]] = {}
    for piece in pieces:
        waiting.setdefault(round(piece.length_in * MICRO) + round(kerf_in * MICRO), deque()).append(piece)
    boards: list[tuple[float, tuple[BoardPiece, ...]]] = []
    for stock, pattern, count in sorted(cutting.boards, key=lambda board: (-board[2], board[0], board[1])):
        wanted = [(waiting[size], n) for size, n in zip(task.sizes, pattern, strict=True) if n]
        for _ in range(count):
            taken = [pieces.popleft() for pieces, n in wanted for _ in range(n)]
            boards.append((stocks[stock], tuple(taken)))
    return boards


def _batches(boards: Sequence[tuple[float, tuple[BoardPiece, ...]]], kerf_in: float) -> tuple[BoardBatch, ...]:
    """Equal boards together, those with the longest stock first, of these the most of a kind."""
    counts: dict[tuple[float, tuple[BoardPiece, ...]], int] = {}
    for board in boards:
        counts[board] = counts.get(board, 0) + 1
    found = [
        BoardBatch(stock, count, pieces, _left(stock, pieces, kerf_in)) for (stock, pieces), count in counts.items()
    ]
    return tuple(sorted(found, key=lambda batch: (-batch.stock_in, -batch.count)))


def _left(stock: float, pieces: Sequence[BoardPiece], kerf_in: float) -> float:
    left = stock - sum(piece.length_in for piece in pieces) - len(pieces) * kerf_in
    return left if left > _SAME_IN else 0.0


def _special_length(length_in: float) -> float:
    """What has to be ordered for a piece that no board at hand is long enough for."""
    return next((x for x in ORDINARY_LENGTHS_IN if x >= length_in - _SAME_IN), length_in)


def _traced(made: SectionBoards, pieces: int, lumber: Lumber, units: Units) -> SectionBoards:
    least = "fewest proven" if made.proven else f"no cutting buys less than {units.length(made.at_least_in)}"
    taken = sum(batch.count * sum(piece.length_in for piece in batch.pieces) for batch in made.batches)
    each = " + ".join(f"{count} of {units.length(stock)}" for stock, count in made.counts().items())
    trace = Trace(
        f"{made.section} to buy, length of all boards",
        made.bought_in,
        "in",
        "every piece over the furthest points of its cuts, a kerf between two of one board, boards of any length that "
        "can be had and carried; of all ways to cut them the one that buys the fewest feet",
        f"{pieces} pieces, together {units.length(taken)}, kerf {units.inches(lumber.kerf_in)}: {each} = "
        f"{units.length(made.bought_in)}; {least}",
        _SOURCE,
    )
    return SectionBoards(
        made.section, made.name, made.lengths_in, made.batches, made.at_least_in, made.special_in, trace
    )


def _findings(made: SectionBoards, lumber: Lumber, units: Units) -> list[Finding]:
    """Boards that are longer than what can be had or carried; what no board is sold for, the frame tells."""
    special = [x for x in made.special_in if x <= max(ORDINARY_LENGTHS_IN) + _SAME_IN]
    if not special:
        return []
    held = (p.mark for batch in made.batches if batch.stock_in in special for p in batch.pieces)
    marks = ", ".join(dict.fromkeys(held))
    longest = units.length(made.lengths_in[-1])
    asked = " and ".join(units.length(x) for x in special)
    what = "had and carried" if lumber.longest_in is not None else "had"
    text = (
        f"{marks} of {made.section} need boards {asked} long, but the longest that can be {what} is {longest}; order "
        "them specially and carry them with two, or bring a support in between, which is for the engineer."
    )
    return [Finding("board-longer-than-had", "warning", "", text, COMMON_PRACTICE)]


def _unknown_kinds(members: Sequence[Member], lumber: Lumber) -> list[Finding]:
    known = {member.kind for member in members}
    return [
        Finding(
            "lumber-kind-unused",
            "note",
            "",
            f"The lumber settings give {kind.replace('_', ' ')} pieces boards of their own, but this frame has none.",
            COMMON_PRACTICE,
        )
        for kind in lumber.alone
        if kind not in known
    ]


def _to_nail(members: Sequence[Member]) -> list[Finding]:
    """Boards that are one member only once they are nailed together."""
    plies = {member.mark: member.plies for member in members if member.plies > 1}
    if not plies:
        return []
    named = ", ".join(f"{mark} ({n} plies)" for mark, n in plies.items())
    text = f"{named}: boards side by side, to be nailed together as the engineer or the table calls. {SCREENING}"
    return [Finding("plies-to-nail", "note", "", text, COMMON_PRACTICE)]
