"""Fewest feet of board: against every way of cutting, and against another solver's programs made another way."""

from __future__ import annotations

import random
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import lil_matrix

from workbench.quantities.lumber_exact import fewest
from workbench.quantities.lumber_pack import COST_UNITS, MICRO, Cutting, Task, packed

SOLD = [12.0 * feet for feet in (8, 10, 12, 14, 16, 18, 20, 22, 24)]


def feet(task: Task, cutting: Cutting) -> float:
    return cutting.cost(task) / COST_UNITS / 12.0


def holds(task: Task, cutting: Cutting) -> None:
    """Every piece once, no board overfull."""
    made = [0] * len(task.sizes)
    for stock, pattern, count in cutting.boards:
        assert count > 0
        assert sum(size * n for size, n in zip(task.sizes, pattern)) <= task.stocks[stock]
        made = [m + n * count for m, n in zip(made, pattern)]
    assert tuple(made) == task.demand


def least_of_all_ways(task: Task) -> int:
    """Cost of the cheapest of all cuttings, by trying every filling of the board the longest piece left lies on."""

    @cache
    def least(left: tuple[int, ...]) -> int:
        if not any(left):
            return 0
        first = next(k for k, n in enumerate(left) if n)
        options: list[int] = []

        def fill(kind: int, room: int, taken: tuple[int, ...]) -> None:
            if kind == len(left):
                used = sum(size * n for size, n in zip(task.sizes, taken))
                cost = min(c for c, s in zip(task.costs, task.stocks) if s >= used)
                options.append(cost + least(tuple(a - b for a, b in zip(left, taken))))
                return
            for n in range(int(kind == first), min(left[kind], room // task.sizes[kind]) + 1):
                fill(kind + 1, room - n * task.sizes[kind], (*taken, n))

        fill(0, task.stocks[-1], ())
        return min(options)

    return least(task.demand)


def random_task(seed: int, most_kinds: int = 4, most_each: int = 3) -> Task:
    chance = random.Random(seed)
    stocks = chance.sample(SOLD, chance.randint(1, 4))
    longest = max(stocks)
    lengths: list[float] = []
    for _ in range(chance.randint(1, most_kinds)):
        sixteenths = chance.randint(160, int(16 * longest)) / 16.0
        length = chance.choice([sixteenths, chance.uniform(10.0, longest), float(chance.randint(10, int(longest)))])
        lengths += [length] * chance.randint(1, most_each)
    return Task.of(lengths, stocks, chance.choice([0.0, 0.125]))


@pytest.mark.parametrize("seed", range(60))
def test_small_tasks_against_every_way_of_cutting(seed: int) -> None:
    task = random_task(seed)
    found = fewest(task)
    holds(task, found)
    least = least_of_all_ways(task)
    assert found.at_least <= least <= packed(task).cost(task)
    assert found.cost(task) == least
    assert found.at_least == least


def assigned_least(task: Task) -> float:
    """The same by pieces assigned to boards (Kantorovich's program), solved by scipy."""
    pieces = [size for size, n in zip(task.sizes, task.demand) for _ in range(n)]
    boards, kinds = len(pieces), len(task.stocks)
    columns = boards * (kinds + len(pieces))
    costs = np.zeros(columns)
    rows: list[tuple[np.ndarray, float, float]] = []
    for b in range(boards):
        start = b * (kinds + len(pieces))
        room, one = np.zeros(columns), np.zeros(columns)
        for s, (stock, cost) in enumerate(zip(task.stocks, task.costs)):
            costs[start + s] = cost / task.step
            room[start + s], one[start + s] = stock / MICRO, 1.0
        room[start + kinds : start + kinds + len(pieces)] = [-size / MICRO for size in pieces]
        rows += [(room, -1e-9, np.inf), (one, 0.0, 1.0)]
    for p in range(len(pieces)):
        once = np.zeros(columns)
        once[[b * (kinds + len(pieces)) + kinds + p for b in range(boards)]] = 1.0
        rows.append((once, 1.0, 1.0))
    limits = LinearConstraint(np.array([r for r, _, _ in rows]), [a for _, a, _ in rows], [b for _, _, b in rows])
    answer = milp(costs, constraints=limits, integrality=np.ones(columns), bounds=Bounds(0.0, 1.0))
    assert answer.success
    return float(answer.fun)


@pytest.mark.parametrize("seed", range(100, 130))
def test_against_pieces_assigned_by_another_solver(seed: int) -> None:
    task = random_task(seed, most_kinds=3, most_each=2)
    found = fewest(task)
    holds(task, found)
    assert found.cost(task) / task.step == pytest.approx(assigned_least(task), abs=1e-4)
    assert found.at_least == found.cost(task)


def flow_least(lengths: list[int], demand: list[int], stocks: list[int]) -> float:
    """The same as a flow along the board, whole inches, no kerf (Valério de Carvalho's program), solved by scipy."""
    longest = max(stocks)
    arcs = [(u, u + length, kind) for kind, length in enumerate(lengths) for u in range(longest - length + 1)]
    arcs += [(u, u + 1, -1) for u in range(longest)]
    back = [(stock, 0, -2) for stock in stocks]
    table = lil_matrix((longest + 1 + len(lengths), len(arcs) + len(back)))
    for column, (u, v, kind) in enumerate([*arcs, *back]):
        table[u, column] -= 1.0
        table[v, column] += 1.0
        if kind >= 0:
            table[longest + 1 + kind, column] = 1.0
    low = [0.0] * (longest + 1) + [float(n) for n in demand]
    costs = [0.0] * len(arcs) + [float(stock) for stock in stocks]
    answer = milp(costs, constraints=LinearConstraint(table.tocsr(), low, low), integrality=np.ones(len(costs)))
    assert answer.success
    return float(answer.fun)


@pytest.mark.parametrize("seed", range(1, 8))
def test_larger_tasks_against_a_flow_along_the_board(seed: int) -> None:
    chance = random.Random(1000 + seed)
    stocks = chance.sample([96, 120, 144, 168], 2)
    lengths = sorted(chance.sample(range(20, 90), 4), reverse=True)
    demand = [chance.randint(3, 14) for _ in lengths]
    whole = [float(length) for length, n in zip(lengths, demand) for _ in range(n)]
    task = Task.of(whole, [float(stock) for stock in stocks], 0.0)
    found = fewest(task)
    holds(task, found)
    assert feet(task, found) * 12.0 == pytest.approx(flow_least(lengths, demand, stocks), abs=1e-4)
    assert found.at_least == found.cost(task)


@given(
    st.lists(st.tuples(st.floats(3.0, 286.0), st.integers(1, 9)), min_size=1, max_size=10),
    st.lists(st.sampled_from(SOLD), min_size=0, max_size=4),
    st.sampled_from([0.0, 0.125]),
)
@settings(max_examples=40, deadline=None)
def test_any_task_is_cut_whole_and_bounded(kinds: list[tuple[float, int]], stocks: list[float], kerf: float) -> None:
    task = Task.of([length for length, n in kinds for _ in range(n)], [288.0, *stocks], kerf)
    quick, found = packed(task), fewest(task)
    for cutting in (quick, packed(task, quick=True), found):
        holds(task, cutting)
    assert quick.at_least <= found.at_least <= found.cost(task) <= quick.cost(task)
    assert found == fewest(task)
    assert found.cost(task) - found.at_least <= 2 * task.step


def test_two_that_fit_one_board_share_it() -> None:
    """Two of 7' 11 15/16" and a kerf of 1/8 in come out of a 16 ft board; two of 8 ft do not."""
    share = Task.of([95.9375, 95.9375], SOLD, 0.125)
    assert fewest(share).boards == ((SOLD.index(192.0), (2,), 1),)
    apart = Task.of([96.0, 96.0], SOLD, 0.125)
    assert feet(apart, fewest(apart)) == 16.0
    assert sum(n for _, _, n in fewest(apart).boards) == 2


def test_lengths_in_millimetres_are_counted_exactly() -> None:
    """Boards of 2.4 m and 3.6 m: eight pieces of 1190 mm take two and a kerf of 3 mm from each 2.4 m board."""
    task = Task.of([1190.0 / 25.4] * 8, [2400.0 / 25.4, 3600.0 / 25.4], 3.0 / 25.4)
    found = fewest(task)
    assert found.cost(task) / COST_UNITS * 25.4 == pytest.approx(4 * 2400.0)
    assert found.at_least == found.cost(task)


def test_nothing_to_cut_costs_nothing() -> None:
    assert fewest(Task.of([], SOLD, 0.125)) == Cutting((), 0)
