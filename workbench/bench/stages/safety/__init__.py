"""The Safety stage: falls, anchors, ropes, decks and rails, loads and heat; the caution always on screen."""

from __future__ import annotations

from workbench.bench.stages.safety.panel import CAUTION, SafetyPanel

__all__ = ["CAUTION", "SafetyPanel"]
