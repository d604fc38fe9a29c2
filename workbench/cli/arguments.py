"""Argument types: what the measure parsers read, with their own sentences."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from typing import TypeVar

from workbench.errors import MeasureError
from workbench.measure import parse_length, parse_number

_T = TypeVar("_T")


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
