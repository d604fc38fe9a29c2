"""Plates as they were measured: how every rafter sits on one that is high, low or out of level. Inches.

The rafters' top edges stay in their planes, so that ridges, hips and valleys keep one common top edge; what the plate
is off is taken up at the seats. HAP = drawn HAP − (measured − drawn); seat = (d · √(1 + m²) − HAP) / m. Source:
geometry.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from workbench.findings import COMMON_PRACTICE, GEOMETRY, SCREENING, Finding
from workbench.framing.model import RAFTER_KINDS, Framing, Member
from workbench.framing.space import flat
from workbench.job.as_built import AsBuilt, PlateMeasured
from workbench.measure import Trace, Units
from workbench.roof.buildable import DEFAULT_LIMITS
from workbench.roof.model import Point3
from workbench.site.ground_plan import EaveLine
from workbench.site.model import MeasuredPlate, Seat

_NOISE_IN = 1e-9
_SHOWN_IN = 1.0 / 64.0
_NO_SEAT = frozenset(("barge_rafter", "hip_rafter", "valley_rafter"))
_CORNERS = frozenset(("hip_rafter", "valley_rafter"))


def measured_plates(
    framing: Framing, lines: Sequence[EaveLine], as_built: AsBuilt, units: Units
) -> tuple[tuple[MeasuredPlate, ...], tuple[Finding, ...]]:
    """The eaves whose plates were measured, with the seat of every rafter, and what stands against it.

    Args:
        framing: The frame as drawn.
        lines: The building lines of all eaves.
        as_built: What was measured.
        units: How lengths are shown in texts.
    """
    found: list[MeasuredPlate] = []
    findings: list[Finding] = []
    by_name = {line.name: line for line in lines}
    for reading in as_built.plates:
        line = by_name.get(reading.edge)
        if line is None:
            text = f'The plate heights measured at "{reading.edge}" have no such eave now; they wait in the job unused.'
            findings.append(Finding("measured-without-eave", "warning", reading.edge, text, COMMON_PRACTICE))
            continue
        plate = _plate(framing, line, reading, units)
        found.append(plate)
        findings += _findings(line, plate, units)
    return tuple(found), tuple(findings)


def _plate(framing: Framing, line: EaveLine, reading: PlateMeasured, units: Units) -> MeasuredPlate:
    drawn = line.eave.plate_in
    left = drawn if reading.left_in is None else reading.left_in
    right = drawn if reading.right_in is None else reading.right_in
    crossed = [
        (member, point)
        for member in framing.members
        if member.kind in RAFTER_KINDS and member.kind != "barge_rafter"
        for placement in member.placements
        if placement.plane.partition("/")[0] == line.wing.id
        and (member.kind in _CORNERS or line.bears(placement.plane))
        and (point := line.crossing(placement)) is not None
    ]
    seats = sorted((_seat(line, member, point, left, right) for member, point in crossed), key=lambda seat: seat.at_in)
    commons = [member for member, _ in crossed if member.kind not in _NO_SEAT]
    m, depth = line.eave.tangent, line.wing.rafter.depth_in
    seat = (depth * math.hypot(1.0, m) - line.eave.hap_in) / m if commons else None
    traces = _traces(line, seats[0], left, right, units) if seats else ()
    return MeasuredPlate(line.name, line.plane.name, drawn, left, right, seat, tuple(seats), traces)


def _seat(line: EaveLine, member: Member, point: Point3, left: float, right: float) -> Seat:
    u = min(max(line.u(flat(point)), 0.0), line.length_in)
    plate = left + (right - left) * u / line.length_in
    m = math.tan(math.radians(member.angle_deg))
    hap = point[2] - plate
    seat = (member.depth_in * math.hypot(1.0, m) - hap) / m
    notch = max(0.0, seat * math.sin(math.atan(m)))
    off = plate - line.eave.plate_in
    return Seat(member.mark, member.depth_in, u, plate, off, hap, seat, notch, max(0.0, -off))


def _traces(line: EaveLine, seat: Seat, left: float, right: float, units: Units) -> tuple[Trace, ...]:
    drawn = seat.hap_in + seat.off_in
    return (
        Trace(
            f"plate at {seat.mark}, {units.inches(seat.at_in)} from the left",
            seat.plate_in,
            "in",
            "left + (right − left) · distance / length",
            f"{left:g} + ({right:g} − {left:g}) · {seat.at_in:.4f} / {line.length_in:.4f} = {seat.plate_in:.4f} in",
            "as measured; straight between the corners",
        ),
        Trace(
            f"HAP at {seat.mark}, {units.inches(seat.at_in)} from the left",
            seat.hap_in,
            "in",
            "drawn HAP − (measured plate − drawn plate)",
            f"{drawn:.4f} − ({seat.plate_in:.4f} − {line.eave.plate_in:g}) = {seat.hap_in:.4f} in",
            GEOMETRY,
        ),
        Trace(
            f"seat at {seat.mark}, {units.inches(seat.at_in)} from the left",
            seat.seat_in,
            "in",
            "(d · √(1 + m²) − HAP) / m",
            f"at a HAP of {seat.hap_in:.4f} in: {seat.seat_in:.4f} in",
            GEOMETRY,
        ),
    )


def _findings(line: EaveLine, plate: MeasuredPlate, units: Units) -> Iterable[Finding]:
    off = (plate.left_in - plate.drawn_in, plate.right_in - plate.drawn_in)
    if max(abs(one) for one in off) < _SHOWN_IN or not plate.seats:
        return
    text = (
        f"{plate.name}: the plate was measured {units.signed(off[0])} at its left corner and {units.signed(off[1])} at "
        "its right one against the drawing. Top edges stay in the plane, so the seats differ along it: cut them by the "
        "table of seats, not by the cut card."
    )
    yield Finding("seats-differ", "warning", line.name, text, GEOMETRY)
    yield from _through(line, plate.seats, units)
    yield from _deep(line, plate.seats, units)
    yield from _short(line, plate.seats, units)


def _through(line: EaveLine, seats: Sequence[Seat], units: Units) -> Iterable[Finding]:
    bad = [seat for seat in seats if seat.hap_in <= _NOISE_IN]
    if bad:
        worst = min(bad, key=lambda seat: seat.hap_in)
        text = (
            f"{line.plane.name}: on the plate as measured {len(bad)} of {len(seats)} rafters keep no wood over the "
            f"plate (HAP {units.length(worst.hap_in)} at {units.inches(worst.at_in)} from the left). Plane the plate "
            f"down, or take the measured height over into the drawing. {SCREENING}"
        )
        yield Finding("measured-hap-not-positive", "error", line.name, text, GEOMETRY)


def _deep(line: EaveLine, seats: Sequence[Seat], units: Units) -> Iterable[Finding]:
    share = DEFAULT_LIMITS.end_notch_share
    bad = [seat for seat in seats if seat.hap_in > _NOISE_IN and seat.notch_in > share * seat.depth_in + _NOISE_IN]
    if bad:
        worst = max(bad, key=lambda seat: seat.notch_in / seat.depth_in)
        text = (
            f"{line.plane.name}: on the plate as measured {len(bad)} of {len(seats)} notches are deeper than "
            f"{units.length(share * worst.depth_in)}, a quarter of the depth ({units.length(worst.notch_in)} square to "
            f"the edge at {units.inches(worst.at_in)} from the left). Take the higher plate over into "
            f"the drawing, which raises the roof, or lower the plate. {SCREENING}"
        )
        yield Finding("measured-notch-too-deep", "warning", line.name, text, DEFAULT_LIMITS.end_notch_source)


def _short(line: EaveLine, seats: Sequence[Seat], units: Units) -> Iterable[Finding]:
    least = DEFAULT_LIMITS.bearing_in
    bad = [seat for seat in seats if seat.seat_in < least - _NOISE_IN]
    if bad:
        worst = min(bad, key=lambda seat: seat.seat_in)
        how = (
            f"the seat is {units.length(worst.seat_in)} long"
            if worst.seat_in > _NOISE_IN
            else "the rafter passes over the plate"
        )
        text = (
            f"{line.plane.name}: on the plate as measured {len(bad)} of {len(seats)} rafters bear on less than "
            f"{units.length(least)} ({how} at {units.inches(worst.at_in)} from the left). Cut them as drawn and fill "
            f"the gap with a solid shim as wide as the rafter, up to {units.length(max(s.shim_in for s in bad))} "
            f"thick, or pack the plate up. {SCREENING}"
        )
        yield Finding("measured-bearing-too-short", "warning", line.name, text, DEFAULT_LIMITS.bearing_source)


def seat_note(plates: Iterable[MeasuredPlate], marks: Iterable[str]) -> str:
    """What to say on a cut card whose seat is not that of the plate as measured; empty where it is."""
    wanted = set(marks)
    names = [
        plate.name
        for plate in plates
        if any(seat.mark in wanted and abs(seat.off_in) >= _SHOWN_IN for seat in plate.seats)
    ]
    if not names:
        return ""
    return f"Plate of {' and '.join(names)} measured: cut seats there by the table of seats, page As built."
