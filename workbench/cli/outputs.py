"""Files that a command writes: never over the job they are made from, never two into one."""

from __future__ import annotations

import argparse
from pathlib import Path

from workbench.errors import BadInput

_OPTIONS = {"output": "the file to write", "csv": "--csv", "boards": "--boards", "xlsx": "--xlsx", "write": "--write"}


def check_outputs(arguments: argparse.Namespace) -> None:
    """Check the files of one command before anything is written.

    Raises:
        BadInput: One of them is a job file, or two are the same file.
    """
    job: Path | None = getattr(arguments, "job", None)
    seen: dict[Path, str] = {}
    for option, word in _OPTIONS.items():
        path: Path | None = getattr(arguments, option, None)
        if path is None:
            continue
        place = path.resolve()
        if job is not None and place == job.resolve():
            msg = f"{path}: this is the job itself and would be written over; choose another name."
            raise BadInput(msg)
        if path.suffix.lower() == ".json":
            msg = f"{path}: a name that ends in .json is a job's; choose another ending for {word}."
            raise BadInput(msg)
        if place in seen:
            msg = f"{path}: {seen[place]} and {word} can't be one file; choose two names."
            raise BadInput(msg)
        seen[place] = word
