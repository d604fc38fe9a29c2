"""What the safety page on screen and on paper says, in words. All figures through the job's formatter."""

from __future__ import annotations

import math
from collections.abc import Sequence

from workbench.job.model import Job
from workbench.job.safety import Anchor
from workbench.measure import Units
from workbench.roof.model import Plane
from workbench.rules.site_work import site_work
from workbench.safety.areas import from_area
from workbench.safety.cautions import RAKES_NOT_RESTRAINED
from workbench.safety.model import AnchorPlan, Carrying, Exposure, Fall, FewestAnchors, Turn
from workbench.safety.solve import SafetyPlan

_NOISE = 1e-6
_LEAST_SHARE = 0.005  # less is 0 per cent as it is shown


def grouped(falls: Sequence[Fall]) -> tuple[tuple[Fall, ...], ...]:
    """Falls of the same name that are judged alike, each group in the order it is met."""
    groups: dict[tuple[str, str, bool, float], list[Fall]] = {}
    for fall in falls:
        groups.setdefault((fall.name, fall.needed, fall.guarded, fall.trigger.height_in), []).append(fall)
    return tuple(tuple(group) for group in groups.values())


def drops_words(group: Sequence[Fall], units: Units) -> str:
    """The drops of a group, from the least to the greatest."""
    least = units.length(min(fall.least_drop_in for fall in group))
    most = units.length(max(fall.drop_in for fall in group))
    return most if least == most else f"{least} to {most}"


def need_words(fall: Fall) -> str:
    """Whether protection is needed there."""
    if fall.guarded:
        return "guarded"
    return {"yes": "needed", "ask": "ask", "no": "under trigger"}[fall.needed]


def at_most(x: float, units: Units) -> str:
    """A length that must not be passed, rounded down as it is shown."""
    step = 1.0 / 25.4 if units.system == "mm" else 1.0 / units.fraction
    return units.length(math.floor(x / step + _NOISE) * step)


def rope_words(anchor: AnchorPlan, units: Units) -> str:
    """The rope that an anchor permits; of a longer one that is tied to it, that it is too long."""
    if not anchor.plane:
        return "off the roof"
    if anchor.too_long:
        most = at_most(anchor.permitted_in, units) if anchor.permitted_in > 0.0 else "none is left"
        return f"{most} (tied: {units.length(anchor.rope_in)}, TOO LONG)"
    return at_most(anchor.rope_in, units) if anchor.rope_in > 0.0 else "none is left"


def governs_words(anchor: AnchorPlan) -> str:
    """Which edge limits the rope."""
    if not anchor.plane:
        return ""
    return anchor.governs.fall.name if anchor.governs is not None else "no open edge"


def exposure_words(exposure: Exposure, units: Units) -> str:
    """How an edge is exposed, in a sentence or two."""
    along = f"Exposed along {units.length(exposure.along_in)} of the {exposure.fall.name}"
    if not exposure.passes:
        return f"{along}: a hand or foot can pass it, the harness can't."
    hits = (
        f"the feet strike the level below {units.length(-exposure.clearance_in)} too early"
        if exposure.clearance_in < 0.0
        else f"{units.length(exposure.clearance_in)} clear below the feet"
    )
    return (
        f"{along}: free fall up to {units.length(exposure.free_fall_in)}, swing up to "
        f"{units.length(exposure.swing_in)}, {hits}."
    )


def anchor_words(anchor: AnchorPlan, units: Units) -> str:
    """What the rope of an anchor is set by, and which rope to take for it."""
    if not anchor.plane:
        return "This anchor lies off the roof; drag it on to a plane, or change its measures."
    lines: list[str] = []
    if anchor.rakes_free:
        lines.append(RAKES_NOT_RESTRAINED)
    if anchor.set_in > 0.0:
        lines.append(f"Rope, connector and lanyard together {at_most(anchor.set_in, units)}.")
    bought, limit = anchor.to_buy, at_most(anchor.rope_in, units)
    governs, allowed = anchor.governs, anchor.permitted_in
    if governs is not None and anchor.too_long:
        stop = f"stop it at {at_most(allowed, units)}" if allowed > 0.0 else "no stop on it is short enough"
        lines.append(f"The rope tied to it, {limit}, is longer than the {governs.fall.name} allows: {stop}.")
    elif bought.length_in is not None:
        lines.append(f"Take the {units.length(bought.length_in)} rope.")
    elif bought.next_in is not None and anchor.rope_in > 0.0:
        hangs = units.length(bought.next_hangs_in)
        over = f"; unstopped it would hang {hangs} over the eave" if bought.next_hangs_in > 0.0 else ""
        lines.append(
            f"The shortest rope of the set, {units.length(bought.next_in)}, has to be stopped at {limit}{over}."
        )
    return " ".join(lines)


def rating_words(anchor: Anchor) -> str:
    """What an anchor is rated for, by how many people, and from when on it counts."""
    rated = {"arrest": "rated for arrest", "restraint": "rated for restraint only", "unknown": "rating NOT said"}
    people = "1 person" if anchor.people == 1 else f"{anchor.people} people"
    when = {"framed": "bare rafters", "sheathing": "sheets being laid", "sheathed": "sheathed"}
    return f"{rated[anchor.rated]}, {people}; counts from: {when[anchor.valid_from]}"


def rope_serves_words(anchor: AnchorPlan, planes: Sequence[Plane]) -> str:
    """How much of each plane the rope of one anchor serves, in a sentence; empty where it serves nothing."""
    areas = {plane.id: 144.0 * plane.area_sqft for plane in planes}
    names = {plane.id: plane.name for plane in planes}
    shares = {name: from_area(area).area / areas[name] for name, area in anchor.served if areas.get(name, 0.0) > 0.0}
    told = [f"{100.0 * share:.0f} % of {names[name]}" for name, share in shares.items() if share >= _LEAST_SHARE]
    stopped = ", stopped where it is permitted," if anchor.too_long else ""
    return f"From it{stopped} {_and(told)} can be worked on." if told else ""


def _and(told: Sequence[str]) -> str:
    return told[0] if len(told) == 1 else f"{', '.join(told[:-1])} and {told[-1]}"


def served_words(safety: SafetyPlan, plane: Plane | None, units: Units) -> str:
    """What the ropes serve of a plane, and its strips."""
    found = safety.plane(plane.id) if plane is not None else None
    if plane is None or found is None:
        return "Draw a roof first."
    if not found.served:
        return f"No rope serves {plane.name}."
    lines = [f"{100.0 * found.share:.0f} % of {plane.name} is served from the ropes."]
    for strip in found.strips:
        if strip.fall.guarded:
            continue
        how = strip.served_from or "from below: ladder, scaffold or guarded deck"
        if strip.reached:
            depth = f"{units.length(strip.least_in)} to {units.length(strip.most_in)}"
            lines.append(f"Along the {strip.fall.name} a strip {depth} deep is not; it is served {how}.")
        else:
            lines.append(f"Above one {strip.fall.name} nothing is; it is served {how}.")
    return " ".join(lines)


def fewest_words(plane: Plane, found: FewestAnchors, units: Units) -> str:
    """The fewest anchors of a plane, in words."""
    if not found.points:
        return (
            f"From the top edge of {plane.name} no rope is left that keeps a person from every edge. Guard the nearest "
            "edges, cover the openings, or see what ropes do that keep from all but the rakes."
        )
    count = "1 anchor serves" if len(found.points) == 1 else f"{len(found.points)} anchors serve"
    proof = "fewer can't" if found.proven else "fewer may do"
    at = ", ".join(units.length(x) for x, _ in found.points)
    return (
        f"{count} {100.0 * found.share:.0f} % of {plane.name}, all that can be served from its top edge; {proof}. "
        f"From the left end: {at}.{_nearly_words(found, units)}"
    )


def _nearly_words(found: FewestAnchors, units: Units) -> str:
    if not found.nearly:
        return ""
    at = ", ".join(units.length(x) for x in found.nearly)
    count = "1 anchor" if len(found.nearly) == 1 else f"{len(found.nearly)} anchors"
    return f" {count} would serve {100.0 * found.nearly_share:.0f} %: {at}."


def halves_words(safety: SafetyPlan, people: int, plane: Plane | None, units: Units) -> str:
    """Two people in two halves on a plane."""
    half = next((half for half in safety.halves if plane is not None and half.plane == plane.id), None)
    if people != 2:
        return "One person on the roof at one time."
    if half is None or plane is None:
        return "Two people: one takes the left half, one the right; each needs an anchor in that half."
    sides = [
        f"{side} half {', '.join(names) if names else 'has no anchor'}"
        for side, names in (("left", half.left), ("right", half.right))
    ]
    crossing = "; ".join(f"ropes on {a} and {b} can cross" for a, b in half.crossing)
    split = units.length(half.split_in)
    return f"Two people on {plane.name}, parted {split} from the left end: {'; '.join(sides)}. " + (
        f"{crossing[0].upper()}{crossing[1:]}." if crossing else "Their ropes do not cross."
    )


def load_words(safety: SafetyPlan, job: Job, units: Units) -> str:
    """Weights carried and set down."""
    found = safety.carrying
    if found is None:
        return "No sheets are laid yet."
    if found.sheet_lb <= 0.0:
        return f"The weight of {job.sheathing.thickness} panels is not in the tables; weigh one."
    one = f"{found.lift_index:.1f} times the limit of one lift ({units.weight(found.limit_lb)})"
    two = f"carried by two {found.shared_index:.1f} times"
    return (
        f"A sheet weighs {units.weight(found.sheet_lb)}, all sheets {units.weight(found.sheets_lb)}, {found.trips} "
        f"pieces handed up. Lifted by one person a sheet is {one}, {two}. A stack of "
        f"{job.safety.stack_sheets} weighs {units.weight(found.stack_lb)}, {units.pressure(found.stack_psf)} on "
        f"its own footprint beside a roof live load of {units.pressure(found.live_psf)}; the engineer says what the "
        f"frame carries. Set down on a deck with {job.safety.people} on it the stack makes "
        f"{units.pressure(round(found.deck_psf))}: {_deck(found)}."
    )


def _deck(found: Carrying) -> str:
    if not found.deck_class:
        return "more than any class of deck carries; set fewer sheets down"
    return f"a deck of {found.deck_class} at least, and its builder says what it carries"


def heat_words(safety: SafetyPlan, units: Units) -> str:
    """How hot the day feels, and what of the hour may be worked."""
    found = safety.heat
    if found is None:
        return "Give temperature and humidity for the heat index, and for work and rest."
    shade = f" ({found.shade_class})" if found.shade_class else ""
    sun = f" ({found.sun_class}: {found.advice})" if found.sun_class else ""
    index = f"Heat index {degrees(found.shade_f, units)} in the shade{shade}; in full sun up to "
    return f"{index}{degrees(found.sun_f, units)}{sun}. {' '.join(turn_words(turn) for turn in found.turns)}"


def turn_words(turn: Turn) -> str:
    """Work and rest of one kind of work, in a sentence."""
    sun, shade = _minutes(turn.sun_min), _minutes(turn.shade_min)
    name = f"{turn.work[:1].upper()}{turn.work[1:]}"
    if turn.sun_min == turn.shade_min:
        return f"{name}: {sun}, in full sun and in the shade."
    return f"{name}: in full sun {sun}, in the shade {shade}."


def water_words(units: Units) -> str:
    """How much to drink in the heat, in a sentence."""
    water = site_work().heat.water
    return f"Drink {water.metric if units.system == 'mm' else water.text}."


def degrees(degrees_f: float, units: Units) -> str:
    """A temperature as the job shows it."""
    return f"{(degrees_f - 32.0) / 1.8:.0f} °C" if units.system == "mm" else f"{degrees_f:.0f} °F"


def _minutes(work: int) -> str:
    if work >= 60:
        return "breaks as usual"
    return f"{work} minutes of work, {60 - work} of rest in each hour" if work else "none; the day is too hot for it"


def rule_lines(safety: SafetyPlan, units: Units) -> tuple[str, ...]:
    """What the rule set says, each with its source."""
    rules = safety.rules
    lines = [f"{rules.name}, {rules.edition}. Steep is over {rules.steep_over_in_12:g} in 12 ({rules.steep_source})."]
    used = {id(fall.trigger): fall.trigger for fall in safety.falls}
    lines += [f"From {units.length(t.height_in)} on: {t.by} ({t.source})." for t in used.values()]
    lines += [f"{note.text} ({note.source})" for note in rules.notes]
    lines.append(f"Arrest anchors: {rules.arrest.anchor} ({rules.arrest.source}).")
    return tuple(lines)
