"""What a plane page says of factory edges, strength and faces."""

from __future__ import annotations

from workbench.drawing.factory import sawn_at_joints
from workbench.handout.words import ranges
from workbench.plan import Plan


def plane_edge_words(plan: Plan, plane_id: str) -> str:
    """Which edges go where on a plane, and between which rows a sawn edge lies; empty without pieces."""
    sheets = plan.sheets_of(plane_id)
    if sheets is None or not sheets.pieces:
        return ""
    over = any(cut.turned_over and cut.plane == plane_id for sheet in plan.sheathing.stock for cut in sheet.cuts)
    face = 'marked face up, "turn over" face down' if over else "marked face up"
    below, above = sawn_at_joints(plan, plane_id, "lower"), sawn_at_joints(plan, plane_id, "upper")
    sawn = [f"{ranges(labels)} {word}" for labels, word in ((above, "on top"), (below, "below")) if labels]
    exceptions = f" Sawn at a joint: {'; '.join(sawn)}." if sawn else ""
    return f"Factory edges at joints, long side level, {face}.{exceptions}"
