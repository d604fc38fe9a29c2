"""What is wrong or worth knowing about falls and ropes, as findings with their sources."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from workbench.findings import COMMON_PRACTICE, GEOMETRY, Finding
from workbench.job.safety import OWN_RULES, UNNAMED_SOURCE, Safety
from workbench.measure import Units
from workbench.roof.model import Plane
from workbench.safety.anchors import Placed
from workbench.safety.model import AnchorPlan, Fall, Halves, PlaneSafety
from workbench.safety.site import Site

ARREST_LETTER = "OSHA letter of interpretation of 30 May 1996"
_STAGE_WORDS = {
    "framed": "from bare rafters on",
    "sheathing": "while sheets are laid",
    "sheathed": "when the roof is sheathed",
}


def fall_findings(site: Site, falls: Sequence[Fall]) -> Iterator[Finding]:
    """Whether the heights call for protection, and decks and rails that do not count."""
    needed = [fall for fall in falls if fall.needed == "yes"]
    if needed:
        worst = max(needed, key=lambda fall: fall.drop_in)
        many = "1 edge is" if len(needed) == 1 else f"{len(needed)} edges are"
        text = (
            f"{many} high enough for fall protection under “{site.rules.name}”; the deepest is the {worst.name}, "
            f"{site.units.length(worst.drop_in)}; protection is needed from "
            f"{site.units.length(worst.trigger.height_in)} on.{_all_assumed(site)}"
        )
        yield Finding("fall-protection", "warning", "", text, worst.trigger.source)
    yield from _ground_findings(site, falls)
    asked = [fall for fall in falls if fall.needed == "ask"]
    if asked:
        worst = max(asked, key=lambda fall: fall.drop_in)
        other = site.rules.trigger("walking_surface")
        text = (
            f"The {worst.name} is {site.units.length(worst.drop_in)} up: under the trigger of "
            f"{site.units.length(worst.trigger.height_in)} for this kind of edge, but not under the "
            f"{site.units.length(other.height_in)} of a walking and working surface; ask which of them holds."
        )
        yield Finding("fall-protection-ask", "warning", "", text, other.source)
    for fall in falls:
        if fall.why_not:
            text = f"The deck or rail at the {fall.name} does not take the edge away: {fall.why_not}."
            yield Finding("guard-not-counted", "warning", fall.drawn, text, COMMON_PRACTICE)


def _all_assumed(site: Site) -> str:
    return "" if site.safety.ground else f" {no_ground_words((), site.units)}"


def _ground_findings(site: Site, falls: Sequence[Fall]) -> Iterator[Finding]:
    """Edges whose height only looks known: the ground is given below others, and 0 is not said to be cautious."""
    missing = without_ground(site.safety, falls)
    if site.safety.ground and missing:
        yield Finding("ground-not-given", "warning", "", no_ground_words(missing, site.units), COMMON_PRACTICE)


def without_ground(safety: Safety, falls: Sequence[Fall]) -> tuple[Fall, ...]:
    """The falls to the ground along drawn edges that no ground line lies under."""
    given = {line.edge for line in safety.ground}
    return tuple(fall for fall in falls if fall.kind in ("eave", "rake") and fall.drawn and fall.drawn not in given)


def no_ground_words(missing: Sequence[Fall], units: Units) -> str:
    """That the ground is only assumed, below the falls named or, with none named, everywhere."""
    if not missing:
        return "No ground line is given: the ground is taken as level at height 0."
    names = ", ".join(dict.fromkeys(fall.name for fall in missing))
    return (
        f"No ground line is given below the {names}: the ground there is taken as level at height "
        f"{units.length(0.0)}, and where it lies lower these edges are higher than they are said to be. Measure it."
    )


def setting_findings(safety: Safety, known_rules: bool, drawn: frozenset[str]) -> Iterator[Finding]:
    """Settings that name something that is not there."""
    if not known_rules:
        text = (
            f'There is no rule set "{safety.rule_set}"; the federal residential one is used instead. '
            "Choose one on the Safety stage."
        )
        yield Finding("rule-set-unknown", "error", "", text, COMMON_PRACTICE)
    own = safety.own_rules
    if safety.rule_set == OWN_RULES and own is not None and own.source == UNNAMED_SOURCE:
        text = (
            f"The rule set “{own.name}” names no source, so it is not used; the federal residential one is, until the "
            "Safety stage says where yours stands."
        )
        yield Finding("own-rule-set-without-source", "error", "", text, COMMON_PRACTICE)
    elif safety.rule_set == OWN_RULES and own is not None:
        text = f"The rule set “{own.name}” is the job's own; nobody has checked it against its source."
        yield Finding("own-rule-set", "note", "", text, own.source)
    for what, edges in (
        ("ground line", [line.edge for line in safety.ground]),
        ("deck or rail", [guard.edge for guard in safety.guards]),
        ("access", [served.edge for served in safety.served_from]),
    ):
        for edge in edges:
            if edge not in drawn:
                text = f'The {what} at "{edge}" has no such edge now; it waits in the job unused.'
                yield Finding("safety-edge-missing", "warning", edge, text, COMMON_PRACTICE)


def placing_findings(placed: Sequence[Placed], units: Units) -> Iterator[Finding]:
    """Anchors that are not on the roof."""
    for each in placed:
        if each.plane is not None:
            continue
        anchor = each.anchor
        if math.isinf(each.off_in):
            text = f'The anchor {each.name} stands on "{anchor.plane}", but no plane rises from there now; move it.'
        else:
            text = f"The anchor {each.name} lies {units.length(each.off_in)} off the roof; move it on to its plane."
        yield Finding("anchor-off-roof", "error", anchor.id, text, GEOMETRY)


def anchor_findings(site: Site, placed: Sequence[Placed], anchors: Sequence[AnchorPlan]) -> Iterator[Finding]:
    """What each anchor and its rope can't do."""
    for each, anchor in zip(placed, anchors, strict=True):
        if each.plane is None:
            continue
        if not anchor.built:
            when = _STAGE_WORDS[each.anchor.valid_from]
            text = f"The anchor {anchor.name} counts only {when}; at the stage of work looked at it is not there."
            yield Finding("anchor-not-built", "warning", anchor.id, text, COMMON_PRACTICE)
        yield from _rope_findings(site, anchor, tied=each.anchor.rope_in is not None)
    yield from _rating_findings(site, [each for each in placed if each.plane is not None])


def _rating_findings(site: Site, standing: Sequence[Placed]) -> Iterator[Finding]:
    for rating, words in (("restraint", "rated for restraint only"), ("unknown", "not said to be rated")):
        names = [each.name for each in standing if each.anchor.rated == rating]
        if names:
            many = f"The anchor {names[0]} is" if len(names) == 1 else f"The anchors {', '.join(names)} are"
            grade = site.rules.arrest.anchor
            text = f"{many} {words}; on a slope restraint is to have arrest-grade anchors too ({grade})."
            yield Finding("anchor-rating", "warning", "", text, f"{ARREST_LETTER}; {site.rules.arrest.source}")


def _rope_findings(site: Site, anchor: AnchorPlan, *, tied: bool) -> Iterator[Finding]:
    units, governs = site.units, anchor.governs
    if governs is not None and governs.total_in <= site.safety.connector_in and not tied:
        text = (
            f"From the anchor {anchor.name} no rope keeps anyone from the {governs.fall.name}: "
            f"{governs.trace.values}, and connector and lanyard alone are {units.length(site.safety.connector_in)}."
        )
        yield Finding("rope-no-length", "warning", anchor.id, text, GEOMETRY)
    rakes = [exposure for exposure in anchor.exposed if exposure.fall.kind == "rake"]
    if rakes:
        parts = "; ".join(f"{e.fall.name} along {units.length(e.along_in)}" for e in rakes)
        text = f"The rope on {anchor.name} does NOT restrain at the rake: {parts}."
        yield Finding("rake-not-restrained", "warning", anchor.id, text, GEOMETRY)
    for exposure in anchor.exposed:
        if exposure.fall.kind == "rake":
            continue
        limit = next(limit for limit in anchor.limits if limit.fall is exposure.fall)
        text = (
            f"The rope on {anchor.name} is too long for the {exposure.fall.name}: {units.length(anchor.set_in)} with "
            f"connector and lanyard, and {units.signed(limit.total_in)} is allowed."
        )
        yield Finding("rope-too-long", "warning", anchor.id, text, GEOMETRY)


def coverage_findings(
    site: Site, planes: Sequence[Plane], found: Sequence[PlaneSafety], split: Sequence[Halves]
) -> Iterator[Finding]:
    """Strips that nothing serves yet, and people whose ropes can cross."""
    names = {plane.id: plane.name for plane in planes}
    units = site.units
    for plane in found:
        for strip in plane.strips:
            if strip.most_in <= 0.0 or strip.fall.guarded:
                continue
            how = strip.served_from or "from below: ladder, scaffold or guarded deck"
            depth = f"from {units.length(strip.least_in)} to {units.length(strip.most_in)} deep"
            text = (
                f"Along the {strip.fall.name} a strip {depth} can't be served from the ropes; it is served {how}."
                if strip.reached
                else f"Above the {strip.fall.name} no rope serves anything; it is served {how}."
            )
            yield Finding("strip-along-eave", "note", plane.plane, text, GEOMETRY)
    if site.safety.people == 2:
        shared = frozenset(anchor.id for anchor in site.safety.anchors if anchor.people >= 2)
        yield from _halves_findings(split, names, shared)


def _halves_findings(split: Sequence[Halves], names: dict[str, str], shared: frozenset[str]) -> Iterator[Finding]:
    for half in split:
        plane = names.get(half.plane, half.plane)
        if (not half.left or not half.right) and not shared.intersection(half.left + half.right):
            side = "left" if not half.left else "right"
            text = (
                f"Two people on {plane}: the {side} half has no anchor; one person an anchor unless it is rated for "
                "more."
            )
            yield Finding("half-without-anchor", "warning", half.plane, text, COMMON_PRACTICE)
        for a, b in half.crossing:
            text = (
                f"Two people on {plane}: the ropes on {a} and {b} can cross. Set them so that each stays in its half."
            )
            yield Finding("ropes-can-cross", "note", half.plane, text, COMMON_PRACTICE)
