"""Two additions side by side on one plane: their long valleys run on the same way and never through each other."""

from __future__ import annotations

from itertools import combinations

from shapely.geometry import LineString

from workbench.framing.solve import frame_roof
from workbench.job import edits
from workbench.job.model import Job
from workbench.measure import Units
from workbench.roof.build import build_roof

OUTLINE = (
    (200.0, -160.0),
    (320.0, -160.0),
    (320.0, 0.0),
    (600.0, 0.0),
    (600.0, 300.0),
    (0.0, 300.0),
    (0.0, 0.0),
    (60.0, 0.0),
    (60.0, -200.0),
    (160.0, -200.0),
    (160.0, 0.0),
    (200.0, 0.0),
)


def test_long_valleys_do_not_cross() -> None:
    job, _ = edits.add_wing(Job(), OUTLINE, ["eave"] * len(OUTLINE), slope_in_12=8.0, eave_overhang_in=12.0)
    framing, _ = frame_roof(build_roof(job.wings, Units()).wings, Units())
    valleys = [
        LineString([placement.start[:2], placement.end[:2]])
        for member in framing.members
        if member.kind == "valley_rafter"
        for placement in member.placements
    ]
    # Valleys as far as the ridges of the additions: 62·√2 and 72·√2 in. One of each pair runs on, to ridge or hip.
    assert sorted(round(valley.length) for valley in valleys)[:2] == [87, 101]
    assert sum(valley.length > 120.0 for valley in valleys) == 2
    for one, other in combinations(valleys, 2):
        assert not one.crosses(other)
