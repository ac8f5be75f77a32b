"""How a script silences a rule of the review: by its name, with a reason."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BeforeValidator, PlainValidator

from cornercue.script.described import described
from cornercue.script.fields import text_of, wrong
from cornercue.spelling import offer

RULES = ("flow", "sides", "fit", "rest", "dose", "order", "alike", "guard", "strings", "plain words", "library")
"""The rules that a script can silence; each is a module of `coaching`."""

LEAST_WORDS = 3
"""Words of a reason: less than this tells the next reader nothing. Own choice."""


def rule_of(value: Any) -> str:
    """The name of a rule."""
    name = str(value)
    if name not in RULES:
        raise wrong(f"`{name}` is not a rule; {offer(name, RULES)}")
    return name


def reason_of(value: Any) -> str:
    """Why the rule is silenced here, in a few words."""
    text = str(text_of(value))
    if len(text.split()) < LEAST_WORDS:
        raise wrong(f"`{text}` is too short for a reason; say in a few words why the rule does not apply here")
    return text


def _mapping(value: Any) -> Any:
    if not isinstance(value, dict) or not value:
        raise wrong("a rule and the reason belong here, such as `silence: {flow: it is meant to be awkward}`")
    return value


Silences = Annotated[
    dict[Annotated[str, PlainValidator(rule_of)], Annotated[str, PlainValidator(reason_of)]],
    BeforeValidator(_mapping, json_schema_input_type=described("Silences")),
]
"""Rule to reason."""
