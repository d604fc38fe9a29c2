"""What changed: the one page that those need who have the last revision; nothing on it is as it was."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from workbench.handout.blocks import LABEL, LARGE, Block, Column, Table, Words
from workbench.handout.page import Page, Paper, flowed
from workbench.plan import Plan
from workbench.revisions import CUTS, NONE, PIECES, ChangedLine, WhatChanged, what_changed

MOST_PIECES, MOST_CUTS = 30, 12
"""Of more changed pieces or cuts their own pages say all; then only what they belong to is listed."""

_MOST = {PIECES: MOST_PIECES, CUTS: MOST_CUTS}

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
    blocks.append(Table(_COLUMNS, tuple(_rows(changed)), LABEL))
    return flowed("What changed", since, blocks, paper)


def _rows(changed: WhatChanged) -> list[tuple[str, ...]]:
    rows: list[tuple[str, ...]] = []
    for group in dict.fromkeys(line.group for line in changed.lines):
        mine = [line for line in changed.lines if line.group == group]
        rows.append((group,))
        if group in _MOST and len(mine) > _MOST[group]:
            rows += _counted(mine, group)
        else:
            rows += [(line.what, _said(line.before, "new"), _said(line.after, "gone")) for line in mine]
    return rows


def _counted(lines: list[ChangedLine], group: str) -> list[tuple[str, ...]]:
    """How many parts of what are others, where each by itself would be too much paper."""
    counts = Counter(line.part_of for line in lines)
    if group == CUTS:
        return [(_marks_in_short(counts), "", "other cuts: see their cards")]
    said = {1: "1 piece is another: see its page"}
    return [(plane, "", said.get(n, f"{n} pieces are others: see its page")) for plane, n in counts.items()]


def _marks_in_short(marks: Iterable[str]) -> str:
    """Marks with the numbers of one kind together: ``Common 1; Hip jack 1–5``."""
    numbers: dict[str, list[str]] = {}
    for mark in marks:
        kind, _, number = mark.rpartition(" ")
        numbers.setdefault(kind, []).append(number)
    return "; ".join(f"{kind} {_runs(found)}".strip() for kind, found in numbers.items())


def _runs(numbers: Sequence[str]) -> str:
    runs: list[list[str]] = []
    for number in numbers:
        last = runs[-1][-1] if runs else ""
        if last.isdigit() and number.isdigit() and int(number) == int(last) + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(run[0] if len(run) == 1 else f"{run[0]}–{run[-1]}" for run in runs)


def _said(words: str, otherwise: str) -> str:
    return otherwise if words == NONE else words
