"""Reading a job file.

History of the format (``version``):
    1  the first.
A newer version than this program's is refused; older ones will be migrated here and kept as files under the tests.
"""

from __future__ import annotations

import re
from pathlib import Path

import msgspec

from workbench.errors import JobError
from workbench.job.model import FORMAT_NAME, FORMAT_VERSION, Job
from workbench.job.validate import check_job

_MAX_BYTES = 20_000_000


class _Head(msgspec.Struct, frozen=True):
    """The two keys that say whether the rest is ours to read."""

    format: object = None
    version: object = None


_HEAD_READER = msgspec.json.Decoder(_Head)
_READER = msgspec.json.Decoder(Job)
_PLACE = re.compile(r" - at `(?:key in )?\$(?P<path>[^`]*)`$")
_UNKNOWN = re.compile(r"Object contains unknown field `(?P<key>[^`]*)`")


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
    try:
        head = _HEAD_READER.decode(data)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError) as error:
        raise JobError(f"{name}: {_broken(error)}") from None
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
        raise JobError(f"{name}: {_sentence(str(error))}") from None
    try:
        check_job(job)
    except JobError as error:
        raise JobError(f"{name}: {error}") from None
    return job


def _broken(error: Exception) -> str:
    text = str(error)
    if "truncated" in text:
        return "the file ends in the middle; it was cut short, use a complete copy or the recovered one."
    if isinstance(error, UnicodeDecodeError) or "utf-8" in text.lower():
        return "this is not a text file; check that it is a job file."
    if isinstance(error, msgspec.ValidationError):
        return "this is not a job file: the file has to hold one object { … }."
    return f"not readable as JSON ({text.rstrip('.')}); NaN and Infinity are not numbers here, mend the file there."


def _sentence(text: str) -> str:
    found = _PLACE.search(text)
    place = found.group("path").lstrip(".") if found else ""
    body = text[: found.start()] if found else text
    unknown = _UNKNOWN.search(body)
    if unknown:
        where = f" in {place}" if place else ""
        return f'unknown key "{unknown.group("key")}"{where}; remove it or spell it as the schema does.'
    where = f"{place}: " if place else ""
    body = body.replace("Object missing required field", "missing the key").replace("`", "")
    return f"{where}{body[0].lower() + body[1:]}; the schema command lists what may stand there."
