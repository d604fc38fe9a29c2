"""Setting out: heights and props, and the layout stick; read on the deck, so in large type."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from workbench.drawing.stick_strip import stick_strip
from workbench.handout.blocks import LABEL, LARGE, Block, Boxed, Column, Columns, Picture, Table, Words
from workbench.handout.page import Page, Paper, flowed
from workbench.handout.words import FALL_CAUTION_SHORT
from workbench.measure import Units
from workbench.plan import Plan
from workbench.site.heights import where_words
from workbench.site.model import LayoutStick, Prop, SetHeight, StickMark

STICK_TALLEST = 150.0

BENCH = 12.0
"""Size of what is read at the bench where the stick is marked."""
MOSTLY = 0.7
"""From this share of one mark on only the others are named in the table of a stick."""

SHORT = 16
"""So many letters fit beside each other in four runs of a stick's lines; longer ones stand in three."""

_READ_IN = 1.0 / 32.0

PROP_CAUTION = (
    "Props and their bracing are for a competent person to plan; lengths here are geometry and carry nothing. Prop on "
    "sills, brace both ways, take none out before the sheets are nailed."
)
STICK_RULE = (
    "Layout sticks: a line is the face of the member nearer to where the tape begins; the member stands beyond it, "
    "where the cross is. At hips and valleys the line is the centre."
)
_CENTRED = ("hip_rafter", "valley_rafter")


def setting_out_pages(plan: Plan, paper: Paper) -> list[Page]:
    """Heights, props and layout sticks; none where nothing is framed."""
    site = plan.site
    if not site.heights and not site.sticks:
        return []
    blocks: list[Block] = [
        Boxed((Words(FALL_CAUTION_SHORT, LABEL, bold=True), Words(PROP_CAUTION, LABEL, after=0.0)), 1.4),
        Words("", 4.0),
    ]
    blocks += _heights(plan)
    if site.sticks:
        blocks.append(Words(STICK_RULE, LABEL, after=4.0))
    for stick in site.sticks:
        blocks += _stick(stick, plan.units)
    blocks += _jacks(plan)
    return flowed("Setting out", f"Heights, {site.base_words}; layout sticks", blocks, paper)


def grouped_heights(heights: Sequence[SetHeight], units: Units) -> list[tuple[SetHeight, tuple[str, ...]]]:
    """Heights that read alike on paper told once, with the names of all."""
    found: dict[tuple[object, ...], tuple[SetHeight, list[str]]] = {}
    for one in heights:
        props = tuple((prop.place, units.length(prop.length_in)) for prop in one.props)
        key = (one.mark, units.length(one.above_plate_in), props)
        found.setdefault(key, (one, []))[1].append(one.name)
    return [(one, tuple(names)) for one, names in found.values()]


def _heights(plan: Plan) -> Iterator[Block]:
    units, site = plan.units, plan.site
    if not site.heights:
        return
    deck = any(one.above_deck_in is not None for one in site.heights)
    columns = [Column("Set", 1.6, bold=True), Column("Top over the plate", 1.4, "right", bold=True)]
    columns += [Column("Top over the deck", 1.4, "right")] if deck else []
    columns += [Column("Prop", 1.5), Column("Its length", 1.3, "right", bold=True), Column("Its top cut", 1.0, "right")]
    rows: list[tuple[str, ...]] = []
    for one, names in grouped_heights(site.heights, units):
        times = f" × {len(names)}" if len(names) > 1 else ""
        head = [f"{one.mark}{times}", units.length(one.above_plate_in)]
        head += [] if not deck else ["" if one.above_deck_in is None else units.length(one.above_deck_in)]
        for i, (places, prop) in enumerate(_told(one.props, units)):
            first = head if i == 0 else [""] * len(head)
            rows.append((*first, places, units.length(prop.length_in), _bevel(prop)))
    yield Words("Heights and props", LARGE, bold=True, after=2.0)
    yield Table(tuple(columns), tuple(rows), LARGE, after=3.0)
    for one in site.heights:
        where = where_words(one, units)
        if where:
            yield Words(f"{one.mark}, {where}.", LABEL, after=1.0)
    yield Words(
        "Heights are to the wood's upper edge, plumb. A prop's length is on its centre line, to the underside; a "
        "sloping top cut makes the uphill edge longer.",
        LABEL,
        after=10.0,
    )


def _told(props: Sequence[Prop], units: Units) -> list[tuple[str, Prop]]:
    """The props of one member with their places, those of one length told once: both ends of a level ridge."""
    groups: dict[tuple[str, float], list[Prop]] = {}
    for prop in props:
        groups.setdefault((units.length(prop.length_in), round(prop.bevel_deg, 3)), []).append(prop)
    return [(_places(group), group[0]) for group in groups.values()]


def _places(props: Sequence[Prop]) -> str:
    names = [prop.place for prop in props]
    ends = ["both ends"] if {"one end", "other end"} <= set(names) else []
    rest = [name for name in dict.fromkeys(names) if not ends or name not in ("one end", "other end")]
    return ", ".join([*ends, *rest])


def _bevel(prop: Prop) -> str:
    return f"{prop.bevel_deg:.1f}°" if prop.bevel_deg > 0.05 else "square"


def _stick(stick: LayoutStick, units: Units) -> list[Block]:
    """One stick in one piece: its name and where it begins, drawn, then its lines."""
    name = f"{stick.name[:1].upper()}{stick.name[1:]}"
    usual = _usual(stick)
    head = Words(f"{name}: from the {stick.begins}", LARGE, bold=True, after=2.0)
    said = [Words(f"{usual} where no mark is named.", LABEL, after=0.0)] if usual else []
    picture = Picture(stick_strip(stick, units), STICK_TALLEST, metric=units.system == "mm", largest=32, caption=False)
    return [Columns(((head, *said, picture, stick_table(stick, units)),), after=0.0)]


def stick_table(stick: LayoutStick, units: Units) -> Table:
    """Lines and marks in runs beside each other, read downwards.

    Where nearly all are one mark only the others are named.
    """
    usual = _usual(stick)
    said = [_line(mark, units) for mark in stick.marks]
    lines = [(at, "" if mark.mark == usual else name) for mark, (at, name) in zip(stick.marks, said, strict=True)]
    plain = bool(usual) and all(len(f"{at} {name}") <= SHORT for at, name in lines)
    across = 4 if plain else 3
    deep = -(-len(lines) // across)
    pair = (Column("Line at", 0.85, "right", bold=True), Column("Mark", 1.3))
    columns = ((Column("Line at", 1.0, bold=True),) if plain else pair) * across
    lines += [("", "")] * (across * deep - len(lines))
    rows = [[lines[run * deep + row] for run in range(across)] for row in range(deep)]
    if plain:
        return Table(
            columns, tuple(tuple(f"{at} {name}".strip() for at, name in row) for row in rows), BENCH, after=10.0
        )
    return Table(columns, tuple(tuple(each for one in row for each in one) for row in rows), BENCH, after=10.0)


def _jacks(plan: Plan) -> list[Block]:
    """Where jacks meet hips and valleys, a line for each."""
    if not plan.site.jacks:
        return []
    units = plan.units
    rows = tuple(
        (
            f"{stick.mark} × {stick.count}" if stick.count > 1 else stick.mark,
            "; ".join(f"{units.inches(s)} {mark}" for s, mark in stick.marks),
        )
        for stick in plan.site.jacks
    )
    head = Words("Jacks along hips and valleys", LARGE, bold=True, after=2.0)
    said = Words("Along the top edge from the low end's long point, on the centre line, to the jack's centre.", LABEL)
    columns = (Column("On", 1.0, bold=True), Column("Centre of each jack", 5.0))
    return [Columns(((head, said, Table(columns, rows, BENCH, after=8.0)),), after=0.0)]


def _usual(stick: LayoutStick) -> str:
    """The mark that nearly all lines are for, or an empty string."""
    usual, count = Counter(mark.mark for mark in stick.marks).most_common(1)[0]
    handed = any(mark.hand for mark in stick.marks if mark.mark == usual)
    return usual if count >= MOSTLY * len(stick.marks) and not handed else ""


def _line(mark: StickMark, units: Units) -> tuple[str, str]:
    hand = {"left": " L", "right": " R"}.get(mark.hand, "")
    centre = ", centre" if mark.kind in _CENTRED else ""
    # A tape can't read what lies before its hook.
    before = mark.line_in < -_READ_IN
    shown = f"{units.inches(-mark.line_in)} before 0" if before else units.inches(mark.line_in)
    return shown, f"{mark.mark}{hand}{centre}"
