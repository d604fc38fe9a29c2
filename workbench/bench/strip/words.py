"""What the strip says: hints for handles, the price bracket's words, and what stands in the way."""

from __future__ import annotations

from workbench.bench.strip.measures import Cut, Measure
from workbench.job.model import Job, PriceBracket
from workbench.plan import Plan
from workbench.roof.brackets import Bracket, at_or_over, bracket_of, next_bracket

_MOVES = {"tail": "level", "run": "level", "seat": "level", "slope": "round the end that stays"}


def brackets_shown(job: Job, tangent: float) -> tuple[Bracket, ...]:
    """The price bracket the rafter has to keep or get out of, then the next above it.

    That is the dearer bracket it is in, where it is in one, else the next above its slope; brackets from level up are
    nothing to stay out of.
    """
    table = [_bracket(bracket) for bracket in job.brackets if bracket.from_in_12 > 0]
    shown = (bracket_of(tangent, table), next_bracket(tangent, table))
    return tuple(bracket for bracket in shown if bracket is not None)


def bracket_words(bracket: Bracket, tangent: float) -> str:
    """The wedge's words."""
    if at_or_over(12.0 * tangent, bracket.from_in_12):
        return f"⚠ in the price bracket from {bracket.from_in_12:g} in 12"
    return f"price bracket from {bracket.from_in_12:g} in 12"


def hint_for(measure: Measure) -> str:
    """What can be done with a measure's handle."""
    match measure.mark:
        case "given":
            way = _MOVES.get(measure.name, "up and down")
            return f"{measure.word}: drag {way}, or type it; with Shift by whole steps."
        case "to find":
            return f"{measure.word} is found from the others; click its mark to give it instead."
        case "follows":
            return f"{measure.word} follows from the others; type it to give it instead."


def trouble(plan: Plan, cut: Cut) -> str:
    """Why the landing has no answer, in the solver's words; empty where it has one."""
    if not cut.unsolved:
        return ""
    of_wing = [finding for finding in plan.findings if finding.object == cut.plane.wing]
    texts = [finding.text for finding in of_wing if finding.code in ("landing-unsolved", "landing-unclear")]
    return f"⚠ {texts[0]}" if texts else ""


def _bracket(bracket: PriceBracket) -> Bracket:
    return Bracket(bracket.from_in_12, bracket.price_per_square)
