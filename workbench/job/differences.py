"""What differs between two jobs, in a few words for a person who has to choose one of them."""

from __future__ import annotations

from workbench.job.model import Job, Wing

_PARTS = {
    "name": "the name",
    "note": "the note",
    "date": "the date",
    "revision": "the revision",
    "units": "the units",
    "openings": "the openings",
    "sheathing": "the sheathing",
    "plane_choices": "choices for single planes",
    "fastening": "the fastening",
    "brackets": "the price brackets",
    "safety": "the safety settings",
    "screening": "loads and limits",
    "drying_in": "the drying in",
    "lumber": "the lumber",
    "cut_members": "what is cut already",
    "cut_sheets": "sheets that are cut already",
    "site": "what was measured or chosen on site",
    "alternatives": "the alternatives",
    "costs": "the prices",
    "hours": "crew and hours",
    "issued": "what was issued",
    "underlay": "the plan page below",
}


def differences(older: Job, newer: Job) -> tuple[str, ...]:
    """Short phrases such as ``wing "Porch" added`` or ``the sheathing``; empty for equal jobs."""
    found = _wing_differences(older, newer)
    found += [words for part, words in _PARTS.items() if getattr(older, part) != getattr(newer, part)]
    return tuple(found)


def _wing_differences(older: Job, newer: Job) -> list[str]:
    before = {wing.id: wing for wing in older.wings}
    after = {wing.id: wing for wing in newer.wings}
    found = [f'wing "{wing.name}" added' for wing in newer.wings if wing.id not in before]
    found += [f'wing "{wing.name}" taken away' for wing in older.wings if wing.id not in after]
    found += [f'wing "{wing.name}" changed' for wing in newer.wings if _changed(before.get(wing.id), wing)]
    if not found and older.wings != newer.wings:
        found.append("the order of the wings")
    return found


def _changed(older: Wing | None, newer: Wing) -> bool:
    return older is not None and older != newer
