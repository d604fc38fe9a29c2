"""Alternatives of a job: what each of them is as a job of its own, and the edits that add, promote and drop them.

An alternative is either a snapshot, the whole roof as it was when it was added, or a few changes of inputs of the job
as it is now; with both, the changes are made on the snapshot. What is not the roof's design stays the job's: its name,
date and units, brackets, prices and hours.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from msgspec.structs import replace

from workbench.errors import EditError
from workbench.job.change import changed, value_of, value_words
from workbench.job.differences import differences
from workbench.job.edited import checked, fresh
from workbench.job.inputs import INPUTS, JOB_INPUTS, Change, Input
from workbench.job.model import Alternative, Job
from workbench.measure import Units

NOT_DESIGN = (
    "name",
    "note",
    "date",
    "revision",
    "units",
    "brackets",
    "cut_members",
    "cut_sheets",
    "site",
    "alternatives",
    "costs",
    "hours",
    "issued",
    "underlay",
)
"""Fields of a job that an alternative leaves as they are: what it is called, what stands on site, prices."""

BEFORE = "As it was before"


def alone(job: Job) -> Job:
    """The job without its alternatives."""
    return replace(job, alternatives=())


def resolved(job: Job, alternative: Alternative) -> Job:
    """An alternative as a job of its own, without alternatives.

    Raises:
        EditError: It can't be: a change names a wing that is gone, or a value that can't be used.
    """
    base = job if alternative.snapshot is None else with_design(job, alternative.snapshot)
    try:
        return changed(alone(base), alternative.changes)
    except EditError as error:
        raise EditError(f'The alternative "{alternative.name}" can\'t be made. {error}') from None


def design_of(job: Job) -> Job:
    """The job's design alone, everything else as in an empty job."""
    return with_design(Job(), job)


def with_design(job: Job, design: Job) -> Job:
    """The job with the roof of another, everything else kept."""
    kept: dict[str, Any] = {name: getattr(job, name) for name in NOT_DESIGN}
    return replace(design, **kept)


def add_alternative(job: Job, name: str, changes: Sequence[Change] | None = None) -> tuple[Job, str]:
    """Add an alternative: a snapshot of the job as it is, or changes of it.

    Returns:
        The new job and the alternative's id.

    Raises:
        EditError: It has no name, or a change can't be made.
    """
    if not name.strip():
        msg = "An alternative needs a name; say what is different about it."
        raise EditError(msg)
    made = fresh("alternative", [known.id for known in job.alternatives])
    if changes is None:
        new = Alternative(id=made, name=name.strip(), snapshot=design_of(job))
    else:
        new = Alternative(id=made, name=name.strip(), changes=tuple(changes))
        resolved(job, new)
    return checked(replace(job, alternatives=(*job.alternatives, new))), made


def remove_alternative(job: Job, alternative_id: str) -> Job:
    """Drop an alternative. Raises EditError."""
    found = _alternative(job, alternative_id)
    return replace(job, alternatives=tuple(known for known in job.alternatives if known is not found))


def rename_alternative(job: Job, alternative_id: str, name: str) -> Job:
    """Call an alternative something else. Raises EditError."""
    found = _alternative(job, alternative_id)
    if not name.strip():
        msg = "An alternative needs a name; say what is different about it."
        raise EditError(msg)
    renamed = replace(found, name=name.strip())
    return checked(replace(job, alternatives=tuple(renamed if a is found else a for a in job.alternatives)))


def promote(job: Job, alternative_id: str) -> Job:
    """Make an alternative the job; what the job was takes its place among the alternatives, so that nothing is lost.

    Raises:
        EditError: There is none, or it can't be made.
    """
    found = _alternative(job, alternative_id)
    chosen = resolved(job, found)
    before = Alternative(id=found.id, name=_before(job, found), snapshot=design_of(job))
    # Changes of the job as it was are taken down as they come out on it; on the promoted job they would mean another.
    others = tuple(before if a is found else _fixed(job, a) for a in job.alternatives)
    return checked(replace(chosen, alternatives=others))


def what_differs(job: Job, other: Job, units: Units) -> tuple[str, ...]:
    """What is different in another design of the job: inputs with both values, then whatever else, part by part."""
    said: list[str] = []
    like: list[Change] = []
    for wing_id, where, name in _places(job, other):
        before, after = value_of(job, name, wing_id), value_of(other, name, wing_id)
        if before == after or (wing_id and _unused(job, other, wing_id, name)):
            continue
        words = f"{value_words(name, before, units)} → {value_words(name, after, units)}"
        said.append(f"{where}{INPUTS[name].words} {words}")
        if after is not None:
            like.append(Change(input=name, value=after, wing=wing_id))
    try:
        near = changed(alone(job), like)
    except EditError:
        near = alone(job)
    return (*said, *differences(near, alone(with_design(job, other))))


def _places(job: Job, other: Job) -> Iterator[tuple[str, str, Input]]:
    """Wing, its name where there are several, and input, for all that both designs have."""
    known = {wing.id for wing in other.wings}
    for name in JOB_INPUTS:
        if INPUTS[name].place == "sheathing":
            yield "", "", name
            continue
        for wing in job.wings:
            if wing.id in known:
                yield wing.id, "" if len(job.wings) == 1 else f"{wing.name}: ", name


def _unused(job: Job, other: Job, wing_id: str, name: Input) -> bool:
    """Whether an input is only the last value known of what is found from others."""
    heels = {job.wing(wing_id).heel.given, other.wing(wing_id).heel.given}
    return (name == "hap_in" and heels == {"seat"}) or (name == "seat_in" and heels == {"hap"})


def _before(job: Job, replaced: Alternative) -> str:
    taken = {known.name for known in job.alternatives if known is not replaced}
    number, name = 1, BEFORE
    while name in taken:
        number += 1
        name = f"{BEFORE} {number}"
    return name


def _fixed(job: Job, alternative: Alternative) -> Alternative:
    if alternative.snapshot is not None:
        return alternative
    try:
        return replace(alternative, changes=(), snapshot=design_of(resolved(job, alternative)))
    except EditError:
        return alternative  # it could not be made before either; it stays and says so


def _alternative(job: Job, alternative_id: str) -> Alternative:
    for alternative in job.alternatives:
        if alternative.id == alternative_id:
            return alternative
    msg = f'There is no alternative "{alternative_id}" in this job.'
    raise EditError(msg)
