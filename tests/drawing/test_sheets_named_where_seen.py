"""A sheet that runs on below another roof is named on the part of it that shows, or not at all."""

from __future__ import annotations

import pytest
import shapely

from workbench.drawing.primitives import Polygon, Text
from workbench.drawing.sheet_plan import sheets_from_above
from workbench.job.read import read_job
from workbench.plan import solve
from workbench.resources import sample_jobs


@pytest.mark.parametrize("name", ["cut-up-house", "small-house", "l-house"])
def test_no_label_stands_on_a_sheet_drawn_over_its_own(name):
    """Reference: shapely, points in polygons; the plan's items are in drawing order."""
    plan = solve(read_job(next(path for path in sample_jobs() if path.stem == name)), "preview")
    items = sheets_from_above(plan).items
    sheets = [item for item in items if isinstance(item, Polygon) and item.key.startswith("piece:")]
    order = {item.key: i for i, item in enumerate(sheets)}
    shapes = [shapely.Polygon(item.points).buffer(-1.0) for item in sheets]
    wings = [item.key.removeprefix("piece:").partition("/")[0] for item in sheets]
    texts = [item for item in items if isinstance(item, Text) and item.key in order]
    assert texts
    for text in texts:
        own, at = order[text.key], shapely.Point(text.at)
        assert shapely.Polygon(sheets[own].points).buffer(1e-6).contains(at), text.text
        over = [i for i in range(own + 1, len(sheets)) if wings[i] != wings[own] and shapes[i].contains(at)]
        assert not over, (text.key, sheets[over[0]].key if over else "")


def test_every_sheet_that_shows_has_its_name():
    plan = solve(read_job(next(path for path in sample_jobs() if path.stem == "plain-gable")), "preview")
    items = sheets_from_above(plan).items
    named = {item.key for item in items if isinstance(item, Text)}
    assert named == {item.key for item in items if isinstance(item, Polygon) and item.key.startswith("piece:")}
