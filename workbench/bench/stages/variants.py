"""What other choices of laying the sheets would buy: jobs that differ in one choice, solved off to the side."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

from workbench.errors import BadInput
from workbench.job import edits
from workbench.job.model import Job, PlaneChoice
from workbench.plan import solve

ChoiceName = Literal["rip", "split", "start", "first_piece_in"]

CHOICES: tuple[tuple[ChoiceName, str, tuple[tuple[object, str], ...]], ...] = (
    ("rip", "Ripped rows go", (("bottom", "at the bottom"), ("top", "at the top"), ("both", "at both ends"))),
    (
        "split",
        "A leftover too narrow is split",
        (("fewest", "as buys fewest"), ("halves", "into two halves"), ("least", "least width first")),
    ),
    ("start", "Rows start", (("left", "at the left"), ("right", "at the right"))),
    ("first_piece_in", "First piece", ((None, "searched"), (48.0, "half a sheet"), (96.0, "a whole sheet"))),
)
"""Every choice with its words, in the order they are offered."""


@dataclass(frozen=True, slots=True)
class Variant:
    """One other choice.

    Attributes:
        name: Field of the choice.
        value: What it would be.
        job: The job with it.
    """

    name: ChoiceName
    value: object
    job: Job


@dataclass(frozen=True, slots=True)
class Bought:
    """What a variant buys: sheets, and whether fewer are proven impossible; None where it can't be laid so."""

    name: ChoiceName
    value: object
    sheets: int | None
    proven: bool


def chosen_value(job: Job, plane_id: str, name: ChoiceName) -> object:
    """What is chosen now: for the plane, or for the whole roof where ``plane_id`` is empty (or says nothing)."""
    if plane_id:
        choice = next((choice for choice in job.plane_choices if choice.plane == plane_id), PlaneChoice(plane=plane_id))
        own = getattr(choice, name)
        if own is not None:
            return own
    return getattr(job.sheathing, name)


def with_choice(job: Job, plane_id: str, name: ChoiceName, value: object) -> Job:
    """The job with another choice, for one plane or, with an empty id, for the whole roof.

    Raises:
        EditError: It can't be chosen.
    """
    if plane_id:
        return edits.choose_for_plane(job, plane_id, **{name: value})
    return edits.set_sheathing(job, **{name: value})


def variants(job: Job, plane_id: str) -> Iterator[Variant]:
    """Every choice of the page, each alone in the place of the present one."""
    for name, _, values in choices_of(job):
        for value, _ in values:
            try:
                yield Variant(name, value, with_choice(job, plane_id, name, value))
            except BadInput:
                continue


def choices_of(job: Job) -> Iterator[tuple[ChoiceName, str, tuple[tuple[object, str], ...]]]:
    """The choices with their words, half and whole sheets as long as the job's panels are."""
    for name, words, values in CHOICES:
        if name == "first_piece_in":
            panel = job.sheathing.panel_length_in
            values = ((None, "searched"), (panel / 2, "half a sheet"), (panel, "a whole sheet"))
        yield name, words, values


def buy(asked: Iterator[Variant], tell: Callable[[Bought], None], given_up: Callable[[], bool]) -> None:
    """Solve variant after variant and tell what each buys, until all are done or it is given up."""
    known: dict[Job, tuple[int, bool]] = {}
    for variant in asked:
        if given_up():
            return
        if variant.job not in known:
            sheathing = solve(variant.job).sheathing
            known[variant.job] = sheathing.count, sheathing.proven
        count, proven = known[variant.job]
        tell(Bought(variant.name, variant.value, count or None, proven))
