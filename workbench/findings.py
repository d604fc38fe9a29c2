"""Findings: what is wrong or worth knowing about a solved job.

A finding never stops the solving. Its code is stable (scripts may match it), its object names a plane, wing, edge or
mark by id, and its source says where the rule comes from.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

Severity = Literal["error", "warning", "note"]

COMMON_PRACTICE = "common practice, no source"
GEOMETRY = "geometry"
SCREENING = "Screening, not design: the local code and the engineer decide."

_ORDER: dict[Severity, int] = {"error": 0, "warning": 1, "note": 2}


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that is wrong or noteworthy.

    Attributes:
        code: Stable lower-case name with hyphens, such as ``notch-too-deep``.
        severity: ``error``, ``warning`` or ``note``.
        object: Id of the wing, plane, edge or mark it is about; empty for the whole job.
        text: One or two sentences for the person, with numbers already formatted.
        source: Where the rule comes from; ``COMMON_PRACTICE`` or ``GEOMETRY`` where that is all.
    """

    code: str
    severity: Severity
    object: str
    text: str
    source: str


def has_errors(findings: Iterable[Finding]) -> bool:
    """Whether any of the findings is an error (the command line then exits with 1)."""
    return any(finding.severity == "error" for finding in findings)


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings, errors first, otherwise in the order they were made; exact repeats dropped."""
    return tuple(sorted(dict.fromkeys(findings), key=lambda finding: _ORDER[finding.severity]))
