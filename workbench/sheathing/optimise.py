"""The fewest sheets, with proof: layouts of all planes and the cutting of all sheets chosen together. Inches.

Where the quick plan is not proven already, sheets are generated that could be worth cutting, the bound is raised as
far as it goes, and layouts and sheets are chosen in whole numbers. Work is counted in rounds and nodes, so that the
same job gives the same plan; only where the time limit strikes first may a plan have more sheets, or a lower bound,
than on a faster machine. Never worse than the quick plan: that is the plan it starts from.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from workbench.findings import COMMON_PRACTICE, GEOMETRY, Finding, in_order
from workbench.framing.model import Framing
from workbench.job.as_built import PlaneMeasured
from workbench.job.model import Fastening, PlaneChoice, Sheathing
from workbench.measure.units import Units
from workbench.roof.model import Roof
from workbench.sheathing.assemble import assembled, columns_of
from workbench.sheathing.branch import Branching, Case
from workbench.sheathing.cover import Covered, Holds, cover
from workbench.sheathing.cutting import check_cutting
from workbench.sheathing.fewest import Chosen, Fewest, Route, settled
from workbench.sheathing.model import SheathingPlan, StockSheet
from workbench.sheathing.relaxed import SCALE, Counts, Group, Relaxed, Stock
from workbench.sheathing.routes import Net, allowed_nets, best_nets, path_cost
from workbench.sheathing.search import Counted, counted
from workbench.sheathing.solve import Work, blanks_of, finish, first_choice, lay_planes
from workbench.sheathing.widen import widen

_ROUNDS = 60
_NODES = 2000
_LAST = 100
_CASES = 240
_MOST_HELD = 400
_SAME_COUNT = 1e-6
_FIRST_SHARE = 0.35  # of the time, for the bound; what is left after the sheets goes to the bound again
_MOST_SHARE = 0.7
_GUIDE_SHARE = 0.5


_Job = tuple[
    Roof,
    Framing,
    Sheathing,
    tuple[PlaneChoice, ...],
    Fastening | None,
    Units | None,
    tuple[PlaneMeasured, ...],
]
_MOST_KNOWN = 8
_KNOWN: dict[_Job, SheathingPlan] = {}  # searches that came to their end


@dataclass(frozen=True, slots=True)
class Progress:
    """How far the search is.

    Attributes:
        sheets: Fewest sheets found so far.
        at_least: Sheets that are proven to be needed.
        seconds: Time taken.
        plan: The best found so far, as it would be taken now.
    """

    sheets: int
    at_least: int
    seconds: float
    plan: SheathingPlan


def optimise_sheathing(
    roof: Roof,
    framing: Framing,
    settings: Sheathing,
    choices: tuple[PlaneChoice, ...] = (),
    fastening: Fastening | None = None,
    units: Units | None = None,
    *,
    progress: Callable[[Progress], bool] | None = None,
    limit_s: float = 10.0,
    measured: tuple[PlaneMeasured, ...] = (),
) -> SheathingPlan:
    """Lays every plane and cuts its pieces from as few sheets as can be found, and proves how few it could be.

    May run in a thread of its own: it shares nothing but caches.

    Args:
        roof: The planes.
        framing: Their rafters.
        settings: The job's sheets and rules.
        choices: What differs on single planes.
        fastening: The nailing schedule; None takes the job model's default.
        units: What lengths in findings and traces are shown in.
        progress: Told how far the search is; where it answers False the search stops with the best so far.
        limit_s: Seconds after which no new step is begun.
        measured: Lengths of planes as taken on site.
    """
    key: _Job = (roof, framing, settings, choices, fastening, units, measured)
    known = _KNOWN.get(key)
    if known is not None:
        return known
    clock = _Clock(progress, limit_s)
    plan = _optimised(key, clock)
    if not clock.ended:
        if len(_KNOWN) >= _MOST_KNOWN:
            _KNOWN.pop(next(iter(_KNOWN)), None)
        _KNOWN[key] = plan
    return plan


def _optimised(key: _Job, clock: _Clock) -> SheathingPlan:
    roof, framing, settings, choices, fastening, units, measured = key
    work = lay_planes(roof, framing, settings, choices, units, measured=measured)
    chosen, stock = first_choice(work)
    plan = finish(work, chosen, stock, work.least, fastening)
    if plan.proven or not work.laid:
        return plan
    search = _Search(work, fastening, clock, plan, chosen)
    search.run()
    if clock.out_of_time and not search.plan.proven:
        return replace(search.plan, findings=in_order((*search.plan.findings, _time_struck(search.plan))))
    return search.plan


def _time_struck(plan: SheathingPlan) -> Finding:
    text = (
        f"The search for fewest sheets was ended by its time limit at {plan.count} sheets, {plan.at_least} proven to "
        "be needed; with more time, or on a faster machine, it may find fewer."
    )
    return Finding("search-out-of-time", "note", "", text, GEOMETRY)


class _Clock:
    """Says whether to go on, and tells how far the search is.

    Time is this thread's own, so that a busy machine does not change the plan; three times as much on the wall ends it.
    """

    def __init__(self, progress: Callable[[Progress], bool] | None, limit_s: float) -> None:
        self.begun = time.thread_time()
        self.begun_at = time.monotonic()
        self.progress = progress
        self.limit_s = limit_s
        self.stopped = False

    @property
    def ended(self) -> bool:
        """Whether the search was stopped before its end."""
        return self.stopped or self.left_s <= 0.0

    @property
    def out_of_time(self) -> bool:
        """Whether it was the time limit that ended the search, and no one's wish."""
        return not self.stopped and self.left_s <= 0.0

    @property
    def left_s(self) -> float:
        """Seconds left."""
        own = self.limit_s - (time.thread_time() - self.begun)
        return max(0.0, min(own, 3.0 * self.limit_s - (time.monotonic() - self.begun_at)))

    def go_on(self, plan: SheathingPlan, at_least: int) -> bool:
        """Whether to go on."""
        if self.progress is not None and not self.stopped:
            seconds = time.monotonic() - self.begun_at
            self.stopped = not self.progress(Progress(plan.count, at_least, seconds, plan))
        return not self.stopped and self.left_s > 0.0


class _Search:
    """One search for fewest sheets."""

    def __init__(
        self, work: Work, fastening: Fastening | None, clock: _Clock, plan: SheathingPlan, chosen: Sequence[Counted]
    ) -> None:
        self.work = work
        self.fastening = fastening
        self.clock = clock
        self.plan = plan
        self.chosen = tuple(chosen)
        self.least = plan.at_least
        self.notes: tuple[Finding, ...] = ()
        self.chains: dict[Holds, bool] = {}
        laid = work.laid
        self.allowed = [allowed_nets(one.region, one.supports, one.rules, one.search.lawful) for one in laid]
        self.best = [best_nets(one.region, one.supports, one.rules) for one in laid]
        rules = [one.rules for one in laid]
        every = [(*a, *b) for a, b in zip(self.allowed, self.best, strict=True)]
        self.stock = Stock.of(list(zip(every, rules, strict=True)), work.base.sheet)

    def run(self) -> None:
        """Raises the bound, then looks for fewer sheets."""
        relaxed = Relaxed.of(self.stock, self._groups(self.allowed))
        # Sheets that can't be cut are sieved out once fewer sheets were looked for: that takes most of the time.
        sieve, relaxed.sieve = relaxed.sieve, None
        relaxed.improve(self.plan.count, self._up_to(_FIRST_SHARE))
        self._prove(relaxed.proven)
        if self.plan.proven or not self._go_on():
            return
        guide = relaxed
        if self.allowed != self.best or relaxed.pricer.spans:
            guide = Relaxed.of(self.stock, self._groups(self.best), guides=True)
            for _, inside in relaxed.columns:
                # By spans alone a sheet may hold more strips than can be cut from it.
                if not relaxed.pricer.spans or not self._has_strips(inside):
                    guide.add_sheet(inside)
            if guide.pricer.flat or relaxed.pricer.spans:
                guide.improve(self.plan.count, self._up_to(_GUIDE_SHARE))
        if relaxed.pricer.spans or guide.proven < self.plan.count:
            self._look(guide)
        if not self.plan.proven and self._go_on():
            relaxed.improve(self.plan.count, self._go_on)
            self._prove(relaxed.proven)
        if relaxed.pricer.spans and not self.plan.proven and self._go_on():
            self._by_cases(guide, guide, self._up_to(_MOST_SHARE), proves=False)
        relaxed.sieve = sieve
        if sieve is not None and not self.plan.proven and self._go_on():
            relaxed.improve(self.plan.count, self._go_on)
            self._prove(relaxed.proven)
        if not self.plan.proven and self._go_on():
            self._by_cases(relaxed, guide, self._go_on, proves=True)
        if guide is not relaxed and guide.proven >= self.plan.count > self.least and self._go_on():
            self._tell_saving(relaxed)

    def _look(self, guide: Relaxed) -> None:
        """Chooses layouts and sheets among those that break the fewest rules."""
        fewest = self._fewest(guide)
        found = self._choose(fewest)
        if not self.plan.proven and self._go_on() and widen(fewest, self._up_to(_MOST_SHARE)):
            found = self._choose(fewest) or found
        # Sheets are looked for again for the layouts chosen, as long as that saves one.
        while found is not None and self._go_on() and not self.plan.proven:
            again = Fewest.of(self.stock, settled(fewest.groups, found, self.stock))
            for _, arranged in fewest.sheets:
                again.add(arranged)
            better = self._choose(again)
            if better is None or better.count >= found.count:
                return
            found, fewest = better, again

    def _has_strips(self, inside: Counts) -> bool:
        return any(self.stock.kinds[k].level == "strip" for k in inside)

    def _by_cases(self, relaxed: Relaxed, guide: Relaxed, go_on: Callable[[], bool], *, proves: bool) -> None:
        """Raises the bound case by case; layouts that come through are cut from real sheets by themselves.

        Args:
            relaxed: The program to begin with.
            guide: The one whose sheets are cut.
            go_on: Whether to go on.
            proves: Whether its bounds hold; where they do not, only sheets are looked for.
        """
        branching = Branching.of(self.stock, relaxed.groups, relaxed)
        members = [member for group in relaxed.groups for member in group.members]
        fewest = self._fewest(guide)
        branching.begin(self.plan.count, go_on)
        while branching.open and branching.made < _CASES and go_on():
            single = branching.split(self.plan.count, go_on)
            if single is not None:
                self._cut_case(branching, single, members, fewest)
                branching.drop(self.plan.count)
            if proves:
                bound = branching.bound
                self._prove(self.plan.count if bound is None else bound)

    def _cut_case(self, branching: Branching, case: Case, members: Sequence[int], known: Fewest) -> None:
        """Looks for the fewest real sheets of the one layout of a case, if the job may be laid out so."""
        routes = branching.routes(case)
        groups: list[Group] = []
        for group, route, member in zip(branching.relaxed.groups, routes, members, strict=True):
            if not self._may_choose(group.nets[route[0]], route, member):
                return
            groups += settled([group], Chosen(((route,),), (), 0), self.stock)
        covered = self._covered(branching.relaxed, groups)
        if not covered.possible:
            branching.settle(case, self.plan.count)
            return
        alone = Fewest.of(self.stock, [replace(g, members=(m,)) for g, m in zip(groups, members, strict=True)])
        alone.tried = known.tried
        for _, arranged in known.sheets:
            alone.add(arranged)
        spans = bool(branching.relaxed.pricer.spans)
        for inside in self._useful(branching.relaxed):
            if not spans or not self._has_strips(inside):
                alone.add_contents(inside)
        small = [k for k, n in enumerate(alone.most) if self.stock.kinds[k].level == "small" for _ in range(n)]
        small.sort(key=lambda k: (-self.stock.kinds[k].area_sqin, k))
        for holds in covered.sheets[:_MOST_HELD]:
            if not spans or not self._has_strips(dict(holds)):
                alone.add_contents(dict(holds), small)
        solution = alone.improve(self._go_on, _ROUNDS)
        # Where not even shares of these sheets would do with one less, whole ones can't.
        if solution is not None and solution.objective <= self.plan.count - 1 + _SAME_COUNT:
            found = alone.choose(_NODES, max(self.clock.left_s, 0.05))
            if found is not None:
                self._take(found, alone.groups)
        for _, arranged in alone.sheets:
            known.add(arranged)

    def _covered(self, relaxed: Relaxed, groups: Sequence[Group]) -> Covered:
        """Whether one sheet less than found may do for the one layout of these groups."""
        solution = relaxed.program.solve()
        wanted: Counts = {}
        alone = 0
        for group in groups:
            for row, own in zip(group.counts[0], group.alone[0], strict=True):
                alone += own[0]
                for k, n in row[0].items():
                    wanted[k] = wanted.get(k, 0) + n
        if solution is None or relaxed.pricer.flat:
            return Covered(True, ())
        values = [max(round(dual * SCALE), 0) for dual in solution.duals[: len(self.stock.kinds)]]
        return cover(relaxed.pricer, values, wanted, self.plan.count - 1 - alone, self.chains)

    def _may_choose(self, net: Net, route: Route, plane: int) -> bool:
        """Whether a layout is among those that break the fewest rules and keep the job's choices."""
        ways = [row[i].way for row, i in zip(net.rows, route[1], strict=True)]
        for best in self.best[plane]:
            if best.option == net.option and best.cost is not None:
                known = all(way in [stop.way for stop in row] for way, row in zip(ways, best.rows, strict=True))
                if known and path_cost(tuple(ways), net.rules)[:2] == best.cost[:2]:
                    return True
        return False

    def _fewest(self, guide: Relaxed) -> Fewest:
        fewest = Fewest.of(self.stock, guide.groups)
        for arranged in columns_of(blanks_of(self.work, self.chosen), self.plan.stock, self.stock):
            fewest.add(arranged)
        for inside in self._useful(guide):
            if not self._go_on():
                break
            fewest.add_contents(inside)
        return fewest

    def _tell_saving(self, relaxed: Relaxed) -> None:
        """Notes how many sheets layouts with more pieces of one bay would save: the rule's price."""
        fewest = self._fewest(relaxed)
        fewest.improve(self._go_on, _ROUNDS)
        found = fewest.choose(_NODES, max(self.clock.left_s, 0.05))
        if found is None or found.count >= self.plan.count:
            return
        saved = self.plan.count - found.count
        sheets = "1 sheet" if saved == 1 else f"{saved} sheets"
        text = (
            f"{sheets} could be saved by rows that end at the rakes with pieces of one bay, blocked or clipped; to "
            "have them, choose the first piece of the rows."
        )
        self.notes = (Finding("one-bay-would-save", "note", "", text, COMMON_PRACTICE),)
        self._finish(self.chosen, self.plan.stock)

    def _finish(self, chosen: Sequence[Counted], stock: tuple[StockSheet, ...]) -> None:
        least = min(self.least, len(stock))
        self.plan = finish(self.work, chosen, stock, least, self.fastening, notes=self.notes, full=True)
        self.chosen = tuple(chosen)

    @staticmethod
    def _useful(guide: Relaxed) -> list[Counts]:
        """The sheets that the linear optimum uses, and those found last."""
        solution = guide.program.solve()
        values = solution.values if solution is not None else ()
        used = [inside for column, inside in guide.columns if column < len(values) and values[column] > 1e-9]
        return used + [inside for _, inside in guide.columns[-_LAST:]]

    def _choose(self, fewest: Fewest) -> Chosen | None:
        fewest.improve(self._up_to(_MOST_SHARE), _ROUNDS)
        found = fewest.choose(_NODES, max(self.clock.left_s, 0.05))
        if found is not None:
            self._take(found, fewest.groups)
        return found

    def _up_to(self, share: float) -> Callable[[], bool]:
        """Whether to go on, until a share of the time has passed."""
        end = self.clock.limit_s * (1.0 - share)
        return lambda: self._go_on() and self.clock.left_s > end

    def _go_on(self) -> bool:
        return self.clock.go_on(self.plan, self.least)

    def _groups(self, nets: Sequence[tuple[Net, ...]]) -> list[Group]:
        """Planes that are laid out alike together."""
        members: dict[tuple[Net, ...], list[int]] = {}
        for number, own in enumerate(nets):
            members.setdefault(own, []).append(number)
        return [self.stock.group(own, which) for own, which in members.items()]

    def _prove(self, proven: int) -> None:
        if proven > self.least:
            self.least = min(proven, self.plan.count)
            self._finish(self.chosen, self.plan.stock)

    def _take(self, found: Chosen, groups: Sequence[Group]) -> None:
        """Makes the plan of what was found, if it has fewer sheets and stands the check."""
        if found.count >= self.plan.count:
            return
        layouts: dict[int, Counted] = {}
        for group, routes in zip(groups, found.routes, strict=True):
            for plane, (net, route) in zip(group.members, routes, strict=True):
                layouts[plane] = counted(group.nets[net].layout(route))
        chosen = tuple(layouts[plane] for plane in range(len(self.work.laid)))
        stock = assembled(blanks_of(self.work, chosen), found, self.stock)
        before = self.plan, self.chosen
        self._finish(chosen, stock)
        pieces = [piece for plane in self.plan.planes for piece in plane.pieces]
        if self.plan.count >= before[0].count or check_cutting(pieces, stock):
            self.plan, self.chosen = before
