"""Rows of the screening's tables. No widgets here."""

from __future__ import annotations

from workbench.bench.table import Cells
from workbench.job.screening import Connector, HeadroomPoint
from workbench.plan import Plan
from workbench.screening.connectors import PLACE_WORDS
from workbench.screening.model import Check
from workbench.screening.words import CHECK_WORDS, shown_checks, verdict_words


def check_key(check: Check) -> str:
    """What a check's row is known by."""
    return f"{check.kind}|{check.object}"


def check_rows(plan: Plan, *, every: bool) -> list[Cells]:
    """Checks by kind, those first that do not pass; of the others the one that uses most, unless all are wanted."""
    rows: list[Cells] = []
    for kind, words in CHECK_WORDS.items():
        shown, left = shown_checks(plan.screening.checks, kind, every=every)
        if not shown:
            continue
        rows.append(Cells((words,), heading=True))
        rows += [
            Cells((f"{check.subject}: {verdict_words(check)}\n{_said(check)}",), check_key(check)) for check in shown
        ]
        if left:
            rows.append(Cells((f"and {left} more, none of them worse",)))
    return rows


def _said(check: Check) -> str:
    text = f"{check.text[:1].upper()}{check.text[1:]}."
    return f"{text} {check.mend[:1].upper()}{check.mend[1:]}." if check.mend else text


def object_of(plan: Plan, check: Check) -> str:
    """Key of what a check is about, to be selected on the drawing."""
    if any(member.mark == check.object for member in plan.framing.members):
        return f"member:{check.object}"
    if plan.plane(check.object) is not None:
        return f"plane:{check.object}"
    return f"wing:{check.object}" if any(wing.id == check.object for wing in plan.job.wings) else ""


def load_line(plan: Plan) -> str:
    """Loads of the heaviest plane in a line, and whether they are given."""
    loads = max(plan.screening.loads, key=lambda each: each.dead_psf + each.heaviest_psf, default=None)
    if loads is None:
        return ""
    parts = [f"{plan.units.pressure(loads.dead_psf)} dead on the level"]
    parts += [
        f"{plan.units.pressure(psf)} {'snow' if kind == 'snow' else 'roof live load'}" for kind, psf in loads.cases
    ]
    plane = plan.plane(loads.plane)
    where = f" on {plane.name}" if plane is not None else ""
    said = "Something of it is assumed, not given." if plan.screening.assumed else "All of it is given."
    return f"Heaviest{where}: {', '.join(parts)}. {said}"


def headroom_rows(plan: Plan) -> list[Cells]:
    """The points and what is clear over them."""
    found = {check.object: check for check in plan.screening.checks if check.kind == "headroom"}
    return [
        Cells((point.name or point.id, _clear(plan, found.get(point.id), point)), point.id) for point in _points(plan)
    ]


def _points(plan: Plan) -> tuple[HeadroomPoint, ...]:
    return plan.job.screening.headroom


def _clear(plan: Plan, check: Check | None, point: HeadroomPoint) -> str:
    if check is None or not check.traces:
        return "no roof over it"
    word = "enough" if check.verdict == "passes" else "too low"
    return f"{plan.units.length(check.traces[0].value)}, {word}"


def connector_rows(plan: Plan) -> list[Cells]:
    """What was called for, and how many that is."""
    counts = {called.id: called.count for called in plan.screening.called}
    return [
        Cells((each.name, _place(each), str(counts.get(each.id, 0))), each.id) for each in plan.job.screening.connectors
    ]


def _place(connector: Connector) -> str:
    return PLACE_WORDS[connector.place]
