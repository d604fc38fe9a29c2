"""Everything the workbench raises on purpose.

    WorkbenchError
    ├── BadInput (ValueError)       what a person wrote can't be used; one sentence with the place and the mend
    │   ├── MeasureError            a length, slope, angle or number that can't be read
    │   ├── JobError                a job file or a value in it
    │   └── EditError               an edit that can't be made on the open job
    └── NoSolution (ValueError)     a geometric question without an answer, said in words

The command line turns ``BadInput`` and ``NoSolution`` into one line on standard error and exit status 2; the window
shows the same sentence beside the field. Neither ever shows a traceback.
"""

from __future__ import annotations


class WorkbenchError(Exception):
    """Base of every error raised on purpose."""


class BadInput(WorkbenchError, ValueError):
    """A person's input that can't be used. The text is one sentence: what, where, and how to mend it."""


class MeasureError(BadInput):
    """A length, slope, angle or number that can't be read."""


class JobError(BadInput):
    """A job file, or a value in it, that can't be used."""


class EditError(BadInput):
    """An edit that can't be made on the open job; the job stays as it was."""


class NoSolution(WorkbenchError, ValueError):
    """A geometric question that has no answer; the text says why in words."""
