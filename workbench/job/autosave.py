"""Autosaved jobs: kept away from the user's own files, found again after a crash, never shared by two windows.

Every open window has a slot of its own in the program's state folder: ``<slot>.json`` with the job and where it
belongs, and a lock that the system drops when the program dies. A slot with a job and without a holder is what a crash
left. A second kind of lock says which job files are open, so that two windows do not save over each other.
"""

from __future__ import annotations

import hashlib
import uuid
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import msgspec
import platformdirs

from workbench.errors import JobError
from workbench.job.locks import FileLock, acquire
from workbench.job.model import Job
from workbench.job.read import parse_job
from workbench.job.write import dump_job, write_bytes

APP_NAME = "roof-workbench"


class _Kept(msgspec.Struct, frozen=True):
    """What an autosave file holds: the job as in its own file, and where it belongs."""

    path: str | None
    saved: str
    job: msgspec.Raw


_KEPT_READER = msgspec.json.Decoder(_Kept)


def state_folder() -> Path:
    """Where the program keeps what is not the user's: autosaves, locks, the log."""
    return platformdirs.user_state_path(APP_NAME)


def autosave_folder() -> Path:
    """Where autosaved jobs are kept."""
    return state_folder() / "autosave"


@dataclass(frozen=True, slots=True)
class Leftover:
    """A job that an ended program left unsaved.

    Attributes:
        file: The autosave file.
        job: The job in it.
        path: The job file it belongs to, or None where it never had one.
        saved: When it was autosaved (UTC).
    """

    file: Path
    job: Job
    path: Path | None
    saved: datetime

    def discard(self) -> None:
        """Forget it."""
        self.file.unlink(missing_ok=True)


class Autosave:
    """The slot of one open window.

    Raises:
        JobError: The folder can't be used.
    """

    def __init__(self, folder: Path | None = None, now: Callable[[], datetime] | None = None) -> None:
        self._folder = folder or autosave_folder()
        self._now = now or _utc_now
        self._slot = uuid.uuid4().hex
        self._open: FileLock | None = None
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            lock = acquire(self._folder / f"{self._slot}.lock")
        except OSError as error:
            msg = f"{self._folder}: autosave can't be kept there ({error.strerror or error}); mend the folder's rights."
            raise JobError(msg) from None
        if lock is None:
            msg = f"{self._folder}: the new autosave is held by somebody else; start the program again."
            raise JobError(msg)
        self._lock = lock

    @property
    def file(self) -> Path:
        """The file this slot's job is kept in."""
        return self._folder / f"{self._slot}.json"

    def hold(self, path: Path | None) -> None:
        """Say which job file this window has open, and let go of the one before.

        Raises:
            JobError: Another window has it open; what was held before is still held.
        """
        if path is None:
            self._let_go()
            return
        wanted = self._folder / f"open-{_digest(path)}.lock"
        if self._open is not None and self._open.path == wanted:
            return
        try:
            lock = acquire(wanted)
        except OSError as error:
            msg = f"{path}: can't be marked as open ({error.strerror or error}); mend the rights of {self._folder}."
            raise JobError(msg) from None
        if lock is None:
            msg = f"{path}: another window has it open; go on there, or close it there first."
            raise JobError(msg)
        self._let_go()
        self._open = lock

    def write(self, job: Job, path: Path | None) -> None:
        """Keep the job.

        Raises:
            JobError: It can't be written.
        """
        where = str(path.resolve()) if path is not None else None
        kept = _Kept(path=where, saved=self._now().isoformat(), job=msgspec.Raw(dump_job(job)))
        write_bytes(self.file, msgspec.json.encode(kept))

    def discard(self) -> None:
        """Forget the kept job: it is saved, or the user did not want it."""
        self.file.unlink(missing_ok=True)

    def release(self) -> None:
        """Let go of the slot and of the open file; a kept job stays as a leftover."""
        self._let_go()
        self._lock.release()

    def _let_go(self) -> None:
        if self._open is not None:
            self._open.release()
            self._open = None


def leftovers(folder: Path | None = None) -> tuple[Leftover, ...]:
    """What ended programs left unsaved, the latest first; files that can't be read are passed over and stay."""
    folder = folder or autosave_folder()
    found: list[Leftover] = []
    for file in sorted(folder.glob("*.json")):
        if not _is_held(file):
            leftover = _read(file)
            if leftover is not None:
                found.append(leftover)
    return tuple(sorted(found, key=lambda leftover: leftover.saved, reverse=True))


def _is_held(file: Path) -> bool:
    try:
        lock = acquire(file.with_suffix(".lock"))
    except OSError:
        return True
    if lock is None:
        return True
    lock.release()
    return False


def _read(file: Path) -> Leftover | None:
    try:
        kept = _KEPT_READER.decode(file.read_bytes())
        job = parse_job(bytes(kept.job), file.name)
        saved = datetime.fromisoformat(kept.saved)
    except (OSError, ValueError, msgspec.MsgspecError):
        return None
    if saved.tzinfo is None:
        saved = saved.replace(tzinfo=UTC)
    return Leftover(file, job, Path(kept.path) if kept.path else None, saved)


def _digest(path: Path) -> str:
    return hashlib.sha256(str(path.resolve()).encode("utf-8", "surrogatepass")).hexdigest()[:24]


def _utc_now() -> datetime:
    return datetime.now(UTC)
