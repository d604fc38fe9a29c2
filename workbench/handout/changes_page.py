"""What changed: the one page that those need who have the last revision; nothing on it is as it was."""

from __future__ import annotations

from workbench.handout.blocks import LABEL, LARGE, Block, Column, Table, Words
from workbench.handout.changes_in_short import SHORTER, rows_of
from workbench.handout.page import Page, Paper, flowed
from workbench.plan import Plan
from workbench.revisions import what_changed

MOST_PAGES = 2
"""On more nobody looks for what concerns him; then one subject after the other is told in short."""

_COLUMNS = (Column("What", 3.2, bold=True), Column("Was", 2.6), Column("Is now", 2.6, bold=True))


def changes_pages(plan: Plan, paper: Paper) -> list[Page]:
    """What changed against the last issued handout; no page where there was none, or nothing changed."""
    changed = what_changed(plan)
    if changed is None:
        return []
    since = f"Against revision {changed.against or '?'}{f' of {changed.date}' if changed.date else ''}"
    blocks: list[Block] = [
        Words("What is not listed is as it was. Take the old pages of what is listed away.", LARGE, bold=True)
    ]
    if not changed.issued:
        blocks.append(
            Words("Not issued yet: this revision is not recorded as gone out. Issue it before it is used.", LABEL)
        )
    blocks.append(Words("Members that are cut already: measure them against the new length before they go up.", LABEL))
    pages: list[Page] = []
    for told in range(len(SHORTER) + 1):
        rows = rows_of(changed.lines, SHORTER[:told])
        pages = flowed("What changed", since, [*blocks, Table(_COLUMNS, tuple(rows), LABEL)], paper)
        if len(pages) <= MOST_PAGES:
            break
    return pages
