"""What is bought with the sheets: boxes or coils of nails, edge clips."""

from __future__ import annotations

import math

from workbench.job.model import Job
from workbench.measure import Trace
from workbench.quantities.model import Quantity
from workbench.rules.panel_spans import panel_span
from workbench.sheathing.model import SheathingPlan


def sheet_sundries(job: Job, sheathing: SheathingPlan) -> tuple[Quantity, ...]:
    """Boxes of nails and edge clips, in the order of work."""
    return (*_boxes(job, sheathing), *_clips(job, sheathing))


def _boxes(job: Job, sheathing: SheathingPlan) -> list[Quantity]:
    total = sum(sheathing.nail_counts.values())
    size = job.fastening.box_of
    if not total or size is None:
        return []
    count = math.ceil(total / size)
    trace = Trace(
        "boxes of sheathing nails",
        float(count),
        "count",
        "nails, net / nails in a box or coil, rounded up",
        f"{total} / {size} → {count}; no allowance for lost nails",
        "the job's size of a box",
    )
    return [
        Quantity("sheathing-nail-boxes", "fastening", f"boxes of {size} sheathing nails", float(count), "pieces", trace)
    ]


def _clips(job: Job, sheathing: SheathingPlan) -> list[Quantity]:
    total = sum(line.count for line in sheathing.clip_lines)
    if not total:
        return []
    rating = job.sheathing.span_rating
    row = panel_span(rating)
    trace = Trace(
        "edge clips",
        float(total),
        "count",
        "level joints between rows x rafter bays whose middle they pass x clips a bay, where the span table asks for "
        "edge support",
        f"{len(sheathing.clip_lines)} joints → {total}; panels rated {rating}",
        row.source if row is not None else "the span table",
    )
    text = f"edge clips for {job.sheathing.thickness} panels"
    return [Quantity("edge-clips", "fastening", text, float(total), "pieces", trace)]
