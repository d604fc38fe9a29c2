"""What the choices of a sheathing job buy: rips, split, stagger, first piece, end to start from.

Layouts that break fewer rules come first; then fewest sheets, fewest saw cuts, fewest different cut pieces, and of
equals the one that changes least (common practice, no source). Inches.
"""

from __future__ import annotations

import itertools
import statistics
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from msgspec.structs import replace

from workbench.framing.model import Framing
from workbench.job.as_built import PlaneMeasured
from workbench.job.model import PlaneChoice, Rip, Sheathing, Side, Split
from workbench.measure.units import Units
from workbench.roof.model import Roof
from workbench.sheathing.columns import bay_of
from workbench.sheathing.layout import Layout
from workbench.sheathing.model import PlaneSheets, SheathingPlan
from workbench.sheathing.optimise import optimise_sheathing
from workbench.sheathing.solve import Work, first_choice, lay_planes

ChoiceName = Literal["rip", "split", "stagger_in", "first_piece_in", "start"]

RIPS: tuple[Rip, ...] = ("bottom", "top", "both")
SPLITS: tuple[Split, ...] = ("fewest", "halves", "least")
STARTS: tuple[Side, ...] = ("left", "right")

_NAMES: tuple[ChoiceName, ...] = ("rip", "split", "stagger_in", "first_piece_in", "start")
_WHOLE_IN = 1e-3

_Sizes = set[tuple[float, float, bool]]


@dataclass(frozen=True, slots=True)
class Bought:
    """What one set of choices buys.

    Attributes:
        settings: The job's sheathing with these choices.
        changed: The choices that differ from the job's own.
        errors: Unbending rules broken: joints between rafters, pieces under a bay.
        warnings: Rules broken that may give way: pieces of one bay, missed stagger.
        sheets: Sheets to buy.
        at_least: Sheets that no layout can go under, whatever the first piece and the split.
        cuts: Saw cuts of all pieces.
        sizes: Different cut pieces.
        searched: Whether ``sheets`` comes from the long search and not from the quick layout.
    """

    settings: Sheathing
    changed: tuple[ChoiceName, ...]
    errors: int
    warnings: int
    sheets: int
    at_least: int
    cuts: int
    sizes: int
    searched: bool = False

    @property
    def key(self) -> tuple[int, int, int, int, int, int]:
        """What is compared: less is better."""
        return self.errors, self.warnings, self.sheets, self.cuts, self.sizes, len(self.changed)


@dataclass(frozen=True)
class Compared:
    """All sets of choices that were looked at.

    Attributes:
        now: The job's own choices.
        best: The best set; ``now`` itself where nothing is better.
        others: The runners-up, best first, of equal figures the one that changes least.
        finished: Whether all sets were looked at, and not stopped by the time limit or by ``progress``.
    """

    now: Bought
    best: Bought
    others: tuple[Bought, ...]
    finished: bool


def best_for_me(
    roof: Roof,
    framing: Framing,
    settings: Sheathing,
    choices: tuple[PlaneChoice, ...] = (),
    measured: tuple[PlaneMeasured, ...] = (),
    units: Units | None = None,
    *,
    progress: Callable[[int, int], bool] | None = None,
    limit_s: float = 20.0,
    searched: int = 3,
) -> Compared:
    """Compares every set of choices that makes a difference, and searches the leading ones longer.

    Pure; may run in a thread or process of its own. What single planes choose for themselves (``choices``) stays. Take
    the answer over with ``replace(job, sheathing=compared.best.settings)``, one edit to undo.

    Args:
        roof: The planes.
        framing: Their rafters.
        settings: The job's sheathing.
        choices: What differs on single planes.
        measured: Lengths of planes as taken on site.
        units: What lengths are shown in.
        progress: Told sets looked at and sets in all; where it answers False the best so far is taken.
        limit_s: Processor seconds after which no further set is looked at; every set is a few tenths at most, the
            long searches share what is left.
        searched: How many of the leading sets the search for fewest sheets is run on; 0 for the quick layouts only.
    """
    clock = _Clock(progress, limit_s)
    job = _Job(roof, framing, settings, choices, measured, units or Units())
    first = job.bought(settings)
    found = {_key(settings): first}
    sets = [one for one in _sets(job) if _key(one) != _key(settings)]
    total = len(sets) + 1 + searched
    for number, one in enumerate(sets):
        if not clock.go_on(number + 1, total):
            break
        found[_key(one)] = job.bought(one)
    ranked = sorted(found.values(), key=lambda bought: bought.key)
    now = first
    for number in range(min(searched, len(ranked))):
        left = clock.left_s / (searched - number)
        if not clock.go_on(total - searched + number, total):
            break
        better = job.searched(ranked[number], left)
        now = better if ranked[number] is first else now
        ranked[number] = better
    ranked.sort(key=lambda bought: bought.key)
    return Compared(now, ranked[0], _distinct(ranked)[1:], not clock.stopped)


def what_each_buys(
    roof: Roof,
    framing: Framing,
    settings: Sheathing,
    choices: tuple[PlaneChoice, ...] = (),
    measured: tuple[PlaneMeasured, ...] = (),
    units: Units | None = None,
) -> dict[ChoiceName, tuple[Bought, ...]]:
    """For each choice by itself what every value of it buys, the others staying as they are; by the quick layout.

    Args:
        roof: The planes.
        framing: Their rafters.
        settings: The job's sheathing.
        choices: What differs on single planes.
        measured: Lengths of planes as taken on site.
        units: What lengths are shown in.
    """
    job = _Job(roof, framing, settings, choices, measured, units or Units())
    now = job.bought(settings)
    values: dict[ChoiceName, Iterable[Sheathing]] = {
        "rip": [replace(settings, rip=rip) for rip in RIPS],
        "split": [replace(settings, split=split) for split in SPLITS],
        "stagger_in": [replace(settings, stagger_in=stagger) for stagger in _staggers(job)],
        "first_piece_in": [replace(settings, first_piece_in=first) for first in _first_pieces(job)],
        "start": [replace(settings, start=start) for start in STARTS],
    }
    return {
        name: tuple(now if _key(one) == _key(settings) else job.bought(one) for one in ways)
        for name, ways in values.items()
    }


class _Clock:
    """Counts processor time of this thread, so that a busy machine changes nothing."""

    def __init__(self, progress: Callable[[int, int], bool] | None, limit_s: float) -> None:
        self._begun = time.thread_time()
        self._progress = progress
        self._limit_s = limit_s
        self.stopped = False

    @property
    def left_s(self) -> float:
        """Seconds left."""
        return max(0.0, self._limit_s - (time.thread_time() - self._begun))

    def go_on(self, done: int, total: int) -> bool:
        """Whether to go on; once it is not, it stays so."""
        if not self.stopped:
            told = self._progress is None or self._progress(done, total)
            self.stopped = not told or self.left_s <= 0.0
        return not self.stopped


def _distinct(ranked: Sequence[Bought]) -> tuple[Bought, ...]:
    """The first of every row of equal figures, best first."""
    found: dict[tuple[int, ...], Bought] = {}
    for bought in ranked:
        found.setdefault(bought.key[:-1], bought)
    return tuple(found.values())


@dataclass(frozen=True)
class _Job:
    """What stays the same whatever is chosen."""

    roof: Roof
    framing: Framing
    settings: Sheathing
    choices: tuple[PlaneChoice, ...]
    measured: tuple[PlaneMeasured, ...]
    units: Units

    def bought(self, settings: Sheathing) -> Bought:
        """What a set buys by the quick layout."""
        work = self._work(settings)
        chosen, stock = first_choice(work)
        layouts = [way.layout for way in chosen]
        sizes: _Sizes = set()
        for layout in layouts:
            sizes |= _layout_sizes(layout)
        return Bought(
            settings,
            self._changed(settings),
            sum(layout.errors for layout in layouts),
            sum(layout.warnings for layout in layouts),
            len(stock),
            work.least,
            sum(way.cuts for way in chosen),
            len(sizes),
        )

    def searched(self, quick: Bought, limit_s: float) -> Bought:
        """The same set with the search for fewest sheets, which keeps to layouts that break as little."""
        plan = optimise_sheathing(
            self.roof,
            self.framing,
            quick.settings,
            self.choices,
            None,
            self.units,
            limit_s=limit_s,
            measured=self.measured,
        )
        cuts, sizes = saw_work(plan, quick.settings)
        return Bought(
            quick.settings,
            quick.changed,
            quick.errors,
            quick.warnings,
            plan.count,
            plan.at_least,
            cuts,
            sizes,
            searched=True,
        )

    def _work(self, settings: Sheathing) -> Work:
        return lay_planes(self.roof, self.framing, settings, self.choices, self.units, measured=self.measured)

    def _changed(self, settings: Sheathing) -> tuple[ChoiceName, ...]:
        pairs = zip(_NAMES, _key(settings), _key(self.settings), strict=True)
        return tuple(name for name, own, before in pairs if own != before)


def _key(settings: Sheathing) -> tuple[Rip, Split, float, float | None, Side]:
    return settings.rip, settings.split, settings.stagger_in, settings.first_piece_in, settings.start


def _sets(job: _Job) -> Iterator[Sheathing]:
    """Every set that may make a difference; the first piece is left to the search of each layout."""
    rips = _rips_of(job)
    splits: Sequence[Split] = SPLITS if rips > 1 else (job.settings.split,)
    # With one rip a plane, "both" is "bottom".
    places: Sequence[Rip] = RIPS if rips > 1 else (RIPS[:2] if rips else (job.settings.rip,))
    for rip, split, stagger, start in itertools.product(places, splits, _staggers(job), STARTS):
        for first in dict.fromkeys((job.settings.first_piece_in, None)):
            yield replace(job.settings, rip=rip, split=split, stagger_in=stagger, first_piece_in=first, start=start)


def _rips_of(job: _Job) -> int:
    """The most rips that a plane of the job has."""
    work = lay_planes(job.roof, job.framing, job.settings, job.choices, job.units, quick=True, measured=job.measured)
    return max((len(one.search.ways[0].layout.option.rips_in) for one in work.laid), default=0)


def _bay(job: _Job) -> float:
    bays = [bay for _, supports in job.framing.supports if (bay := bay_of(supports)) > 0.0]
    return statistics.median_low(bays) if bays else job.settings.panel_length_in / 4.0


def _staggers(job: _Job) -> list[float]:
    """The job's own stagger, half a sheet, and one bay: joints of neighbouring rows then still lie on other rafters."""
    half = job.settings.panel_length_in / 2.0
    bay = round(_bay(job), 4)
    ways = {job.settings.stagger_in, half, *([bay] if 0.0 < bay < half else [])}
    return sorted(ways, reverse=True)


def _first_pieces(job: _Job) -> list[float | None]:
    """Whole bays up to a sheet, and the search's own choice."""
    bay = _bay(job)
    count = int(job.settings.panel_length_in / bay + 1e-6) if bay > 0.0 else 0
    bays: list[float | None] = [round(bay * k, 4) for k in range(count, 0, -1)]
    return [None, *bays, *([] if job.settings.first_piece_in in (None, *bays) else [job.settings.first_piece_in])]


def _layout_sizes(layout: Layout) -> _Sizes:
    """Different cut pieces of a layout, by what they take on the framing."""
    rules = layout.rules
    return {
        (round(cell.nominal_in, 3), round(cell.width_in, 3), cell.upright)
        for cell in layout.cells
        if not cell.is_whole(rules)
    }


def saw_work(plan: SheathingPlan, settings: Sheathing) -> tuple[int, int]:
    """Saw cuts of all pieces, and how many different cut pieces there are.

    Args:
        plan: The plan.
        settings: What it was laid out by.
    """
    sizes: _Sizes = set()
    cuts = 0
    for sheets in plan.planes:
        own, found = _plane_work(sheets, settings)
        cuts += own
        sizes |= found
    return cuts, len(sizes)


def _plane_work(sheets: PlaneSheets, settings: Sheathing) -> tuple[int, _Sizes]:
    half = settings.gap_in / 2.0
    full = settings.panel_length_in - settings.gap_in - _WHOLE_IN
    sizes: _Sizes = set()
    cuts = 0
    for piece in sheets.pieces:
        if piece.whole:
            continue
        xs, ys = [x for x, _ in piece.polygon], [y for _, y in piece.polygon]
        ends = min(xs), max(xs)
        upright = len(piece.polygon) == 4 and all(
            min(x - ends[0], ends[1] - x) <= _WHOLE_IN and min(y - min(ys), max(ys) - y) <= _WHOLE_IN
            for x, y in piece.polygon
        )
        joints = sheets.joints_in[piece.row - 1]
        shared = sum(any(abs(abs(end - x) - half) <= _WHOLE_IN for x in joints) for end in ends)
        narrow = piece.cut_width_in < settings.panel_width_in - _WHOLE_IN
        cuts += (piece.cut_length_in < full or not upright) + narrow
        sizes.add((round(piece.cut_length_in + half * shared, 3), round(piece.cut_width_in, 3), upright))
    return cuts, sizes
