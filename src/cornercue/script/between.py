"""What is said after each repetition, and how long it takes to do it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated

from pydantic import PlainValidator, ValidationInfo

from cornercue.errors import InputFault
from cornercue.script.described import described
from cornercue.script.fields import short_of
from cornercue.script.moves import vocabulary, written_stance
from cornercue.script.slips import NUMBERS
from cornercue.technique.lookup import resolve_base
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance, sided
from cornercue.technique.vocabulary import Vocabulary

REPETITION = 3.0
"""Seconds for each repetition of what is no technique ("two squats"): as in counted exercises."""

MOST = 60.0
"""Seconds that the words themselves can ask for."""

LONGEST_NAME = 4
"""Words of a technique's name."""

EVERYDAY = {
    r"(?:stand|get) (?:back )?up|up again": 3.0,
    r"lie down|down again": 3.0,
    r"kneel(?: down)?|sit(?: down)?": 2.0,
    r"turn (?:round|around)": 1.2,
    r"touch the (?:floor|wall)": 2.5,
    r"(?:run|walk|crawl|hop|go) back|and back$": 3.0,
}
"""Seconds for movements of every day, from a floor too. Common practice, no source."""

_NUMBER = {word: n for n, word in enumerate(NUMBERS, start=1)} | {"once": 1, "twice": 2, "fifteen": 15, "twenty": 20}
_SECONDS = {"second": 1.0, "seconds": 1.0, "sec": 1.0, "s": 1.0, "minute": 60.0, "minutes": 60.0, "min": 60.0}


@dataclass(frozen=True, slots=True)
class Between:
    """Words between two repetitions: the techniques that they name, and the seconds that other things in them take."""

    text: str
    moves: tuple[Move, ...] = ()
    seconds: float = 0.0


def between_of(value: object, info: ValidationInfo) -> Between:
    """A short text, with what it asks for."""
    text: str = short_of(value)
    moves, seconds = list[Move](), 0.0
    for move, count, length in _asked(sided(text), vocabulary(info), written_stance(info)):
        moves += [move] * count if move else []
        seconds += length
    plain = text.lower()
    seconds += sum(taken for words, taken in EVERYDAY.items() if re.search(rf"\b(?:{words})\b", plain))
    return Between(text, tuple(moves[: int(MOST)]), min(seconds, MOST))


def _asked(text: str, known: Vocabulary, stance: Stance) -> Iterator[tuple[Move | None, int, float]]:
    """A technique with how often it is named, or None with the seconds of something else that is counted or timed."""
    words = re.findall(r"[\w'-]+", text.lower())
    at = 0
    while at < len(words):
        times, here = _number(words[at]), at
        at += times is not None
        move, length = _move_at(words, at, known, stance)
        if move:
            at += length
            after = _number(words[at]) if at < len(words) else None
            at += after is not None
            yield move, times or after or 1, 0.0
        elif times is not None and at < len(words):
            unit = _SECONDS.get(words[at])
            if words[at] != "times":
                yield None, 0, times * (unit or REPETITION)
            at += 1
        at = max(at, here + 1)


def _number(word: str) -> int | None:
    return int(word) if re.fullmatch(r"\d{1,3}", word) else _NUMBER.get(word)


def _move_at(words: list[str], at: int, known: Vocabulary, stance: Stance) -> tuple[Move | None, int]:
    """The longest name of a technique that begins here, also in the plural, and its words."""
    for length in range(min(LONGEST_NAME, len(words) - at), 0, -1):
        name = " ".join(words[at : at + length])
        for one in (name, name.removesuffix("s")):
            try:
                return resolve_base(one, stance, known)[0], length
            except InputFault:
                continue
    return None, 0


BetweenWords = Annotated[
    Between, PlainValidator(between_of, json_schema_input_type=described("Short"))
]
