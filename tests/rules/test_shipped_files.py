"""The door to shipped files opens on them and on nothing else."""

from __future__ import annotations

import json

import pytest

from workbench.resources import resource_path, resource_text, sample_job_path


def test_a_shipped_file_is_found():
    assert json.loads(resource_text("rules", "nailing.json"))["schedules"]
    assert resource_path("rules").is_dir()
    assert sample_job_path().is_dir()


@pytest.mark.parametrize(
    "part", ["/etc/passwd", "..", "../pyproject.toml", "a/../../b", "C:\\x", "\\\\host\\share", "..\\x"]
)
def test_a_way_out_is_refused(part):
    with pytest.raises(ValueError, match="leads out"):
        resource_path(part)
    with pytest.raises(ValueError, match="leads out"):
        resource_path("rules", part)
    with pytest.raises(ValueError, match="leads out"):
        sample_job_path(part)


def test_a_missing_file_is_named():
    with pytest.raises(FileNotFoundError, match="rules/none"):
        resource_path("rules", "none.json")
