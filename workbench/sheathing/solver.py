"""Linear and whole-number programs, by HiGHS. The only module that imports it, and only when one is solved.

highspy is pinned: 1.16.0 returns wrong bounds when columns of a solved linear program are made whole on the same
object. Each whole-number solve takes a fresh object all the same, one thread and a fixed seed, and its result is
recomputed from the rounded values. Limits are counted in nodes; the time limit only guards against a slow machine.
"""

from __future__ import annotations

import importlib
import math
from dataclasses import dataclass, field
from typing import Any

import numpy as np

_TOLERANCE = 1e-6


@dataclass(frozen=True)
class Solution:
    """Values of the columns, the rows' duals where the program was linear, and what no solution can go under."""

    objective: float
    values: tuple[float, ...]
    duals: tuple[float, ...] = ()
    bound: float = -math.inf


@dataclass
class Program:
    """A program to be minimised, all columns at least 0; columns and rows may be added between solves."""

    row_lower: list[float] = field(default_factory=list[float])
    row_upper: list[float] = field(default_factory=list[float])
    costs: list[float] = field(default_factory=list[float])
    upper: list[float] = field(default_factory=list[float])
    entries: list[list[tuple[int, float]]] = field(default_factory=list[list[tuple[int, float]]])
    _highs: Any = None
    _known: int = 0

    def add_row(self, lower: float, upper: float = math.inf) -> int:
        """A row; all rows come before the first solve."""
        self.row_lower.append(lower)
        self.row_upper.append(upper)
        return len(self.row_lower) - 1

    def add_column(self, cost: float, entries: list[tuple[int, float]], upper: float = math.inf) -> int:
        """A column with its (row, value) entries."""
        self.costs.append(cost)
        self.entries.append(entries)
        self.upper.append(upper)
        return len(self.costs) - 1

    def solve(self) -> Solution | None:
        """The linear optimum with duals, from where the last solve stopped; None where there is none."""
        if self._highs is None:
            self._highs = self._new()
        self._pass_columns(self._highs, self._known)
        self._known = len(self.costs)
        self._highs.run()
        if str(self._highs.getModelStatus()) != "HighsModelStatus.kOptimal":
            return None
        solution = self._highs.getSolution()
        pairs = zip(solution.row_dual, self.row_upper, strict=True)
        duals = tuple(max(value, 0.0) if math.isinf(up) else value for value, up in pairs)
        return Solution(float(self._highs.getInfo().objective_function_value), tuple(solution.col_value), duals)

    def bound_row(self, row: int, lower: float, upper: float) -> None:
        """Changes the limits of a row."""
        self.row_lower[row], self.row_upper[row] = lower, upper
        if self._highs is not None:
            self._highs.changeRowBounds(row, lower, upper)

    def bound_column(self, column: int, upper: float) -> None:
        """Changes the upper limit of a column."""
        self.upper[column] = upper
        if self._highs is not None and column < self._known:
            self._highs.changeColBounds(column, 0.0, upper)

    def solve_whole(self, whole: list[int], nodes: int, seconds: float, gap: float = 0.0) -> Solution | None:
        """A solution with these columns whole, rounded and checked; None where none was found.

        Args:
            whole: The columns.
            nodes: Nodes after which the best so far is taken.
            seconds: Seconds after which it is.
            gap: How far from the best possible objective is near enough.
        """
        highs = self._new()
        self._pass_columns(highs, 0)
        highs.setOptionValue("mip_max_nodes", nodes)
        highs.setOptionValue("time_limit", seconds)
        highs.setOptionValue("mip_abs_gap", gap)
        highs.setOptionValue("mip_rel_gap", 0.0)
        kind = _highspy().HighsVarType.kInteger
        highs.changeColsIntegrality(len(whole), np.array(whole, dtype=np.int32), np.array([kind] * len(whole)))
        highs.run()
        values = list(highs.getSolution().col_value)
        if len(values) != len(self.costs):
            return None
        kept = set(whole)
        rounded = [float(round(value)) if i in kept else value for i, value in enumerate(values)]
        if not self._holds(rounded):
            return None
        bound = float(highs.getInfo().mip_dual_bound)
        return Solution(sum(c * v for c, v in zip(self.costs, rounded, strict=True)), tuple(rounded), bound=bound)

    def _holds(self, values: list[float]) -> bool:
        sums = [0.0] * len(self.row_lower)
        for value, entries in zip(values, self.entries, strict=True):
            if value:
                for row, share in entries:
                    sums[row] += share * value
        if min(values, default=0.0) < -_TOLERANCE:
            return False
        limits = zip(self.row_lower, sums, self.row_upper, strict=True)
        return all(
            low - _TOLERANCE * (1.0 + abs(total)) <= total <= up + _TOLERANCE * (1.0 + abs(total))
            for low, total, up in limits
        )

    def _new(self) -> Any:
        highs = _highspy().Highs()
        highs.setOptionValue("output_flag", False)
        highs.setOptionValue("threads", 1)
        highs.setOptionValue("random_seed", 0)
        for low, up in zip(self.row_lower, self.row_upper, strict=True):
            highs.addRow(low, up, 0, np.array([], dtype=np.int32), np.array([], dtype=np.float64))
        return highs

    def _pass_columns(self, highs: Any, first: int) -> None:
        new = self.entries[first:]
        if not new:
            return
        starts = np.cumsum([0, *(len(entries) for entries in new[:-1])]).astype(np.int32)
        rows = np.array([row for entries in new for row, _ in entries], dtype=np.int32)
        shares = np.array([share for entries in new for _, share in entries], dtype=np.float64)
        lower = np.zeros(len(new))
        highs.addCols(
            len(new), np.array(self.costs[first:]), lower, np.array(self.upper[first:]), len(rows), starts, rows, shares
        )


def _highspy() -> Any:
    return importlib.import_module("highspy")  # takes 0.1 s, so only where something is solved
