"""No command writes its result over the job it is made from, over another job, or two results into one file."""

from __future__ import annotations

from pathlib import Path

import pytest

from workbench.cli import main
from workbench.job.samples import sample_jobs


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "porch.json"
    path.write_bytes(next(sample.path for sample in sample_jobs() if sample.name == "shed-porch").read_bytes())
    return path


@pytest.mark.parametrize(
    "arguments",
    [
        ("handout", "JOB", "-o", "JOB"),
        ("handout", "JOB", "-o", "DIR/sub/../porch.json"),
        ("handout", "JOB", "-o", "DIR/other.json"),
        ("list", "JOB", "--csv", "JOB"),
        ("list", "JOB", "--xlsx", "DIR/other.JSON"),
        ("list", "JOB", "--csv", "DIR/list.csv", "--boards", "DIR/list.csv"),
        ("prices", "JOB", "--write", "JOB"),
        ("export", "JOB", "JOB"),
    ],
)
def test_refused_in_one_sentence_before_anything_is_written(capsys, job: Path, arguments) -> None:
    (job.parent / "sub").mkdir()
    before = job.read_bytes()
    said = [word.replace("JOB", str(job)).replace("DIR", str(job.parent)) for word in arguments]
    assert main(said) == 2
    out, err = capsys.readouterr()
    assert out == "" and err.count("\n") == 1 and "choose" in err
    assert job.read_bytes() == before
    assert sorted(path.name for path in job.parent.iterdir()) == ["porch.json", "sub"]


def test_one_piece_is_no_pieces(capsys, job: Path) -> None:
    assert main(["list", str(job)]) == 0
    lines = capsys.readouterr().out.splitlines()
    ones = [line.split()[1] for line in lines if line.split()[0] == "1"]
    assert ones and not [unit for unit in ones if unit.endswith("s")]
