"""Everything the ``slope`` command answers, for one rafter given by run, rise and heels."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from workbench.errors import BadInput
from workbench.findings import COMMON_PRACTICE, GEOMETRY, Finding, in_order
from workbench.measure.units import Units
from workbench.roof.brackets import Bracket, Judgement, judge, judgement_findings
from workbench.roof.buildable import DEFAULT_LIMITS, NotchPlace, hap_finding
from workbench.roof.landing import LandingAnswer, LandingInput, landing_miss, solve_landing
from workbench.roof.nominal import NominalSlope, called_in_12, miss_in_words, nominal_slopes

Json = dict[str, object]

# Between two given heels the slope does not depend on the rafter's depth; where none is given this stands for it and
# nothing that depends on it (seats, notches, their findings) is shown.
_ANY_DEPTH_IN = 1.0


@dataclass(frozen=True, slots=True)
class SlopeReport:
    """The slope of one rafter and what there is to say on it.

    Attributes:
        given: The solver's input.
        answer: The solver's answer; without a depth its seats mean nothing, see ``depth_known``.
        depth_known: Whether the rafter's depth was given.
        called_in_12: The whole number the slope is called by.
        nominal: Whole slopes near by, with the target if it is whole.
        bracket: The judgement against the price bracket.
        findings: All findings, errors first.
    """

    given: LandingInput
    answer: LandingAnswer
    depth_known: bool
    called_in_12: int
    nominal: tuple[NominalSlope, ...]
    bracket: Judgement
    findings: tuple[Finding, ...]

    def as_json(self) -> Json:
        """The fields of the command's contract, lengths in inches, angle in degrees, numbers unrounded."""
        changes = [{"what": c.what, "change_in": c.change_in} for c in self.bracket.to_reach_target]
        return {
            "slope_in_12": self.answer.in_12,
            "angle_deg": math.degrees(self.answer.angle),
            "length_in": self.answer.length_in,
            "called_in_12": self.called_in_12,
            "nominal": [{"in_12": n.in_12, "miss_in": n.miss_in} for n in self.nominal],
            "bracket": {
                "from_in_12": self.bracket.bracket.from_in_12,
                "over": self.bracket.over,
                "target_in_12": self.bracket.target_in_12,
                "to_reach_target": changes,
            },
            "findings": [
                {"code": f.code, "severity": f.severity, "object": f.object, "text": f.text, "source": f.source}
                for f in self.findings
            ],
        }


def slope_report(
    run: float,
    rise: float,
    heel_low: float = 0.0,
    heel_high: float | None = None,
    depth: float | None = None,
    whole: bool = False,
    bracket: float = 8.0,
    target: float | None = None,
    *,
    units: Units | None = None,
) -> SlopeReport:
    """The slope of a rafter from run, rise and heels, all inches.

    Args:
        run: Level distance between the bearing lines.
        rise: Landing height less low plate height.
        heel_low: HAP at the low plate, plumb.
        heel_high: HAP on the landing, plumb; 0 if None, and then no notch is looked for there. Not for a whole rafter.
        depth: Depth of the rafter square to its edge; needed for a whole rafter, else for the notch findings only.
        whole: Whether the rafter is un-notched on the landing.
        bracket: Beginning of the price bracket, rise in 12.
        target: The slope to come down to, rise in 12; the next lower whole number if None.
        units: How lengths are shown.

    Raises:
        BadInput: A measure can't be used, or depth and heel do not go with the upper end.
        NoSolution: No slope lands the rafter.
    """
    units = units or Units()
    if whole and depth is None:
        raise BadInput("A whole rafter needs its depth to land; give --depth, square to the rafter's edge.")
    if whole and heel_high is not None:
        raise BadInput("A whole rafter's upper heel follows from its depth; leave out --heel-high, or --whole.")
    given = LandingInput(
        run_in=run,
        low_plate_in=0.0,
        landing_in=rise,
        low_end="hap",
        hap_low_in=heel_low,
        seat_in=0.0,
        high_end="whole" if whole else "notched",
        hap_high_in=heel_high or 0.0,
        depth_in=_ANY_DEPTH_IN if depth is None else depth,
        tangent=0.0,
    )
    limits = None if depth is None else DEFAULT_LIMITS
    answer = solve_landing(given, units=units, limits=limits)
    judgement = judge(given, answer, Bracket(bracket), target, limits=limits)
    wanted = judgement.target_in_12
    nominal = nominal_slopes(given, answer, also=[int(wanted)] if wanted == int(wanted) else [], limits=limits)
    findings = [
        *_end_findings(given, answer, heel_high is not None, depth is not None, units),
        *judgement_findings(judgement, units),
        *_called(given, answer, units),
    ]
    return SlopeReport(
        given=given,
        answer=answer,
        depth_known=depth is not None,
        called_in_12=called_in_12(answer.tangent),
        nominal=nominal,
        bracket=judgement,
        findings=in_order(findings),
    )


def _called(given: LandingInput, answer: LandingAnswer, units: Units) -> list[Finding]:
    """The note that a solved slope is seldom the whole number it is called by."""
    called = called_in_12(answer.tangent)
    if math.isclose(answer.in_12, called, abs_tol=1e-9) or called < 1:
        return []
    miss = miss_in_words(NominalSlope(called, landing_miss(given, called / 12), ()), units)
    text = f"Frame the solved slope, {units.slope(answer.tangent)}; it is called {called} in 12. Framed at {miss}."
    return [Finding("called-slope", "note", "", text, COMMON_PRACTICE)]


def _end_findings(
    given: LandingInput, answer: LandingAnswer, upper_heel_given: bool, depth_known: bool, units: Units
) -> list[Finding]:
    """What stands against building the ends so, as far as they were told."""
    if not depth_known:
        return _bare_heels(given, units)
    if given.high_end == "whole" or upper_heel_given:
        return list(answer.findings)
    # No upper heel was told: the top edge meets the landing's height, and nothing says that there is a notch.
    return list(solve_landing(replace(given, high_end="face"), units=units).findings)


def _bare_heels(given: LandingInput, units: Units) -> list[Finding]:
    """Without a depth only the heels themselves can be judged; 0 at the plate is the line from the bearing corner."""
    ends: tuple[tuple[NotchPlace, float], ...] = (
        ("the low plate", given.hap_low_in),
        ("the landing", given.hap_high_in),
    )
    found = [hap_finding(place, hap, units) for place, hap in ends if hap < 0]
    if given.hap_low_in == 0:
        text = "The heel at the low plate is 0: this is a line from the bearing corner. Give the heels to get a rafter."
        found.append(Finding("no-heel", "note", "", text, GEOMETRY))
    return found
