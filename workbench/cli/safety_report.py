"""The safety stage as part of the solved job's JSON: inches, unrounded."""

from __future__ import annotations

from workbench.safety.model import AnchorPlan, Fall
from workbench.safety.solve import SafetyPlan

Json = dict[str, object]


def safety_json(safety: SafetyPlan) -> Json:
    """Falls with their triggers, anchors with their rope limits, what the ropes serve."""
    return {
        "rule_set": safety.rules.id,
        "falls": [_fall_json(fall) for fall in safety.falls],
        "anchors": [_anchor_json(anchor) for anchor in safety.anchors],
        "served": [{"plane": plane.plane, "share": plane.share} for plane in safety.planes],
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
