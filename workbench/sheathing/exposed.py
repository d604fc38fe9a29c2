"""Eaves and rakes in another material: what the sheets leave to it, plane by plane. Inches, plane axes.

The strip up from an eave is measured along the slope from the lower edge of the sheathing, the one in from a rake level
from the rake's edge. Where both meet the eave's strip goes through.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import linemerge, unary_union

from workbench.job.exposed import ExposedEdges
from workbench.roof.model import Plane, Point2
from workbench.sheathing.model import Row, StripEdge
from workbench.sheathing.region import Region, region_of, ring_area

Line = tuple[Point2, Point2]

_FAR_IN = 1e4
_TOUCH_IN = 1e-5
_DIGITS = 4
_LEAST_LINE_IN = 0.5
_LEAST_AREA_SQIN = 1.0


@dataclass(frozen=True)
class StripArea:
    """What one material covers along the eaves, or along the rakes, of a plane.

    Attributes:
        edge: Which edges.
        width_in: How wide.
        region: What it covers.
        changes: The lines along which the ordinary sheets begin.
    """

    edge: StripEdge
    width_in: float
    region: Region
    changes: tuple[Line, ...]


@lru_cache(maxsize=1024)
def left_to_sheets(
    region: Region, plane: Plane, exposed: ExposedEdges, past_tail_in: float
) -> tuple[Region, tuple[StripArea, ...]]:
    """What the ordinary sheets cover of a region, and the strips along its edges.

    Args:
        region: What is covered in all.
        plane: The plane.
        exposed: Widths of the strips.
        past_tail_in: Run of the sheathing past the eaves, measured up the slope.

    Returns:
        The sheets' region, without rings where the strips leave nothing; the strips, that of the eaves first.
    """
    whole = unary_union([Polygon(ring) for ring in region.rings])
    rest: BaseGeometry = whole
    taken: list[tuple[StripEdge, float, BaseGeometry]] = []
    asked: tuple[tuple[StripEdge, float, Iterator[Polygon]], ...] = (
        ("eave", exposed.eaves_in, _eave_bands(plane, exposed.eaves_in, past_tail_in)),
        ("rake", exposed.rakes_in, _rake_bands(plane, exposed.rakes_in, past_tail_in)),
    )
    for edge, width, bands in asked:
        band = unary_union(list(bands)) if width > 0.0 else Polygon()
        strip = rest.intersection(band)
        if strip.area > _LEAST_AREA_SQIN:
            taken.append((edge, width, strip))
            # The band and not the strip is taken off: its sides do not run along the plane's own edges.
            rest = rest.difference(band)
    if not taken:
        return region, ()
    sheets = region_of(rest, region.holes, _LEAST_AREA_SQIN)
    areas = [
        StripArea(edge, width, region_of(strip, region.holes, _LEAST_AREA_SQIN), _between(rest, strip))
        for edge, width, strip in taken
    ]
    return sheets, tuple(areas)


def lifted_rows(rows: tuple[Row, ...], lifted_in: float) -> tuple[Row, ...]:
    """Rows with their snap lines measured from the lower edge of the sheathing, the strip at the eave included."""
    if not lifted_in:
        return rows
    found: list[Row] = []
    for row in rows:
        ends = row.snap_ends_in
        lifted = None if ends is None else (ends[0] + lifted_in, ends[1] + lifted_in)
        found.append(replace(row, snap_in=row.snap_in + lifted_in, snap_ends_in=lifted))
    return tuple(found)


def _eave_bands(plane: Plane, width_in: float, past_in: float) -> Iterator[Polygon]:
    count = len(plane.edges)
    for i, edge in enumerate(plane.edges):
        if edge.kind != "eave":
            continue
        start, end = plane.polygon[i], plane.polygon[(i + 1) % count]
        beside = (plane.edges[i - 1].kind, plane.edges[(i + 1) % count].kind)
        if start[0] > end[0]:
            start, end, beside = end, start, beside[::-1]
        # Along a hip or valley the strip goes on as far as the plane does.
        left, right = (_FAR_IN if kind in ("hip", "valley") else 0.0 for kind in beside)
        y = min(start[1], end[1]) - past_in
        yield box(start[0] - left, y - 1.0, end[0] + right, y + width_in)


def _rake_bands(plane: Plane, width_in: float, past_in: float) -> Iterator[Polygon]:
    sense = 1.0 if ring_area(plane.polygon) > 0.0 else -1.0
    for i, edge in enumerate(plane.edges):
        start, end = plane.polygon[i], plane.polygon[(i + 1) % len(plane.edges)]
        length = math.dist(start, end)
        if edge.kind != "rake" or width_in <= 0.0 or length <= _LEAST_LINE_IN:
            continue
        along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
        inward = (-along[1] * sense * width_in, along[0] * sense * width_in)
        past = past_in + 1.0
        a = (start[0] - along[0] * past, start[1] - along[1] * past)
        b = (end[0] + along[0] * past, end[1] + along[1] * past)
        outward = (-inward[0] / width_in, -inward[1] / width_in)
        yield Polygon(
            [
                (a[0] + outward[0], a[1] + outward[1]),
                (b[0] + outward[0], b[1] + outward[1]),
                (b[0] + inward[0], b[1] + inward[1]),
                (a[0] + inward[0], a[1] + inward[1]),
            ]
        )


def _between(sheets: BaseGeometry, strip: BaseGeometry) -> tuple[Line, ...]:
    """The straight lines along which two parts meet."""
    common = sheets.boundary.intersection(strip.buffer(_TOUCH_IN))
    parts = [part for part in getattr(common, "geoms", [common]) if isinstance(part, LineString)]
    merged = linemerge(parts) if len(parts) > 1 else common
    found: list[Line] = []
    for part in getattr(merged, "geoms", [merged]):
        if not isinstance(part, LineString):
            continue
        points = [(round(float(x), _DIGITS), round(float(y), _DIGITS)) for x, y in part.simplify(1e-3).coords]
        found += [(a, b) for a, b in zip(points, points[1:], strict=False) if math.dist(a, b) > _LEAST_LINE_IN]
    return tuple(sorted((min(line), max(line)) for line in found))
