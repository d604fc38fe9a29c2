"""From which height on fall protection is needed: rule sets as data, each figure with its source. Inches.

The sets are data (``resources/rules/fall_protection.json``). A set, or a figure in it, that names no source is refused.
"""

from __future__ import annotations

from functools import cache
from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from workbench.errors import BadInput
from workbench.resources import resource_text

TriggerKind = Literal["steep", "low_slope", "leading_edge", "opening", "walking_surface"]
Height = Annotated[float, Meta(gt=0.0, le=1200.0)]

_NOISE_IN_12 = 1e-9


class Trigger(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """From which height on protection is needed at one kind of edge.

    Attributes:
        height_in: Drop to the level below.
        by: What protects, in words.
        source: Where it stands.
    """

    height_in: Height
    by: str
    source: str


class Triggers(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The triggers of a rule set by kind of edge."""

    steep: Trigger
    low_slope: Trigger
    leading_edge: Trigger
    opening: Trigger
    walking_surface: Trigger


class Arrest(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What the rule says about arrest: greatest free fall and deceleration distance, and the anchor in words."""

    free_fall_in: Height
    deceleration_in: Height
    anchor: str
    source: str


class RuleNote(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One thing the rule says besides."""

    text: str
    source: str


class RuleSet(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One rule set.

    Attributes:
        id: Stable id that jobs name.
        name: What it is called.
        where: Where it holds.
        edition: Edition of the document.
        steep_over_in_12: A plane steeper than this counts as steep.
        steep_source: Where that stands.
        triggers: Heights by kind of edge.
        arrest: What it says about arrest.
        notes: What it says besides.
    """

    id: str
    name: str
    where: str
    edition: str
    steep_over_in_12: float
    steep_source: str
    triggers: Triggers
    arrest: Arrest
    notes: tuple[RuleNote, ...] = ()

    def is_steep(self, tangent: float) -> bool:
        """Whether a plane of this slope (rise / run) counts as steep."""
        return 12.0 * tangent > self.steep_over_in_12 + _NOISE_IN_12

    def trigger(self, kind: TriggerKind) -> Trigger:
        """The trigger of a kind of edge."""
        return dict(_named(self.triggers))[kind]


class _Table(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    note: str
    sets: tuple[RuleSet, ...]


def read_rule_sets(text: str) -> tuple[RuleSet, ...]:
    """Rule sets from the text of a rule file.

    Raises:
        BadInput: One sentence: the file can't be read, or a set or a figure in it names no source.
    """
    try:
        sets = msgspec.json.decode(text, type=_Table).sets
    except msgspec.DecodeError as error:
        shown = str(error).replace("`", "")
        raise BadInput(f"The fall protection rules can't be read: {shown}; mend the file there.") from None
    for rules in sets:
        check_sources(rules)
    return sets


def check_sources(rules: RuleSet) -> None:
    """Refuse a rule set that does not say where its figures stand.

    Raises:
        BadInput: One sentence with the set and the figure.
    """
    named = [
        ("what counts as steep", rules.steep_source),
        *((f'its trigger "{name.replace("_", " ")}"', trigger.source) for name, trigger in _named(rules.triggers)),
        ("its arrest figures", rules.arrest.source),
        *((f'the note "{note.text[:30]}…"', note.source) for note in rules.notes),
    ]
    for what, source in named:
        if not source.strip():
            msg = f'The rule set "{rules.name}" names no source for {what}, so it is refused; say where it stands.'
            raise BadInput(msg)


def rule_sets() -> tuple[RuleSet, ...]:
    """Every rule set of the program, in the order they are offered."""
    return _table()


def rule_set(set_id: str) -> RuleSet:
    """The rule set of this id.

    Raises:
        KeyError: There is none.
    """
    for rules in _table():
        if rules.id == set_id:
            return rules
    raise KeyError(set_id)


@cache
def _table() -> tuple[RuleSet, ...]:
    return read_rule_sets(resource_text("rules", "fall_protection.json"))


def _named(triggers: Triggers) -> tuple[tuple[TriggerKind, Trigger], ...]:
    return (
        ("steep", triggers.steep),
        ("low_slope", triggers.low_slope),
        ("leading_edge", triggers.leading_edge),
        ("opening", triggers.opening),
        ("walking_surface", triggers.walking_surface),
    )
