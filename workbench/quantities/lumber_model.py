"""Boards to buy and what is cut from each. Inches."""

from __future__ import annotations

from dataclasses import dataclass

from workbench.findings import Finding
from workbench.framing.model import Hand, MemberKind
from workbench.measure import Trace


@dataclass(frozen=True, slots=True)
class BoardPiece:
    """One piece of a board.

    Attributes:
        mark: The mark it becomes.
        kind: The mark's kind.
        hand: ``left`` or ``right`` where the mark is needed both ways round.
        length_in: What it takes along the stock, over the furthest points of its cuts.
    """

    mark: str
    kind: MemberKind
    hand: Hand
    length_in: float


@dataclass(frozen=True, slots=True)
class BoardBatch:
    """Boards that are cut alike.

    Attributes:
        stock_in: Length of the board to buy.
        count: How many boards.
        pieces: What is cut from each, in the order along the board.
        left_in: What is left of each past the last saw cut; 0 where nothing is.
    """

    stock_in: float
    count: int
    pieces: tuple[BoardPiece, ...]
    left_in: float


@dataclass(frozen=True, slots=True)
class SectionBoards:
    """All boards of one section.

    Attributes:
        section: Its name, such as ``2x8``.
        name: How it is ordered, with species and grade.
        lengths_in: Lengths that could be had and carried.
        batches: The boards, those with the longest stock first.
        at_least_in: No way of cutting these pieces from these lengths buys less than this, inches of board.
        special_in: Lengths bought that are not among those that can be had or carried, because a piece needs them.
        trace: How the total was found.
    """

    section: str
    name: str
    lengths_in: tuple[float, ...]
    batches: tuple[BoardBatch, ...]
    at_least_in: float
    special_in: tuple[float, ...]
    trace: Trace

    @property
    def bought_in(self) -> float:
        """Inches of board bought."""
        return sum(batch.count * batch.stock_in for batch in self.batches)

    @property
    def boards(self) -> int:
        """How many boards."""
        return sum(batch.count for batch in self.batches)

    @property
    def proven(self) -> bool:
        """Whether fewer feet are proven impossible."""
        return self.bought_in <= self.at_least_in + 1e-6

    def counts(self) -> dict[float, int]:
        """Boards by length, shortest first."""
        found: dict[float, int] = {}
        for batch in sorted(self.batches, key=lambda batch: batch.stock_in):
            found[batch.stock_in] = found.get(batch.stock_in, 0) + batch.count
        return found


@dataclass(frozen=True)
class LumberPlan:
    """The boards of a job.

    Attributes:
        sections: By section, in the order of work.
        kerf_in: What the saw takes between two pieces.
        findings: What can't be bought or carried as asked.
    """

    sections: tuple[SectionBoards, ...] = ()
    kerf_in: float = 0.125
    findings: tuple[Finding, ...] = ()

    @property
    def proven(self) -> bool:
        """Whether the feet of every section are proven the fewest."""
        return all(section.proven for section in self.sections)


NO_LUMBER = LumberPlan()
"""Of a frame that has not been worked out."""
