"""Planes built by hand, with their rafters, and cutting by brute force, for the sheathing tests."""

from __future__ import annotations

import itertools
import math
from functools import cache
from types import SimpleNamespace

import pytest

from workbench.framing.model import Framing, Member, Placement
from workbench.roof.model import Plane, PlaneEdge, Roof


def polygon_plane(points, kinds, *, plane_id="main/front", tangent=0.5, neighbours=None):
    """A plane of this shape in its own axes; ``kinds[i]`` is the edge from corner i to corner i + 1."""
    stretch = math.hypot(1.0, tangent)
    corners = tuple((x, y / stretch, y / stretch * tangent) for x, y in points)
    edges = tuple(
        PlaneEdge(kind, corners[i], corners[(i + 1) % len(corners)], (neighbours or {}).get(i))
        for i, kind in enumerate(kinds)
    )
    return Plane(
        id=plane_id,
        name=plane_id.replace("/", " "),
        wing="main",
        drawn="front",
        tangent=tangent,
        origin=(0.0, 0.0, 0.0),
        across=(1.0, 0.0),
        uphill=(0.0, 1.0),
        corners=corners,
        edges=edges,
    )


def upright_plane(width, length, *, top="ridge", **more):
    """A gable's plane: eave below, rakes at both ends."""
    points = [(0.0, 0.0), (width, 0.0), (width, length), (0.0, length)]
    return polygon_plane(points, ["eave", "rake", top, "rake"], **more)


def rafters(width, spacing=24.0, overhang=0.0):
    """Rafter centres: end rafters flush with the building line, the others on the spacing, barge rafters outside."""
    inner = width - 2.0 * overhang
    steps = [spacing * k for k in range(1, int(inner / spacing) + 1) if 2.25 <= spacing * k <= inner - 2.25]
    xs = [overhang + x for x in (0.75, *steps, inner - 0.75)]
    return (0.75, *xs, width - 0.75) if overhang > 3.0 else tuple(xs)


def framing_for(planes, spacing=24.0, overhang=0.0, ridge=True):
    """The rafters of some planes, and a ridge board and barge rafters where they have any."""
    supports = tuple((plane.id, rafters(plane.width_in, spacing, overhang)) for plane in planes)
    members = []
    if ridge:
        members.append(_member("Ridge 1", "ridge_board", ()))
    if overhang > 3.0:
        ends = [
            Placement(plane.id, plane.to_space((x, 0.0)), plane.to_space((x, plane.plane_length_in)))
            for plane in planes
            for x in (0.75, plane.width_in - 0.75)
        ]
        members.append(_member("Barge 1", "barge_rafter", tuple(ends)))
    return Framing(tuple(members), supports)


def _member(mark, kind, placements):
    return Member(mark, kind, max(len(placements), 1), 1.0, 1.0, "2x8", 7.25, 1.5, (), (), (), placements, (), 0.0)


@pytest.fixture(scope="session")
def build():
    """The builders above under one name."""
    return SimpleNamespace(
        polygon=polygon_plane,
        upright=upright_plane,
        rafters=rafters,
        framing=framing_for,
        gable=lambda width, length, **more: Roof(
            (
                upright_plane(width, length, plane_id="main/front", **more),
                upright_plane(width, length, plane_id="main/back", **more),
            )
        ),
        hip=hip_roof,
        fewest_sheets=fewest_sheets,
        fewest_shares=fewest_shares,
        fits_one_sheet=fits_one_sheet,
    )


def hip_roof(width, depth, tangent=0.5):
    """A regular hip roof over a rectangle, longer than deep: two trapezoids and two triangles in their own axes."""
    half = depth / 2.0
    up = half * math.hypot(1.0, tangent)
    long_side = [(0.0, 0.0), (width, 0.0), (width - half, up), (half, up)]
    short_side = [(0.0, 0.0), (depth, 0.0), (half, up)]
    hips = ["eave", "hip", "ridge", "hip"]
    long_planes = [polygon_plane(long_side, hips, plane_id=f"main/{n}", tangent=tangent) for n in ("front", "back")]
    short_planes = [
        polygon_plane(short_side, ["eave", "hip", "hip"], plane_id=f"main/{n}", tangent=tangent)
        for n in ("left", "right")
    ]
    return Roof((*long_planes, *short_planes))


def fits_one_sheet(sizes, rules):
    """Whether blanks come out of one sheet, by trying every first cut of every free part: tiny sets only."""

    @cache
    def fits(length, width, whole_length, whole_width, left):
        if any(s[0] > length + 1e-6 or s[1] > width + 1e-6 for s in left):
            return False
        if len(left) < 2:
            return True
        for one, other in shares(left):
            for a, b in splits(length, whole_length, one, 0, rules):
                if fits(a, width, False, whole_width, one) and fits(b, width, False, whole_width, other):
                    return True
            for a, b in splits(width, whole_width, one, 1, rules):
                if fits(length, a, whole_length, False, one) and fits(length, b, whole_length, False, other):
                    return True
        return False

    return fits(rules.length_in, rules.width_in, True, True, tuple(sorted(sizes)))


def shares(left):
    members = range(len(left))
    for size in range(1, len(left)):
        for chosen in itertools.combinations(members, size):
            yield tuple(left[i] for i in chosen), tuple(left[i] for i in members if i not in chosen)


def splits(dimension, whole, one, axis, rules):
    # Along one axis the parts of a guillotine cut's first side reach as far as some sum of their sizes.
    reaches = {0.0}
    for size in one:
        reaches |= {reach + size[axis] + (rules.kerf_in if reach else 0.0) for reach in reaches}
    for reach in reaches:
        if 0.0 < reach < dimension:
            yield reach, dimension - reach - rules.kerf_in
    if whole and rules.halves_nominal:
        yield dimension / 2.0, dimension / 2.0


def fewest_sheets(sizes, rules):
    """The fewest sheets by trying every way of sharing the blanks out: tiny sets only."""
    largest_first = tuple(sorted(sizes, reverse=True))
    return fewest_shares(largest_first, lambda own: fits_one_sheet(own, rules), len(sizes))


def fewest_shares(pieces, fits, best):
    """Fewest sheets, every way of sharing the pieces out tried, or ``best`` where none takes fewer.

    ``fits`` says whether some pieces go into one sheet; it is asked about them in order.
    """

    def share(rest, sheets):
        nonlocal best
        if len(sheets) >= best:
            return
        if not rest:
            best = len(sheets)
            return
        first, others = rest[0], rest[1:]
        for i, sheet in enumerate(sheets):
            more = tuple(sorted((*sheet, first)))
            if fits(more):
                share(others, [*sheets[:i], more, *sheets[i + 1 :]])
        share(others, [*sheets, (first,)])

    share(pieces, [])
    return best
