"""Points to stand upright at, on the roof from above: a cross and what is clear there. Plan axes, inches."""

from __future__ import annotations

from workbench.drawing.primitives import Drawing, Line, Primitive, Text
from workbench.plan import Plan

_ARM_IN = 9.0


def headroom_marks(plan: Plan) -> Drawing:
    """A cross at each headroom point with its name and clear height.

    Keys: ``headroom:<id>``.
    """
    found = {check.object: check for check in plan.screening.checks if check.kind == "headroom"}
    items: list[Primitive] = []
    for point in plan.job.screening.headroom:
        key, x, y = f"headroom:{point.id}", point.x_in, point.y_in
        items.append(Line(key, "note", (x - _ARM_IN, y - _ARM_IN), (x + _ARM_IN, y + _ARM_IN)))
        items.append(Line(key, "note", (x - _ARM_IN, y + _ARM_IN), (x + _ARM_IN, y - _ARM_IN)))
        check = found.get(point.id)
        clear = plan.units.length(check.traces[0].value) if check is not None and check.traces else "?"
        words = f"{point.name or point.id}: {clear} clear"
        items.append(Text(key, "note", (x, y), words, "label", back=True, shift=3.5))
    return Drawing(tuple(items))
