"""Ways to bring a section to another slope: what each would change, whether it can be built, what it saves.

No widgets here. Where the slope is to find, each given measure can move until the rafter lands at the wanted slope;
where the slope is given, it is simply given otherwise and what is to find follows.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from workbench.bench.strip.changes import with_value
from workbench.bench.strip.measures import Cut, Measurable, value_of, word_of
from workbench.errors import EditError, NoSolution
from workbench.findings import has_errors
from workbench.job.model import Job, Wing
from workbench.measure import Units
from workbench.roof.brackets import bracket_of, default_target
from workbench.roof.build import build_wing
from workbench.roof.landing import LandingInput, settled, solve_landing
from workbench.roof.nominal import Move, NominalSlope, move_in_words, moves_to, nominal_slopes
from workbench.sweep import price_table, roofing_price

_BROKEN = {
    "notch-too-deep": "the notch gets too deep",
    "bearing-too-short": "it no longer bears enough",
    "hap-not-positive": "no wood is left over the plate",
}


@dataclass(frozen=True)
class Way:
    """One way to another slope.

    Attributes:
        words: What would change and by how much.
        breaks: Why it can't be built so, in words; empty where nothing new stands against it.
        job: The job with the change made, or None where the drawing can't follow it.
        saved: What roofing the wing costs less, in the job's money; None where a price is missing.
    """

    words: str
    breaks: str
    job: Job | None
    saved: float | None


@dataclass(frozen=True)
class NearSlope:
    """A whole slope near the solved one, in words.

    Attributes:
        in_12: The slope.
        words: How the rafter would miss, or what would follow.
        now: Whether it is the slope as solved.
    """

    in_12: int
    words: str
    now: bool


@dataclass(frozen=True)
class BracketVerdict:
    """How the slope to be framed stands to the price brackets.

    Attributes:
        words: One sentence.
        over: Whether it is in a dearer bracket than the cheapest.
        target_in_12: Whole slope to come down to; None where no whole slope lies under the bracket.
    """

    words: str
    over: bool
    target_in_12: float | None


def asked(cut: Cut) -> LandingInput:
    """What the landing solver is asked for this section, with the heel that the job gives."""
    given = cut.section.given
    if cut.section.landed or cut.section_heel == "hap_low":
        return given
    return replace(given, low_end="seat", seat_in=max(0.0, cut.section.answer.seat_in))


def near_slopes(cut: Cut, units: Units, around: int = 3) -> tuple[NearSlope, ...]:
    """Whole slopes near by with their miss; where the slope is given, with what is to find there instead."""
    answer = cut.section.answer
    nominal = nominal_slopes(asked(cut), answer, around=around)
    return tuple(NearSlope(n.in_12, _near_words(cut, n, units), abs(n.in_12 - answer.in_12) < 1e-6) for n in nominal)


def ways_to(cut: Cut, in_12: float, units: Units) -> tuple[Way, ...]:
    """Every way that alone brings the section to this slope."""
    if cut.unknown != "slope":
        job = _tried(cut, "slope", in_12)
        words = f"give {_number(in_12)} in 12{_following(cut, in_12, units)}"
        return (Way(words, "", job, _saved(cut, job)),)
    moves = moves_to(asked(cut), cut.section.answer, in_12 / 12.0)
    return tuple(_way(cut, move, units) for move in moves)


def verdict(cut: Cut) -> BracketVerdict | None:
    """How the slope to be framed stands to the job's brackets; None where the job has none above level."""
    table = [bracket for bracket in price_table(cut.job.brackets) if bracket.from_in_12 > 0]
    if not table:
        return None
    slope, tangent = cut.section.answer.in_12, cut.section.answer.tangent
    here = bracket_of(tangent, table)
    if here is None:
        first = min(table, key=lambda bracket: bracket.from_in_12)
        start = _number(first.from_in_12)
        words = f"Under the price bracket from {start} in 12, with {_number(first.from_in_12 - slope)} in 12 to spare."
        return BracketVerdict(words, over=False, target_in_12=None)
    words = f"In the price bracket from {_number(here.from_in_12)} in 12, judged on the slope to be framed."
    target = default_target(slope, here.from_in_12) if here.from_in_12 > 1.0 else None
    return BracketVerdict(words, over=True, target_in_12=target)


def wing_price(wing: Wing, job: Job) -> float | None:
    """What roofing one wing costs by the job's brackets, None where a price is missing or it can't be solved."""
    built = build_wing(wing, Units(job.units.system, job.units.fraction))
    if not built.planes or has_errors(f for f in built.findings if f.code in ("landing-unsolved", "landing-unclear")):
        return None
    return roofing_price(built.planes, job.brackets)


def _way(cut: Cut, move: Move, units: Units) -> Way:
    name: Measurable = move.what
    words = move_in_words(replace(move, breaks=()), units).replace("HAP at the low plate", "height above plate")
    words = words.replace("HAP on the landing", "height above landing")
    if cut.high_end in ("ridge", "face"):
        words = words.replace("landing", word_of(cut, "landing").lower())
    job = _tried(cut, name, value_of(cut, name) + move.change_in)
    breaks = ", ".join(_BROKEN.get(code, code.replace("-", " ")) for code in move.breaks)
    return Way(words, breaks, job, _saved(cut, job))


def _tried(cut: Cut, name: Measurable, value: float) -> Job | None:
    try:
        return with_value(cut, name, value)
    except EditError:
        return None


def _saved(cut: Cut, job: Job | None) -> float | None:
    if job is None:
        return None
    now, then = wing_price(cut.wing, cut.job), wing_price(job.wing(cut.plane.wing), job)
    return None if now is None or then is None else now - then


def _near_words(cut: Cut, near: NominalSlope, units: Units) -> str:
    if cut.unknown != "slope":
        return _following(cut, float(near.in_12), units).removeprefix("; ") or "as it stands"
    shown = units.round_to_fraction(near.miss_in)
    place = word_of(cut, "landing").lower()
    if shown == 0:
        return f"on the {place}"
    return f"{units.length(abs(near.miss_in))} {'above' if shown > 0 else 'below'} the {place}"


def _following(cut: Cut, in_12: float, units: Units) -> str:
    """What is to find changes by, when the slope is given otherwise."""
    name = cut.unknown
    given = replace(settled(asked(cut), cut.section.answer), find=name, tangent=in_12 / 12.0)
    if name == "hap_low":
        given = replace(given, low_end="hap")
    try:
        answer = solve_landing(given, limits=None)
    except NoSolution:
        return f"; no {word_of(cut, name).lower()} lands it"
    after = {
        "run": answer.run_in,
        "low_plate": answer.low_plate_in,
        "landing": answer.landing_in,
        "hap_low": answer.hap_low_in,
        "hap_high": answer.hap_high_in,
        "seat": answer.seat_in,
    }[name]
    change = after - value_of(cut, name)
    if units.round_to_fraction(change) == 0:
        return ""
    more, less = ("higher", "lower") if name in ("landing", "low_plate") else ("more", "less")
    return f"; {word_of(cut, name).lower()} {units.length(abs(change))} {more if change > 0 else less}"


def saved_words(saved: float | None) -> str:
    """What a way saves, as words; empty where a price is missing or nothing changes."""
    if saved is None or abs(saved) < 0.005:
        return ""
    return f"saves {saved:,.2f}" if saved > 0 else f"costs {-saved:,.2f} more"


def _number(in_12: float) -> str:
    return f"{in_12:.2f}".rstrip("0").rstrip(".")
