"""The safety stage as part of the solved job's JSON: inches, unrounded."""

from __future__ import annotations

from workbench.safety.cautions import GEOMETRY_ONLY
from workbench.safety.model import AnchorPlan, Carrying, Fall, Heat
from workbench.safety.solve import SafetyPlan

Json = dict[str, object]


def safety_json(safety: SafetyPlan) -> Json:
    """Falls with their triggers, anchors with their rope limits, what the ropes serve."""
    return {
        "caution": GEOMETRY_ONLY,
        "rule_set": safety.rules.id,
        "falls": [_fall_json(fall) for fall in safety.falls],
        "anchors": [_anchor_json(anchor) for anchor in safety.anchors],
        "served": [{"plane": plane.plane, "share": plane.share} for plane in safety.planes],
        "ladders": [
            {
                "name": ladder.fall.name,
                "height_in": ladder.height_in,
                "foot_out_in": ladder.foot_out_in,
                "rails_in": ladder.rails_in,
            }
            for ladder in safety.ladders
        ],
        "halves": [
            {
                "plane": half.plane,
                "split_in": half.split_in,
                "left": list(half.left),
                "right": list(half.right),
                "crossing": [list(pair) for pair in half.crossing],
            }
            for half in safety.halves
        ],
        "carrying": None if safety.carrying is None else _carrying_json(safety.carrying),
        "heat": None if safety.heat is None else _heat_json(safety.heat),
    }


def _carrying_json(found: Carrying) -> Json:
    return {
        "sheet_lb": found.sheet_lb,
        "sheets_lb": found.sheets_lb,
        "trips": found.trips,
        "one_lift_lb": found.limit_lb,
        "stack_lb": found.stack_lb,
        "stack_psf": found.stack_psf,
        "deck_psf": found.deck_psf,
        "deck_class": found.deck_class,
    }


def _heat_json(found: Heat) -> Json:
    return {
        "index_shade_f": found.shade_f,
        "index_sun_f": found.sun_f,
        "shade_class": found.shade_class,
        "sun_class": found.sun_class,
        "turns": [{"work": t.work, "sun_minutes": t.sun_min, "shade_minutes": t.shade_min} for t in found.turns],
    }


def _fall_json(fall: Fall) -> Json:
    return {
        "name": fall.name,
        "kind": fall.kind,
        "plane": fall.plane,
        "least_drop_in": fall.least_drop_in,
        "drop_in": fall.drop_in,
        "trigger_in": fall.trigger.height_in,
        "needed": fall.needed,
        "guarded": fall.guarded,
        "source": fall.trigger.source,
    }


def _anchor_json(anchor: AnchorPlan) -> Json:
    return {
        "id": anchor.id,
        "plane": anchor.plane,
        "at_in": list(anchor.point),
        "built": anchor.built,
        "rope_in": anchor.rope_in,
        "permitted_rope_in": anchor.permitted_in,
        "rope_too_long": anchor.too_long,
        "together_in": anchor.set_in,
        "governs": anchor.governs.fall.name if anchor.governs is not None else "",
        "rakes_restrained": not any(exposure.fall.kind == "rake" for exposure in anchor.exposed),
        "limits": [
            {"name": limit.fall.name, "distance_in": limit.distance_in, "together_in": limit.total_in}
            for limit in anchor.limits
        ],
        "exposed": [
            {
                "name": exposure.fall.name,
                "along_in": exposure.along_in,
                "passes": exposure.passes,
                "free_fall_in": exposure.free_fall_in,
                "swing_in": exposure.swing_in,
                "clearance_in": exposure.clearance_in,
            }
            for exposure in anchor.exposed
        ],
    }
