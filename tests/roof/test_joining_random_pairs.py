"""Any two or three wings, anywhere: covered once, edges of one kind, valleys level on both planes."""

from __future__ import annotations

import math

from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.job import edits
from workbench.job.model import Heel, Job
from workbench.measure import Units
from workbench.roof.build import build_roof

KINDS = [
    ["eave", "rake", "eave", "rake"],
    ["rake", "eave", "rake", "eave"],
    ["eave", "eave", "eave", "eave"],
    ["eave", "rake", "wall", "rake"],
]
HEEL = Heel(given="hap", hap_in=6.0)


def turned(left, low, width, depth, angle):
    c, s = math.cos(angle), math.sin(angle)
    corners = ((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth))
    return [(left + x * c - y * s, low + x * s + y * c) for x, y in corners]


def sixteenths(low, high):
    """Lengths as they stand on drawings, to 1/16 in."""
    return st.integers(16 * low, 16 * high).map(lambda k: k / 16.0)


@st.composite
def wing(draw, kinds, *, on_grid):
    """A rectangle with a roof; on the grid many lines of two wings fall together."""

    def measure(low, high, step):
        return float(draw(st.integers(low // step, high // step)) * step) if on_grid else draw(sixteenths(low, high))

    turn = st.sampled_from([0.0, math.pi / 2, math.pi / 4]) if on_grid else st.integers(0, 359).map(math.radians)
    outline = turned(
        measure(-144, 144, 24), measure(-144, 144, 24), measure(72, 480, 24), measure(72, 360, 24), draw(turn)
    )
    fields = {
        "slope_in_12": draw(st.sampled_from([4.0, 6.0, 8.0, 12.0])) if on_grid else draw(st.integers(4, 32)) / 2.0,
        "plate_in": draw(st.sampled_from([97.125, 121.125])) if on_grid else draw(sixteenths(90, 150)),
        "eave_overhang_in": draw(st.sampled_from([0.0, 12.0, 16.0])),
        "rake_overhang_in": draw(st.sampled_from([0.0, 12.0])),
        "fascia": draw(st.sampled_from(["level", "equal_overhang"])),
        "joins": draw(st.sampled_from(["framed", "framed", "overframed"])),
    }
    return outline, draw(st.sampled_from(kinds)), fields


def job_of(*wings):
    job = Job()
    for outline, kinds, fields in wings:
        job, _ = edits.add_wing(job, outline, kinds, heel=HEEL, **fields)
    return job


@settings(max_examples=60, deadline=None)
@given(first=wing(KINDS[:2], on_grid=False), second=wing(KINDS[:2], on_grid=False))
def test_two_gables_anywhere_make_one_roof(joined_anew, first, second) -> None:
    # Lines that pass one another within a thousandth of an inch count as one, and heights with them.
    joined_anew(job_of(first, second), within=2e-3)


@settings(max_examples=60, deadline=None)
@given(first=wing(KINDS, on_grid=True), second=wing(KINDS, on_grid=True))
def test_two_wings_with_lines_in_common_make_one_roof(joined_anew, first, second) -> None:
    joined_anew(job_of(first, second))


@settings(max_examples=25, deadline=None)
@given(wings=st.tuples(*(wing(KINDS, on_grid=True) for _ in range(3))))
def test_three_wings_keep_to_what_every_roof_keeps_to(joined_anew, wings) -> None:
    joined_anew(job_of(*wings), may_be_undecided=True)


@settings(max_examples=40, deadline=None)
@given(only=wing(KINDS, on_grid=False), dx=st.floats(-0.05, 0.05), dy=st.floats(-0.05, 0.05))
def test_a_wing_drawn_almost_twice_does_no_harm(only, dx, dy) -> None:
    outline, kinds, fields = only
    fields = {**fields, "joins": "framed"}
    job = job_of((outline, kinds, fields), ([(x + dx, y + dy) for x, y in outline], kinds, fields))
    alone, both = build_roof(job.wings[:1], Units()).roof, build_roof(job.wings, Units()).roof
    area = sum(plane.area_sqft for plane in alone.planes)
    assert abs(sum(plane.area_sqft for plane in both.planes) - area) < 0.01 * area + 4.0
