"""How property tests run: without deadlines, and with the same examples every time where they gate a change."""

from __future__ import annotations

import os

from hypothesis import settings

settings.register_profile("workbench", deadline=None)
settings.register_profile("workbench-ci", deadline=None, derandomize=True)
settings.load_profile("workbench-ci" if os.environ.get("CI") else "workbench")
