"""The part of the frame page for the day on site: heights and props, layout stick, tails, gable walls, as built."""

from __future__ import annotations

from workbench.bench.stages.site.part import SitePart

__all__ = ["SitePart"]
