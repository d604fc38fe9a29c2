"""Crickets: behind a chimney a small roof of two planes that turns the water off to both sides.

A cricket is a wing of its own, framed over the sheathed plane: its eaves begin at the chimney's upper corners, level,
in the height of the plane there, and run up the slope until the plane has risen past its ridge. Its planes end on the
plane in two valleys. With plane slope m, slope c of the cricket and width w the ridge is w·c/2 over the corners and
w·c/(2·m) long, level. Source: geometry. Inches.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache

from workbench.findings import GEOMETRY, Finding
from workbench.job.crickets import Cricket
from workbench.job.model import Edge, Heel, Opening, Rafter, Trim, Wing
from workbench.measure import Units
from workbench.roof.model import Plane, Point2
from workbench.roof.solved import BuiltWing

CRICKET_FROM_IN = 30.0
_SOURCE = "IRC R1003.20, from memory"
_PAST_IN = 2.0  # the outline runs this far past the end of the ridge; the plane cuts it off
_STOCK = Rafter(depth_in=3.5, spacing_in=16.0)
_HEEL = Heel(given="hap", hap_in=4.0)


def cricket_id(opening: Opening) -> str:
    """Id of the wing that is an opening's cricket."""
    return f"{opening.id}-cricket"


def cricket_wings(
    built: Sequence[BuiltWing], openings: Sequence[Opening], units: Units
) -> tuple[tuple[Wing, ...], tuple[Finding, ...]]:
    """The wings of all crickets, and what there is to say of chimneys with and without one.

    Args:
        built: The wings as built alone.
        openings: Skylights and chimneys.
        units: How lengths are shown.
    """
    if not any(opening.kind == "chimney" for opening in openings):
        return (), ()
    planes = {plane.id: (wing, plane) for wing in built for plane in wing.measured}
    wings: list[Wing] = []
    findings: list[Finding] = []
    for opening in openings:
        wing, plane = planes.get(opening.plane, (None, None))
        if opening.kind != "chimney" or wing is None or plane is None:
            continue
        if opening.cricket is None:
            findings += _without(opening, plane, units)
            continue
        problem = _problem(opening, opening.cricket, plane, units)
        if problem:
            text = f'The cricket of the chimney "{opening.id}" is left out: {problem}'
            findings.append(Finding("cricket-left-out", "warning", opening.id, text, GEOMETRY))
        else:
            wings.append(_wing(opening, opening.cricket, plane, wing.effective))
    return tuple(wings), tuple(findings)


def _top(plane: Plane) -> float:
    return max(y for _, y in plane.polygon)


def _without(opening: Opening, plane: Plane, units: Units) -> Iterator[Finding]:
    if opening.width_in <= CRICKET_FROM_IN or opening.y_in + opening.length_in >= _top(plane):
        return
    text = (
        f'The chimney "{opening.id}" is {units.length(opening.width_in)} wide and does not stand in the ridge; from '
        f"{units.length(CRICKET_FROM_IN)} on it needs a cricket or saddle behind it. Give it one; the local code "
        "decides."
    )
    yield Finding("chimney-without-cricket", "note", opening.id, text, _SOURCE)


def _problem(opening: Opening, cricket: Cricket, plane: Plane, units: Units) -> str:
    """Why there can be no cricket, as the end of a sentence; empty where there can."""
    above = (_top(plane) - opening.y_in - opening.length_in) / plane.stretch
    if above <= 0.0:
        return "the chimney stands in the ridge, so no water runs against it. Take the cricket away."
    rise = _slope(cricket, plane) * opening.width_in / 2.0
    if rise >= above * plane.tangent:
        most = units.slope(2.0 * above * plane.tangent / opening.width_in)
        return f"its ridge would come out over the top of the plane. Give it a slope under {most}."
    return ""


def _slope(cricket: Cricket, plane: Plane) -> float:
    return plane.tangent if cricket.slope_in_12 is None else cricket.slope_in_12 / 12.0


@lru_cache(maxsize=256)
def _wing(opening: Opening, cricket: Cricket, plane: Plane, below: Wing) -> Wing:
    slope = _slope(cricket, plane)
    long = slope * opening.width_in / (2.0 * plane.tangent) + _PAST_IN
    left, low = opening.x_in, opening.y_in + opening.length_in
    right, high = left + opening.width_in, low + long * plane.stretch
    corners = [plane.to_space(corner) for corner in ((left, low), (right, low), (right, high), (left, high))]
    outline: tuple[Point2, ...] = tuple((x, y) for x, y, _ in corners)
    thickness = below.rafter.thickness_in
    return Wing(
        id=cricket_id(opening),
        name=f"cricket of {opening.id}",
        outline=outline,
        edges=(
            Edge(id="chimney", kind="wall"),
            Edge(id="right", kind="eave"),
            Edge(id="top", kind="rake"),
            Edge(id="left", kind="eave"),
        ),
        slope_in_12=12.0 * slope,
        plate_in=corners[0][2] - _HEEL.hap_in,
        heel=_HEEL,
        rafter=Rafter(
            depth_in=min(_STOCK.depth_in, below.rafter.depth_in),
            thickness_in=thickness,
            spacing_in=min(_STOCK.spacing_in, below.rafter.spacing_in),
        ),
        trim=Trim(lookouts="none"),
        joins="overframed",
    )
