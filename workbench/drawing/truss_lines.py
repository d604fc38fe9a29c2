"""Where trusses by others stand, from above: their lines on each plane, and one label a plane. Plan axes, inches."""

from __future__ import annotations

import math
from collections.abc import Iterator

from workbench.drawing.primitives import Line, Text
from workbench.drawing.roof_plan import flat
from workbench.drawing.shapes import direction_deg, middle, spans_at_y
from workbench.framing.trusses import BY_OTHERS
from workbench.plan import Plan


def has_trusses(plan: Plan) -> bool:
    """Whether any wing of a plan is framed with trusses."""
    return any(wing.framed_with == "trusses" for wing in plan.job.wings)


def truss_items(plan: Plan, wing: str | None = None) -> Iterator[Line | Text]:
    """The lines of the trusses, and on each plane what they are.

    Args:
        plan: The plan.
        wing: Only those of this wing.
    """
    trussed = {each.id: each for each in plan.job.wings if each.framed_with == "trusses" and wing in (None, each.id)}
    for plane in plan.roof.planes:
        if plane.wing not in trussed:
            continue
        turned = [(y, x) for x, y in plane.polygon]
        lines: list[Line] = []
        for x in plan.framing.supports_of(plane.id):
            for low, high in spans_at_y(turned, x):
                start, end = (flat(plane.to_space((x, y))) for y in (low, high))
                lines.append(Line(f"plane:{plane.id}", "rafter", start, end))
        yield from lines
        if lines:
            longest = max(
                lines[len(lines) // 3 : 2 * len(lines) // 3 + 1], key=lambda line: math.dist(line.start, line.end)
            )
            spacing = plan.units.inches(trussed[plane.wing].rafter.spacing_in)
            yield Text(
                f"plane:{plane.id}",
                "note",
                middle(longest.start, longest.end),
                f"{BY_OTHERS}, {spacing} on centre",
                "label",
                direction_deg(longest.start, longest.end),
                back=True,
                shift=0.5,
                shorter=(BY_OTHERS,),
                span=math.dist(longest.start, longest.end),
            )
