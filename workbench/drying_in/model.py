"""What dries a roof in: steps in the order of work, what is bought for them, and the air. Inches."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from workbench.findings import Finding
from workbench.measure import Trace
from workbench.roof.model import Point3
from workbench.sheathing.model import SeamKind

StepKind = Literal[
    "eave_metal",
    "ice",
    "valley",
    "upslope_tape",
    "level_tape",
    "hip_tape",
    "ridge_tape",
    "underlayment",
    "rake_metal",
    "wall",
    "opening",
    "ridge_slot",
]


@dataclass(frozen=True, slots=True)
class Run:
    """One straight line that something is laid along.

    Attributes:
        plane: The plane it lies on, or the first of two.
        name: Where it is, in words.
        start: One end in space.
        end: The other end.
        length_in: True length.
        snap_in: For a level joint its distance from the eave edge of the sheathing; None for others.
    """

    plane: str
    name: str
    start: Point3
    end: Point3
    length_in: float
    snap_in: float | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the order of work.

    Attributes:
        number: From 1, in the order of work.
        kind: What is laid.
        title: The same in words.
        how: How it laps and on which side of what, a sentence or two.
        runs: Where it is laid.
        length_in: All of them together.
        bought: What it takes, in words; empty where nothing is bought for it.
        source: Where the rule comes from.
    """

    number: int
    kind: StepKind
    title: str
    how: str
    runs: tuple[Run, ...]
    length_in: float
    bought: str
    source: str


@dataclass(frozen=True, slots=True)
class Material:
    """One thing to buy: stable code, name, amount in ``unit``, and how it was counted."""

    code: str
    name: str
    amount: float
    unit: Literal["pieces", "rolls"]
    trace: Trace


@dataclass(frozen=True, slots=True)
class TapeUse:
    """The tape on seams of one kind.

    Attributes:
        kind: Kind of seam.
        words: What such seams are called.
        seams: How many.
        length_in: Length of all of them.
        laid_in: Length of tape on them, with the laps past their ends.
    """

    kind: SeamKind
    words: str
    seams: int
    length_in: float
    laid_in: float


@dataclass(frozen=True, slots=True)
class TapeRolls:
    """The rolls of one tape.

    Attributes:
        code: Code on the order list.
        name: Name in short.
        title: Name with width and roll.
        rolls: Rolls to buy.
        laid_in: Length laid, laps past the seams' ends counted.
        left_in: What is left of the rolls.
        uses: By kind of seam.
        trace: How it was counted.
    """

    code: str
    name: str
    title: str
    rolls: int
    laid_in: float
    left_in: float
    uses: tuple[TapeUse, ...]
    trace: Trace


@dataclass(frozen=True, slots=True)
class Air:
    """Net free area of the vented space, square inches.

    Attributes:
        area_sqft: Vented area, in plan.
        needed_sqin: Net free area that is needed in all.
        upper_sqin: What the open ridge gives.
        intake_sqin: What is needed low down.
        bays: Vented blocks over the plates.
        open_in: Height to be left open over or through each of them, over its clear width; None without such blocks.
        slot_in: Width to be left open at the ridge on each side, up the slope, so that it gives its share.
        traces: How they were found.
    """

    area_sqft: float
    needed_sqin: float
    upper_sqin: float
    intake_sqin: float
    bays: int
    open_in: float | None
    slot_in: float | None
    traces: tuple[Trace, ...]


@dataclass(frozen=True, slots=True)
class Barrier:
    """The ice barrier along one eave: how far up the slope it reaches, in how many courses, and how that was found."""

    plane: str
    up_in: float
    courses: int
    trace: Trace


@dataclass(frozen=True)
class DryInPlan:
    """The drying in of a job.

    Attributes:
        steps: In the order of work.
        materials: What to buy.
        barriers: The ice barrier by eave.
        tapes: The rolls of each tape by kind of seam; empty where no joints are taped.
        air: Net free area; None where the space is not vented or not said to be.
        findings: What is wrong or noteworthy.
    """

    steps: tuple[Step, ...] = ()
    materials: tuple[Material, ...] = ()
    barriers: tuple[Barrier, ...] = ()
    tapes: tuple[TapeRolls, ...] = ()
    air: Air | None = None
    findings: tuple[Finding, ...] = ()

    def step(self, kind: StepKind) -> Step | None:
        """The step of this kind, or None."""
        return next((step for step in self.steps if step.kind == kind), None)


NOT_DRIED_IN = DryInPlan()
"""The drying in of a job that has no sheets yet."""
