"""The dry-in page: the order of work with lengths, the joints plane by plane, metal, the ridge slot, air."""

from __future__ import annotations

from collections.abc import Iterator

from workbench.drawing.dry_in_plan import dry_in_from_above
from workbench.drying_in.model import Run, Step
from workbench.drying_in.tape import left_words
from workbench.drying_in.words import AIR_NOT_SAID, CAUTION, ICE_NOT_SAID, MAKERS_FIRST, air_words, run_words
from workbench.handout.blocks import LABEL, LARGE, SMALL, Block, Boxed, Column, Picture, Table, Words
from workbench.handout.page import Page, Paper, flowed, frame_size
from workbench.handout.words import FALL_CAUTION_SHORT
from workbench.plan import Plan

PICTURE_SHARE = 0.42
"""Part of the page's height the drawing takes."""


def dry_in_pages(plan: Plan, paper: Paper) -> list[Page]:
    """The dry-in pages; none where there is no roof."""
    if not plan.drying_in.steps:
        return []
    tight = {"taped_panels": "sealed panels, joints taped", "underlayment": "underlayment"}
    line = f"In this order, from the bottom up; {tight[plan.job.drying_in.tight]}"
    return flowed("Dry-in", line, list(_blocks(plan, paper)), paper)


def _blocks(plan: Plan, paper: Paper) -> Iterator[Block]:
    yield Boxed((Words(FALL_CAUTION_SHORT, LARGE, bold=True), Words(CAUTION, LABEL, after=0.0)))
    yield Picture(
        dry_in_from_above(plan),
        PICTURE_SHARE * frame_size(paper)[1],
        metric=plan.units.system == "mm",
        largest=24,
        note="Numbers: the steps below.",
    )
    yield _order(plan)
    yield Words("How", LABEL, bold=True, after=1.0)
    for step in plan.drying_in.steps:
        yield Words(step.how, LABEL, lead=f"{step.number}", after=1.5)
    yield from _joints(plan)
    yield from _tapes(plan)
    yield from _runs(plan)
    yield from _air(plan)
    yield Words(MAKERS_FIRST, LABEL)
    sources = dict.fromkeys(step.source for step in plan.drying_in.steps)
    yield Words(f"Sources: {'; '.join(sources)}.", SMALL)


def _order(plan: Plan) -> Table:
    columns = (
        Column("", 0.4),
        Column("", 0.5, bold=True),
        Column("What", 3.6, bold=True),
        Column("Length", 1.7, "right"),
        Column("Take", 2.6),
    )
    rows = tuple(
        ("[]", str(step.number), step.title, run_words(step.length_in, plan.units), step.bought or "–")
        for step in plan.drying_in.steps
    )
    return Table(columns, rows, LARGE)


def _joints(plan: Plan) -> Iterator[Block]:
    """Joints to be taped, plane by plane: the short ones together, the long ones by their snap lines."""
    dry, units = plan.drying_in, plan.units
    upslope, level = dry.step("upslope_tape"), dry.step("level_tape")
    if upslope is None and level is None:
        return
    columns = (
        Column("Joints of", 1.8, bold=True),
        Column("Up-slope", 1.9),
        Column("Level, from the eave edge", 4.6),
    )
    rows: list[tuple[str, ...]] = []
    for plane in plan.roof.planes:
        short = [run.length_in for run in _of(upslope, plane.id)]
        ups = f"{len(short)}, in all {run_words(sum(short), units)}" if short else "–"
        rows.append((plane.name, ups, _level_words(plan, _of(level, plane.id)) or "–"))
    yield Table(columns, tuple(rows), LABEL)


def _tapes(plan: Plan) -> Iterator[Block]:
    """Tape by the kind of seam, with laps, rolls and what is left of them."""
    units = plan.units
    if not plan.drying_in.tapes:
        return
    columns = (
        Column("Tape for", 2.6, bold=True),
        Column("Seams", 1.0, "right"),
        Column("Length", 1.7, "right"),
        Column("With laps", 1.7, "right"),
    )
    for tape in plan.drying_in.tapes:
        rows = tuple(
            (use.words, str(use.seams), run_words(use.length_in, units), run_words(use.laid_in, units))
            for use in tape.uses
        )
        yield Table(columns, rows, LABEL, after=1.0)
        yield Words(left_words(tape, units), LABEL, after=6.0)


def _level_words(plan: Plan, runs: list[Run]) -> str:
    """``4' 0" (42' 0"), 8' 0" (42' 0")``: where each level joint is, and how long; parts of one line together."""
    found: dict[str, float] = {}
    for run in runs:
        at = plan.units.length(run.snap_in or 0.0)
        found[at] = found.get(at, 0.0) + run.length_in
    return ", ".join(f"{at} ({run_words(length, plan.units)})" for at, length in found.items())


def _of(step: Step | None, plane_id: str) -> list[Run]:
    return [] if step is None else [run for run in step.runs if run.plane == plane_id]


def _runs(plan: Plan) -> Iterator[Block]:
    """Where metal, linings and flashing go, each run by itself."""
    rows: list[tuple[str, ...]] = []
    for step in plan.drying_in.steps:
        if step.kind in ("eave_metal", "rake_metal", "valley", "wall", "hip_tape", "ridge_tape"):
            alike: dict[tuple[str, str], int] = {}
            for run in step.runs:
                key = (run.name, run_words(run.length_in, plan.units))
                alike[key] = alike.get(key, 0) + 1
            parts = (f"{name} {f'{n} x ' if n > 1 else ''}{length}" for (name, length), n in alike.items())
            rows.append((str(step.number), step.title, ", ".join(parts)))
    if rows:
        columns = (Column("", 0.35, bold=True), Column("Where", 1.8, bold=True), Column("Each run", 6.1))
        yield Table(columns, tuple(rows), LABEL)


def _air(plan: Plan) -> Iterator[Block]:
    drying = plan.job.drying_in
    if drying.ice is None:
        yield Words(ICE_NOT_SAID, LABEL)
    if plan.drying_in.air is not None:
        yield Words("Air", LABEL, bold=True, after=1.0)
        yield from (Words(text, LABEL, lead="•", after=1.0) for text in air_words(plan.drying_in.air, plan.units))
    elif drying.air == "not_said":
        yield Words(AIR_NOT_SAID, LABEL)
