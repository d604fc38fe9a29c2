"""The fewest anchors of a plane put into the job. Inches."""

from __future__ import annotations

import math
from collections.abc import Sequence

from workbench.job.model import Job
from workbench.job.safety_edits import add_anchor, remove_anchor
from workbench.roof.model import Plane, Point3
from workbench.safety.anchors import top_of
from workbench.safety.model import AnchorPlan, FewestAnchors

_SAME_IN = 1.0


def set_fewest(job: Job, found: FewestAnchors, plane: Plane, alone: Plane, standing: Sequence[AnchorPlan]) -> Job:
    """The job with the fewest anchors of a plane in the place of those measured on it.

    An anchor that stands at one of the places already is kept, also one of the plane across the ridge.

    Args:
        job: The job.
        found: The fewest anchors.
        plane: Their plane as joined.
        alone: The same plane as its wing has it alone; anchors are measured on it.
        standing: The anchors of the job as planned.

    Raises:
        EditError: An anchor can't be set.
    """
    wanted = [plane.to_space(point) for point in found.points]
    kept = [anchor for anchor in standing if anchor.plane and any(_same(anchor.space, spot) for spot in wanted)]
    mine = {anchor.id for anchor in job.safety.anchors if anchor.plane == alone.id}
    for anchor_id in mine - {anchor.id for anchor in kept}:
        job = remove_anchor(job, anchor_id)
    for spot in wanted:
        if any(_same(anchor.space, spot) for anchor in kept):
            continue
        x, y = alone.to_plane(spot)
        on_top = abs(top_of(alone, x)[0] - y) <= _SAME_IN
        job, _ = add_anchor(job, alone.id, x_in=round(x, 6), y_in=None if on_top else round(y, 6))
    return job


def _same(a: Point3, b: Point3) -> bool:
    return math.dist(a, b) <= _SAME_IN
