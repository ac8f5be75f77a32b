"""Validation errors as sentences an instructor can act on, each at its place in the file."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from cornercue.script.answers import AFTER_ANY
from cornercue.script.faults import Fault
from cornercue.script.model import STEP_KINDS, Drill
from cornercue.script.slips import key_meant, list_meant
from cornercue.script.source import Path_, Source, ancestors
from cornercue.script.step import keys_of
from cornercue.script.written import Position
from cornercue.spelling import listed, nearest, offer
from cornercue.technique.vocabulary import USUAL, normalise

_OPENERS = tuple(STEP_KINDS)
_OF_STEPS = {key for model in STEP_KINDS.values() for key in keys_of(model)} - {*_OPENERS, *keys_of(Drill)}
"""Keys that only a step has."""
_EXAMPLES = {
    "drill": "its title",
    "steps": "what is done, a list",
    "for": "such as `for: 30 s`",
}


def faults_of(error: ValidationError, source: Source) -> list[Fault]:
    """One fault for each thing that the validation found."""
    faults = [
        _fault(details, source)
        for details in error.errors(include_url=False)
        # pydantic calls a list too short when its entries are faulty: those are reported themselves
        if not (details["type"] == "too_short" and details["input"])
    ]
    followers = _followers(faults)
    return [fault for fault in faults if fault not in followers]


_STRAY = "` belongs to "
"""In what is said of a key that stands outside its step."""


def _followers(faults: Sequence[Fault]) -> list[Fault]:
    """What is missing only because of another fault: in a step above a stray key, or under a misspelt name."""
    missing = [fault for fault in faults if " needs " in fault.text]
    above = [[one for one in missing if one.line < stray.line] for stray in faults if _STRAY in stray.text]
    offered = {name for fault in faults for name in re.findall(r"(?:did you mean|write) `(\w+)`", fault.text)}
    misspelt = [one for one in missing for name in re.findall(r" needs `(\w+):`", one.text) if name in offered]
    return [*(max(each) for each in above if each), *misspelt]


def _fault(details: ErrorDetails, source: Source) -> Fault:
    path, kind = _without_tags(details["loc"])
    place = _place(path, source, at_key=details["type"] == "extra_forbidden")
    return Fault(source.file, *place, _sentence(details, path, kind))


def _without_tags(loc: tuple[int | str, ...]) -> tuple[Path_, str | None]:
    """The path in the file, and the kind of step that it lies in: pydantic puts the kind after a step's index."""
    path: list[str | int] = []
    kind = None
    for index, part in enumerate(loc):
        if index >= 2 and isinstance(loc[index - 1], int) and loc[index - 2] == "steps":
            kind = str(part)
        elif part != AFTER_ANY:
            path.append(part)
    return tuple(path), kind


def _place(path: Path_, source: Source, at_key: bool) -> Position:
    if at_key and path in source.keys:
        return source.keys[path]
    return next(source.places[above] for above in ancestors(path) if above in source.places)


def _sentence(details: ErrorDetails, path: Path_, kind: str | None) -> str:
    name = str(path[-1]) if path else ""
    match details["type"]:
        case "missing":
            hint = f" ({_EXAMPLES[name]})" if name in _EXAMPLES else ""
            return f"`{kind or 'a drill script'}` needs `{name}:`{hint}".replace("`a drill script`", "a drill script")
        case "extra_forbidden":
            return _unknown_key(name, kind)
        case "union_tag_not_found" | "union_tag_invalid":
            return _unknown_step(details["input"])
        case _ if details["input"] == "" and name and isinstance(path[-1], str):
            return f"`{name}:` has no value; write one after the colon"
        case "cornercue":
            return details["msg"]
        case "too_short":
            return f"`{name}` is empty; at least one step belongs there"
        case "too_long":
            return f"`{name}` has too many entries; at most 500, or split the script and use `include`"
        case "tuple_type" | "list_type":
            return f"a list belongs under `{name}`; start each entry with `- `"
        case "model_type" | "dict_type" | "model_attributes_type":
            return "a mapping such as `rest: 30 s` belongs here"
        case _:
            return f"this does not fit here: {details['msg'].lower()}"


def _unknown_key(key: str, kind: str | None) -> str:
    if kind and key in STEP_KINDS:
        return f"two kinds in one step, `{kind}` and `{key}`; start a new step with `- {key}:`"
    model = STEP_KINDS[kind] if kind else Drill
    known = keys_of(model)
    where = f"`{kind}`" if kind else "a drill script"
    if not kind and key in _OF_STEPS and not nearest(key, [one for one in known if one != "steps"]):
        return f"`{key}` belongs to a step: indent it by two spaces, under the first word of its step"
    if meant := key_meant(key, known):
        return f"{where} has no `{key}`; write `{meant}`"
    return f"{where} has no `{key}`; {offer(key, known, f'it knows {listed(known)}')}"


def _step_without_kind(written: object) -> str:
    """Of an entry that is plain text or a list."""
    found = re.fullmatch(r"([a-z]+):(\S.*)", written) if isinstance(written, str) else None
    if found and found[1] in _OPENERS:
        return f"a space is missing after the colon: `{found[1]}: {found[2]}`"
    names = list_meant(written, USUAL) if isinstance(written, str) else None
    if names or (isinstance(written, str) and normalise(written) in USUAL.names):
        return f"a step starts with its kind: write `- combination: [{', '.join(names or [str(written)])}]`"
    return "a step is a mapping that starts with its kind, such as `- rest: 30 s`"


def _unknown_step(written: Any) -> str:
    if not isinstance(written, dict):
        return _step_without_kind(written)
    keys = [key for key in written if not key.startswith("(")]
    if keys and keys[0] in _OF_STEPS:
        return f"`{keys[0]}` belongs to the step above: write it without the dash, indented by two spaces"
    if keys and (meant := key_meant(keys[0], _OPENERS)):
        return f"`{keys[0]}` is not a kind of step; write `{meant}`"
    for key in keys:
        if close := nearest(key, _OPENERS):
            return f"`{key}` is not a kind of step; did you mean `{close}`?"
    first = f"`{keys[0]}` is not a kind of step" if keys else "the step is empty"
    return f"{first}; a step starts with one of {listed(_OPENERS)}"
