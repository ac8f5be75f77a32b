"""What steps with random calls have in common: what is drawn, how often it comes, and how many calls to expect."""

from __future__ import annotations

import re
from typing import Annotated, Any

from pydantic import BeforeValidator, PlainValidator

from cornercue.script.fields import as_list, wrong
from cornercue.script.moves import looks_numbered, move_of, split_numbers
from cornercue.technique.move import Move

CALL_TO_CALL = 6.0
"""Seconds from one random call to the next where the script gives no `gap`: about what the demo drills come to."""


def calls_on_average(seconds: float, gap: tuple[float, float] | None) -> float:
    """How many calls fall into so many seconds."""
    return seconds / (sum(gap) / 2 if gap else CALL_TO_CALL)


def weighed(value: Any) -> Any:
    """`{parry: 2, weave: 1}`, also in a list, as pairs; a name or text with commas as it is."""
    if isinstance(value, list):
        return [pair for one in value for pair in (one.items() if isinstance(one, dict) else [one])]
    return list(value.items()) if isinstance(value, dict) else value


def weight_of(name: Any, value: Any) -> float:
    """How often a call comes against the others."""
    found = re.fullmatch(r"\s*-?\d{1,4}(\.\d{1,4})?\s*", str(value))
    if not found:
        raise wrong(f"the weight of `{name}` is not a number; write for example `{{{name}: 2}}`")
    if not 0 < float(value) <= 100:
        raise wrong(f"the weight of `{name}` is `{value}`; weights are more than 0 and at most 100")
    return float(value)


Moves = Annotated[
    tuple[Annotated[Move, PlainValidator(move_of)], ...],
    as_list("Techniques", 16),
    BeforeValidator(split_numbers),
]


def _several(value: Any) -> Any:
    """One combination, as text or as a list of techniques, becomes a list of one."""
    if isinstance(value, str):
        return [value]
    holds_combinations = isinstance(value, list) and any(
        isinstance(one, list) or (isinstance(one, str) and ("," in one or looks_numbered(one))) for one in value
    )
    return value if holds_combinations or not isinstance(value, list) else [value]


Combinations = Annotated[
    tuple[Moves, ...],
    as_list("Combinations", 16),
    BeforeValidator(_several),
]
