"""How tests run: property tests without deadlines, the same examples where they gate a change; short searches."""

from __future__ import annotations

import os

import pytest
from hypothesis import settings

settings.register_profile("workbench", deadline=None)
settings.register_profile("workbench-ci", deadline=None, derandomize=True)
settings.load_profile("workbench-ci" if os.environ.get("CI") else "workbench")


@pytest.fixture(autouse=True)
def short_searches(monkeypatch: pytest.MonkeyPatch) -> None:
    """The search for fewest sheets ends sooner in tests that are about something else, and name no limit."""
    monkeypatch.setattr("workbench.plan.FULL_SECONDS", 1.0)
