"""Which round handle lies under a pixel."""

from __future__ import annotations

import math
from collections.abc import Callable

from PySide6.QtCore import QPointF

from workbench.bench.surface.tools.base import opening_of, wing_of
from workbench.bench.surface.tools.opening import corners_of
from workbench.job.model import Job
from workbench.plan import Plan
from workbench.roof.model import Point2

HANDLE_REACH_PX = 9.0


def handle_at(job: Job, plan: Plan, selected: str, px: QPointF, to_px: Callable[[Point2], QPointF]) -> str:
    """Key of the handle under a pixel: of the selected opening, else of the selected wing; empty for none."""
    opening, wing = opening_of(job, selected), wing_of(job, selected)
    if opening is not None:
        name, corners = f"handle:{opening.id}", corners_of(plan, opening)
    elif wing is not None:
        name, corners = f"corner:{wing.id}", wing.outline
    else:
        return ""
    for index, corner in enumerate(corners):
        away = to_px(corner) - px
        if math.hypot(away.x(), away.y()) <= HANDLE_REACH_PX:
            return f"{name}/{index}"
    return ""
