"""The command line: ``roof-workbench``, also ``python -m workbench``."""

from __future__ import annotations

from workbench.cli.main import main

__all__ = ["main"]
