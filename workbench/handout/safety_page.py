"""The safety page: falls, anchors, ropes, ladders, weights, heat, cautions, blank lines for an emergency."""

from __future__ import annotations

from collections.abc import Iterator

from workbench.drawing.safety_plan import safety_from_above
from workbench.handout.blocks import LABEL, LARGE, SMALL, Block, Boxed, Column, Columns, Picture, Space, Table, Words
from workbench.handout.page import Page, Paper, flowed, frame_size
from workbench.handout.words import FALL_CAUTION
from workbench.plan import Plan
from workbench.rules.site_work import heat_index_f, site_work
from workbench.safety.cautions import ARREST_GRADE, GEOMETRY_ONLY, ROPE_RULES, SITE_RULES, SITE_SOURCE
from workbench.safety.findings import no_ground_words, without_ground
from workbench.safety.words import (
    anchor_words,
    degrees,
    drops_words,
    exposure_words,
    governs_words,
    grouped,
    halves_words,
    heat_words,
    load_words,
    need_words,
    rating_words,
    rope_serves_words,
    rope_words,
    rule_lines,
    served_words,
    water_words,
)

PICTURE_SHARE = 0.36
"""Part of the page's height the drawing takes."""

MOST_LABELLED = 8
"""Up to so many falls each is labelled on the drawing; the table names them all."""

EMERGENCY = (
    "Emergency number",
    "This place, as one says it on the telephone",
    "Way in for the ambulance",
    "Competent person for fall protection",
    "Who gets a person down from a rope, and with what",
    "First aid kit, and who can use it",
    "Nearest hospital",
)
_HEAT_F = (80.0, 85.0, 90.0, 95.0, 100.0, 105.0)
_HUMIDITY = (30.0, 40.0, 50.0, 60.0, 70.0, 80.0)
_WORST_F = 137.0  # beyond this the regression has no data
_STAGE_WORDS = {"framed": "bare rafters", "sheathing": "sheets being laid", "sheathed": "sheathed"}


def safety_pages(plan: Plan, paper: Paper) -> list[Page]:
    """The safety pages; none where there is no roof."""
    if not plan.roof.planes:
        return []
    line = f"{plan.safety.rules.name}; stage of work: {_STAGE_WORDS[plan.job.safety.stage]}"
    return flowed("Safety", line, list(_blocks(plan, paper)), paper)


def _blocks(plan: Plan, paper: Paper) -> Iterator[Block]:
    yield Boxed(
        (Words(FALL_CAUTION, LARGE, bold=True), Words(GEOMETRY_ONLY, LABEL), Words(ARREST_GRADE, LABEL, after=0.0))
    )
    yield Space(4.0)
    yield Picture(
        safety_from_above(plan, drops=len(plan.safety.falls) <= MOST_LABELLED),
        PICTURE_SHARE * frame_size(paper)[1],
        metric=plan.units.system == "mm",
        largest=24,
        note="Thick: open edge. Diagonal: not served. Cross: exposed.",
    )
    yield from _anchors(plan)
    yield from _falls(plan)
    yield _emergency()
    yield Space(6.0)
    yield from _ladders(plan)
    yield _headed("Weights", load_words(plan.safety, plan.job, plan.units))
    yield from _heat(plan)
    yield Words("Always", LABEL, bold=True, after=1.0)
    yield from (Words(text, LABEL, lead="•", after=1.0) for text in (*ROPE_RULES, *SITE_RULES))
    yield Words(f"Source, where none is named: {SITE_SOURCE}.", SMALL)
    yield Words("The rule set says", LABEL, bold=True, after=1.0)
    yield from (Words(text, SMALL, lead="•", after=1.0) for text in rule_lines(plan.safety, plan.units))


def _falls(plan: Plan) -> Iterator[Block]:
    units = plan.units
    columns = (
        Column("Edge", 3.6, bold=True),
        Column("Drop, from the tops of the rafters", 3.2, "right"),
        Column("Protection", 1.8),
        Column("needed from", 1.4, "right"),
    )
    rows = tuple(
        (group[0].name, drops_words(group, units), need_words(group[0]), units.length(group[0].trigger.height_in))
        for group in grouped(plan.safety.falls)
    )
    yield Words("Falls", LABEL, bold=True, after=1.0)
    yield Table(columns, rows, LABEL, after=2.0)
    sources = dict.fromkeys(fall.trigger.source for fall in plan.safety.falls)
    yield Words(f"Sources: {'; '.join(sources)}.", SMALL)
    if not plan.job.safety.ground:
        yield Words("No ground line is given: the ground is taken as level at height 0. Measure it on site.", LABEL)
    elif missing := without_ground(plan.job.safety, plan.safety.falls):
        yield Words(no_ground_words(missing, units), LABEL)
    for fall in plan.safety.falls:
        if fall.why_not:
            yield Words(f"The deck or rail at the {fall.name} does not take the edge away: {fall.why_not}.", LABEL)


def _anchors(plan: Plan) -> Iterator[Block]:
    units, safety = plan.units, plan.safety
    yield Words("Anchors and ropes", LABEL, bold=True, after=1.0)
    if not safety.anchors:
        yield Words("No anchor is set. Ropes are planned on site by a competent person.", LABEL)
        return
    columns = (
        Column("", 0.35),
        Column("Anchor", 1.2, bold=True),
        Column("On", 1.7),
        Column("From the left", 1.5, "right"),
        Column("Rope at most", 1.6, "right", bold=True),
        Column("Limited by", 2.6),
    )
    names = {plane.id: plane.name for plane in plan.roof.planes}
    rows: list[tuple[str, ...]] = []
    for anchor in safety.anchors:
        plane = names.get(anchor.plane, "off the roof")
        place = units.length(anchor.point[0]) if anchor.plane else "–"
        rows.append(("[]", anchor.name, plane, place, rope_words(anchor, units), governs_words(anchor) or "–"))
    yield Table(columns, tuple(rows), LARGE)
    given = {anchor.id: anchor for anchor in plan.job.safety.anchors}
    for anchor in safety.anchors:
        serves = rope_serves_words(anchor, plan.roof.planes)
        said = f"{anchor_words(anchor, units)} {serves}".strip()
        yield Words(f"{anchor.name}, {rating_words(given[anchor.id])}. {said}", LARGE, after=1.0)
        yield from (
            Words(exposure_words(exposure, units), LARGE, bold=True, lead="!", after=1.0) for exposure in anchor.exposed
        )
    yield Space(3.0)
    for found in safety.planes:
        plane = plan.plane(found.plane)
        if found.served and plane is not None:
            yield Words(served_words(safety, plane, units), LABEL, after=1.0)
            if plan.job.safety.people == 2:
                yield Words(halves_words(safety, 2, plane, units), LABEL, after=1.0)
    yield Words(_allowances(plan), SMALL, after=6.0)


def _allowances(plan: Plan) -> str:
    safety, units = plan.job.safety, plan.units
    parts = (
        ("reach", safety.reach_in),
        ("stretch", safety.stretch_in),
        ("grab travel", safety.grab_travel_in),
        ("anchor movement", safety.anchor_movement_in),
        ("connector and lanyard", safety.connector_in),
    )
    listed = ", ".join(f"{name} {units.length(value)}" for name, value in parts)
    return (
        f"Rope at most = distance to the nearest open edge less {listed}. Measure your own gear before you set a rope."
    )


def _ladders(plan: Plan) -> Iterator[Block]:
    if not plan.safety.ladders:
        return
    units = plan.units
    columns = (
        Column("Ladder to the middle of", 3.4, bold=True),
        Column("Eave is up", 1.6, "right"),
        Column("Foot out", 1.6, "right"),
        Column("Rails at least", 1.7, "right"),
    )
    rows = tuple(
        (found.fall.name, units.length(found.height_in), units.length(found.foot_out_in), units.length(found.rails_in))
        for found in plan.safety.ladders
    )
    rule = site_work().ladder
    yield Table(columns, rows, LABEL, after=2.0)
    yield Words(f"Sources: {rule.out_source}; {rule.above_source}.", SMALL, after=6.0)


def _heat(plan: Plan) -> Iterator[Block]:
    rule, units = site_work().heat, plan.units
    if plan.safety.heat is not None:
        yield _headed("Heat", f"{heat_words(plan.safety, units)} {water_words(units)}")
        yield _heat_sources(plan)
        return
    yield Words(
        "Heat index in the shade by air temperature and humidity (– beyond the table)", LABEL, bold=True, after=1.0
    )
    columns = (Column("Air", 1.0, bold=True), *(Column(f"{h:.0f} %", 1.0, "right") for h in _HUMIDITY))
    rows = tuple((degrees(t, units), *(_index(plan, t, h) for h in _HUMIDITY)) for t in _HEAT_F)
    yield Table(columns, rows, LABEL, after=2.0)
    classes = "; ".join(f"{step.name} from {degrees(step.from_f, units)}: {step.advice}" for step in rule.classes)
    sun = f"{rule.sun_f / 1.8:.0f} °C" if units.system == "mm" else f"{rule.sun_f:.0f} °F"
    said = f"Full sun adds up to {sun}. {classes[:1].upper()}{classes[1:]}. {water_words(units)}"
    yield Words(said, LABEL, after=1.0)
    yield _heat_sources(plan)


def _heat_sources(plan: Plan) -> Block:
    rule = site_work().heat
    turns = f"; work and rest: {rule.turns.source}; {rule.turns.adjust_source}" if plan.safety.heat is not None else ""
    said = f"Sources: {rule.source}; {rule.sun_source}; what to do: {rule.advice_source}{turns}; "
    return Words(f"{said}water: {rule.water.source}.", SMALL, after=6.0)


def _index(plan: Plan, temperature_f: float, humidity: float) -> str:
    index = heat_index_f(temperature_f, humidity)
    return degrees(index, plan.units) if index <= _WORST_F else "–"


def _emergency() -> Block:
    lines = tuple(Words(f"{text}: {'_' * 60}"[:92], LABEL, after=5.0) for text in EMERGENCY)
    return Boxed((Words("Emergency: fill in before anyone goes up", LARGE, bold=True, after=6.0), *lines), 2.0)


def _headed(head: str, text: str) -> Block:
    return Columns(((Words(head, LABEL, bold=True), Words(text, LABEL)),), after=4.0)
