"""Can a solved landing be built? Findings beside the answer, never a refusal to answer."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from workbench.findings import GEOMETRY, SCREENING, Finding
from workbench.measure.units import Units

# Solved figures carry float noise; a limit met exactly must not fail by it.
_NOISE = 1e-9

NotchPlace = Literal["the low plate", "the landing"]


@dataclass(frozen=True, slots=True)
class BearingLimits:
    """The code limits a rafter's ends are screened against; a job may hold others.

    Attributes:
        end_notch_share: Deepest notch at a support as a share of the rafter's depth, both square to the rafter.
        bearing_in: Least level bearing on wood or metal, inches.
        board_ridge_tangent: Slope (rise / run) under which the ridge is designed as a beam.
        end_notch_source: Source of ``end_notch_share``.
        bearing_source: Source of ``bearing_in``.
        board_ridge_source: Source of ``board_ridge_tangent``.
    """

    end_notch_share: float = 1 / 4
    bearing_in: float = 1.5
    board_ridge_tangent: float = 3 / 12
    end_notch_source: str = "WAC 246-359-250"
    bearing_source: str = "IRC R802.6, from memory"
    board_ridge_source: str = "IRC R802.4.4, from memory"


DEFAULT_LIMITS = BearingLimits()


@dataclass(frozen=True, slots=True)
class Notch:
    """One bird's-mouth.

    Attributes:
        place: What it sits on.
        hap_in: Height above the plate, plumb from the bearing corner to the rafter's top edge, inches.
        seat_in: Level length of the seat cut, inches.
    """

    place: NotchPlace
    hap_in: float
    seat_in: float


def notch_findings(
    notch: Notch,
    tangent: float,
    depth_in: float,
    *,
    limits: BearingLimits = DEFAULT_LIMITS,
    units: Units | None = None,
    subject: str = "",
) -> tuple[Finding, ...]:
    """Findings about one bird's-mouth: depth of the notch, bearing, what is left above the plate.

    Args:
        notch: The bird's-mouth, its HAP and seat belonging together at this slope and depth.
        tangent: Slope, rise / run, over 0.
        depth_in: Depth of the rafter square to its edge, inches.
        limits: The limits to screen against.
        units: How lengths are shown.
        subject: Id of what the findings are about.
    """
    units = units or Units()
    if notch.hap_in <= 0:
        return (hap_finding(notch.place, notch.hap_in, units, subject),)
    found: list[Finding] = []
    theta = math.atan(tangent)
    if notch.seat_in * math.sin(theta) > limits.end_notch_share * depth_in + _NOISE:
        found.append(_deep_notch(notch, theta, depth_in, limits, units, subject))
    if notch.seat_in < limits.bearing_in - _NOISE:
        found.append(_short_bearing(notch, theta, depth_in, limits, units, subject))
    return tuple(found)


def hap_finding(place: NotchPlace, hap_in: float, units: Units, subject: str = "") -> Finding:
    """The finding that no wood is left over the bearing corner: HAP at or under 0, inches."""
    text = (
        f"The HAP at {place} is {units.length(hap_in)}: the notch cuts the rafter right through. "
        f"Give a HAP over 0, which means a shorter seat or a deeper rafter. {SCREENING}"
    )
    return Finding("hap-not-positive", "error", subject, text, GEOMETRY)


def push_finding(tangent: float, units: Units, subject: str = "") -> Finding:
    """The finding that a whole rafter on a bevelled block pushes outward.

    Without friction the block answers square to the slope, W·cos θ / 2 from moments about the low seat; its level
    part is W·sin θ·cos θ / 2, W being the rafter's whole load.
    """
    theta = math.atan(tangent)
    share = math.sin(theta) * math.cos(theta) / 2
    text = (
        f"A whole rafter on a bevelled block at {units.slope(tangent)} slides and pushes outward, without friction "
        f"with {100 * share:.0f} % of its load. Nails through the bevel are not meant for that: have the engineer give "
        f"a positive connection, or notch the rafter for a level seat. {SCREENING}"
    )
    return Finding("outward-push", "warning", subject, text, GEOMETRY)


def ridge_finding(tangent: float, limits: BearingLimits, units: Units, subject: str = "") -> Finding | None:
    """The finding that a ridge board will not do at this slope, or None where it may."""
    if tangent >= limits.board_ridge_tangent - _NOISE:
        return None
    text = (
        f"At {units.slope(tangent)}, under {units.slope(limits.board_ridge_tangent)}, the ridge is designed as a beam: "
        f"have the engineer size it and its posts, or steepen the roof. {SCREENING}"
    )
    return Finding("ridge-needs-beam", "warning", subject, text, limits.board_ridge_source)


def _deep_notch(notch: Notch, theta: float, depth: float, limits: BearingLimits, units: Units, subject: str) -> Finding:
    allowed = limits.end_notch_share * depth
    longest = allowed / math.sin(theta)
    text = (
        f"The notch at {notch.place} is {units.length(notch.seat_in * math.sin(theta))} deep, square to the rafter; "
        f"{units.length(allowed)} is the most in a rafter {units.length(depth)} deep. "
    )
    if longest >= limits.bearing_in - _NOISE:
        hap = (depth - allowed) / math.cos(theta)
        text += (
            f"At this slope a seat of at most {_at_most(longest, units)}, which is a HAP of at least "
            f"{_at_least(hap, units)}, mends it; so does a deeper rafter. {SCREENING}"
        )
    else:
        least = limits.bearing_in * math.sin(theta) / limits.end_notch_share
        text += (
            f"No seat long enough to bear fits that at this slope: take a rafter at least "
            f"{_at_least(least, units)} deep. {SCREENING}"
        )
    return Finding("notch-too-deep", "error", subject, text, limits.end_notch_source)


def _short_bearing(
    notch: Notch, theta: float, depth: float, limits: BearingLimits, units: Units, subject: str
) -> Finding:
    hap = depth / math.cos(theta) - limits.bearing_in * math.tan(theta)
    if notch.seat_in > _NOISE:
        what = f"The seat on {notch.place} is {units.length(notch.seat_in)} long; it needs"
    else:
        gap = -notch.seat_in * math.tan(theta)
        where = "only touches its corner" if gap <= _NOISE else f"passes {units.length(gap)} above its corner"
        what = f"The rafter does not bear on {notch.place}, its bottom edge {where}; it needs a seat of"
    text = (
        f"{what} at least {units.length(limits.bearing_in)} on wood or metal. "
        f"At this slope a HAP of at most {_at_most(hap, units)} gives that. {SCREENING}"
    )
    return Finding("bearing-too-short", "error", subject, text, limits.bearing_source)


def _at_most(x: float, units: Units) -> str:
    """A limit rounded down, so that the length as shown still keeps it."""
    step = 1 / 25.4 if units.system == "mm" else 1 / units.fraction
    return units.length(math.floor(x / step + _NOISE) * step)


def _at_least(x: float, units: Units) -> str:
    """A limit rounded up, so that the length as shown still keeps it."""
    step = 1 / 25.4 if units.system == "mm" else 1 / units.fraction
    return units.length(math.ceil(x / step - _NOISE) * step)
