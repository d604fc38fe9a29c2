"""Writes every sample job's golden file: ``python tests/golden/write.py``. Read the difference before committing."""

from __future__ import annotations

import json
from pathlib import Path

from workbench.cli.report import plan_json, quantities_json
from workbench.job.read import read_job
from workbench.job.samples import sample_jobs
from workbench.plan import solve

FOLDER = Path(__file__).parent
DIGITS = 6


def golden(path: Path) -> str:
    """Everything solved from a job as text, numbers to a millionth."""
    plan = solve(read_job(path))
    tree = {**plan_json(plan), "quantities": quantities_json(plan.quantities)}
    return json.dumps(_rounded(tree), indent=1, ensure_ascii=False) + "\n"


def _rounded(value: object) -> object:
    if isinstance(value, float):
        return round(value, DIGITS) + 0.0
    if isinstance(value, dict):
        return {key: _rounded(item) for key, item in value.items()}
    if isinstance(value, list):
        if value and all(isinstance(item, int | float) for item in value):
            return " ".join(f"{_rounded(float(item)):.10g}" for item in value)
        return [_rounded(item) for item in value]
    return value


if __name__ == "__main__":
    for sample in sample_jobs():
        (FOLDER / f"{sample.name}.json").write_text(golden(sample.path), encoding="utf-8")
