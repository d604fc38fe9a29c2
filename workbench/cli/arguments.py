"""Argument types: what the measure parsers read, with their own sentences."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable
from typing import TypeVar

from workbench.errors import MeasureError
from workbench.measure import parse_length, parse_number

_T = TypeVar("_T")
_CHOICE = re.compile(r"argument (?P<name>\S+): invalid choice: (?P<given>.+) \(choose from (?P<among>.+)\)$")
_REQUIRED = re.compile(r"the following arguments are required: (?P<names>.+)$")
_NO_VALUE = re.compile(r"argument (?P<name>\S+): expected (?:one argument|at least one argument|\d+ arguments)$")


def _argument(read: Callable[[str], _T]) -> Callable[[str], _T]:
    def convert(text: str) -> _T:
        try:
            return read(text)
        except MeasureError as error:
            raise argparse.ArgumentTypeError(str(error)) from None

    return convert


length = _argument(parse_length)
"""A length in inches."""

number = _argument(parse_number)
"""A plain number."""


def plain_words(message: str) -> str:
    """What the parser of the arguments says, as a person would."""
    choice, required, lone = (find.match(message) for find in (_CHOICE, _REQUIRED, _NO_VALUE))
    if choice is not None:
        given = choice.group("given").strip("'\"")
        among = choice.group("among").replace("'", "")
        return f'{choice.group("name")} can\'t be "{given}"; choose {among}'
    if required is not None:
        return f"{required.group('names')} is missing"
    if lone is not None:
        return f"{lone.group('name')} has nothing after it; give its value"
    unknown = message.removeprefix("unrecognized arguments: ")
    return f'the command takes no "{unknown}"' if unknown != message else message.removeprefix("argument ")
