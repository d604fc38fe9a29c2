"""How long one frame of a drag takes on houses of several wings: solving and repainting. Timed, never asserted.

Run it from the checkout: ``python tests/benchmarks/drag_cut_up_house.py``. The real window, offscreen, previews each
frame as a handle does (``Document.preview``) and paints everything that is due. For every drag and stage it prints
median and 95th percentile of solving, of showing and repainting, and of both, in processor and in wall time. With names
of samples after it (``… cut-up-house``) it does only those; ``--stage plan`` does one stage, ``--frames 60`` so many
frames, ``--profile`` prints where the time goes.
"""

from __future__ import annotations

import argparse
import cProfile
import itertools
import os
import pstats
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication

from workbench.bench import document as document_module
from workbench.bench import theme
from workbench.bench.settings import Settings
from workbench.bench.window import Window
from workbench.job import edits
from workbench.job.model import Job
from workbench.job.read import read_job
from workbench.job.samples import sample_jobs

STAGES = ("plan", "slope", "frame", "sheets", "safety", "quantities")
SAMPLES = ("cut-up-house", "l-house", "small-house")
WARM_UP = 3
Move = Callable[[Job, float], Job]
_runs = itertools.count()


def slope_move(wing: int) -> Move:
    """The slope of a wing, up by 1/50 in 12 a frame."""

    def move(job: Job, frame: float) -> Job:
        return edits.set_wing(job, job.wings[wing].id, slope_in_12=job.wings[wing].slope_in_12 + frame / 50.0)

    return move


def edge_move(job: Job, frame: float) -> Job:
    """The first edge of the first wing, outwards by 1/16 a frame."""
    return edits.move_edge(job, job.wings[0].id, job.wings[0].edges[0].id, frame / 16.0)


def wing_move(job: Job, frame: float) -> Job:
    """The last wing to the right, by 1/16 a frame."""
    wing = job.wings[-1]
    outline = tuple((x + frame / 16.0, y) for x, y in wing.outline)
    return edits.set_wing(job, wing.id, outline=outline)


def moves_of(job: Job) -> dict[str, Move]:
    """The drags of one job, by their words."""
    found: dict[str, Move] = {f"slope of {wing.name}": slope_move(k) for k, wing in enumerate(job.wings)}
    found["first edge"] = edge_move
    if len(job.wings) > 1:
        found["last wing"] = wing_move
    return found


@dataclass
class Clocks:
    """Milliseconds of each frame: (processor, wall) of solving, of all the rest, and of both."""

    solving: list[tuple[float, float]] = field(default_factory=list[tuple[float, float]])
    whole: list[tuple[float, float]] = field(default_factory=list[tuple[float, float]])

    @property
    def repainting(self) -> list[tuple[float, float]]:
        """What is not solving."""
        pairs = zip(self.whole, self.solving, strict=True)
        return [(whole[0] - part[0], whole[1] - part[1]) for whole, part in pairs]


def timed(work: Callable[[], object]) -> tuple[float, float]:
    """Milliseconds of a call: processor, wall."""
    cpu, wall = time.process_time(), time.perf_counter()
    work()
    return 1000.0 * (time.process_time() - cpu), 1000.0 * (time.perf_counter() - wall)


def window_frames(window: Window, move: Move, frames: int) -> Clocks:
    """Frames of one drag."""
    clocks, solve_frame = Clocks(), document_module.preview_plan
    off = next(_runs) / 128.0  # no frame is one that was solved before

    def solving(*args: object) -> object:
        found: list[object] = []
        clocks.solving.append(timed(lambda: found.append(solve_frame(*args))))  # type: ignore[arg-type]
        return found[0]

    document_module.preview_plan = solving  # type: ignore[assignment]
    try:
        for number in range(1, frames + WARM_UP + 1):

            def frame(number: int = number) -> None:
                window.document.preview(move(window.document.job, number + off))
                QApplication.processEvents()

            clocks.whole.append(timed(frame))
    finally:
        document_module.preview_plan = solve_frame
        window.document.cancel_preview()
        QApplication.processEvents()
    return Clocks(clocks.solving[WARM_UP:], clocks.whole[WARM_UP:])


def tell(name: str, clocks: Clocks) -> None:
    """One line of figures."""
    words: list[str] = []
    for which, kind in (("cpu", 0), ("wall", 1)):
        words.append(which)
        for times in (clocks.solving, clocks.repainting, clocks.whole):
            one = sorted(pair[kind] for pair in times)
            high = one[min(len(one) - 1, round(0.95 * len(one)))]
            words.append(f"{statistics.median(one):6.1f}/{high:6.1f}")
    sys.stdout.write(f"{name:<42} {'  '.join(words)}\n")
    sys.stdout.flush()


def measured(name: str, job: Job, stages: tuple[str, ...], frames: int, only: str) -> None:
    """All drags of one job in each stage."""
    with tempfile.TemporaryDirectory() as folder:
        window = Window(Settings(Path(folder) / "settings.ini"), state=Path(folder) / "state")
        window.resize(1400, 900)
        window.show()
        window.document.new(job)
        window.centre.setCurrentIndex(1)
        for stage in stages:
            window.show_stage(stage)
            QApplication.processEvents()
            for words, move in moves_of(job).items():
                if only in words:
                    tell(f"{name}, {stage}: {words}", window_frames(window, move, frames))
        window.close()
        window.deleteLater()
        QApplication.processEvents()


def main() -> None:
    """Print all figures."""
    parser = argparse.ArgumentParser()
    parser.add_argument("samples", nargs="*", default=list(SAMPLES))
    parser.add_argument("--stage", choices=STAGES, action="append")
    parser.add_argument("--frames", type=int, default=40)
    parser.add_argument("--drag", default="slope", help="only drags with this in their words; '' for all")
    parser.add_argument("--profile", action="store_true")
    given = parser.parse_args()
    app = QApplication.instance() or QApplication([])
    assert isinstance(app, QApplication)
    theme.dress(app)
    paths = {sample.name: sample.path for sample in sample_jobs()}
    sys.stdout.write("milliseconds, median/95th percentile: solving, showing and repainting, both\n")
    profile = cProfile.Profile()
    if given.profile:
        profile.enable()
    for name in given.samples:
        measured(name, read_job(paths[name]), tuple(given.stage or STAGES), given.frames, given.drag)
    if given.profile:
        profile.disable()
        pstats.Stats(profile).sort_stats("tottime").print_stats(45)


if __name__ == "__main__":
    main()
