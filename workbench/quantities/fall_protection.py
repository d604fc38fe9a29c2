"""Anchors and ropes on the order list. Bought is not enough: a competent person decides what protects."""

from __future__ import annotations

from collections.abc import Mapping

from workbench.job.safety import Rating
from workbench.measure import Trace, Units
from workbench.quantities.model import Quantity
from workbench.safety.cautions import FALL_SOURCE
from workbench.safety.solve import SafetyPlan

_RATED: dict[Rating, str] = {
    "arrest": "rated for arrest",
    "restraint": "rated for restraint only",
    "unknown": "rating not said",
}


def fall_protection_lines(safety: SafetyPlan, ratings: Mapping[str, Rating], units: Units) -> list[Quantity]:
    """Anchors by what they are rated for, and ropes by length; nothing where no anchor stands on the roof.

    Args:
        safety: The safety stage.
        ratings: What each anchor is rated for, by id.
        units: How lengths are shown.
    """
    standing = [anchor for anchor in safety.anchors if anchor.plane]
    anchors: dict[Rating, list[str]] = {}
    ropes: dict[float, list[str]] = {}
    for anchor in standing:
        anchors.setdefault(ratings.get(anchor.id, "unknown"), []).append(anchor.name)
        length = anchor.to_buy.length_in or anchor.to_buy.next_in
        if anchor.rope_in > 0.0 and length is not None:
            ropes.setdefault(length, []).append(anchor.name)
    lines = [
        _line(f"anchor-{rating}", f"roof anchors, {_RATED[rating]}", names, "as set on the drawing")
        for rating, names in sorted(anchors.items())
    ]
    how = (
        "one an anchor: the longest rope that can be had and is not over the permitted length, else the next longer "
        "one, stopped at it"
    )
    return lines + [
        _line(f"rope-{length:g}", f"rope, {units.length(length)}", names, how)
        for length, names in sorted(ropes.items())
    ]


def _line(code: str, name: str, anchors: list[str], how: str) -> Quantity:
    values = f"{', '.join(anchors)} → {len(anchors)}"
    trace = Trace(name, float(len(anchors)), "count", how, values, FALL_SOURCE)
    return Quantity(code, "safety", name, float(len(anchors)), "pieces", trace)
