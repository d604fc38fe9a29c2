"""What every edit goes through: fields replaced, the result checked as strictly as the reader does."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, TypeVar

import msgspec
from msgspec.structs import replace

from workbench.errors import EditError, JobError
from workbench.job.limits_told import limit_sentence
from workbench.job.model import Job
from workbench.job.validate import check_job

_Value = TypeVar("_Value", bound=msgspec.Struct)
_READER = msgspec.json.Decoder(Job)


def replaced(value: _Value, fields: dict[str, Any]) -> _Value:
    """The value with other fields.

    Raises:
        EditError: A field is unknown, or no ordinary number.
    """
    for name, given in fields.items():
        if isinstance(given, float) and not math.isfinite(given):  # where None is allowed it would be read as that
            msg = f"{name} is {given}, which is no length or slope; give an ordinary number."
            raise EditError(msg)
    try:
        return replace(value, **fields)
    except TypeError as error:
        raise EditError(f"{error}.") from None


def checked(job: Job) -> Job:
    """The job after the reader's own checks, so that no edit can make what a file may not hold.

    Raises:
        EditError: One sentence with what can't be.
    """
    data = msgspec.json.encode(job)  # NaN becomes null on the way and is refused
    try:
        job = _READER.decode(data)
        check_job(job)
    except msgspec.ValidationError as error:
        raise EditError(limit_sentence(str(error), msgspec.json.decode(data))) from None
    except JobError as error:
        text = str(error)
        raise EditError(text[0].upper() + text[1:]) from None
    return job


def fresh(stem: str, taken: Sequence[str]) -> str:
    """An id that is not taken, counted on from how many there are: ``wing-2``."""
    number = len(taken) + 1
    while f"{stem}-{number}" in taken:
        number += 1
    return f"{stem}-{number}"
