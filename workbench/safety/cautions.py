"""What stands beside every figure about falls, on screen and on paper."""

from __future__ import annotations

GEOMETRY_ONLY = (
    "These are limits from geometry and nothing more. Anchors, connectors, rescue and the choice between restraint and "
    "arrest belong to a competent person and the rule in force where the work is done."
)
ARREST_GRADE = (
    "On a slope, federal guidance asks for arrest-grade anchors even for restraint: a slip near the ridge is a slide "
    "that may not stop before the eave (OSHA letter of interpretation of 30 May 1996)."
)
ROPE_RULES = (
    "One person an anchor unless it is rated for more.",
    "The rope is kept taut by an adjuster, and has a stop at the permitted length.",
    "A rope over a sharp edge is guarded.",
    "An anchor counts only from the stage of work at which it is built.",
    "The first row is placed from below: ladder, scaffold or guarded deck.",
    "A deck or rail takes an edge away only where it is guarded, wide and strong enough and the drop on to it is under "
    "the trigger.",
    "A rope longer than the slope hangs over the eave and is in the way: pick the rope by the roof.",
)
SITE_RULES = (
    "Wind: a sheet is a sail. Stop carrying when it takes hold of the sheet.",
    "Wet, frost and sawdust make every slope slide.",
    "Power lines: find them before the first ladder stands; keep ladders, sheets and metal well away.",
    "No stack on one spot: spread it over several rafters, and block it against sliding.",
    "Step on no sheet before it is fastened; leave none loose overnight.",
    "Two people take two halves; ropes and hoses do not cross.",
)
SITE_SOURCE = "common practice, no source"
RAKES_NOT_RESTRAINED = "Only the eave limits this rope: the rake is NOT restrained."
FALL_SOURCE = "screening; a competent person and the rule in force decide"
