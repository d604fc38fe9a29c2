"""Every sample job solves to what its golden file says; the files are written by ``write.py`` and read by people."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest

from workbench.job.read import read_job
from workbench.job.samples import Sample, sample_jobs
from workbench.plan import solve

HERE = Path(__file__).parent
_spec = importlib.util.spec_from_file_location("golden_write", HERE / "write.py")
assert _spec is not None
assert _spec.loader is not None
write = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(write)


@pytest.mark.parametrize("sample", sample_jobs(), ids=lambda sample: sample.name)
def test_sample_solves_to_its_golden_file(sample: Sample) -> None:
    assert write.golden(sample.path) == (HERE / f"{sample.name}.json").read_text(encoding="utf-8")


@pytest.mark.parametrize("sample", sample_jobs(), ids=lambda sample: sample.name)
def test_solving_twice_gives_the_same(sample: Sample) -> None:
    job = read_job(sample.path)
    first, second = solve(job), solve(read_job(sample.path))
    assert first.findings == second.findings
    assert first.sheathing == second.sheathing
    assert first.quantities == second.quantities
