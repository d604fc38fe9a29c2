"""How long one frame of a drag takes: solving the previewed job and painting the surface. Timed, never asserted.

Run it from the checkout: ``python tests/benchmarks/drag_landing.py``. It prints median and 95th percentile for the
landing of the vaulted sample and for the slope of the gable, in every stage that has a drawing of its own, and with the
whole window (strip, figures and panel follow the drag as well).
"""

from __future__ import annotations

import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication

from workbench.bench import theme
from workbench.bench.document import Document
from workbench.bench.selection import Selection
from workbench.bench.settings import Settings
from workbench.bench.surface.view import Surface
from workbench.bench.window import Window
from workbench.job.edits import set_landing, set_wing
from workbench.job.model import Job
from workbench.job.read import read_job
from workbench.job.samples import sample_jobs
from workbench.plan import solve

FRAMES = 60
STAGES = ("plan", "frame", "sheets")
Move = Callable[[Job, int], Job]


def landing_move(job: Job, frame: int) -> Job:
    """The landing of the first wing that has one, up by 1/16 in a frame."""
    wing = next(wing for wing in job.wings if wing.landing is not None)
    assert wing.landing is not None
    return set_landing(job, wing.id, find="slope", landing_in=wing.landing.landing_in - frame / 16.0)


def slope_move(job: Job, frame: int) -> Job:
    """The slope of the first wing, up by 1/50 in 12 a frame."""
    wing = job.wings[0]
    return set_wing(job, wing.id, slope_in_12=wing.slope_in_12 + frame / 50.0)


def timed(frames: int, work: Callable[[int], object]) -> list[float]:
    """Milliseconds of each frame."""
    times: list[float] = []
    for frame in range(1, frames + 1):
        start = time.perf_counter()
        work(frame)
        times.append(1000.0 * (time.perf_counter() - start))
    return times


def tell(name: str, times: list[float]) -> None:
    """One line of figures."""
    ordered = sorted(times)
    high = ordered[min(len(ordered) - 1, round(0.95 * len(ordered)))]
    sys.stdout.write(f"{name:<44} median {statistics.median(times):7.1f} ms   p95 {high:7.1f} ms\n")


def surface_frames(job: Job, move: Move, stage: str) -> list[float]:
    """Frames of a surface alone."""
    document = Document()
    surface = Surface(document, Selection())
    surface.resize(1000, 700)
    surface.show()
    document.new(job)
    surface.set_stage(stage)
    surface.viewport().repaint()

    def frame(number: int) -> None:
        document.preview(move(document.job, number))
        surface.viewport().repaint()

    times = timed(FRAMES, frame)
    surface.close()
    surface.deleteLater()
    return times


def window_frames(job: Job, move: Move, stage: str) -> list[float]:
    """Frames of the whole window, everything that is due painted."""
    with tempfile.TemporaryDirectory() as folder:
        window = Window(Settings(Path(folder) / "settings.ini"), state=Path(folder) / "state")
        window.resize(1400, 900)
        window.show()
        window.document.new(job)
        window.show_stage(stage)
        window.centre.setCurrentIndex(1)
        QApplication.processEvents()

        def frame(number: int) -> None:
            window.document.preview(move(window.document.job, number))
            QApplication.processEvents()

        times = timed(FRAMES, frame)
        window.document.cancel_preview()
        window.close()
        window.deleteLater()
        QApplication.processEvents()
        return times


def main() -> None:
    """Print all figures."""
    app = QApplication.instance() or QApplication([])
    assert isinstance(app, QApplication)
    theme.dress(app)
    jobs = {sample.name: read_job(sample.path) for sample in sample_jobs()}
    for name, move, words in (
        ("vaulted-room", landing_move, "vaulted room, landing"),
        ("plain-gable", slope_move, "plain gable, slope"),
    ):
        job = jobs[name]
        tell(f"{words}: solving alone", timed(FRAMES, lambda n, job=job, move=move: solve(move(job, n))))
        for stage in STAGES:
            tell(f"{words}: surface, {stage}", surface_frames(job, move, stage))
        for stage in ("plan", "slope"):
            tell(f"{words}: window, {stage}", window_frames(job, move, stage))


if __name__ == "__main__":
    main()
