"""Unexpected errors: the job is kept first, the log has everything, the user is told once."""

from __future__ import annotations

import logging
import subprocess
import sys
import textwrap
import threading
from pathlib import Path

import pytest

from workbench.bench.crash import CrashGuard, log_path
from workbench.bench.unraised import unraised


def _raise() -> None:
    msg = "invented fault"
    raise RuntimeError(msg)


@pytest.fixture
def hooks():
    """Puts the interpreter's hooks back."""
    before = sys.excepthook, threading.excepthook
    yield
    sys.excepthook, threading.excepthook = before


def test_error_is_rescued_logged_and_told_with_the_log_s_path(hooks, caplog) -> None:
    order: list[str] = []
    told: list[tuple[str, str]] = []

    def tell(sentence: str, detail: str) -> None:
        order.append("told")
        told.append((sentence, detail))

    CrashGuard(lambda: order.append("rescued"), tell, Path("some.log")).install()
    with caplog.at_level(logging.ERROR, "workbench"):
        unraised(_raise)
    assert order == ["rescued", "told"]
    assert "some.log" in told[0][0]
    assert "invented fault" in told[0][1]
    assert "invented fault" in caplog.text


def test_error_while_telling_does_not_go_round_in_circles(hooks) -> None:
    told: list[str] = []
    guard: CrashGuard

    def tell(sentence: str, detail: str) -> None:
        told.append(sentence)
        try:
            _raise()
        except RuntimeError:
            guard.caught(*sys.exc_info())

    guard = CrashGuard(lambda: None, tell, None)
    guard.install()
    unraised(_raise)
    assert len(told) == 1


def test_error_in_a_thread_is_logged_and_touches_no_window(hooks, caplog) -> None:
    told: list[str] = []
    CrashGuard(lambda: told.append("x"), lambda *_: told.append("y"), None).install()
    with caplog.at_level(logging.ERROR, "workbench"):
        thread = threading.Thread(target=_raise)
        thread.start()
        thread.join()
    assert told == []
    assert "invented fault" in caplog.text


def test_error_in_a_slot_of_the_running_program_is_survived_with_the_job_kept(tmp_path: Path, small_house) -> None:
    """The whole program in a process of its own: a fault in a slot, then a hard end; the next start has the work."""
    script = """
        import os, sys
        from pathlib import Path
        from PySide6.QtCore import QTimer
        from workbench.bench import app, dialogs, window
        from workbench.job import edits
        told = []
        dialogs.Dialogs.tell = lambda self, title, sentence, detail="": told.append(sentence)
        def fault():
            open_window = next(w for w in app.QApplication.topLevelWidgets() if isinstance(w, window.Window))
            open_window.document.apply(edits.set_job(open_window.document.job, name="kept"), "Change name")
            QTimer.singleShot(50, end)
            raise RuntimeError("invented fault")
        def end():
            print(told[0], flush=True)
            os._exit(7)
        begin = app.begin
        def begin_and_fail(*given):
            begin(*given)
            QTimer.singleShot(200, fault)
        app.begin = begin_and_fail
        app.run(Path(sys.argv[1]))
    """
    environment = {
        "QT_QPA_PLATFORM": "offscreen",
        "HOME": str(tmp_path),
        "XDG_STATE_HOME": str(tmp_path / "state"),
        "XDG_CONFIG_HOME": str(tmp_path / "config"),
        "PATH": "/usr/bin:/bin",
        "PYTHONPATH": str(Path(__file__).parents[2]),
    }
    job = tmp_path / "job.json"
    job.write_bytes(small_house.read_bytes())
    command = [sys.executable, "-c", textwrap.dedent(script), str(job)]
    ended = subprocess.run(command, env=environment, capture_output=True, text=True, timeout=60, check=False)
    assert ended.returncode == 7, ended.stderr
    assert "autosaved" in ended.stdout
    folder = tmp_path / "state" / "roof-workbench"
    assert "invented fault" in log_path(folder).read_text(encoding="utf-8")

    from workbench.job.autosave import leftovers

    (left,) = leftovers(folder / "autosave")
    assert left.job.name == "kept"
    assert left.path == job.resolve()
