"""The core works without Qt: proven by refusing it at import."""

from __future__ import annotations

import subprocess
import sys
import textwrap
from pathlib import Path

from workbench.job.samples import sample_jobs

SCRIPT = """
import importlib, pkgutil, sys

class Refuse:
    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] in ("PySide6", "shiboken6", "pyqtgraph"):
            raise ImportError(f"{name} is refused here")

sys.meta_path.insert(0, Refuse())
import workbench
names = [m.name for m in pkgutil.walk_packages(workbench.__path__, "workbench.", onerror=lambda name: None)]
for name in names:
    if not name.startswith("workbench.bench") and name != "workbench.__main__":
        importlib.import_module(name)
from workbench.cli import main
sys.exit(main(["handout", sys.argv[1], "-o", sys.argv[2]]))
"""


def test_every_core_module_imports_and_a_sample_is_printed_with_qt_refused(tmp_path: Path) -> None:
    output = tmp_path / "handout.pdf"
    done = subprocess.run(
        [sys.executable, "-c", textwrap.dedent(SCRIPT), str(sample_jobs()[0].path), str(output)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert output.read_bytes().startswith(b"%PDF")


def test_modules_stay_small() -> None:
    """A module is one subject: 500 lines at most, so that a reader finds a thing by its file."""
    package = Path(__file__).parent.parent / "workbench"
    long = {str(p): n for p in package.rglob("*.py") if (n := len(p.read_text(encoding="utf-8").splitlines())) > 500}
    assert not long
