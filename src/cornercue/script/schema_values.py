"""How the values of fields are written, as JSON Schema: numbers in their range, texts by patterns.

A schema with several types says at each keyword which it is about: `pattern` of texts, `maximum` of numbers, `items`
of lists. So an editor marks the very place, which it could not with alternatives.
"""

from __future__ import annotations

from pydantic.config import JsonDict

from cornercue.ages import OLDEST, YOUNGEST
from cornercue.script.amount import MAX_LEVEL
from cornercue.script.doses import MAX_REPS, MAX_SETS
from cornercue.script.fields import MAX_SECONDS
from cornercue.script.patterns import any_case, entries, full, up_to, whole_number
from cornercue.script.silence import LEAST_WORDS, RULES
from cornercue.technique.table import PACES

MESSAGE = "patternErrorMessage"
"""The key with which editors say in words what a pattern wants; no keyword of the standard, which allows others."""

_SECONDS = rf"(?:{any_case(('s', 'sec', 'secs', 'second', 'seconds'))})(?![a-zA-Z])"
_MINUTES = rf"(?:{any_case(('m', 'min', 'mins', 'minute', 'minutes'))})(?![a-zA-Z])"
_HOURS = rf"(?:{any_case(('h', 'hour', 'hours'))})(?![a-zA-Z])"
_FRACTION = r"(?:\.\d+)?"
_LONGEST = int(MAX_SECONDS)


def _amount(most: int) -> str:
    return rf"0*(?:(?:0|{up_to(most - 1)}){_FRACTION}|{most}(?:\.0+)?)"


_AMBIGUOUS = r"0*[1-9]\d{0,2}\.[0-5]\d(?!\d|\s*[a-zA-Z])"
_PLAIN = rf"(?!{_AMBIGUOUS}){_amount(_LONGEST)}"
_PARTS = (
    rf"(?:{_amount(_LONGEST // 3600)}\s*{_HOURS}\s*)?(?:{_amount(_LONGEST // 60)}\s*{_MINUTES}\s*)?"
    rf"(?:{_amount(_LONGEST)}\s*{_SECONDS})?"
)
_CLOCK = rf"(?:0?[0-5]:\d{{1,3}}|0*(?:0|{up_to(359)})):[0-5]\d|0*360:00|0?6:0{{1,3}}:00"
DURATION = rf"(?=[^,]*[1-9])\s*(?:{_CLOCK}|{_PLAIN}|{_PARTS})\s*"
REST = rf"(?!\s*0*(?:0:0*)?[0-2](?:\.\d+)?\s*(?:{_SECONDS})?\s*(?:,|$)){DURATION}"
_TECHNIQUE_TIME = rf"0*(?:[1-9]{_FRACTION}|10(?:\.0+)?)|0+\.[2-9]\d*"
_PACE = (
    rf"{'|'.join(PACES)}|(?!{_AMBIGUOUS})(?:{_TECHNIQUE_TIME})(?:\s*{_SECONDS})?"
    rf"|0+:(?:0[1-9]|10)|0+\.[01]\d*\s*{_MINUTES}"
)
_COUNT = rf"\s*{whole_number(MAX_REPS)}\s*"
_GROWS = (
    rf"{whole_number(MAX_REPS // MAX_LEVEL)}\s+per\s+level|{whole_number(MAX_REPS)}\s+to\s+{whole_number(MAX_REPS)}"
)
_ANGLE = (
    rf"\s*(?:{any_case(('ahead', 'behind'))}|(?:{any_case(('left', 'right'))})\s+{whole_number(180)}"
    rf"(?:\s+{any_case(('degrees',))})?)\s*"
)
_AGES = "|".join(
    rf"0?{youngest}(?:\s*(?:-|–|to)\s*0?(?:{'|'.join(map(str, range(youngest, OLDEST + 1)))}))?"
    for youngest in range(YOUNGEST, OLDEST + 1)
)
LEVEL = rf"^\s*(?:0?[1-9]|{MAX_LEVEL})\s*$"


def _seconds(pattern: str, told: str, *, least: float = 0, most: float = MAX_SECONDS) -> JsonDict:
    """Seconds as a number, or a time in words; `least` itself only where it is more than 0."""
    bound: JsonDict = {"minimum": least} if least else {"exclusiveMinimum": 0}
    return {"type": ["number", "string"], **bound, "maximum": most, "pattern": full(pattern), MESSAGE: told}


def _whole(most: int, pattern: str, told: str) -> JsonDict:
    return {"type": ["integer", "string"], "minimum": 1, "maximum": most, "pattern": pattern, MESSAGE: told}


def _by_level(one: JsonDict) -> JsonDict:
    """The same, or a table by level with such values."""
    types = one["type"]
    assert isinstance(types, list)
    return {
        **one, "type": [*types, "object"], "minProperties": 1, "propertyNames": {"pattern": LEVEL},
        "additionalProperties": {**one},
    }  # fmt: skip


def _set_by_set(one: JsonDict, pattern: str) -> JsonDict:
    """The same for all sets, or a list with one for each; as text with commas, too."""
    types = one["type"]
    assert isinstance(types, list)
    return {
        **one, "type": [*types, "array"], "items": one, "minItems": 1, "maxItems": MAX_SETS,
        "pattern": entries(pattern, MAX_SETS),
    }  # fmt: skip


_TIME = "write for example 90 s, 1.5 min, 1 min 30 s or 1:30; at most 6 hours"
_LADDER = f"{_TIME}; or a ladder: 3 s down to 1.5 s"
_DURATION = _seconds(DURATION, _TIME)
_SETS = _whole(MAX_SETS, full(whole_number(MAX_SETS)), f"sets go from 1 to {MAX_SETS}")
_REPS = _whole(MAX_REPS, full(_COUNT), f"write a number from 1 to {MAX_REPS}")
_REPS_OF_SETS = _by_level(_set_by_set(_REPS, _COUNT))
_GROWING = f"write a number from 1 to {MAX_REPS}, 1 per level, 6 to 15, or set by set [10, 8, 6]"

VALUES: dict[str, JsonDict] = {
    "Duration": {**_DURATION, "examples": ["30 s", "1 min", "1 min 30 s", "1:30"]},
    "Seconds": {**_by_level(_DURATION), "examples": ["30 s", "1 min", "2 min"]},
    "SecondsOfSets": {**_by_level(_set_by_set(_DURATION, DURATION)), "examples": ["30 s", "1 min"]},
    "RestTime": {
        **_by_level(_seconds(REST, "a rest is 3 s at least; " + _TIME, least=3)),
        "examples": ["30 s", "1 min"],
    },
    "Every": {
        **_by_level(_seconds(rf"{DURATION}(?:(?:down|up)\s+to\s+{DURATION})?", _LADDER)),
        "examples": ["3 s", "3 s down to 1.5 s"],
    },
    "Gap": {
        "type": ["array", "string"], "items": _DURATION, "minItems": 2, "maxItems": 2,
        "pattern": rf"^{DURATION},{DURATION}$", MESSAGE: "write the shortest and the longest: [2 s, 5 s]",
    },
    "CallTimes": {
        **_DURATION, "type": ["number", "string", "object"], "minProperties": 1, "additionalProperties": _DURATION,
        "examples": ["2 s"],
    },
    "Pace": {
        **_seconds(_PACE, f"write {', '.join(PACES)}, or seconds per technique from 0.2 to 10", least=0.2, most=10),
        "examples": [*PACES, "1.5 s"],
    },
    "Reps": {
        **_by_level(_REPS), "pattern": full(f"{_COUNT}|{_GROWS}"), MESSAGE: _GROWING,
        "examples": [10, "1 per level", "6 to 15"],
    },
    "RepsOfSets": {
        **_REPS_OF_SETS, "pattern": f"{entries(_COUNT, MAX_SETS)}|{full(_GROWS)}", MESSAGE: _GROWING,
        "examples": [10, "1 per level", "6 to 15"],
    },
    "Sets": _by_level(_SETS),
    "SetBySet": {
        "anyOf": [
            {"type": "array", "minItems": 2},
            {"type": "string", "pattern": ","},
            {"type": "object", "not": {"additionalProperties": {
                "not": {"anyOf": [{"type": "array", "minItems": 2}, {"type": "string", "pattern": ","}]}
            }}},
        ],
    },
    "Angles": {
        "type": ["array", "string"], "minItems": 1, "maxItems": 12,
        "items": {"type": "string", "pattern": full(_ANGLE), MESSAGE: "write ahead, behind, or for example right 90"},
        "pattern": entries(_ANGLE, 12), MESSAGE: "write ahead, behind, or for example right 90",
        "examples": [["ahead", "right 90", "behind"], "right 90"],
    },
    "Ages": {
        "type": ["integer", "string"], "minimum": YOUNGEST, "maximum": OLDEST,
        "pattern": full(_AGES),
        MESSAGE: f"write for example 7-9, from {YOUNGEST} to {OLDEST} years", "examples": ["7-9", "10-12", "13-15"],
    },
    "YesNo": {
        "type": ["boolean", "string"], "pattern": full(any_case(("yes", "no", "true", "false"))),
        MESSAGE: "write yes or no", "examples": ["yes", "no"],
    },
    "Silences": {
        "type": "object", "propertyNames": {"enum": list(RULES)}, "minProperties": 1,
        "additionalProperties": {
            "type": "string", "minLength": 5, "maxLength": 300,
            "pattern": rf"^\s*\S+(?:\s+\S+){{{LEAST_WORDS - 1},}}\s*$",
            MESSAGE: "say in a few words why the rule does not apply here",
        },
    },
}  # fmt: skip
"""By the names that models give."""
