"""The Slope stage: what is to find, what that gives, what would have to move, and what it costs."""

from __future__ import annotations

from workbench.bench.stages.slope.panel import SlopePanel

__all__ = ["SlopePanel"]
