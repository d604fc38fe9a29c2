"""Wings that miss each other by less than the lattice are put in line, and it is said; nothing goes in silence."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.job import edits
from workbench.job.model import Job, Landing
from workbench.measure import Units
from workbench.roof.build import BuiltRoof, build_roof
from workbench.roof.nearly import NEARLY_IN, in_line

MAIN = ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))
KINDS = ["eave", "rake", "eave", "rake"]
OVERHANGS = {"eave_overhang_in": 16.0, "rake_overhang_in": 12.0}


def two(outline: Any, kinds: Any = ("rake", "eave", "rake", "eave"), turn: float = 0.0, **fields: Any) -> Job:
    def turned(points: Any) -> list[tuple[float, float]]:
        c, s = math.cos(turn), math.sin(turn)
        return [(x * c - y * s, x * s + y * c) for x, y in points]

    job, _ = edits.add_wing(Job(), turned(MAIN), KINDS, slope_in_12=7.0, **OVERHANGS)
    return edits.add_wing(job, turned(outline), list(kinds), **{"slope_in_12": 7.0, **OVERHANGS, **fields})[0]


def roof(job: Job) -> BuiltRoof:
    return build_roof(job.wings, Units())


def told(built: BuiltRoof) -> list[str]:
    return [finding.code for finding in built.findings]


def shape(built: BuiltRoof) -> list[tuple[str, float, list[str]]]:
    planes = built.roof.planes
    return [(plane.id, round(plane.area_sqft, 1), [edge.kind for edge in plane.edges]) for plane in planes]


ADDITION = ((60.0, -200.0), (396.0, -200.0), (396.0, 168.0), (60.0, 168.0))


@settings(max_examples=25)
@given(
    st.sampled_from(["in line", "height", "slope"]),
    st.floats(-6.5, -1.9).map(lambda power: 10.0**power),
    st.sampled_from([1.0, -1.0]),
    st.sampled_from([0.0, 0.5, 1.2]),
)
def test_what_misses_by_less_than_the_lattice_makes_the_roof_it_was_meant_to(
    what: str, off: float, sign: float, turn: float
) -> None:
    off = min(off, NEARLY_IN * 0.9) * sign
    beside = ((480.0, 0.0), (700.0, 0.0), (700.0, 336.0), (480.0, 336.0))
    if what == "in line":
        meant = two(beside, KINDS, turn)
        missed = two([(x, y + off) for x, y in beside], KINDS, turn)
    elif what == "height":
        meant, missed = two(ADDITION, turn=turn), two(ADDITION, turn=turn, plate_in=97.125 + off)
    else:
        meant, missed = two(ADDITION, turn=turn), two(ADDITION, turn=turn, slope_in_12=7.0 + off / 16.0)
    assert shape(roof(missed)) == shape(roof(meant))
    assert "nearly-in-line" in told(roof(missed))
    assert "nearly-in-line" not in told(roof(meant))


def test_a_wing_is_shifted_whole_so_that_its_ridge_keeps_its_height() -> None:
    job = two([(x + 1e-3, y) for x, y in ((0.0, -200.0), (336.0, -200.0), (336.0, 168.0), (0.0, 168.0))])
    wings, findings = in_line(job.wings, Units())
    assert wings[0] is job.wings[0]
    assert wings[1].outline == ((0.0, -200.0), (336.0, -200.0), (336.0, 168.0), (0.0, 168.0))
    assert [finding.object for finding in findings] == ["wing-2"]


def test_the_lattice_itself_is_kept() -> None:
    job = two([(x, y + NEARLY_IN) for x, y in ADDITION], plate_in=97.125 + NEARLY_IN, slope_in_12=7.01)
    wings, findings = in_line(job.wings, Units())
    assert all(a is b for a, b in zip(wings, job.wings, strict=True))
    assert findings == ()


def test_what_is_to_be_found_is_left_alone() -> None:
    job = two(ADDITION, plate_in=97.126)
    job = edits.set_wing(job, "wing-2", landing=Landing(find="low_plate", landing_in=200.0))
    assert in_line(job.wings, Units())[0][1] is job.wings[1]


@pytest.mark.parametrize("wide", [0.5, 11.0])
def test_a_plane_of_which_hardly_anything_is_left_is_told(wide: float) -> None:
    """A wing over all but a strip of the main roof's front."""
    job = two(((-40.0, -60.0), (480.0 - wide, -60.0), (480.0 - wide, 400.0), (-40.0, 400.0)), KINDS, plate_in=150.0)
    job = edits.set_wing(job, "wing-1", rake_overhang_in=0.0)
    job = edits.set_wing(job, "wing-2", rake_overhang_in=0.0)
    assert ("small-plane" in told(roof(job))) == (wide < 1.0)
    small = [f for f in roof(job).findings if f.code == "small-plane"]
    areas = {plane.id: plane.area_sqft * 144.0 for plane in roof(job).roof.planes}
    assert {f.object for f in small} == {name for name, area in areas.items() if area < 144.0}
