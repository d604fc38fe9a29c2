"""Rafter spans: every common and jack rafter against the greatest span of its section. Screening, never design.

The span is level, from the inner end of the low seat to the upper support, with half a least bearing added at each end
(NDS 3.2.1, from memory). Of marks that differ by their length alone the longest stands for all. Hips and valleys carry
other rafters along their length: they are for the engineer.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from workbench.errors import BadInput
from workbench.findings import SCREENING, Finding
from workbench.framing.marks import KIND_WORDS
from workbench.framing.model import Member, MemberKind
from workbench.framing.span import SpanAnswer, SpanInput, greatest_span
from workbench.framing.stock import NOMINAL_DEPTHS_IN
from workbench.job.model import Wing
from workbench.measure import Trace, Units
from workbench.rules.frame_limits import frame_limits, tie_multiplier
from workbench.screening.frame import Frame, level_of
from workbench.screening.loads import Wood, wood_of
from workbench.screening.model import Check, PlaneLoads
from workbench.screening.words import LOAD_WORDS, spacing_words, use_words

CHECKED: frozenset[MemberKind] = frozenset(("common_rafter", "hip_jack", "valley_jack", "cripple_jack"))
SPACINGS_IN = (24.0, 19.2, 16.0, 12.0)
"""Spacings that divide an 8 ft sheet, widest first."""

_BEARING_WORDS = "clear span from the seat to the upper support, and half a least bearing at each end"
_NOISE = 1e-6


@dataclass(frozen=True, slots=True)
class _Case:
    """One answer with the load it is for and what it is multiplied by for raised ties."""

    load: str
    answer: SpanAnswer
    allowed_in: float


@dataclass(frozen=True, slots=True)
class _Asked:
    """Rafters alike in all but their length: what their greatest span is asked with."""

    wing: Wing
    members: tuple[Member, ...]
    span_in: float
    loads: PlaneLoads
    wood: Wood
    deflection: float
    multiplier: float
    supports_in: tuple[float, ...]

    @property
    def longest(self) -> Member:
        """The mark of the longest span."""
        return max(self.members, key=self.span_of)

    def span_of(self, member: Member) -> float:
        """Level span of one of them."""
        return level_span_in(member, self.supports_in)


cached_span = lru_cache(maxsize=4096)(greatest_span)


def level_span_in(member: Member, supports_in: Sequence[float] = ()) -> float:
    """Level span of a rafter, inches: from the inner end of its seat to its upper support, with half a bearing each.

    Args:
        member: The rafter.
        supports_in: Level distances in from the building line of what carries it in between; the longest span left
            counts, each by itself as a simple beam.
    """
    measures = {measure.name: measure for measure in member.measures}
    low = level_of(member, (0.0, member.depth_in))
    heel: float | None = None
    if "heel plumb line to upper cut" in measures:
        low = heel = level_of(member, measures["heel plumb line to upper cut"].start)
    if "seat" in measures:
        low = level_of(member, measures["seat"].end)
    high = level_of(member, (member.length_in, member.depth_in))
    if "upper seat" in measures:
        high = level_of(member, measures["upper seat"].start)
    elif "heel to landing line" in measures:
        high = level_of(member, measures["heel to landing line"].end)
    between = [] if heel is None else [heel + x for x in supports_in if low < heel + x < high]
    points = [low, *sorted(between), high]
    return max(b - a for a, b in pairwise(points)) + frame_limits().least_bearing_in


def rafter_checks(frame: Frame) -> tuple[list[Check], list[Finding]]:
    """The spans of all wings, and what is over."""
    checks: list[Check] = []
    findings: list[Finding] = []
    for wing_id in frame.with_rafters:
        for asked in _groups(frame, wing_id):
            check = _check(frame, asked)
            checks.append(check)
            if check.verdict == "fails":
                findings.append(_finding(frame, asked, check))
        checks += [*_hips(frame, wing_id), *_headers(frame, wing_id)]
    return checks, findings


def _groups(frame: Frame, wing_id: str) -> list[_Asked]:
    """The rafters of one wing, those alike in all but their length together."""
    found: dict[tuple[MemberKind, str, float], list[Member]] = {}
    for member in frame.members(wing_id):
        if member.kind in CHECKED:
            found.setdefault((member.kind, member.section, round(member.angle_deg, 3)), []).append(member)
    wing, supports = frame.effective[wing_id], frame.job.screening.of_wing(wing_id).supports_in
    groups: list[_Asked] = []
    for (kind, section, _), members in found.items():
        planes = {p.plane for m in members for p in m.placements if p.plane in frame.planes}
        mine = [frame.loads[plane] for plane in sorted(planes) if frame.planes[plane].wing == wing_id]
        loads = max(mine, key=lambda each: each.dead_psf + each.heaviest_psf)
        groups.append(
            _Asked(
                wing,
                tuple(members),
                max(level_span_in(member, supports) for member in members),
                loads,
                wood_of(frame.job.lumber, section),
                frame.job.screening.deflection_of(wing_id),
                raised_multiplier(frame, wing) if kind == "common_rafter" else 1.0,
                supports,
            )
        )
    return groups


def raised_multiplier(frame: Frame, wing: Wing) -> float:
    """What raised rafter ties take from a wing's spans; 0 where they stand higher than the table goes."""
    tie, tied = wing.trim.rafter_ties, frame.job.screening.tied_of(wing.id)
    if tie is None or tied not in ("rafter_ties", "not_said"):
        return 1.0
    row = tie_multiplier(tie.share)
    return 0.0 if row is None else row.multiplier


def _cases(asked: _Asked, size: str, thickness: float, spacing: float) -> list[_Case]:
    """The greatest span under each load."""
    cases: list[_Case] = []
    for load, live in asked.loads.cases:
        answer = cached_span(
            SpanInput(
                asked.wood.species,
                asked.wood.grade,
                size,
                spacing,
                live,
                asked.loads.dead_psf,
                asked.deflection,
                load,
                thickness_in=thickness,
                repetitive=spacing <= frame_limits().widest_repetitive_in + _NOISE,
            )
        )
        cases.append(_Case(LOAD_WORDS[load], answer, answer.span_in * asked.multiplier))
    return cases


def _check(frame: Frame, asked: _Asked) -> Check:
    member = asked.longest
    subject = _subject(asked)
    size = nominal_size(member)
    if size is None:
        text = f"a section of {member.section} stands in no table of sawn lumber; it goes by its maker's tables"
        return Check("rafter_span", member.mark, subject, "not_known", None, text, "", (), "")
    if asked.multiplier == 0.0:
        text = "rafter ties higher than a third of the ridge's height: no span table holds"
        source = frame_limits().raised_ties_source
        return Check("rafter_span", member.mark, subject, "engineer", None, text, "", (), source)
    try:
        cases = _cases(asked, size, member.thickness_in, asked.wing.rafter.spacing_in)
    except BadInput as error:
        return Check("rafter_span", member.mark, subject, "not_known", None, str(error), "", (), "")
    if not cases:
        text = "no live load and no snow is given, so there is nothing to span against"
        return Check("rafter_span", member.mark, subject, "not_known", None, text, "", (), "")
    worst = min(cases, key=lambda case: case.allowed_in)
    use = asked.span_in / worst.allowed_in
    units = frame.units
    between = " between its supports (for the engineer)" if asked.supports_in else ""
    text = (
        f"spans {units.length(asked.span_in)} level{between}; {units.length(worst.allowed_in)} is the most "
        f"for {member.section} {asked.wood.words} at {spacing_words(asked.wing.rafter.spacing_in, units)} under "
        f"{units.pressure(asked.loads.dead_psf)} dead and {_live(asked, worst, units)}, "
        f"L/{asked.deflection:g} ({worst.answer.governs})"
    )
    passes = use <= 1.0 + _NOISE
    return Check(
        "rafter_span",
        member.mark,
        subject,
        "passes" if passes else "fails",
        use,
        text,
        "" if passes else _mend(frame, asked, size, member.thickness_in),
        (_span_trace(frame, asked), *(case.answer.trace for case in cases), *_tie_traces(asked), *asked.loads.traces),
        worst.answer.source,
    )


def _live(asked: _Asked, worst: _Case, units: Units) -> str:
    live = next(psf for load, psf in asked.loads.cases if LOAD_WORDS[load] == worst.load)
    return f"{units.pressure(live)} {worst.load}"


def _subject(asked: _Asked) -> str:
    marks = len(asked.members)
    longest = f" (longest of {marks} marks)" if marks > 1 else ""
    return f"{asked.longest.mark}, {asked.wing.name}{longest}"


def _span_trace(frame: Frame, asked: _Asked) -> Trace:
    bearing = frame_limits().least_bearing_in
    units = frame.units
    values = f"{asked.span_in - bearing:.4f} + {bearing:g} = {asked.span_in:.4f} in = {units.length(asked.span_in)}"
    source = f"geometry; NDS 3.2.1, from memory; bearing: {frame_limits().least_bearing_source}"
    return Trace("level span", asked.span_in, "in", _BEARING_WORDS, values, source)


def _tie_traces(asked: _Asked) -> tuple[Trace, ...]:
    if asked.multiplier == 1.0:
        return ()
    tie = asked.wing.trim.rafter_ties
    share = 0.0 if tie is None else tie.share
    row = tie_multiplier(share)
    values = f"ties at {share:.3f} of the ridge's height, not over {row.words if row else '1/3'}: {asked.multiplier:g}"
    return (
        Trace(
            "multiplier for raised ties",
            asked.multiplier,
            "ratio",
            "the tabulated span is multiplied where ties stand above the plates",
            values,
            frame_limits().raised_ties_source,
        ),
    )


def nominal_size(member: Member) -> str | None:
    """The size a member's design values are looked up by, such as ``2x8``; None for what no table has.

    Thicker members take the values of two inches nominal, whose size factors are not greater.
    """
    nominal = NOMINAL_DEPTHS_IN.get(member.depth_in)
    return None if nominal is None or not 1.5 <= member.thickness_in <= 3.5 else f"2x{nominal}"


def _passes(asked: _Asked, size: str, thickness: float, spacing: float) -> bool:
    try:
        cases = _cases(asked, size, thickness, spacing)
    except BadInput:
        return False
    return all(asked.span_in <= case.allowed_in + _NOISE for case in cases)


def _mend(frame: Frame, asked: _Asked, size: str, thickness: float) -> str:
    """The next size, and the next spacing, that would pass; both at once where neither does alone."""
    now = asked.wing.rafter.spacing_in
    deeper = [f"2x{name}" for name in NOMINAL_DEPTHS_IN.values() if name > int(size.removeprefix("2x"))]
    closer = [spacing for spacing in SPACINGS_IN if spacing < now - _NOISE]
    by_size = next((other for other in deeper if _passes(asked, other, thickness, now)), None)
    by_space = next((spacing for spacing in closer if _passes(asked, size, thickness, spacing)), None)
    units = frame.units
    ways: list[str] = []
    if by_size is not None:
        ways.append(f"{_named(by_size, thickness)} at {spacing_words(now, units)}")
    if by_space is not None:
        ways.append(f"{_named(size, thickness)} at {spacing_words(by_space, units)}")
    if not ways:
        both = next(
            ((other, spacing) for other in deeper for spacing in closer if _passes(asked, other, thickness, spacing)),
            None,
        )
        if both is not None:
            ways.append(f"{_named(both[0], thickness)} at {spacing_words(both[1], units)}")
    if not ways:
        return "no sawn size here spans it at any of the usual spacings; bring a purlin, beam or wall under it"
    return f"{' or '.join(ways)} would span it"


def _named(size: str, thickness: float) -> str:
    """A size with its real thickness: ``2x10``, ``double 2x10``, ``4x10``."""
    depth = size.removeprefix("2x")
    return {1.5: size, 2.5: f"3x{depth}", 3.0: f"double {size}", 3.5: f"4x{depth}"}.get(
        thickness, f"the same thickness {depth} in deep, nominal,"
    )


def _finding(frame: Frame, asked: _Asked, check: Check) -> Finding:
    severity = frame.severity(asked.wing.id, wood_given=asked.wood.given)
    over = [member.mark for member in asked.members if asked.span_of(member) * (check.use or 1.0) > asked.span_in]
    others = {1: "", 2: " So is one shorter mark of the kind."}.get(
        len(over), f" So are {len(over) - 1} shorter marks of the kind."
    )
    assumed = "" if severity == "error" else " Loads or lumber are assumed, not given."
    text = (
        f"{check.subject}: {check.text}: {use_words(check.use or 0.0)}.{others} "
        f"{check.mend[:1].upper()}{check.mend[1:]}.{assumed} {SCREENING}"
    )
    return Finding("rafter-over-span", severity, check.object, text, check.source)


def _hips(frame: Frame, wing_id: str) -> list[Check]:
    """Hips and valleys: one row a kind; they carry jacks along their length, which no span table covers."""
    checks: list[Check] = []
    kinds: tuple[MemberKind, ...] = ("hip_rafter", "valley_rafter")
    for kind in kinds:
        members = [member for member in frame.members(wing_id) if member.kind == kind]
        if members:
            longest = max(members, key=lambda member: member.length_in)
            span = level_of(longest, (longest.length_in, longest.depth_in))
            word = KIND_WORDS[kind]
            text = (
                f"carries jacks along its length, {frame.units.length(span)} level from tail to head; no span table "
                "covers it: its size, its posts and what carries its head are for the engineer"
            )
            subject = f"{longest.mark}, {frame.effective[wing_id].name}"
            source = f"{word}s are designed where they carry loads: common practice, no source"
            checks.append(Check("hip", longest.mark, subject, "engineer", None, text, "", (), source))
    return checks


def _headers(frame: Frame, wing_id: str) -> list[Check]:
    """Headers and the trimmers that take their ends: they carry the rafters that are cut off."""
    headers = [member for member in frame.members(wing_id) if member.kind == "header"]
    if not headers:
        return []
    longest = max(headers, key=lambda member: member.length_in)
    text = (
        f"headers up to {frame.units.length(longest.length_in)} long carry the rafters cut off at openings to the "
        "trimmers; no span table covers either: their sizes and hangers are for the engineer"
    )
    subject = f"{longest.mark}, {frame.effective[wing_id].name}"
    source = "headers and trimmers are designed where they carry loads: common practice, no source"
    return [Check("header", longest.mark, subject, "engineer", None, text, "", (), source)]
