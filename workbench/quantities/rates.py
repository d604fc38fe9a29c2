"""A crew's own rates, fitted to what its jobs really took."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from workbench.job.hours import Actual
from workbench.rules.hours import HoursTable, SlopeFactor, TaskName, slope_factor

HUBER = 1.345
"""Residuals beyond so many standard deviations count less (Huber 1964; 95 % efficiency for normal errors)."""

Z80 = 1.2815515655446004
"""Quantile 0.9 of the normal distribution: a range of ±Z80 deviations holds 80 %."""

_ROUNDS = 200
_SAME = 1e-12


@dataclass(frozen=True, slots=True)
class OwnRate:
    """A rate with its uncertainty.

    Attributes:
        each: Person-hours for one unit, for a crew of two.
        spread: Standard deviation of its logarithm.
        jobs: How many logged pieces of work it rests on.
        table: The table's rate.
    """

    each: float
    spread: float
    jobs: int
    table: float

    @property
    def low(self) -> float:
        """Lower end of the range that holds the crew's rate with 80 %."""
        return self.each * math.exp(-Z80 * self.spread)

    @property
    def high(self) -> float:
        """Upper end of the same."""
        return self.each * math.exp(Z80 * self.spread)


def own_rate(table_each: float, logged: Sequence[float], crews_differ: float, jobs_differ: float) -> OwnRate:
    """A crew's rate from few, partly odd figures.

    The logarithm μ of the rate is taken where

        (μ − ln table)² / (2·crews_differ²) + Σ ρ((ln yᵢ − μ) / jobs_differ)

    is least, ρ being Huber's function: ½u² up to 1.345, beyond it a straight line. It is the most probable value for a
    crew drawn from all crews, whose logarithms scatter round the table's with ``crews_differ``, and jobs that scatter
    round the crew's with ``jobs_differ`` and now and then lie far off. With nothing logged it is the table's rate; few
    jobs are drawn towards it (shrinkage), many have their own way; one odd job moves it by a limited amount. It is
    found by iteratively reweighted least squares; the problem is convex. The spread is 1 / √(1/crews_differ² +
    Σ wᵢ/jobs_differ²) with the weights wᵢ = min(1, 1.345 / |uᵢ|) of the last round.

    Args:
        table_each: The table's person-hours for one unit.
        logged: Person-hours for one unit of each logged piece of work, all over 0.
        crews_differ: Standard deviation of the logarithm between crews.
        jobs_differ: The same between jobs of one crew.
    """
    prior, tau, sigma = math.log(table_each), crews_differ, jobs_differ
    found = [math.log(value) for value in logged]
    mu = _median([prior, *found])
    weights = [1.0] * len(found)
    for _ in range(_ROUNDS):
        weights = [_weight((y - mu) / sigma) for y in found]
        precision = 1.0 / tau**2 + sum(weights) / sigma**2
        near = (prior / tau**2 + sum(w * y for w, y in zip(weights, found, strict=True)) / sigma**2) / precision
        if abs(near - mu) < _SAME:
            break
        mu = near
    spread = 1.0 / math.sqrt(1.0 / tau**2 + sum(weights) / sigma**2)
    return OwnRate(math.exp(mu), spread, len(found), table_each)


def logged_rates(
    log: Iterable[Actual], task: TaskName, table: HoursTable, steep: Sequence[SlopeFactor] = ()
) -> list[float]:
    """Person-hours for one unit of each logged piece of a task, as of a crew of two where one can walk."""
    return [
        a.hours * a.crew / table.factor(a.crew) / a.amount / steep_factor(a.slope_in_12, task, table, steep)
        for a in log
        if a.task == task
    ]


def steep_factor(in_12: float | None, task: TaskName, table: HoursTable, steep: Sequence[SlopeFactor] = ()) -> float:
    """How much longer a task takes on a roof of that slope; 1 where the slope is not known, or the task is done below.

    Args:
        in_12: Slope, rise in 12, or None.
        task: The task.
        table: The table of rates.
        steep: The user's own factors; empty takes the table's.
    """
    return 1.0 if in_12 is None or task not in table.steep.tasks else slope_factor(in_12, steep or table.steep.factors)


def _weight(u: float) -> float:
    return 1.0 if abs(u) <= HUBER else HUBER / abs(u)


def _median(values: Sequence[float]) -> float:
    ordered = sorted(values)
    middle = len(ordered) // 2
    return ordered[middle] if len(ordered) % 2 else (ordered[middle - 1] + ordered[middle]) / 2.0
