"""Limits that need no load: notches, the covering's least slope, the ridge's height, overhangs, headroom."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from workbench.findings import GEOMETRY, SCREENING, Finding
from workbench.framing.group import sheathing_thickness
from workbench.job.model import Wing
from workbench.job.screening import HeadroomPoint
from workbench.measure import Trace
from workbench.roof.model import Plane, Point2
from workbench.rules.coverings import covering
from workbench.rules.frame_limits import frame_limits
from workbench.screening.frame import Frame
from workbench.screening.model import Check
from workbench.screening.rafters import CHECKED
from workbench.screening.words import use_words

_NOISE = 1e-6
_QUARTER = 0.25

Found = Iterator[tuple[Check, Finding | None]]


def limit_checks(frame: Frame) -> tuple[list[Check], list[Finding]]:
    """All of them, and what is over."""
    checks: list[Check] = []
    findings: list[Finding] = []
    for part in (_notches, _coverings, _ridge_height, _rakes, _tails, _headroom):
        for check, finding in part(frame):
            checks.append(check)
            findings += [finding] if finding is not None else []
    return checks, findings


def _notches(frame: Frame) -> Found:
    """The deepest bird's-mouth of each wing's rafters against a quarter of their depth."""
    source = frame_limits().least_notch_source
    for wing_id in frame.with_rafters:
        found = [
            (measure.length_in * math.sin(math.radians(member.angle_deg)), member)
            for member in frame.members(wing_id)
            if member.kind in CHECKED
            for measure in member.measures
            if measure.name in ("seat", "upper seat")
        ]
        if not found:
            continue
        deep, member = max(found, key=lambda each: each[0] / each[1].depth_in)
        units, allowed = frame.units, _QUARTER * member.depth_in
        wing = frame.effective[wing_id]
        text = f"notch {units.length(deep)} deep, square to the rafter; {units.length(allowed)} is the most"
        values = f"{deep:.4f} in of {member.depth_in:g} / 4 = {allowed:.4f} in"
        trace = Trace("deepest notch", deep, "in", "seat · sin θ, at most d / 4", values, source)
        passes = deep <= allowed + _NOISE
        mend = "" if passes else "a shorter seat, which is a larger height above plate, or a deeper rafter"
        subject = f"{member.mark}, {wing.name}"
        check = Check(
            "notch",
            member.mark,
            subject,
            "passes" if passes else "fails",
            deep / allowed,
            text,
            mend,
            (trace,),
            source,
        )
        told = any(
            frame.section(frame.planes[p.plane]) is not None for p in member.placements if p.plane in frame.planes
        )
        said = f"{subject}: {text}. It takes {mend}. {SCREENING}"
        finding = None if passes or told else Finding("notch-too-deep", "warning", member.mark, said, source)
        yield check, finding


def _coverings(frame: Frame) -> Found:
    """The least slope of the covering against the lowest plane of each wing."""
    kind = covering(frame.job.screening.covering)
    for planes in frame.by_wing.values():
        plane = min(planes, key=lambda each: each.tangent)
        units = frame.units
        text = f"{kind.name} on {units.slope(plane.tangent)}; {kind.least_in_12:g} in 12 is the least"
        passes = plane.in_12 >= kind.least_in_12 - _NOISE
        doubled = plane.in_12 < kind.double_below_in_12 - _NOISE
        if passes and doubled:
            text += f", with the underlayment doubled under {kind.double_below_in_12:g} in 12"
        trace = Trace("slope", plane.in_12, "in_12", "at least the covering's least slope", text, kind.source)
        verdict, mend = ("passes", "") if passes else ("fails", "another covering, or a steeper roof")
        use = kind.least_in_12 / plane.in_12
        check = Check("covering", plane.id, plane.name, verdict, use, text, mend, (trace,), kind.source)
        said = f"{plane.name}: {text}. It takes {mend}. {SCREENING}"
        yield check, None if passes else Finding("slope-under-covering", "warning", plane.id, said, kind.source)


def _ridge_height(frame: Frame) -> Found:
    """The highest point of the roof, sheathing and covering on it, against the limit of the place."""
    if not frame.roof.planes:
        return
    job, units = frame.job, frame.units
    on_top = sheathing_thickness(job.sheathing.thickness) + job.screening.covering_in
    tops = [(max(corner[2] for corner in plane.corners) + on_top * plane.stretch, plane) for plane in frame.roof.planes]
    high, plane = max(tops, key=lambda each: each[0])
    limit = job.screening.ridge_limit_in
    values = f"{high - on_top * plane.stretch:.4f} + {on_top:g} · {plane.stretch:.5f} = {high:.4f} in"
    formula = "highest point of the rafters' top edges + (sheathing + covering) / cos θ"
    trace = Trace("height of the roof", high, "in", formula, values, GEOMETRY)
    if limit is None:
        text = f"the roof's highest point is {units.length(high)} over level 0; no limit is given"
        yield Check("ridge_height", plane.id, plane.name, "not_known", None, text, "", (trace,), GEOMETRY), None
        return
    text = f"the roof's highest point is {units.length(high)} over level 0; {units.length(limit)} is the most"
    source = "the job's limit; how a height is measured is for the local code"
    passes = high <= limit + _NOISE
    mend = "" if passes else f"lower plates, a narrower run or a flatter slope, by {units.length(high - limit)} in all"
    use = high / limit if limit > 0.0 else None
    verdict = "passes" if passes else "fails"
    check = Check("ridge_height", plane.id, plane.name, verdict, use, text, mend, (trace,), source)
    said = f"{plane.name}: {text}. It takes {mend}. {SCREENING}"
    yield check, None if passes else Finding("over-ridge-limit", "error", plane.id, said, source)


def _rakes(frame: Frame) -> Found:
    """How far rakes stand out, by what carries them, and whether lookouts run back far enough."""
    limits = frame_limits()
    for wing_id, planes in frame.with_rafters.items():
        wing = frame.effective[wing_id]
        out = _rake_overhang(wing, planes)
        if out <= _NOISE:
            continue
        most, how, source = {
            "none": (limits.bare_panel_overhang_in, "without lookouts", limits.bare_panel_overhang_source),
            "ladder": (limits.ladder_overhang_in, "on a ladder of blocks", limits.overhang_source),
            "back": (limits.lookout_overhang_in, "on lookouts that run back", limits.overhang_source),
        }[wing.trim.lookouts]
        yield _over(frame, wing, "rake_overhang", out, most, f"the rake stands out {how}", source)
        if wing.trim.lookouts == "back":
            back = wing.rafter.spacing_in
            text = "lookouts stand out past the end rafter, and run back to the next one"
            most = back / limits.lookout_backspan_share
            yield _over(frame, wing, "lookout", out, most, text, limits.overhang_source)


def _rake_overhang(wing: Wing, planes: Sequence[Plane]) -> float:
    raked = {edge.drawn for plane in planes for edge in plane.edges if edge.kind == "rake"}
    outs = [
        wing.rake_overhang_in if edge.overhang_in is None else edge.overhang_in
        for edge in wing.edges
        if edge.kind == "rake" and edge.id in raked
    ]
    return max(outs, default=0.0)


def _over(
    frame: Frame, wing: Wing, kind: str, out: float, most: float, what: str, source: str
) -> tuple[Check, Finding | None]:
    units = frame.units
    text = f"{what}: {units.length(out)} out; {units.length(most)} is the most"
    passes = out <= most + _NOISE
    mends = {
        "rake_overhang": "lookouts that run back, closer rafters, or an overhang by the engineer",
        "lookout": "lookouts that run back past two rafters, or a shorter overhang",
        "tail_overhang": "a shorter overhang, or tails by the engineer",
    }
    trace = Trace(what, out, "in", "no more than the rule of thumb allows", text, source)
    check = Check(
        "rake_overhang" if kind == "rake_overhang" else "lookout" if kind == "lookout" else "tail_overhang",
        wing.id,
        wing.name,
        "passes" if passes else "fails",
        out / most,
        text,
        "" if passes else mends[kind],
        (trace,),
        source,
    )
    said = f"{wing.name}: {text}: {use_words(out / most)}. It takes {mends[kind]}. {SCREENING}"
    code = {"rake_overhang": "rake-overhang-long", "lookout": "lookout-backspan-short"}.get(kind, "tail-overhang-long")
    return check, None if passes else Finding(code, "warning", wing.id, said, source)


def _tails(frame: Frame) -> Found:
    """Rafter tails: level overhang against two feet and a third of the run."""
    limits = frame_limits()
    for wing_id, planes in frame.with_rafters.items():
        found = [(eave.overhang_in, plane) for plane in planes if (eave := frame.eave(plane)) is not None]
        if not found:
            continue
        out, plane = max(found, key=lambda each: each[0])
        if out <= _NOISE:
            continue
        section = frame.section(plane)
        most = limits.tail_overhang_in
        if section is not None:
            most = min(most, limits.tail_overhang_span_share * section.answer.run_in)
        text = "rafter tails stand out, level"
        yield _over(frame, frame.effective[wing_id], "tail_overhang", out, most, text, limits.overhang_source)


def _headroom(frame: Frame) -> Found:
    """Clear height under the rafters at the points the user set."""
    for point in frame.job.screening.headroom:
        yield _headroom_at(frame, point)


def _headroom_at(frame: Frame, point: HeadroomPoint) -> tuple[Check, Finding | None]:
    units, limits = frame.units, frame_limits()
    name = point.name or point.id
    over = [plane for plane in frame.roof.planes if _covers(plane, (point.x_in, point.y_in))]
    if not over:
        text = "no roof lies over this point"
        said = f"Headroom at {name}: {text}; move it under the roof."
        check = Check("headroom", point.id, name, "not_known", None, text, "", (), GEOMETRY)
        return check, Finding("headroom-off-roof", "warning", "", said, GEOMETRY)
    if not all(frame.is_stick(plane.wing) for plane in over):
        text = "trusses by others stand here; their drawings say what is clear under them"
        return Check("headroom", point.id, name, "not_known", None, text, "", (), GEOMETRY), None
    undersides = [(_underside(frame, plane, point), plane) for plane in over]
    clear, plane = min(((z - point.floor_in, plane) for z, plane in undersides), key=lambda each: each[0])
    least = limits.headroom_in if point.least_in is None else point.least_in
    source = limits.headroom_source if point.least_in is None else "given in the job"
    depth = frame.effective[plane.wing].rafter.depth_in
    under = f"{units.length(clear)} clear" if clear > 0.0 else "the floor lies above the undersides: nothing is clear"
    text = f"{under} under the rafters of {plane.name}; {units.length(least)} is needed"
    values = (
        f"top edge {undersides[over.index(plane)][0] + (depth + point.ceiling_in) * plane.stretch:.3f} − "
        f"({depth:g} + {point.ceiling_in:g}) · {plane.stretch:.5f} − floor {point.floor_in:g} = {clear:.3f} in"
    )
    formula = "top edge of the rafters − (depth + ceiling) / cos θ − floor"
    trace = Trace(f"headroom at {name}", clear, "in", formula, values, GEOMETRY)
    passes = clear >= least - _NOISE
    further = (least - clear) / plane.tangent
    left = (plane.plane_length_in - plane.to_plane((point.x_in, point.y_in))[1]) / plane.stretch
    mend = f"{units.length(further)} further in, level, it is enough"
    if further > left:
        mend = "nowhere up this slope is it enough: a lower floor, or a steeper or higher roof"
    mend = "" if passes else mend
    use = least / clear if clear > 0.0 else None
    check = Check("headroom", point.id, name, "passes" if passes else "fails", use, text, mend, (trace,), source)
    said = f"Headroom at {name}: {text}. {mend[:1].upper()}{mend[1:]}. {SCREENING}"
    return check, None if passes else Finding("headroom-low", "warning", plane.id, said, source)


def _underside(frame: Frame, plane: Plane, point: HeadroomPoint) -> float:
    """Height of the underside of what hangs under the rafters over a point."""
    run = (point.x_in - plane.origin[0]) * plane.uphill[0] + (point.y_in - plane.origin[1]) * plane.uphill[1]
    depth = frame.effective[plane.wing].rafter.depth_in + point.ceiling_in
    return plane.origin[2] + run * plane.tangent - depth * plane.stretch


def _covers(plane: Plane, point: Point2) -> bool:
    """Whether a plane lies over a plan point."""
    holes = any(_inside([(x, y) for x, y, _ in ring], point) for ring in plane.openings)
    return not holes and _inside([(x, y) for x, y, _ in plane.corners], point)


def _inside(ring: Sequence[Point2], point: Point2) -> bool:
    """Even-odd rule."""
    x, y = point
    inside = False
    for (ax, ay), (bx, by) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (ay > y) != (by > y) and x < (bx - ax) * (y - ay) / (by - ay) + ax:
            inside = not inside
    return inside
