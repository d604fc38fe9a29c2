"""A guard for work done inside Qt's own virtual calls.

An exception that leaves a Python override of a virtual function (``showEvent``, ``paintEvent``, ``resizeEvent`` ...)
while Python itself called into Qt crashes the binding outright when the exception comes from C code (PySide6 6.11.3 on
Python 3.11). So overrides that do real work hand it to ``unraised``: the error goes where all unexpected errors go.
"""

from __future__ import annotations

import sys
from collections.abc import Callable


def unraised(work: Callable[[], object]) -> None:
    """Do the work; an error is given to the interpreter's hook instead of being raised."""
    try:
        work()
    except Exception as error:
        sys.excepthook(type(error), error, error.__traceback__)
