"""Whatever the outline of a hip roof: every hip and valley is cut; only a stub may be left out, and is told."""

from __future__ import annotations

import math
from itertools import accumulate

from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from workbench.framing.model import Framing
from workbench.framing.solve import frame_roof
from workbench.job import edits
from workbench.job.model import Hips, Job
from workbench.measure import Units
from workbench.roof.build import BuiltRoof, build_roof
from workbench.roof.model import Point2

Ring = list[Point2]
STUB_IN = 16.0
"""A hip between two ridges' ends that is no longer may be shorter than what is framed to it."""

slopes = st.floats(3.0, 12.0)
hips = st.builds(Hips, head=st.sampled_from(["commons", "ridge"]), top=st.sampled_from(["dropped", "backed"]))


def framed(ring: Ring, slope: float, how: Hips, each: tuple[float, ...] = ()) -> tuple[BuiltRoof, Framing, list[str]]:
    """The roof, its framing, and what is told of members left out."""
    job, wing = edits.add_wing(Job(), ring, ["eave"] * len(ring), slope_in_12=slope, eave_overhang_in=12.0, hips=how)
    for number, of_edge in enumerate(each, 1):
        job = edits.set_edge(job, wing, f"e{number}", slope_in_12=of_edge)
    roof = build_roof(job.wings, Units())
    framing, findings = frame_roof(roof.wings, Units())
    return roof, framing, [told.text for told in findings if told.code == "member-left-out"]


def lines_of(roof: BuiltRoof, kind: str) -> list[float]:
    """Lengths of the roof's lines of one kind, each once."""
    found = {
        frozenset((tuple(round(v, 6) for v in e.start), tuple(round(v, 6) for v in e.end))): e.length_in
        for plane in roof.roof.planes
        for e in plane.all_edges
        if e.kind == kind
    }
    return list(found.values())


def count(framing: Framing, kind: str) -> int:
    return sum(member.count for member in framing.members if member.kind == kind)


def anticlockwise(shape: Polygon) -> Ring:
    ring = list(shape.exterior.coords)[:-1]
    return ring if shape.exterior.is_ccw else ring[::-1]


@settings(max_examples=12, deadline=None)
@given(sides=st.integers(3, 9), across=st.floats(120.0, 500.0), turn=st.floats(0.0, 6.28), slope=slopes, how=hips)
def test_hips_that_all_meet_at_one_point(sides, across, turn, slope, how) -> None:
    """Gazebos: from a triangle to nine sides, one hip a corner and a rafter a side at least."""
    steps = [turn + 2.0 * math.pi * k / sides for k in range(sides)]
    _, framing, told = framed([(across / 2.0 * math.cos(a), across / 2.0 * math.sin(a)) for a in steps], slope, how)
    assert not told
    assert count(framing, "hip_rafter") == sides
    assert not count(framing, "ridge_board")


@settings(max_examples=12, deadline=None)
@given(
    parts=st.lists(
        st.tuples(st.integers(0, 25), st.integers(-10, 12), st.integers(5, 16), st.integers(7, 21)),
        min_size=1,
        max_size=3,
    ),
    slope=slopes,
    how=hips,
)
def test_houses_of_rectangles(parts, slope, how) -> None:
    boxes = [box(20.0 * x, 20.0 * y, 20.0 * (x + w), 20.0 * (y + d)) for x, y, w, d in parts]
    whole = unary_union([box(0.0, 0.0, 600.0, 300.0), *boxes])
    assume(isinstance(whole, Polygon) and not whole.interiors)
    roof, framing, told = framed(anticlockwise(whole.simplify(0.01)), slope, how)
    stubs = sum(length < STUB_IN for kind in ("hip", "valley") for length in lines_of(roof, kind))
    assert len(told) <= stubs
    assert bool(count(framing, "valley_rafter")) == bool(lines_of(roof, "valley"))


@settings(max_examples=12, deadline=None)
@given(gaps=st.lists(st.floats(0.5, 1.5), min_size=3, max_size=8), wide=st.floats(0.5, 2.0), slope=slopes, how=hips)
def test_outlines_of_any_corner_angles(gaps, wide, slope, how) -> None:
    turns = [2.0 * math.pi * part / sum(gaps) for part in accumulate(gaps)]
    ring = [(240.0 * wide * math.cos(a), 240.0 * math.sin(a)) for a in turns]
    assume(max(gaps) < 0.45 * sum(gaps))
    roof, framing, told = framed(ring, slope, how)
    found = lines_of(roof, "hip")
    assert len(told) <= sum(length < STUB_IN for length in found)
    assert count(framing, "hip_rafter") == len(found) - len(told)


@settings(max_examples=12, deadline=None)
@given(each=st.tuples(slopes, slopes, slopes, slopes), longer=st.floats(0.0, 200.0), how=hips)
def test_four_slopes_over_a_rectangle(each, longer, how) -> None:
    ring = [(0.0, 0.0), (300.0 + longer, 0.0), (300.0 + longer, 300.0), (0.0, 300.0)]
    roof, framing, told = framed(ring, 6.0, how, each)
    found = lines_of(roof, "hip")
    assert len(told) <= sum(length < STUB_IN for length in found)
    assert count(framing, "hip_rafter") == len(found) - len(told)
