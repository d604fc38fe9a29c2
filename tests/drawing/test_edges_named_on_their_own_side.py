"""Where a lower roof runs in under an eave, the eave's length stands beside it, not on the lower roof."""

from __future__ import annotations

import shapely

from workbench.drawing.layout import lay_out
from workbench.drawing.roof_plan import plane_ring, roof_plan
from workbench.job.read import read_job
from workbench.plan import solve
from workbench.resources import sample_jobs


def width(text: str, size: float) -> float:
    return 0.6 * size * len(text)


def test_an_eave_is_not_named_on_the_porch_below_it():
    """Reference: shapely, a point in a polygon."""
    plan = solve(read_job(next(path for path in sample_jobs() if path.stem == "small-house")), "preview")
    for scale in (0.55, 0.75, 1.1):
        laid = lay_out(roof_plan(plan), scale, width)
        porch = shapely.Polygon([(scale * x, scale * y) for x, y in plane_ring(plan.roof.plane("porch/e1"))])
        (eave,) = (text for text in laid.texts if text.key == "edge:main/e1" and text.role == "dimension")
        assert not porch.contains(shapely.Point(eave.centre)), scale
