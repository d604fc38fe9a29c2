"""The search for fewest sheets in a process of its own, so that the window never waits for it. No widgets here.

A thread would do for the search itself, but it would share the interpreter with the window: every frame would wait for
its turn. The process can also be ended at once, with the best so far already in the window's hands.
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from multiprocessing.connection import Connection

from workbench.job.model import Job
from workbench.plan import solve
from workbench.quantities.lumber_model import LumberPlan
from workbench.sheathing.model import SheathingPlan
from workbench.sheathing.optimise import Progress


@dataclass(frozen=True, slots=True)
class Told:
    """How far the search is; ``plan`` only where it is another than the one told before."""

    sheets: int
    at_least: int
    seconds: float
    plan: SheathingPlan | None


@dataclass(frozen=True, slots=True)
class Ended:
    """The search is over: its sheets and boards, and whether it was stopped before its end."""

    sheets: SheathingPlan
    boards: LumberPlan
    stopped: bool
    seconds: float


@dataclass(frozen=True, slots=True)
class Broke:
    """The search broke down, in one sentence."""

    sentence: str


def search(line: Connection, job: Job, limit_s: float) -> None:
    """Look for fewest sheets and tell how far it is; whatever comes the other way means stop."""
    if hasattr(os, "nice"):
        os.nice(5)  # drawing goes first
    last: Progress | None = None
    stopped = False

    def told(now: Progress) -> bool:
        nonlocal last, stopped
        fresh = last is None or now.plan is not last.plan
        if fresh or last is None or now.at_least != last.at_least or now.seconds - last.seconds > 0.2:
            line.send(Told(now.sheets, now.at_least, now.seconds, now.plan if fresh else None))
            last = now
        stopped = stopped or line.poll()
        return not stopped

    try:
        plan = solve(job, "full", progress=told, limit_s=limit_s)
        line.send(Ended(plan.sheathing, plan.lumber, stopped, last.seconds if last is not None else 0.0))
    except (BrokenPipeError, EOFError):
        return  # the window is gone
    except Exception as error:
        line.send(Broke(f"{type(error).__name__}: {error}"))
    finally:
        line.close()
