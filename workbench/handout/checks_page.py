"""The checks page: what was screened against which loads, for the talk with the engineer and the plan checker."""

from __future__ import annotations

from collections.abc import Iterator

from workbench.findings import SCREENING
from workbench.handout.blocks import LABEL, SMALL, Block, Boxed, Column, Space, Table, Words
from workbench.handout.page import Page, Paper, flowed
from workbench.measure import Units
from workbench.plan import Plan
from workbench.screening.model import Check, PlaneLoads
from workbench.screening.words import CHECK_WORDS, NOT_SCREENED, shown_checks, verdict_words


def checks_pages(plan: Plan, paper: Paper) -> list[Page]:
    """The checks pages; none where there is no roof."""
    if not plan.screening.checks:
        return []
    line = "Loads assumed, not given" if plan.screening.assumed else "Loads, species and grade as given"
    return flowed("Checks", line, list(_blocks(plan)), paper)


def _blocks(plan: Plan) -> Iterator[Block]:
    yield Boxed((Words(f"{SCREENING} {NOT_SCREENED}", LABEL, bold=True, after=0.0),), pad=4.0)
    yield Space(4.0)
    yield _loads(plan)
    columns = (Column("Check", 1.35, bold=True), Column("Where", 1.6), Column("Result", 2.3), Column("Figures", 4.75))
    rows: list[tuple[str, ...]] = []
    for kind, words in CHECK_WORDS.items():
        shown, left = shown_checks(plan.screening.checks, kind)
        shown = [check for check in shown if check.verdict != "not_known"]
        for number, check in enumerate(shown):
            more = f"; {left} more, none worse" if left and number == len(shown) - 1 else ""
            rows.append((words if number == 0 else "", f"{check.subject}{more}", *_result(check)))
    yield Table(columns, tuple(rows), SMALL)
    sources = dict.fromkeys(check.source for check in plan.screening.checks if check.source)
    yield Words(f"Sources: {'; '.join(sources)}.", SMALL)


def _loads(plan: Plan) -> Table:
    """Loads on the level, planes with the same loads together."""
    names = {plane.id: plane.name for plane in plan.roof.planes}
    alike: dict[tuple[str, str, str], list[str]] = {}
    for loads in plan.screening.loads:
        alike.setdefault(_cells(loads, plan.units), []).append(names[loads.plane])
    columns = (
        Column("Loads on the level", 3.6, bold=True),
        Column("Dead", 1.8, "right"),
        Column("Roof live", 1.8, "right"),
        Column("Snow", 1.8, "right"),
    )
    return Table(columns, tuple((", ".join(planes), *cells) for cells, planes in alike.items()), SMALL)


def _cells(loads: PlaneLoads, units: Units) -> tuple[str, str, str]:
    live, snow = loads.live_psf, loads.snow_psf
    shown = units.pressure
    return shown(loads.dead_psf), "–" if live is None else shown(live), "–" if snow is None else shown(snow)


def _result(check: Check) -> tuple[str, str]:
    """What came of it, and its figures with what would pass."""
    said = f"{check.text[:1].upper()}{check.text[1:]}."
    if check.mend:
        said += f" {check.mend[:1].upper()}{check.mend[1:]}."
    result = verdict_words(check)
    return f"{result[:1].upper()}{result[1:]}", said
