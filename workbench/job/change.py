"""Making a change of an input on a job, and reading what an input is there; pure, like the other edits."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from workbench.errors import EditError
from workbench.job import edits
from workbench.job.inputs import INPUTS, Change, Input, edge_field
from workbench.job.model import Job, Wing
from workbench.measure import Units


def changed(job: Job, changes: Sequence[Change]) -> Job:
    """The job with every change made, in order.

    Raises:
        EditError: A wing or edge is not there, or a value can't be used.
    """
    for change in changes:
        job = _made(job, change)
    return job


def value_of(job: Job, name: Input, wing_id: str = "", edge_id: str = "") -> float | str | None:
    """What an input is now: the edge's own value or else the wing's; None where there is none.

    Raises:
        EditError: There is no such wing.
    """
    place = INPUTS[name].place
    if place == "sheathing":
        return _read(job.sheathing, name)
    wing = _wing(job, wing_id)
    match place:
        case "rafter":
            return _read(wing.rafter, name)
        case "heel":
            return _read(wing.heel, name)
        case "landing":
            return None if wing.landing is None else _read(wing.landing, name)
        case "wing":
            field = edge_field(name)
            edge = next((edge for edge in wing.edges if edge.id == edge_id), None)
            own = None if edge is None or field is None else _read(edge, field)
            return _read(wing, name) if own is None else own


def change_words(job: Job, change: Change, units: Units) -> str:
    """A change in words, with what it changes from: ``main: slope 7 in 12 → 8 in 12``."""
    info = INPUTS[change.input]
    where = "" if info.place == "sheathing" else _where(job, change)
    try:
        before = value_of(job, change.input, change.wing or (job.wings[0].id if job.wings else ""), change.edge)
    except EditError:
        before = None
    return f"{where}{info.words} {value_words(change.input, before, units)} → " + value_words(
        change.input, change.value, units
    )


def value_words(name: Input, value: float | str | None, units: Units) -> str:
    """A value of an input as it is shown."""
    if value is None:
        return "none"
    if isinstance(value, str):
        return value.replace("_", " ")
    return units.slope(value / 12.0) if INPUTS[name].kind == "slope" else units.length(value)


def _where(job: Job, change: Change) -> str:
    if not change.wing:
        return "" if len(job.wings) == 1 else "all wings: "
    name = next((wing.name for wing in job.wings if wing.id == change.wing), change.wing)
    return f"{name}, {change.edge}: " if change.edge else f"{name}: "


def _made(job: Job, change: Change) -> Job:
    if INPUTS[change.input].place == "sheathing":
        return edits.set_sheathing(job, **{change.input: change.value})
    wings = [_wing(job, change.wing)] if change.wing else list(job.wings)
    if INPUTS[change.input].place == "landing" and not change.wing:
        wings = [wing for wing in wings if wing.landing is not None]
        if not wings:
            msg = "No wing of this job has a landing, so its height can't be changed; give one a landing first."
            raise EditError(msg)
    for wing in wings:
        job = _made_on(job, wing, change)
    return job


def _made_on(job: Job, wing: Wing, change: Change) -> Job:
    name, fields = change.input, {change.input: change.value}
    match INPUTS[name].place:
        case "rafter":
            return edits.set_rafter(job, wing.id, **fields)
        case "heel":
            return edits.set_heel(job, wing.id, given=name.removesuffix("_in"), **fields)
        case "landing":
            if wing.landing is None:
                msg = f'Wing "{wing.id}" has no landing, so its height can\'t be changed; give it one first.'
                raise EditError(msg)
            return edits.set_landing(job, wing.id, **fields)
        case _:
            pass
    if name == "slope_in_12" and wing.landing is not None and wing.landing.find == "slope":
        # A slope that is given can't be found as well: the landing then follows from it.
        job = edits.set_landing(job, wing.id, find="landing")
    field = edge_field(name)
    if change.edge:
        if field is None or all(edge.id != change.edge for edge in wing.edges):
            msg = f'Wing "{wing.id}" has no edge "{change.edge}" with a {INPUTS[name].words} of its own.'
            raise EditError(msg)
        return edits.set_edge(job, wing.id, change.edge, **{field: change.value})
    return edits.set_wing(job, wing.id, **fields, edges=_without_own(wing, name, field))


def _without_own(wing: Wing, name: Input, field: str | None) -> tuple[object, ...]:
    """The wing's edges without their own values of an input, so that the wing's holds for all of them."""
    if field is None:
        return wing.edges
    kinds = {"eave_overhang_in": ("eave",), "rake_overhang_in": ("rake",)}.get(name, ("eave", "rake", "wall"))
    return tuple(replace(edge, **{field: None}) if edge.kind in kinds else edge for edge in wing.edges)


def _read(part: object, name: str) -> float | str | None:
    value = getattr(part, name)
    return value if value is None or isinstance(value, str) else float(value)


def _wing(job: Job, wing_id: str) -> Wing:
    try:
        return job.wing(wing_id)
    except KeyError:
        msg = f'There is no wing "{wing_id}" in this job.'
        raise EditError(msg) from None
