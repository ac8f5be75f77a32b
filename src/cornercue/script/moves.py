"""Techniques as a script writes them: alone, with a coaching cue, or left open for both sides."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import repeat
from typing import Any

from pydantic import ValidationInfo
from pydantic_core import PydanticCustomError

from cornercue.errors import InputFault
from cornercue.script.described import described
from cornercue.script.fields import text_of, wrong, yes_no_of
from cornercue.script.slips import choice_meant, list_meant
from cornercue.script.written import parted, place_of
from cornercue.technique.lookup import LISTED, UnknownTechnique, resolve
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance
from cornercue.technique.vocabulary import USUAL, Vocabulary

WrittenMove = described("Technique")
WrittenPosition = described("Position")


@dataclass(frozen=True, slots=True)
class TaughtMove:
    """A move of a combination, with the coaching cue that is spoken while it is learnt."""

    move: Move
    cue: str | None = None


def taught_of(value: Any, info: ValidationInfo) -> TaughtMove:
    """`jab`, `3`, or `body jab: sink at the knees`."""
    if isinstance(value, dict):
        if len(value) != 1:
            raise wrong("one technique and its coaching cue belong here; start the next technique with a new `- `")
        ((name, cue),) = value.items()
        return TaughtMove(move_of(name, info), text_of(cue))
    return TaughtMove(move_of(value, info))


def move_of(value: Any, info: ValidationInfo) -> Move:
    """The technique named, for the stance that the script is written for, with the place where it stands."""
    try:
        move = resolve(name_of(value), written_stance(info), vocabulary(info))
    except UnknownTechnique as fault:
        raise wrong(_unknown(str(value), fault, info)) from None
    except InputFault as fault:
        raise wrong(str(fault)) from None
    return replace(move, at=place_of(value))


MOST_SEARCHED = 25
"""Unknown words of one script for which what is meant is looked for: more than anybody is shown of one kind."""


def _unknown(text: str, fault: UnknownTechnique, info: ValidationInfo) -> str:
    """What is said of a word that is no technique, with what may be meant."""
    searched: Iterator[int] = (info.context or {}).get("searched", repeat(0))
    if next(searched) >= MOST_SEARCHED:
        return f"`{text}` is not a technique; {LISTED}"
    return _otherwise(text, vocabulary(info)) or str(fault)


def _otherwise(text: str, known: Vocabulary) -> str | None:
    """What is meant by several techniques written as one."""
    if found := choice_meant(text, known):
        calls = ", ".join(f"[{name}]" for name in found)
        draws = f"`shadow: [{calls}]`, with `for: 1 min`"
        return f"`{text}` leaves a choice; drawn at random they are a step of their own: {draws}"
    if found := list_meant(text, known):
        return f"`{text}` is not one technique; list each by itself: `{', '.join(found)}`"
    return None


def name_of(value: Any) -> str:
    """The name that is written, whatever it stands for."""
    if not isinstance(value, str | int):
        raise wrong("a technique belongs here, such as `jab` or `rear hook`")
    name = str(value).strip()
    if not name:
        raise wrong("a technique is missing here")
    if len(name) > 60:
        raise wrong("this is too long for a technique; `cornercue techniques` lists the known ones")
    return name


def written_stance(info: ValidationInfo) -> Stance:
    """The stance that left and right are written for; `both` is written for orthodox, then mirrored."""
    return "southpaw" if (info.context or {}).get("stance") == "southpaw" else "orthodox"


def for_juniors(info: ValidationInfo) -> bool:
    """Whom the script says that it is for; a value that is wrong is told where it stands."""
    try:
        return yes_no_of((info.context or {}).get("junior") or "yes")
    except PydanticCustomError:
        return True


def vocabulary(info: ValidationInfo) -> Vocabulary:
    """The names that hold in the script that is read."""
    known: Vocabulary = (info.context or {}).get("vocabulary", USUAL)
    return known


def split_numbers(value: Any) -> Any:
    """`1-2-3b` as the three punches that it stands for; anything else unchanged."""
    return parted(value, "-") if isinstance(value, str) and looks_numbered(value) else value


def looks_numbered(text: str) -> bool:
    """Whether the text is a run of punch numbers, such as `1-2-3b`."""
    return bool(re.fullmatch(r"\s*[1-6]b?(?:\s*-\s*[1-6]b?)+\s*", text))
