"""Screening and drying in as parts of the solved job's JSON: inches, psf, pounds a foot, unrounded."""

from __future__ import annotations

from workbench.drying_in.model import DryInPlan
from workbench.screening.model import ScreeningPlan

Json = dict[str, object]


def screening_json(screening: ScreeningPlan) -> Json:
    """Loads by plane, checks with their use ratio, outward force at the plates, hardware counted."""
    return {
        "assumed": screening.assumed,
        "loads": [
            {
                "plane": loads.plane,
                "dead_psf": loads.dead_psf,
                "live_psf": loads.live_psf,
                "snow_psf": loads.snow_psf,
            }
            for loads in screening.loads
        ],
        "checks": [
            {
                "kind": check.kind,
                "object": check.object,
                "verdict": check.verdict,
                "use": check.use,
                "text": check.text,
                "mend": check.mend,
                "source": check.source,
            }
            for check in screening.checks
        ],
        "thrust": [
            {"plane": found.plane, "plf": found.plf, "at_tie_lb": found.at_tie_lb} for found in screening.thrusts
        ],
        "connectors": [{"id": each.id, "name": each.name, "count": each.count} for each in screening.called],
    }


def drying_in_json(dry: DryInPlan) -> Json:
    """Steps in the order of work, what is bought, the ice barrier by eave, air."""
    air = dry.air
    return {
        "steps": [
            {
                "number": step.number,
                "kind": step.kind,
                "title": step.title,
                "length_in": step.length_in,
                "runs": [{"plane": run.plane, "name": run.name, "length_in": run.length_in} for run in step.runs],
            }
            for step in dry.steps
        ],
        "materials": [
            {"code": each.code, "name": each.name, "amount": each.amount, "unit": each.unit} for each in dry.materials
        ],
        "tapes": [
            {
                "code": tape.code,
                "rolls": tape.rolls,
                "laid_in": tape.laid_in,
                "left_in": tape.left_in,
                "seams": [
                    {"kind": use.kind, "seams": use.seams, "length_in": use.length_in, "laid_in": use.laid_in}
                    for use in tape.uses
                ],
            }
            for tape in dry.tapes
        ],
        "ice_barrier": [
            {"plane": barrier.plane, "up_in": barrier.up_in, "courses": barrier.courses} for barrier in dry.barriers
        ],
        "air": None
        if air is None
        else {
            "area_sqft": air.area_sqft,
            "needed_sqin": air.needed_sqin,
            "ridge_sqin": air.upper_sqin,
            "intake_sqin": air.intake_sqin,
            "vented_blocks": air.bays,
            "open_in": air.open_in,
            "slot_in": air.slot_in,
        },
    }
