"""What may stand at a place of the job file, in words: read off the document's own types, so never out of date."""

from __future__ import annotations

import re
from collections.abc import Iterable
from difflib import get_close_matches
from functools import cache
from typing import cast

import msgspec
from msgspec import inspect

from workbench.job.model import Job

Step = str | int
Path = tuple[Step, ...]

_STEP = re.compile(r"\[(?P<index>\d+|\.\.\.)\]|\.?(?P<key>[^.\[\]]+)")
_LONGEST = 40
_FEW = 3  # so many words are read at a glance
_WORDS: dict[str, str] = {
    "str": "text in double quotes",
    "bool": "true or false",
    "null": "null",
}


def steps(path: str) -> Path:
    """The steps of a path as the reader writes it: ``wings[0].edges[1].kind``."""
    found: list[Step] = []
    for step in _STEP.finditer(path):
        index = step.group("index")
        if index is None:
            found.append(step.group("key"))
        elif index.isdigit():
            found.append(int(index))
    return tuple(found)


def value_at(tree: object, path: Path) -> object:
    """The value at a path of a file's own tree.

    Raises:
        LookupError: There is none.
    """
    for step in path:
        if isinstance(tree, dict) and isinstance(step, str):
            tree = cast("dict[str, object]", tree)[step]
        elif isinstance(tree, list) and isinstance(step, int):
            tree = cast("list[object]", tree)[step]
        else:
            raise LookupError(step)
    return tree


def value_words(value: object) -> str:
    """A value of the file as a person would point at it."""
    match value:
        case dict():
            return "an object { … }"
        case list():
            return f"a list of {len(cast('list[object]', value))}"
        case str():
            short = value if len(value) <= _LONGEST else f"{value[:_LONGEST]}…"
            return f'the text "{" ".join(short.split()) or short.strip()}"'
        case _:
            return msgspec.json.encode(value).decode()


def requirement(path: Path, stands: object = None) -> str:
    """What may stand at a path, to follow "give": ``"eave", "rake" or "wall"``; empty where there is no such place.

    Where a word that stands there is nearly one of those that may, that one comes first.
    """
    kind = _type_at(path)
    if kind is None:
        return ""
    words = [word for one in _branches(kind) if isinstance(one, inspect.LiteralType) for word in one.values]
    near = get_close_matches(stands, [str(word) for word in words], n=1, cutoff=0.5) if isinstance(stands, str) else []
    return f'"{near[0]}", or another of {_required(kind)}' if near and len(words) > _FEW else _required(kind)


def keys_at(path: Path) -> tuple[str, ...]:
    """The keys that an object at a path may have."""
    kind = _type_at(path)
    found = () if kind is None else _branches(kind)
    return tuple(f.encode_name for one in found if isinstance(one, inspect.StructType) for f in one.fields)


@cache
def _root() -> inspect.Type:
    return inspect.type_info(Job)


def _type_at(path: Path) -> inspect.Type | None:
    kinds: list[inspect.Type] = [_root()]
    for step in path:
        kinds = [under for kind in kinds for under in _under(kind, step)]
    return kinds[0] if kinds else None


def _under(kind: inspect.Type, step: Step) -> list[inspect.Type]:
    found: list[inspect.Type] = []
    for one in _branches(kind):
        match one:
            case inspect.StructType(fields=fields):
                found += [field.type for field in fields if field.encode_name == step]
            case inspect.VarTupleType(item_type=item) | inspect.ListType(item_type=item):
                found += [item] if isinstance(step, int) else []
            case inspect.TupleType(item_types=items):
                found += [items[step]] if isinstance(step, int) and step < len(items) else []
            case inspect.DictType(value_type=value):
                found += [value] if isinstance(step, str) else []
            case _:
                pass
    return found


def _branches(kind: inspect.Type) -> list[inspect.Type]:
    """A type itself, or what it is one of."""
    match kind:
        case inspect.Metadata(type=inner):
            return _branches(inner)
        case inspect.UnionType(types=types):
            return [branch for one in types for branch in _branches(one)]
        case _:
            return [kind]


def _required(kind: inspect.Type) -> str:
    match kind:
        case inspect.Metadata(type=inner):
            extra = cast("dict[str, object]", getattr(kind, "extra_json_schema") or {})  # noqa: B009
            unit = str(extra.get("description", ""))
            return f"{_required(inner)} ({unit})" if unit else _required(inner)
        case inspect.UnionType(types=types):
            return _either([_required(one) for one in types])
        case inspect.LiteralType(values=values):
            return _either(
                [f'"{v}"' if isinstance(v, str) else str(v) for v in sorted(values, key=lambda v: (str(type(v)), v))]
            )
        case inspect.FloatType() | inspect.IntType():
            return _number(kind)
        case inspect.StrType():
            return _text(kind)
        case inspect.BoolType():
            return _WORDS["bool"]
        case inspect.NoneType():
            return _WORDS["null"]
        case inspect.StructType(fields=fields):
            needed = [f'"{field.encode_name}"' for field in fields if field.required]
            return f"an object {{ … }}{f' with {_all(needed)}' if needed else ''}"
        case inspect.TupleType(item_types=items):
            return f"a list of {len(items)}, each {_required(items[0])}"
        case inspect.VarTupleType() | inspect.ListType():
            return _list(kind)
        case _:
            return "an object { … }"


def _number(kind: inspect.FloatType | inspect.IntType) -> str:
    said = "a whole number" if isinstance(kind, inspect.IntType) else "a number"
    bounds = (
        ("over", kind.gt),
        ("from", kind.ge),
        ("under", kind.lt),
        ("to" if kind.ge is not None else "at most", kind.le),
    )
    told = [f"{word} {limit:,g}" for word, limit in bounds if limit is not None]
    return f"{said} {_and(told)}" if told else f"{said} (no quotes)"


def _and(told: list[str]) -> str:
    return " ".join(told) if told[-1].startswith("to ") else " and ".join(told)


def _text(kind: inspect.StrType) -> str:
    if kind.pattern is not None:
        part = "letters, digits, blanks and _ . -"
        return 'a plane or edge as "wing/edge" by their ids' if "/" in kind.pattern else f"a name of {part} in quotes"
    told = [f"at least {kind.min_length}"] if kind.min_length else []
    told += [f"at most {kind.max_length}"] if kind.max_length is not None else []
    return (
        f"{_WORDS['str']}, {' and '.join(told)} letter{'s' if kind.max_length != 1 else ''}" if told else _WORDS["str"]
    )


def _list(kind: inspect.VarTupleType | inspect.ListType) -> str:
    told = [f"at least {kind.min_length}"] if kind.min_length else []
    told += [f"at most {kind.max_length}"] if kind.max_length is not None else []
    return f"a list [ … ] of {' and '.join(told)}" if told else "a list [ … ]"


def _either(words: Iterable[str]) -> str:
    every = list(dict.fromkeys(words))
    return every[0] if len(every) == 1 else f"{', '.join(every[:-1])} or {every[-1]}"


def _all(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
