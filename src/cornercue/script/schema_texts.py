"""How texts, and tables of words and levels, are written, as JSON Schema."""

from __future__ import annotations

from pydantic.config import JsonDict

from cornercue.feed.table import FED
from cornercue.languages import LANGUAGES
from cornercue.script.aloud import LONGEST_SAID
from cornercue.script.amount import MAX_LEVEL
from cornercue.script.patterns import END, GAP, any_case, full
from cornercue.script.schema_values import DURATION, LEVEL, MESSAGE
from cornercue.script.words import KINDS, MAX_WORDS
from cornercue.technique.sides import LIMBS, SIDES
from cornercue.technique.table import HEIGHTS
from cornercue.technique.vocabulary import USUAL

_BRACES = r"\{(?!left\}|right\})(?:lead|rear|[Ll][a-z]+t|[Rr][a-z]+t)\}"
_UNSEEN = r"[\x00-\x08\x0e-\x1b\x7f-\x84\x86-\x9f\ue000-\uf8ff]"
SIGN = r"[^\s!-/:-@\[-`{-~\u2000-\u206f]"
"""What is no space and no mark of punctuation: a letter of any language, a figure; some signs, which pass unmarked."""

_NOT_READ_ALOUD = r"[\u0370-\u052f\u0590-\u06ff\u3400-\u4dbf\u4e00-\u9fff]"
"""Greek, Cyrillic, Hebrew, Arabic and ideographs: there is no voice for them."""

BAD_TEXT = rf"(?![\s\S]*(?:{_BRACES}|{_UNSEEN}))"


def text(most: int) -> JsonDict:
    """A text of at most so many characters, spaces in a row counted as one; numbers and yes and no are text, too."""
    return {
        "type": ["string", "number", "boolean"],
        "pattern": rf"^{BAD_TEXT}(?=[\s\S]*{SIGN})\s*(?:\S|\s+(?=\S)){{1,{most}}}\s*$",
        MESSAGE: f"words belong here, at most {most} characters, with {{left}} and {{right}} as the only braces",
    }


def _listed(one: str, most: int) -> JsonDict:
    return {
        "type": ["array", "string", "number", "boolean"], "items": {"$ref": f"#/$defs/{one}"}, "minItems": 1,
        "maxItems": most, "pattern": rf"^{BAD_TEXT}(?:(?=[^,]*{SIGN})[^,]*{END}){{1,{most}}}$",
        MESSAGE: f"a list of at most {most} texts belongs here: [a, b]",
    }  # fmt: skip


_SIDE = any_case((*SIDES, *LIMBS))
_ONE_LIMB = (name for name, technique in USUAL.names.items() if technique.limb and not name.startswith(LIMBS))
_TAKEN = any_case([*FED, *_ONE_LIMB])
_SAID: JsonDict = {
    **text(LONGEST_SAID), "pattern": rf"^(?![\s\S]*{_NOT_READ_ALOUD})\s*(?:\S|\s+(?=\S)){{1,{LONGEST_SAID}}}\s*$",
    MESSAGE: f"write it in Latin letters, in Hangul or in kana, at most {LONGEST_SAID}",
}  # fmt: skip
_LANGUAGE: JsonDict = {"type": "string", "pattern": rf"^\s*{any_case([*LANGUAGES])}\s*$", "examples": [*LANGUAGES]}
_IN_LETTERS: JsonDict = {"if": {"required": ["language"]}, "then": {}, "else": {"properties": {"said": _SAID}}}
_TIME_OF_WORD: JsonDict = {
    "type": ["number", "string"], "minimum": 0.1, "maximum": 30, "pattern": full(DURATION),
}  # fmt: skip
_WORD: JsonDict = {
    "type": "object",
    "properties": {
        "like": {"type": ["string", "integer"], "pattern": r"\S"},
        "kind": {"enum": [*KINDS]},
        "sides": {"type": "string", "pattern": r"^\s*(?:lead(?:\s*/\s*|\s+or\s+|\s+and\s+)rear|"
                  r"left(?:\s*/\s*|\s+or\s+|\s+and\s+)right|none)\s*$", "examples": ["lead/rear", "left/right", "none"],
                  MESSAGE: "write lead/rear, left/right or none"},
        "seconds": _TIME_OF_WORD,
        "height": {"enum": [*HEIGHTS]},
        "said": text(LONGEST_SAID),
        "language": _LANGUAGE,
        "picture": {"type": "string", "pattern": r"^(?!.*\.[sS][vV][gG][zZ]?\s*$).*\S"},
    },
    "additionalProperties": False,
    **_IN_LETTERS,
    "oneOf": [
        {"required": ["like"], "properties": {"kind": False, "sides": False}},
        {"required": ["kind"], "properties": {"like": False}},
    ],
}  # fmt: skip

TEXTS: dict[str, JsonDict] = {
    "Text": text(300),
    "Short": text(80),
    "Points": _listed("Text", 10),
    "Gear": _listed("Short", 12),
    "Words": {
        "type": "object",
        "maxProperties": MAX_WORDS,
        "propertyNames": {
            "pattern": rf"^(?!{GAP}*{_TAKEN}{GAP}*$)(?!(?:.*{GAP})?{_SIDE}(?:{GAP}|$))"
            r"(?=.*[^\s\d!-/:-@\[-`{-~])[^!-&(-,/:-@\[-^`{-~]{1,80}$",
            MESSAGE: "a name of letters and spaces, without a side, that is no name of one hand or leg and is not fed",
        },
        "additionalProperties": {"anyOf": [{"type": "string", "pattern": r"\S"}, _WORD]},
        "examples": [{"tide kick": "side kick", "yop chagi": {"like": "side kick", "said": "yop chah ghee"}}],
    },
    "Levels": {
        "type": "object",
        "propertyNames": {"pattern": LEVEL, MESSAGE: f"levels go from 1 to {MAX_LEVEL}"},
        "additionalProperties": {"anyOf": [text(40), {
            "type": "object", "required": ["name"], "additionalProperties": False, **_IN_LETTERS,
            "properties": {"name": text(40), "said": text(LONGEST_SAID), "language": _LANGUAGE},
        }]},
        "examples": [{"1": {"name": "White"}}],
    },
}  # fmt: skip
"""By the names that models give."""
