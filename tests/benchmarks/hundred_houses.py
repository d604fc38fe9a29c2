"""Whether a row of many houses in one job takes as long as the houses one by one. Told, never asserted.

Run it from the checkout: ``python tests/benchmarks/hundred_houses.py``. Every house is the cut-up sample with another
slope, so that none is like another, set beside the last. It prints the processor time of the houses one by one, of one
job of them all, and of a frame of a drag in that job in which one slope of one house moves. ``--houses 20`` takes so
many, ``--effort preview`` the other effort, ``--profile`` prints where the time of the one job goes.
"""

from __future__ import annotations

import argparse
import cProfile
import pstats
import sys
import time
from collections.abc import Callable

from msgspec.structs import replace

from workbench.job.model import Job, Opening, Wing
from workbench.job.read import read_job
from workbench.job.samples import sample_jobs
from workbench.plan import Plan, solve

APART_IN = 1200.0


def house(job: Job, number: int, *, alike: bool) -> tuple[tuple[Wing, ...], tuple[Opening, ...]]:
    """Wings and openings of one house in its place in the row."""
    shift = number * APART_IN
    steeper = 0.0 if alike else number / 64.0
    wings = tuple(
        replace(
            wing,
            id=f"{wing.id}-{number}",
            slope_in_12=wing.slope_in_12 + steeper,
            outline=tuple((x + shift, y) for x, y in wing.outline),
        )
        for wing in job.wings
    )
    openings = tuple(_renamed(opening, number) for opening in job.openings)
    return wings, openings


def _renamed(opening: Opening, number: int) -> Opening:
    wing, _, edge = opening.plane.partition("/")
    return replace(
        opening,
        id=f"{opening.id}-{number}",
        plane=f"{wing}-{number}/{edge}",
    )


def row_of(job: Job, numbers: range, *, alike: bool) -> Job:
    """One job of several houses."""
    houses = [house(job, number, alike=alike) for number in numbers]
    wings = tuple(wing for mine, _ in houses for wing in mine)
    return replace(job, wings=wings, openings=tuple(opening for _, mine in houses for opening in mine))


def seconds(work: Callable[[], object]) -> float:
    """Processor seconds of a call."""
    start = time.process_time()
    work()
    return time.process_time() - start


def main() -> None:
    """Print all figures."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--houses", type=int, default=100)
    parser.add_argument("--effort", choices=("preview", "live"), default="live")
    parser.add_argument("--alike", action="store_true", help="all houses of one slope")
    parser.add_argument("--profile", action="store_true")
    given = parser.parse_args()
    job = read_job(next(sample.path for sample in sample_jobs() if sample.name == "cut-up-house"))
    count, effort = given.houses, given.effort
    solve(job, effort)  # what is read from files once
    fresh = range(1000, 1000 + count)  # the same houses by other ids and in other places: nothing is known of them yet
    row = row_of(job, range(count), alike=given.alike)
    plans: list[Plan] = []
    profile = cProfile.Profile()
    if given.profile:
        profile.enable()
    together = seconds(lambda: plans.append(solve(row, effort)))
    if given.profile:
        profile.disable()
    single = seconds(lambda: [solve(row_of(job, range(n, n + 1), alike=given.alike), effort) for n in fresh])
    words = f"{count} houses, {effort}"
    sys.stdout.write(
        f"{words}: one by one {single:7.1f} s   together {together:7.1f} s   {together / single:5.2f} times\n"
    )
    wing = row.wings[0]
    frames: list[float] = []
    for frame in range(1, 6):
        wings = (replace(wing, slope_in_12=wing.slope_in_12 + frame / 100.0), *row.wings[1:])
        frames.append(seconds(lambda wings=wings: solve(replace(row, wings=wings), "preview")))
    sys.stdout.write(f"{words}: one slope moved, preview {1000.0 * min(frames):7.0f} ms\n")
    if given.profile:
        pstats.Stats(profile).sort_stats("tottime").print_stats(45)


if __name__ == "__main__":
    main()
