"""The rows of the page of changes: by subject, equal changes on one line, and the more in short the more there are."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from workbench.revisions import CUTS, MEMBERS, NONE, PIECES, ROWS, TO_BUY, ChangedLine

MOST_PIECES, MOST_CUTS = 30, 12
"""Of more changed pieces or cuts their own pages say all; then only what they belong to is listed."""

SHORTER = (CUTS, PIECES, MEMBERS, ROWS, TO_BUY)
"""Subjects in the order in which they are told in short, where the whole would be too many pages."""

_MOST = {PIECES: MOST_PIECES, CUTS: MOST_CUTS}
_FEW = 2  # so many marks of a kind, or planes, each keep a line of their own

Row = tuple[str, ...]


def rows_of(lines: Sequence[ChangedLine], in_short: Iterable[str] = ()) -> list[Row]:
    """Rows under the headings of their subjects.

    Args:
        lines: What changed.
        in_short: Subjects of which only what they belong to is listed.
    """
    short = set(in_short)
    rows: list[Row] = []
    for group in dict.fromkeys(line.group for line in lines):
        mine = [line for line in lines if line.group == group]
        merged = _merged(mine)
        rows.append((group,))
        if group in short or len(mine if group == PIECES else merged) > _MOST.get(group, len(mine)):
            rows += _in_short(mine, group)
        else:
            rows += merged
    return rows


def _merged(lines: Sequence[ChangedLine]) -> list[Row]:
    """One row for each change, named after all that have it."""
    having: dict[tuple[str, str, str], list[str]] = {}
    for line in lines:
        aspect = line.what.removeprefix(line.part_of).removeprefix(", ") if line.part_of else line.what
        having.setdefault((aspect, line.before, line.after), []).append(line.part_of)
    rows: list[Row] = []
    for (aspect, before, after), names in having.items():
        what = f"{_names(names)}: {aspect}" if any(names) else aspect
        rows.append((what, _said(before, "new"), _said(after, "gone")))
    return rows


def _in_short(lines: Sequence[ChangedLine], group: str) -> list[Row]:
    """What has other parts, where each by itself would be too much paper."""
    match group:
        case str() if group == CUTS:
            return [(_names(dict.fromkeys(line.part_of for line in lines)), "", "other cuts: see their cards")]
        case str() if group == MEMBERS:
            return [row for kind in _by_kind(lines) for row in _kind_in_short(kind)]
        case str() if group == TO_BUY:
            many = "1 line is another" if len(lines) == 1 else f"{len(lines)} lines are others"
            return [("The order list", "", f"{many}: take the new list")]
        case _:
            return _planes_in_short(lines, "row" if group == ROWS else "piece")


def _planes_in_short(lines: Sequence[ChangedLine], what: str) -> list[Row]:
    counts = Counter(line.part_of for line in lines)
    if what == "row":
        return [(", ".join(counts), "", "other rows: see their pages")]
    if len(counts) <= _FEW:
        said = {1: "1 piece is another: see its page"}
        return [(plane, "", said.get(n, f"{n} pieces are others: see its page")) for plane, n in counts.items()]
    return [
        (", ".join(f"{plane} {n}" for plane, n in counts.items()), "", "so many pieces are others: see their pages")
    ]


def _by_kind(lines: Sequence[ChangedLine]) -> list[list[ChangedLine]]:
    kinds: dict[str, list[ChangedLine]] = {}
    for line in lines:
        kinds.setdefault(line.what.rpartition(" ")[0], []).append(line)
    return list(kinds.values())


def _kind_in_short(lines: list[ChangedLine]) -> list[Row]:
    if len(lines) <= _FEW:
        return [(line.what, _said(line.before, "new"), _said(line.after, "gone")) for line in lines]
    before, after = (_pieces(getattr(line, side) for line in lines) for side in ("before", "after"))
    return [(_names([line.what for line in lines]), before, f"{after}, other lengths or counts: see their cards")]


def _pieces(told: Iterable[str]) -> str:
    """How many pieces lines such as ``54 of 2x10, 19' 1"`` speak of."""
    counts = [words.partition(" ")[0] for words in told]
    total = sum(int(count) for count in counts if count.isdigit())
    return "1 piece" if total == 1 else f"{total:,} pieces"


def _names(names: Iterable[str]) -> str:
    """Names with the numbers of one kind together: ``Common 1; Hip jack 1–5``; those without numbers as they are."""
    numbers: dict[str, list[str]] = {}
    for name in names:
        kind, _, number = name.rpartition(" ")
        if number.isdigit():
            numbers.setdefault(kind, []).append(number)
        else:
            numbers.setdefault(name, [])
    return "; ".join(f"{kind} {_runs(found)}".strip() if found else kind for kind, found in numbers.items())


def _runs(numbers: Sequence[str]) -> str:
    runs: list[list[str]] = []
    for number in numbers:
        last = runs[-1][-1] if runs else ""
        if last.isdigit() and int(number) == int(last) + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(run[0] if len(run) == 1 else f"{run[0]}–{run[-1]}" for run in runs)


def _said(words: str, otherwise: str) -> str:
    return otherwise if words == NONE else words
