"""Locks that the system lets go of when the program dies, so that none is ever left behind."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import BinaryIO


class FileLock:
    """A lock held on one small file; two holders exclude each other, also inside one process."""

    def __init__(self, path: Path, stream: BinaryIO) -> None:
        self.path = path
        self._stream: BinaryIO | None = stream

    def release(self) -> None:
        """Let go and remove the file; letting go twice does nothing."""
        if self._stream is None:
            return
        stream, self._stream = self._stream, None
        if sys.platform == "win32":
            stream.close()
            _remove(self.path)
        else:
            # Removed while still held: nobody can lock the file between the two and lose it.
            _remove(self.path)
            stream.close()


def acquire(path: Path) -> FileLock | None:
    """Lock a file, making it when it is missing; None while somebody else holds it.

    Raises:
        OSError: The file can't be made.
    """
    while True:
        stream = path.open("ab")
        if not _lock(stream):
            stream.close()
            return None
        if _is_still(path, stream):
            return FileLock(path, stream)
        # The holder before removed it between our opening and our locking.
        stream.close()


def _remove(path: Path) -> None:
    try:
        path.unlink(missing_ok=True)
    except OSError:
        return  # an empty lock file left lying is harmless: only the lock on it counts


def _is_still(path: Path, stream: BinaryIO) -> bool:
    if sys.platform == "win32":
        return True
    try:
        return os.path.samestat(path.stat(), os.fstat(stream.fileno()))
    except FileNotFoundError:
        return False


if sys.platform == "win32":
    import msvcrt

    def _lock(stream: BinaryIO) -> bool:
        stream.seek(0)
        try:
            msvcrt.locking(stream.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import fcntl

    def _lock(stream: BinaryIO) -> bool:
        try:
            fcntl.flock(stream.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True
