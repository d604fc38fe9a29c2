"""``roof-workbench [JOB]``: the window, or the same job on paper where there is no display."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

from workbench.cli import report
from workbench.errors import BadInput
from workbench.job.read import read_job
from workbench.plan import solve

_PROBE = "from PySide6.QtWidgets import QApplication; QApplication([])"
_OWN_PLATFORMS = ("offscreen", "minimal", "vnc", "linuxfb")
_PACKAGES = "libegl1 libgl1 libxkbcommon-x11-0 libxcb-cursor0 libxcb-icccm4 libxcb-keysyms1"


def open_window(arguments: Sequence[str]) -> int:
    """Open the window on a job, or on the start page.

    Returns:
        0, or 3 when there is no display and no job to do on paper instead.

    Raises:
        BadInput: The job can't be read, or there is more than one.
    """
    if len(arguments) > 1:
        msg = f'"{arguments[0]}" is no command and only one job can be opened; --help lists the commands.'
        raise BadInput(msg)
    path = Path(arguments[0]) if arguments else None
    if path is not None:
        if not path.exists() and not path.suffix:
            msg = f'"{path}" is neither a command nor a job file; --help lists the commands.'
            raise BadInput(msg)
        read_job(path)  # a file that can't be read is told here, before any window opens
    problem = _display_problem()
    if problem is None:
        from workbench.bench.app import run  # the only door to Qt; without a display it is never opened

        return run(path)
    if path is None:
        print(f"{problem} Name a job file to have it done on paper instead.", file=sys.stderr)
        return 3
    print(f"{problem} The job is done on paper instead.", file=sys.stderr)
    return _on_paper(path)


def _on_paper(path: Path) -> int:
    from workbench.handout import write_handout  # slow to import, so only where it is wanted

    plan = solve(read_job(path), "full")
    output = Path.cwd() / f"{path.stem}-handout.pdf"
    print(report.summary_text(plan))
    print()
    print(report.layout_text(plan))
    print()
    print(report.quantities_text(plan.quantities))
    pages = write_handout(plan, output)
    print(f"\nHandout: {output}, {report.pages_text(pages)}")
    return 0


def _display_problem() -> str | None:
    """Why no window can open, as a sentence, or None."""
    if os.environ.get("QT_QPA_PLATFORM", "").split(":")[0] in _OWN_PLATFORMS:
        return None
    if sys.platform.startswith("linux") and not (os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY")):
        return "There is no display to open a window on."
    if not sys.platform.startswith("linux"):
        return None
    # Qt ends the whole process when it finds no usable display, so a throw-away one tries first.
    probe = subprocess.run([sys.executable, "-c", _PROBE], capture_output=True, text=True, check=False, timeout=60)
    if probe.returncode == 0:
        return None
    if "ImportError" in probe.stderr or ("platform plugin" in probe.stderr and "found" in probe.stderr):
        return f"The window can't open because system libraries are missing (on Debian: {_PACKAGES})."
    return "The display can't be reached, so no window can open."
