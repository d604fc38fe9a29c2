"""Writing a job file safely: the old file stays whole until the new one is."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

import msgspec

from workbench.errors import JobError
from workbench.job.model import Job


def dump_job(job: Job) -> bytes:
    """The job as the bytes of its file: indented JSON, one line end at the end; the same job gives the same bytes."""
    return msgspec.json.format(msgspec.json.encode(job), indent=2) + b"\n"


def write_job(job: Job, path: Path) -> None:
    """Write the job to a file.

    Raises:
        JobError: It can't be written; the old file is untouched.
    """
    write_bytes(path, dump_job(job))


def write_bytes(path: Path, data: bytes) -> None:
    """Write a whole file through a temporary one beside it, so that it is never half written.

    Raises:
        JobError: It can't be written; the old file is untouched.
    """
    temporary: str | None = None
    try:
        handle, temporary = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        _keep_mode(path, Path(temporary))
        Path(temporary).replace(path)
    except OSError as error:
        if temporary is not None:
            Path(temporary).unlink(missing_ok=True)
        msg = f"{path}: can't be written ({error.strerror or error}); choose another place."
        raise JobError(msg) from None


def _keep_mode(path: Path, temporary: Path) -> None:
    """A temporary file is private; the one it replaces may be shared with others."""
    if path.exists():
        temporary.chmod(path.stat().st_mode & 0o777)
    else:
        mask = os.umask(0)
        os.umask(mask)
        temporary.chmod(0o666 & ~mask)
