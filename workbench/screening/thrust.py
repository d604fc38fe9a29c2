"""What pushes the plates out under a ridge of boards, and whole rafters on bevelled blocks.

Two rafters that lean on each other over a ridge board push their plates out. With w the load on the level, R the run of
one side and m its slope, pinned at the plates and the ridge, statics give for two sides

    H = (w·R + w'·R') / (2·(m + m')),

which is w·R² / (2·rise) where both are alike. Source: statics of a three-hinged frame.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from workbench.findings import GEOMETRY, SCREENING, Finding
from workbench.job.model import Wing
from workbench.job.screening import TiedBy
from workbench.measure import Trace
from workbench.roof.model import Plane
from workbench.screening.frame import Frame
from workbench.screening.model import Check, Thrust

STATICS = "statics of a three-hinged frame"
BOARD_RIDGE_TANGENT = 3.0 / 12.0
_SLOPE_SOURCE = "IRC R802, read in a copy"
_TIED_WORDS: dict[TiedBy, str] = {
    "not_said": "nothing in the job says what keeps the plates from spreading",
    "ceiling_joists": "the ceiling joists have to carry it as ties, at every heel and every lap",
    "rafter_ties": "the rafter ties have to carry it",
    "ridge_beam": "a ridge beam carries the rafters, so nothing pushes; beam and posts are for the engineer",
    "engineer": "what carries it is the engineer's",
}
_NOISE = 1e-9


def thrusts(frame: Frame) -> list[Thrust]:
    """The outward force of each plane that leans on another over a ridge, under its heaviest load."""
    return [found for planes in frame.with_rafters.values() for plane in planes if (found := _thrust(frame, plane))]


def _thrust(frame: Frame, plane: Plane) -> Thrust | None:
    ridge = next((edge for edge in plane.edges if edge.kind == "ridge" and edge.neighbour in frame.planes), None)
    run = _run(frame, plane)
    if ridge is None or run is None:
        return None
    other = frame.planes[str(ridge.neighbour)]
    other_run = _run(frame, other)
    if other_run is None:
        return None
    w, w_other = (_heaviest(frame, each) for each in (plane, other))
    force = (w * run + w_other * other_run) / 12.0 / (2.0 * (plane.tangent + other.tangent))
    values = (
        f"({w:.2f} · {run / 12.0:.3f} + {w_other:.2f} · {other_run / 12.0:.3f}) / "
        f"(2 · ({plane.tangent:.4f} + {other.tangent:.4f})) = {force:.1f} lb a foot of wall"
    )
    if frame.units.system == "mm":
        values += f" = {frame.units.line_load(force)}"
    trace = Trace(
        "outward force at the plates",
        force,
        "plf",
        "H = (w·R + w'·R') / (2·(m + m')), which is w·R² / (2·rise) for like sides; w in psf, R in ft",
        values,
        STATICS,
    )
    return Thrust(plane.id, force, _at_tie(frame, plane, force), trace)


def _run(frame: Frame, plane: Plane) -> float | None:
    """Level, from the building line to the ridge line."""
    eave = frame.eave(plane)
    if eave is None or not any(edge.kind == "eave" for edge in plane.edges):
        return None  # what ends in valleys all round stands on the roof below, on no plate
    tops = [z for edge in plane.edges if edge.kind == "ridge" for z in (edge.start[2], edge.end[2])]
    run = (max(tops) - eave.plate_in - eave.hap_in) / plane.tangent if tops else 0.0
    return run if run > 0.0 else None


def _heaviest(frame: Frame, plane: Plane) -> float:
    loads = frame.loads[plane.id]
    return loads.dead_psf + loads.heaviest_psf


def _at_tie(frame: Frame, plane: Plane, force: float) -> float | None:
    """Pull in one tie: at every rafter for ceiling joists, at every so manieth pair for rafter ties."""
    wing = frame.effective[plane.wing]
    tied, tie = frame.job.screening.tied_of(plane.wing), wing.trim.rafter_ties
    apart = wing.rafter.spacing_in / 12.0
    if tied == "ceiling_joists":
        return force * apart
    if tie is not None and tied in ("rafter_ties", "not_said"):
        # Moments about the ridge: the higher the tie, the shorter its arm.
        return force * apart * tie.every / (1.0 - tie.share)
    return None


def thrust_checks(frame: Frame, found: list[Thrust]) -> tuple[list[Check], list[Finding]]:
    """One row a wing for the worst of its planes, and a finding where nothing ties the plates."""
    checks: list[Check] = []
    findings: list[Finding] = []
    for wing_id, planes in frame.with_rafters.items():
        mine = {plane.id: plane for plane in planes}
        worst = max((each for each in found if each.plane in mine), key=lambda each: each.plf, default=None)
        if worst is None:
            continue
        wing, plane = frame.effective[wing_id], mine[worst.plane]
        check = _thrust_check(frame, wing, plane, worst)
        checks.append(check)
        if check.verdict == "open":
            findings.append(_untied(frame, wing, check))
    return checks, findings


def _thrust_check(frame: Frame, wing: Wing, plane: Plane, worst: Thrust) -> Check:
    tied = frame.job.screening.tied_of(wing.id)
    if tied == "not_said" and wing.trim.rafter_ties is not None:
        tied = "rafter_ties"
    elif tied == "not_said" and plane.tangent < BOARD_RIDGE_TANGENT - _NOISE:
        tied = "ridge_beam"
    text = f"the plates are pushed out with {frame.units.line_load(worst.plf)} of wall; {_TIED_WORDS[tied]}"
    if tied == "ridge_beam":
        text = f"{_TIED_WORDS[tied]} (with a ridge board it would be {frame.units.line_load(worst.plf)} of wall)"
    if worst.at_tie_lb is not None:
        text += f", {frame.units.force(worst.at_tie_lb)} each"
    verdict, mend = "engineer", ""
    if tied == "not_said":
        verdict, mend = "open", "name ceiling joists, rafter ties or a ridge beam among the loads and limits"
    elif tied == "rafter_ties" and wing.trim.rafter_ties is None:
        text += ", but none are drawn"
        verdict, mend = "open", "draw rafter ties low in the roof, or name what else ties the plates"
    loads = frame.loads[plane.id]
    return Check(
        "thrust", wing.id, wing.name, verdict, None, text, mend, (worst.trace, *loads.traces), worst.trace.source
    )


def _untied(frame: Frame, wing: Wing, check: Check) -> Finding:
    assumed = "" if frame.severity(wing.id) == "error" else " (loads assumed, not given)"
    text = (
        f"{wing.name}: {check.text}{assumed}. Ceiling joists or rafter ties low in the roof have to hold them, or a "
        f"ridge beam has to carry the rafters: say which on the Frame stage, and have its joints called for. "
        f"{SCREENING}"
    )
    return Finding("plates-not-tied", "warning", wing.id, text, check.source)


def ridge_checks(frame: Frame) -> tuple[list[Check], list[Finding]]:
    """Whether a board may be the ridge: from 3 in 12 on. Planes with a section are told of by the landing."""
    checks: list[Check] = []
    findings: list[Finding] = []
    for wing_id, planes in frame.with_rafters.items():
        ridged = [plane for plane in planes if any(edge.kind == "ridge" for edge in plane.edges)]
        if not ridged:
            continue
        lowest = min(ridged, key=lambda plane: plane.tangent)
        wing, units = frame.effective[wing_id], frame.units
        limit = units.slope(BOARD_RIDGE_TANGENT)
        passes = lowest.tangent >= BOARD_RIDGE_TANGENT - _NOISE
        text = f"the ridge stands over {units.slope(lowest.tangent)}; under {limit} it is designed as a beam"
        verdict = "passes" if passes else "engineer"
        checks.append(Check("ridge", wing.id, wing.name, verdict, None, text, "", (), _SLOPE_SOURCE))
        if not passes and frame.section(lowest) is None:
            said = (
                f"{wing.name}: at {units.slope(lowest.tangent)}, under {limit}, the ridge is designed as a beam: have "
                f"the engineer size it and its posts, or steepen the roof. {SCREENING}"
            )
            findings.append(Finding("ridge-needs-beam", "warning", wing.id, said, _SLOPE_SOURCE))
    return checks, findings


def push_checks(frame: Frame) -> Iterator[Check]:
    """Whole rafters on bevelled blocks: how hard they push, without friction. The landing has the finding."""
    for plane in frame.roof.planes:
        section = frame.section(plane)
        if section is None or section.given.high_end != "whole" or not frame.is_stick(plane.wing):
            continue
        theta, run = plane.angle, section.answer.run_in
        loads = frame.loads[plane.id]
        whole = _heaviest(frame, plane) * run / 12.0
        force = whole * math.sin(theta) * math.cos(theta) / 2.0
        values = f"{whole:.1f} lb a foot · sin {math.degrees(theta):.2f}° · cos / 2 = {force:.1f} lb a foot"
        formula = "W · sin θ · cos θ / 2, W all that stands on a foot of wall"
        trace = Trace("push on the block", force, "plf", formula, values, GEOMETRY)
        text = (
            f"the whole rafter on its bevelled block pushes with {frame.units.line_load(force)} of wall where nothing "
            "rubs; a positive connection is for the engineer"
        )
        yield Check("push", plane.id, plane.name, "engineer", None, text, "", (trace, *loads.traces), GEOMETRY)
