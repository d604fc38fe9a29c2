"""The order of drying in on the roof from above: what each step is laid along, with its number. Plan axes, inches."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace

from workbench.drawing.primitives import Drawing, Line, Polygon, Primitive, Role, Text
from workbench.drawing.roof_plan import flat, roof_plan
from workbench.drying_in.model import Run, Step, StepKind
from workbench.plan import Plan
from workbench.roof.model import Point2

_SAME_IN = 1e-3
_ROOM_IN = 36.0  # a shorter run has no room for a number amid sheets
_ROLES: dict[StepKind, Role] = {
    "eave_metal": "cut_line",
    "rake_metal": "cut_line",
    "ice": "rope",
    "valley": "valley",
    "upslope_tape": "joint",
    "level_tape": "snap_line",
    "hip_tape": "snap_line",
    "ridge_tape": "snap_line",
    "underlayment": "joint",
    "wall": "wall",
    "opening": "opening",
    "ridge_slot": "ridge",
}
_ON_SURFACE: frozenset[StepKind] = frozenset(("upslope_tape", "level_tape", "underlayment", "ice"))


def dry_in_from_above(plan: Plan, step: int | None = None) -> Drawing:
    """The roof from above with every step's lines and numbers; what has no room for its name or number goes without.

    Keys: ``dry:<number>`` what a step is laid along; the others as in ``roof_plan``.

    Args:
        plan: The solved job.
        step: Only this step's lines and numbers.
    """
    base = roof_plan(plan, lengths=False, slopes=False)
    polygons = [item for item in base.items if isinstance(item, Polygon)]
    rest = [_brief(item) for item in base.items if not isinstance(item, Polygon)]
    drawn = list(steps_drawn(plan, step))
    marks = [item for item in drawn if not isinstance(item, Text)]
    numbers = [item for item in drawn if isinstance(item, Text)]
    return Drawing((*polygons, *marks, *rest, *numbers))


def steps_over(plan: Plan, numbers: Iterable[int]) -> Drawing:
    """The lines and numbers of some steps by themselves, to be laid over another drawing of the roof from above.

    Every number stays on its line; on short runs that are not the step's longest there is none.
    """
    drawn = (item for number in numbers for item in steps_drawn(plan, number))
    items = (item for item in drawn if not isinstance(item, Text) or not item.shorter or item.span >= _ROOM_IN)
    # A key of their own, so that no painter lets them slide along their lines.
    held = (replace(i, key=f"{i.key}/number", span=0.0, shorter=()) if isinstance(i, Text) else i for i in items)
    return Drawing(tuple(sorted(held, key=lambda item: isinstance(item, Text))))


def _brief(item: Primitive) -> Primitive:
    """A plane's name, left out where it has no room: the numbers matter more here."""
    if isinstance(item, Text) and item.role == "plane_name":
        return replace(item, size="label", shorter=("",))
    return item


def steps_drawn(plan: Plan, step: int | None = None) -> Iterator[Primitive]:
    """The lines of the steps with their numbers, to be laid over a roof from above."""
    for each in plan.drying_in.steps:
        if step is not None and each.number != step:
            continue
        role, key = _ROLES[each.kind], f"dry:{each.number}"
        if each.kind not in ("underlayment", "opening"):
            yield from (Line(key, role, flat(run.start), flat(run.end)) for run in each.runs)
        for run in _numbered(each):
            start, end = flat(run.start), flat(run.end)
            at = _place(each, start, end)
            # On a short run the number gives way; the longest always has it.
            only = run.length_in < max(other.length_in for other in each.runs) - _SAME_IN
            shorter = ("",) if only else ()
            yield Text(
                key, "title", at, str(each.number), "large", back=True, shorter=shorter, span=math.dist(start, end)
            )


def _numbered(step: Step) -> list[Run]:
    """Where a step's number stands: on its runs, longest first; of joints and courses on the longest one only."""
    runs = sorted(step.runs, key=lambda run: -run.length_in)
    return runs[:1] if step.kind in _ON_SURFACE else runs


def _place(step: Step, start: Point2, end: Point2) -> Point2:
    """A third along, or two thirds, so that what shares a line stands side by side."""
    share = 0.35 if step.number % 2 else 0.6
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
