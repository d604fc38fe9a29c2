"""The screening on the frame page: checks as sentences, loads and limits, headroom points, hardware called for."""

from __future__ import annotations

from workbench.bench.stages.screening.part import ScreeningPart

__all__ = ["ScreeningPart"]
