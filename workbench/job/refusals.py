"""Why a job file is refused: one sentence with the place, what stands there, and what may stand there."""

from __future__ import annotations

import json
import re
from difflib import get_close_matches
from typing import NoReturn

import msgspec

from workbench.job.requirements import Path, keys_at, requirement, steps, value_at, value_words

_PLACE = re.compile(r" - at `(?:key in )?\$(?P<path>[^`]*)`$")
_UNKNOWN = re.compile(r"Object contains unknown field `(?P<key>[^`]*)`")
_MISSING = re.compile(r"Object missing required field `(?P<key>[^`]*)`")
_SCHEMA = "what the schema command lists"
_MOST_KEYS = 16
_NAMED = {"wings": "wing", "edges": "edge", "alternatives": "alternative", "anchors": "anchor", "openings": "opening"}


def told_refusal(error: Exception, data: bytes) -> str:
    """Why a value was refused: place, value and mend in one sentence."""
    text = str(error)
    found = _PLACE.search(text)
    place = found.group("path").lstrip(".") if found else ""
    path = steps(place)
    tree = _tree(data)
    names = _names(tree, path)
    where = f"{place} ({names})" if names else place
    unknown, missing = _UNKNOWN.search(text), _MISSING.search(text)
    if unknown is not None:
        return _unknown(unknown.group("key"), where, path)
    if missing is not None:
        key = missing.group("key")
        return f'{where or "the file"} lacks the key "{key}"; add it as {requirement((*path, key)) or _SCHEMA}.'
    try:
        stands = value_at(tree, path)
    except LookupError:
        return f"{where or 'the file'} can't be read; give {requirement(path) or _SCHEMA}."
    return f"{where or 'the file'} is {value_words(stands)}; give {requirement(path, stands) or _SCHEMA}."


def told_broken(data: bytes) -> str:
    """Why bytes are no JSON: line, column and mend in one sentence."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff") or b"\x00" in data[:4]:
        return "this is no file of plain UTF-8 text; save it as UTF-8, or check that it is a job file."
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError:
        return "this is not a text file; check that it is a job file."
    try:
        json.loads(text, parse_constant=_no_number)
    except json.JSONDecodeError as error:
        if error.pos >= len(text.rstrip()) or error.msg.startswith("Unterminated"):
            return "the file ends in the middle; it was cut short, use a complete copy or the recovered one."
        return f"not readable as JSON at line {error.lineno}, column {error.colno}: {_slip(error, text)}."
    except _NoNumber as error:
        return (
            f"not readable as JSON: {error} stands for a number, but NaN and Infinity are not numbers; give a number."
        )
    except (RecursionError, ValueError):
        pass
    return "not readable as JSON; open it in a text editor and mend it, or use the recovered copy."


class _NoNumber(Exception):
    """NaN or Infinity was met."""


def _no_number(name: str) -> NoReturn:
    raise _NoNumber(name)


def _slip(error: json.JSONDecodeError, text: str) -> str:
    """What was slipped, and the mend."""
    here, before = text[error.pos], text[: error.pos].rstrip()[-1:]
    if here in "/#":
        return "a job file has no comments; take it away"
    if here in "'‘’“”":
        return 'names and texts stand in straight double quotes ("); write them so'
    if before == "," and here in "}]":
        return "a comma stands before a closing bracket; take the comma away"
    match error.msg.partition(" ")[0]:
        case "Extra":
            return "something stands after the end of the job; take it away"
        case "Invalid":
            return "a text holds a line break or a lone backslash; write \\n or \\\\ there"
        case _:
            pass
    if "delimiter" in error.msg:
        missing = "a colon" if "':'" in error.msg else "a comma or a closing bracket"
        return f"{missing} is missing before it; put it in"
    if "property name" in error.msg:
        return "a key in double quotes has to stand here; write one"
    return "no number, text, list or object stands here; write one, true, false or null"


def _unknown(key: str, where: str, path: Path) -> str:
    known = keys_at(path)
    near = get_close_matches(key, known, n=1, cutoff=0.6)
    if near:
        mend = f'write "{near[0]}" or remove it'
    elif len(known) <= _MOST_KEYS:
        mend = f"remove it; the keys there are {', '.join(known)}"
    else:
        mend = "remove it or spell it as the schema does"
    return f'unknown key "{key}"{f" in {where}" if where else ""}; {mend}.'


def _names(tree: object, path: Path) -> str:
    """What the parts of a path are called in the job, where they have an id: ``wing "main", edge "e2"``."""
    said: list[str] = []
    for i, step in enumerate(path):
        word = _NAMED.get(str(path[i - 1])) if i and isinstance(step, int) else None
        if word is None:
            continue
        try:
            identity = value_at(tree, (*path[: i + 1], "id"))
        except LookupError:
            continue
        if isinstance(identity, str) and identity.isprintable() and len(identity) <= 60:
            said.append(f'{word} "{identity}"')
    return ", ".join(said)


def _tree(data: bytes) -> object:
    try:
        return msgspec.json.decode(data)
    except (msgspec.DecodeError, RecursionError):
        return None
