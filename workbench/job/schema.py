"""The published schema of the job file."""

from __future__ import annotations

from typing import Any

import msgspec

from workbench.job.model import Job


def job_schema() -> dict[str, Any]:
    """JSON Schema (draft 2020-12) of the job file, lengths in inches and slopes in inches of rise in 12."""
    schema: dict[str, Any] = msgspec.json.schema(Job)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "Roof Workbench job file", **schema}
