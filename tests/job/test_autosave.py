"""Autosave: what a killed program leaves is found again, and two windows do not save over each other."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import textwrap
from datetime import UTC, datetime
from pathlib import Path

import pytest

from workbench.errors import JobError
from workbench.job.autosave import Autosave, leftovers
from workbench.job.locks import acquire
from workbench.job.model import Job

NOON = datetime(2030, 6, 1, 12, 0, tzinfo=UTC)


def test_kept_job_is_a_leftover_only_once_its_window_has_ended(tmp_path: Path) -> None:
    slot = Autosave(tmp_path, now=lambda: NOON)
    job = Job(name="Shed roof, invented", revision="B")
    slot.write(job, tmp_path / "shed.json")
    assert leftovers(tmp_path) == ()
    slot.release()
    (left,) = leftovers(tmp_path)
    assert (left.job, left.path, left.saved) == (job, (tmp_path / "shed.json").resolve(), NOON)
    left.discard()
    assert leftovers(tmp_path) == ()


def test_discarding_leaves_nothing_behind(tmp_path: Path) -> None:
    slot = Autosave(tmp_path)
    slot.hold(tmp_path / "a.json")
    slot.write(Job(), None)
    slot.discard()
    slot.release()
    slot.release()
    assert list(tmp_path.iterdir()) == []


def test_latest_leftover_comes_first_and_unreadable_ones_stay(tmp_path: Path) -> None:
    for day in (1, 3, 2):
        slot = Autosave(tmp_path, now=lambda day=day: datetime(2030, 6, day, tzinfo=UTC))
        slot.write(Job(name=f"day {day}"), None)
        slot.release()
    broken = tmp_path / "broken.json"
    broken.write_bytes(b'{"path": null, "saved": "2030-06-09T00:00:00+00:00", "job": {"format": "other"}}')
    cut = tmp_path / "cut.json"
    cut.write_bytes(b'{"path": null, "sav')
    assert [left.job.name for left in leftovers(tmp_path)] == ["day 3", "day 2", "day 1"]
    assert broken.exists() and cut.exists()


def test_two_windows_cannot_hold_one_file(tmp_path: Path) -> None:
    first, second = Autosave(tmp_path / "state"), Autosave(tmp_path / "state")
    mine, other = tmp_path / "mine.json", tmp_path / "other.json"
    first.hold(mine)
    first.hold(mine)
    second.hold(other)
    with pytest.raises(JobError, match=r"mine\.json: another window has it open"):
        second.hold(tmp_path / "state" / ".." / "mine.json")
    with pytest.raises(JobError):
        first.hold(other)  # the refused attempt did not cost the second window its file
    first.hold(None)
    second.hold(mine)
    first.hold(other)
    first.release()
    second.release()


def test_folder_that_cannot_be_made_is_told_in_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(JobError, match=r"autosave can't be kept there"):
        Autosave(tmp_path / "file")


def test_lock_survives_being_removed_under_a_waiting_one(tmp_path: Path) -> None:
    path = tmp_path / "one.lock"
    lock = acquire(path)
    assert lock is not None
    assert acquire(path) is None
    lock.release()
    again = acquire(path)
    assert again is not None
    again.release()
    assert not path.exists()


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="needs a system that can kill a program outright")
def test_killed_program_leaves_its_job_and_no_lock(tmp_path: Path) -> None:
    script = """
        import sys, time
        from pathlib import Path
        from workbench.job.autosave import Autosave
        from workbench.job.model import Job
        slot = Autosave(Path(sys.argv[1]))
        slot.hold(Path(sys.argv[1]) / "job.json")
        slot.write(Job(name="kept"), Path(sys.argv[1]) / "job.json")
        print("kept", flush=True)
        time.sleep(60)
    """
    command = [sys.executable, "-c", textwrap.dedent(script), str(tmp_path)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as running:
        assert running.stdout is not None
        assert running.stdout.readline() == "kept\n"
        assert leftovers(tmp_path) == ()
        other = Autosave(tmp_path)
        with pytest.raises(JobError):
            other.hold(tmp_path / "job.json")
        other.release()
        os.kill(running.pid, signal.SIGKILL)
    (left,) = leftovers(tmp_path)
    assert left.job == Job(name="kept")
    slot = Autosave(tmp_path)
    slot.hold(tmp_path / "job.json")
    slot.release()
