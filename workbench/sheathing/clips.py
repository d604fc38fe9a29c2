"""Edge clips: where the span table asks for support of the long edges between rafters, and how many. Inches.

Clips stand midway between rafters on every level joint between two rows (common practice, no source); a bay counts
where the joint runs over its middle. Whether they are asked for comes from the panel's span rating and the spacing of
the rafters, and is screening: the panel's stamp and the local code go first.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from workbench.roof.model import Plane
from workbench.rules.panel_spans import LOW_SLOPE_TANGENT, PanelSpan, panel_span
from workbench.sheathing.columns import bay_of
from workbench.sheathing.model import ClipLine, Seam

_NOISE_IN = 1e-6


def clips_a_span(plane: Plane, supports: tuple[float, ...], rating: str) -> tuple[int, PanelSpan] | None:
    """Clips between two rafters and the table's row that asks for them; None where none are asked for.

    None too where the rating stands in no table, no rafters are known, or not even clips would do (another rating or
    closer rafters then).

    Args:
        plane: The plane.
        supports: x of its rafters.
        rating: Span rating of the panels, such as ``24/16``.
    """
    spacing = bay_of(supports)
    if spacing <= 0.0:
        return None
    if plane.tangent < LOW_SLOPE_TANGENT - _NOISE_IN:
        low = panel_span(rating, low_slope=True)
        if low is not None:
            return (low.clips, low) if low.clips and spacing <= low.with_support_in + _NOISE_IN else None
    row = panel_span(rating)
    if row is None:
        return None
    bare = row.without_support_in or 0.0
    if bare + _NOISE_IN < spacing <= row.with_support_in + _NOISE_IN:
        return row.clips or 1, row
    return None


def clip_lines(plane: Plane, seams: Sequence[Seam], supports: tuple[float, ...], a_span: int) -> tuple[ClipLine, ...]:
    """The clips of a plane, joint by joint.

    Args:
        plane: The plane.
        seams: Its joints.
        supports: x of its rafters.
        a_span: Clips between two rafters.
    """
    lines: list[ClipLine] = []
    middles = [(a + b) / 2.0 for a, b in itertools.pairwise(supports) if b - a > _NOISE_IN]
    for seam in seams:
        if seam.kind != "level" or seam.plane != plane.id:
            continue
        left, right = sorted((seam.start[0], seam.end[0]))
        bays = sum(left < middle < right for middle in middles)
        if bays:
            lines.append(ClipLine(plane.id, seam.start, seam.end, a_span, bays * a_span))
    return tuple(lines)
