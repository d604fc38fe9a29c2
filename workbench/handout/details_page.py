"""Tails and gable walls: sections and elevations with their measures, and what the sheathing's thickness does."""

from __future__ import annotations

from collections.abc import Iterator

from workbench.drawing.gable_wall import GableView, WallStud, gable_views
from workbench.drawing.tail_section import tail_figures, tail_section
from workbench.handout.blocks import LABEL, LARGE, SMALL, Block, Boxed, Column, Columns, Picture, Space, Table, Words
from workbench.handout.page import Page, Paper, flowed
from workbench.handout.setting_out_page import BENCH
from workbench.handout.words import FALL_CAUTION_SHORT, listed
from workbench.measure import Units
from workbench.plan import Plan
from workbench.site.covering import COVERING_WORDS
from workbench.site.model import Covering, Tail
from workbench.site.tails import tail_notes

TAIL_TALLEST = 190.0
FIGURES = 10.0
"""Size of the measures beside a section."""
WALL_TALLEST = 230.0
STUDS_ACROSS = 3


def details_pages(plan: Plan, paper: Paper) -> list[Page]:
    """Tails, gable walls, sheathing; none where nothing is framed."""
    if not plan.site.tails:
        return []
    blocks: list[Block] = [Boxed((Words(FALL_CAUTION_SHORT, LABEL, bold=True, after=0.0),), 1.4), Space(4.0)]
    blocks += _tails(plan)
    views = gable_views(plan)
    for alike in _alike(views, plan.units):
        blocks += _gable(alike, plan.units)
    blocks += _coverings(plan)
    title = "Tails and gable walls" if views else "Tails"
    return flowed(title, "Sections to scale; measures by their letters", blocks, paper)


def _tails(plan: Plan) -> Iterator[Block]:
    units = plan.units
    groups: dict[tuple[tuple[str, str, str], ...], list[Tail]] = {}
    for tail in plan.site.tails:
        groups.setdefault(tuple(tail_figures(tail, units)), []).append(tail)
    columns = (Column("", 0.3, bold=True), Column("", 3.0), Column("", 1.1, "right", bold=True))
    cells: list[tuple[Block, ...]] = []
    for figures, tails in groups.items():
        head = Words(f"Tail, {listed(tail.name for tail in tails)}", LARGE, bold=True, after=2.0)
        picture = Picture(tail_section(tails[0]), TAIL_TALLEST, metric=units.system == "mm", largest=8, brief=True)
        cells.append((head, picture, Table(columns, figures, FIGURES, after=0.0, headed=False)))
    for i in range(0, len(cells), 2):
        pair = (*cells[i : i + 2], ()) if i + 1 == len(cells) else tuple(cells[i : i + 2])
        yield Columns(pair, after=8.0)
    notes: dict[str, list[str]] = {}
    for wing in plan.job.wings:
        if any(tail.edge.startswith(f"{wing.id}/") for tail in plan.site.tails):
            for note in tail_notes(wing, units):
                notes.setdefault(note, []).append(wing.name)
    for note, names in notes.items():
        everywhere = len(names) == len({tail.edge.partition("/")[0] for tail in plan.site.tails})
        yield Words(note if everywhere else f"{listed(names)}: {note}", LABEL, lead="•", after=1.0)
    yield Space(8.0)


def _alike(views: tuple[GableView, ...], units: Units) -> list[list[GableView]]:
    """Gable walls whose studs read alike together: both ends of a house."""
    groups: dict[tuple[object, ...], list[GableView]] = {}
    for view in views:
        key = tuple((stud.mark, units.inches(stud.line_in), units.inches(stud.foot_in)) for stud in view.studs)
        groups.setdefault(key, []).append(view)
    return list(groups.values())


def _gable(views: list[GableView], units: Units) -> list[Block]:
    view = views[0]
    head = Words(f"{listed(one.name for one in views)}, seen from outside".capitalize(), LARGE, bold=True, after=2.0)
    picture = Picture(view.drawing, WALL_TALLEST, metric=units.system == "mm", largest=24, note="Numbers: gable studs.")
    studs = view.studs
    deep = -(-len(studs) // STUDS_ACROSS)
    columns = (
        Column("Line at", 1.1, "right", bold=True),
        Column("Stud", 0.6, "right"),
        Column("Long point", 1.2, "right", bold=True),
    ) * STUDS_ACROSS
    rows: list[tuple[str, ...]] = []
    for row in range(deep):
        cells: list[str] = []
        for run in range(STUDS_ACROSS):
            at = run * deep + row
            cells += _stud(studs[at], units) if at < len(studs) else ("", "", "")
        rows.append(tuple(cells))
    said = Words(
        "Lines from the wall's left corner, cross beyond. Studs are cut with the blade tilted to the roof's slope; "
        "long point towards the ridge. A truss or a wall that braces the house is for the engineer.",
        LABEL,
        after=3.0,
    )
    return [Columns(((head, picture, said),), after=0.0), Table(columns, tuple(rows), BENCH, after=10.0)]


def _stud(stud: WallStud, units: Units) -> tuple[str, str, str]:
    return units.inches(stud.line_in), stud.mark.rpartition(" ")[2], units.inches(stud.long_in)


def _coverings(plan: Plan) -> Iterator[Block]:
    if not plan.site.coverings:
        return
    units = plan.units
    columns = (
        Column("Sheathing's thickness", 2.4),
        Column("", 3.8),
        Column("", 0.9, "right"),
    )
    columns += (Column("Bevel", 0.8, "right"),)
    groups: dict[tuple[str, str, str], list[str]] = {}
    for one in plan.site.coverings:
        groups.setdefault(_covering(one, units), []).append(one.name.removeprefix(f"{one.kind} "))
    rows = tuple((what, listed(names), figure, bevel) for (what, figure, bevel), names in groups.items())
    yield Table(columns, rows, LABEL, after=2.0)
    yield Words(
        "Planes, ridge heights and cut cards are to the rafters' top edges, the underside of the sheathing. Jacks on "
        "sleepers are cut for the sheathing under them.",
        SMALL,
    )


def _covering(one: Covering, units: Units) -> tuple[str, str, str]:
    bevel = f"{one.bevel_deg:.1f}°" if one.bevel_deg > 0.05 else "–"
    return COVERING_WORDS[one.kind], units.inches(one.figure_in), bevel
