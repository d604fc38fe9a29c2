"""Rows of the safety page's tables. No widgets here."""

from __future__ import annotations

from workbench.bench.table import Cells
from workbench.measure import Units
from workbench.plan import Plan
from workbench.safety.model import AnchorPlan, Fall
from workbench.safety.words import governs_words, grouped, need_words, rope_words


def height_rows(plan: Plan) -> list[Cells]:
    """Lowest and highest point of each plane, and whether it counts as steep."""
    units = plan.units
    rows: list[Cells] = []
    for plane in plan.roof.planes:
        heights = [corner[2] for corner in plane.corners]
        steep = "steep" if plan.safety.rules.is_steep(plane.tangent) else "low slope"
        texts = (plane.name, units.length(min(heights)), units.length(max(heights)), steep)
        rows.append(Cells(texts, f"plane:{plane.id}"))
    return rows


def fall_rows(plan: Plan) -> list[Cells]:
    """Every edge one can fall over, with its greatest drop and whether protection is needed; like ones in one row."""
    rows: list[Cells] = []
    for group in grouped(plan.safety.falls):
        drop = plan.units.length(max(fall.drop_in for fall in group))
        rows.append(Cells((group[0].name, drop, need_words(group[0])), fall_key(group[0])))
    return rows


def fall_key(fall: Fall) -> str:
    """What a fall's row selects: its opening or drawn edge, else its plane."""
    if fall.opening:
        return f"opening:{fall.opening}"
    return f"edge:{fall.drawn}" if fall.drawn else f"plane:{fall.plane}"


def anchor_rows(plan: Plan) -> list[Cells]:
    """The anchors with their ropes and what governs them."""
    return [
        Cells((anchor.name, rope_words(anchor, plan.units), governs_words(anchor)), f"anchor:{anchor.id}")
        for anchor in plan.safety.anchors
    ]


def limit_rows(anchor: AnchorPlan, units: Units, connector_in: float) -> list[Cells]:
    """For each open edge the distance and the rope that it allows, the shortest first."""
    rows: list[Cells] = []
    for limit in anchor.limits:
        rope = limit.total_in - connector_in
        mark = " (straight)" if limit.straight else ""
        allowed = units.length(rope) if rope > 0.0 else "none"
        rows.append(Cells((limit.fall.name + mark, units.length(limit.distance_in), allowed), fall_key(limit.fall)))
    return rows


def ladder_rows(plan: Plan) -> list[Cells]:
    """A ladder to the middle of each eave."""
    units = plan.units
    return [
        Cells(
            (
                ladder.fall.name,
                units.length(ladder.height_in),
                units.length(ladder.foot_out_in),
                units.length(ladder.rails_in),
            ),
            fall_key(ladder.fall),
        )
        for ladder in plan.safety.ladders
    ]
