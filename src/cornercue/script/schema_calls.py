"""The places of a script that hold techniques, as JSON Schema: what they look like, and which names belong there."""

from __future__ import annotations

from functools import partial

from pydantic.config import JsonDict

from cornercue.feed.table import FED
from cornercue.feed.table import LEFT_OUT as NOT_FED_TO_JUNIORS
from cornercue.pads.table import held_for, not_held
from cornercue.script.patterns import entries
from cornercue.script.schema_names import NUMBERED, call, defence, one_position, only, position, technique
from cornercue.script.schema_values import MESSAGE
from cornercue.technique.table import Technique
from cornercue.technique.vocabulary import KNOWN_NAMES, Vocabulary

_NAME: JsonDict = {"$ref": "#/$defs/Technique"}
_WITH_CUE: JsonDict = {
    "type": "object", "propertyNames": _NAME, "additionalProperties": {"$ref": "#/$defs/Text"}, "minProperties": 1,
    "maxProperties": 1,
}  # fmt: skip
_WEIGHT: JsonDict = {
    "type": ["number", "string"], "exclusiveMinimum": 0, "maximum": 100, "pattern": r"^\s*\d{1,4}(?:\.\d{1,4})?\s*$",
    MESSAGE: "write a weight, more than 0 and at most 100",
}  # fmt: skip


def _weighed(name: str, most: int) -> JsonDict:
    """Names in a list, as text with commas, or each with its weight."""
    one: JsonDict = {"$ref": f"#/$defs/{name}"}
    table: JsonDict = {"propertyNames": one, "additionalProperties": _WEIGHT, "minProperties": 1, "maxProperties": most}
    entry: JsonDict = {"anyOf": [one, {"type": "object", **table}]}
    return {
        "type": ["string", "integer", "array", "object"], "pattern": r"\S", "items": entry, "minItems": 1,
        "maxItems": most, "uniqueItems": True, **table,
    }  # fmt: skip


def _list_of(items: JsonDict, most: int) -> JsonDict:
    return {"type": ["string", "integer", "array"], "pattern": r"\S", "items": items, "minItems": 1, "maxItems": most}


PLACES: dict[str, JsonDict] = {
    "Technique": {
        "type": ["string", "integer"], "minimum": 1, "maximum": 6, "examples": [*KNOWN_NAMES],
        "pattern": rf"^(?!{NUMBERED}$)[^,]{{1,60}}$", MESSAGE: "one technique belongs here",
    },
    "Position": {"type": ["string", "integer"], "maxLength": 60, "pattern": r"\S"},
    "Call": {"type": ["string", "integer"], "pattern": "^[^,]*$", "examples": ["left", "sprawl", "freeze"],
             MESSAGE: "one call belongs here"},
    "Defence": {"type": "string", "pattern": "^[^,]*$", "examples": [*FED], MESSAGE: "one defence belongs here"},
    "Techniques": _list_of({"anyOf": [_NAME, _WITH_CUE]}, 16),
    "Combinations": _list_of(_list_of(_NAME, 16), 16),
    "Calls": _weighed("Call", 16),
    "Defences": _weighed("Defence", 10),
    "Answers": {
        "type": ["string", "integer", "array", "object"], "pattern": r"\S", "minItems": 1, "maxItems": 16,
        "items": _list_of(_NAME, 16), "minProperties": 1, "maxProperties": 10,
        "additionalProperties": {"$ref": "#/$defs/Combinations"},
    },
}  # fmt: skip
"""By the names that models give; any name fits, since a script may have words of its own."""


def usual_names(known: Vocabulary) -> dict[str, JsonDict]:
    """Steps whose names are those of a vocabulary, and the same for juniors: to be asked for on top of the places."""
    fed, juniors_fed = defence(known), defence(only(known, lambda found: found.name not in NOT_FED_TO_JUNIORS))
    for_juniors = only(known, lambda found: not_held(found, "junior") is None)
    adults_only = "this is not for children and teenagers; write `junior: no` where only adults train"
    return {
        "UsualTechniques": _any_of_it("UsualTechniques", _combination(known), _NO_TECHNIQUE),
        "UsualCalls": _any_of_it("UsualCalls", entries(call(known), 16), "write techniques with a side, or free words"),
        "UsualDefences": _any_of_it("UsualDefences", entries(fed, 10), f"a partner feeds {', '.join(FED)}"),
        "UsualPads": _any_of_it("UsualPads", _combination(only(known, partial(_struck_at, "pads"))), _NOT_HELD),
        "UsualShield": _any_of_it("UsualShield", _combination(only(known, partial(_struck_at, "shield"))), _NOT_HELD),
        "UsualAnswers": {
            "if": {"type": "object"},
            "then": {"propertyNames": _ref("UsualDefences"), "additionalProperties": _ref("UsualTechniques")},
            "else": _ref("UsualTechniques"),
        },
        "UsualSteps": {"items": {"properties": {
            "combination": _ref("UsualTechniques"),
            "shadow": _ref("UsualTechniques"),
            "hold": {"pattern": rf"^{position(known)}$", MESSAGE: "write a technique, or free words without a side"},
            "react": _ref("UsualCalls"),
            "partner": _ref("UsualDefences"),
            "pads": {"anyOf": [_ref("UsualPads"), _ref("UsualShield")]},
            "answers": _ref("UsualAnswers"),
            "steps": _ref("UsualSteps"),
        }, **_no_sides_beside(one_position(known))}},
        "JuniorDefences": _any_of_it("JuniorDefences", entries(juniors_fed, 10), adults_only),
        "JuniorPads": _any_of_it("JuniorPads", _combination(for_juniors), adults_only),
        "JuniorSteps": {"items": {"properties": {
            "partner": _ref("JuniorDefences"),
            "pads": _ref("JuniorPads"),
            "steps": _ref("JuniorSteps"),
        }}},
    }  # fmt: skip


_NO_TECHNIQUE = "this is not a technique; `cornercue techniques` lists them"
_NOT_HELD = "pads are held for punches, and a shield for kicks, and nobody holds both"


def _ref(name: str) -> JsonDict:
    return {"$ref": f"#/$defs/{name}"}


def _any_of_it(name: str, pattern: str, told: str) -> JsonDict:
    """Every text of what stands here, in lists and as keys: `name` is the description itself."""
    return {"pattern": pattern, MESSAGE: told, "items": _ref(name), "propertyNames": _ref(name)}


def _combination(known: Vocabulary) -> str:
    """A technique, several with commas, or a run of numbers."""
    return rf"{entries(technique(known), 16)}|^{NUMBERED}$"


def _struck_at(thing: str, found: Technique) -> bool:
    held = held_for(found)
    return held.thing == thing if held else not_held(found, "adult") is None


def _no_sides_beside(positions: str) -> JsonDict:
    """What is held on one side only has no `sides`."""
    return {
        "if": {"required": ["sides"]},
        "then": {"properties": {"hold": {"not": {"type": "string", "pattern": positions}}}},
    }
