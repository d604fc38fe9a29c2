"""The solved job in open formats for whoever comes next: drawings, building model, tables."""

from __future__ import annotations

from workbench.exchange.export import ENDINGS, write_export

__all__ = ["ENDINGS", "write_export"]
