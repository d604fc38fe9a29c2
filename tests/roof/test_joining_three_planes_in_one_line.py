"""Where more than two planes end in one line: neighbours are mutual, or there is none."""

from __future__ import annotations

from collections import defaultdict

from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.job import edits
from workbench.job.model import Heel, Job
from workbench.measure import Units
from workbench.roof.build import BuiltRoof, build_roof

KINDS = (("eave", "rake", "eave", "rake"), ("rake", "eave", "rake", "eave"), ("eave",) * 4)
HEEL = Heel(given="hap", hap_in=6.0)


@st.composite
def clusters(draw: st.DrawFn) -> Job:
    """Four or five wings on a grid of 2 ft, so that many lines fall together."""
    job = Job()
    for _ in range(draw(st.integers(4, 5))):
        wide, deep = draw(st.integers(3, 20)) * 24.0, draw(st.integers(3, 15)) * 24.0
        x, y = draw(st.integers(-6, 12)) * 24.0, draw(st.integers(-6, 12)) * 24.0
        job, _ = edits.add_wing(
            job,
            [(x, y), (x + wide, y), (x + wide, y + deep), (x, y + deep)],
            list(draw(st.sampled_from(KINDS))),
            heel=HEEL,
            slope_in_12=draw(st.sampled_from([6.0, 8.0, 12.0])),
            plate_in=draw(st.sampled_from([97.125, 121.125])),
            eave_overhang_in=draw(st.sampled_from([0.0, 12.0, 16.0])),
            rake_overhang_in=draw(st.sampled_from([0.0, 12.0])),
        )
    return job


def check_mutual(built: BuiltRoof) -> int:
    """How many lines end more than two planes; every neighbour named there names its own back."""
    at: dict[frozenset[object], dict[str, str | None]] = defaultdict(dict)
    for plane in built.roof.planes:
        for edge in plane.all_edges:
            at[frozenset((edge.start, edge.end))][plane.id] = edge.neighbour
    for names in at.values():
        for name, neighbour in names.items():
            if neighbour in names:
                assert names[neighbour] == name
    return sum(len(names) > 2 for names in at.values())


@settings(max_examples=25)
@given(clusters())
def test_neighbours_name_each_other(job: Job) -> None:
    check_mutual(build_roof(job.wings, Units()))


def test_the_third_plane_in_a_valley_has_no_neighbour() -> None:
    """Two equal slopes fall to a valley, and below one of them a third plane ends in the same line."""
    east = ("rake", "eave", "rake", "eave")
    wings = (
        ((-48.0, 120.0), (168.0, 216.0), east, 12.0, 97.125, 0.0),
        ((-72.0, -96.0), (120.0, 144.0), ("eave", "rake", "wall", "rake"), 6.0, 121.125, 16.0),
        ((-120.0, 120.0), (192.0, 312.0), ("eave",) * 4, 8.0, 97.125, 0.0),
        ((72.0, 120.0), (216.0, 240.0), east, 12.0, 97.125, 16.0),
    )
    job = Job()
    for (x0, y0), (x1, y1), kinds, slope, plate, eaves in wings:
        job, _ = edits.add_wing(
            job,
            [(x0, y0), (x1, y0), (x1, y1), (x0, y1)],
            list(kinds),
            heel=HEEL,
            slope_in_12=slope,
            plate_in=plate,
            eave_overhang_in=eaves,
            rake_overhang_in=0.0 if "rake" not in kinds else 12.0,
        )
    assert check_mutual(build_roof(job.wings, Units())) == 1
