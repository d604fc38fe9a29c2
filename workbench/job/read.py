"""Reading a job file.

History of the format (``version``):
    1  the first.
A newer version than this program's is refused; older ones will be migrated here and kept as files under the tests.
"""

from __future__ import annotations

from pathlib import Path

import msgspec

from workbench.errors import JobError
from workbench.job.model import FORMAT_NAME, FORMAT_VERSION, Job
from workbench.job.refusals import told_broken, told_refusal
from workbench.job.validate import check_job

_MAX_BYTES = 20_000_000


class _Head(msgspec.Struct, frozen=True):
    """The two keys that say whether the rest is ours to read."""

    format: object = None
    version: object = None


_HEAD_READER = msgspec.json.Decoder(_Head)
_READER = msgspec.json.Decoder(Job)
_MARK = b"\xef\xbb\xbf"


def read_job(path: Path) -> Job:
    """Read a job file.

    Raises:
        JobError: One sentence with the file, the place in it and the mend.
    """
    try:
        if path.stat().st_size > _MAX_BYTES:
            msg = f"{path}: larger than any job file; check that it is the right file."
            raise JobError(msg)
        data = path.read_bytes()
    except FileNotFoundError:
        msg = f"{path}: there is no such file; check the name."
        raise JobError(msg) from None
    except IsADirectoryError:
        msg = f"{path}: this is a folder; name a job file in it."
        raise JobError(msg) from None
    except OSError as error:
        msg = f"{path}: can't be read ({error.strerror or error}); check that you may read it."
        raise JobError(msg) from None
    return parse_job(data, str(path))


def parse_job(data: bytes, name: str) -> Job:
    """Read a job from the bytes of its file.

    Args:
        data: UTF-8 JSON.
        name: What to call it in the sentence.

    Raises:
        JobError: One sentence with the place and the mend.
    """
    data = data.removeprefix(_MARK)  # some editors put it before UTF-8
    try:
        head = _HEAD_READER.decode(data)
    except (msgspec.ValidationError, RecursionError):
        msg = (
            f"{name}: this is not a job file: the file has to hold one object {{ … }}; check that it is the right one."
        )
        raise JobError(msg) from None
    except (msgspec.DecodeError, UnicodeDecodeError):
        raise JobError(f"{name}: {told_broken(data)}") from None
    if head.format != FORMAT_NAME:
        msg = f'{name}: this is not a job file of the workbench; its "format" has to be "{FORMAT_NAME}".'
        raise JobError(msg)
    version = head.version
    if isinstance(version, int) and not isinstance(version, bool) and version > FORMAT_VERSION:
        msg = (
            f"{name}: written by a newer program (format version {version}, this one reads up to {FORMAT_VERSION}); "
            "open it with that program or ask for it in the older version."
        )
        raise JobError(msg)
    try:
        job = _READER.decode(data)
    except (msgspec.ValidationError, msgspec.DecodeError, RecursionError) as error:
        raise JobError(f"{name}: {told_refusal(error, data)}") from None
    try:
        check_job(job)
    except JobError as error:
        raise JobError(f"{name}: {error}") from None
    return job
