"""What the scripts of `tests/club_scripts` write, read with a plain YAML library: what the voice must say of them.

Nothing of the project's own reading is used here. The rules are those of `docs/script-language.md`: words are called as
they are written, hyphens and all, left and right change over in the other stance, numbers are called.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import product
from pathlib import Path
from typing import Any

import yaml

LIBRARY = Path(__file__).parent / "club_scripts"
SHARED = ("warm-up.yaml", "cool-down.yaml")
SCRIPTS = sorted(path for path in LIBRARY.rglob("*.yaml") if path.name not in (*SHARED, "club.yaml"))
"""The club's scripts, without the warm-up and the cool-down that they share."""
GROUPS = sorted({path.parent.name for path in SCRIPTS})

SIDES = {"left": "right", "right": "left"}
OTHER_HAND = {"jab": "cross", "cross": "jab", "lead": "rear", "rear": "lead"}
NUMBERS = {"1": "one", "2": "two", "3": "three", "4": "four", "5": "five", "6": "six"}


@dataclass
class Written:
    """Of one script and what it includes: every call that may come, what is held, and every text that is said."""

    calls: set[str] = field(default_factory=set)
    shown: set[str] = field(default_factory=set)
    held: set[str] = field(default_factory=set)
    texts: set[str] = field(default_factory=set)


def written_in(path: Path, found: Written | None = None) -> Written:
    """What a script writes, and the scripts that it includes."""
    script, found = yaml.safe_load(path.read_text(encoding="utf-8")), found or Written()
    stances = (False, True) if script.get("stance") == "both" else (False,)
    for step, mirrored in product(script["steps"], stances):
        _read(step, mirrored, script, path, found)
    return found


def _read(step: dict[str, Any], mirrored: bool, script: dict[str, Any], path: Path, found: Written) -> None:
    kind = next(iter(step))
    value = step[kind]
    if kind == "include":
        if not mirrored:
            written_in(path.parent / value, found)
    elif kind == "combination":
        one = words_of(value, mirrored)
        found.calls.add(called(one, script))
        found.calls.update(one if step.get("teach") else ())
        found.texts |= {in_stance(cue, mirrored) for item in value if isinstance(item, dict) for cue in item.values()}
    elif kind in ("shadow", "pads"):
        target = found.shown if step.get("listener") == "holder" else found.calls
        target |= {called(words_of(one, mirrored), script) for one in value}
    elif kind == "react":
        found.calls |= set(words_of(value, mirrored))
    elif kind == "partner":
        found.calls |= set(fed(step))
    elif kind == "hold":
        found.held |= set(holds_of(step))
    elif kind == "say" and not mirrored:
        found.texts.add(in_stance(value, False))
    elif kind == "exercise":
        found.texts.add(value.capitalize())
    said = [*step.get("check", ()), *([step["between"]] if "between" in step else ())]
    found.texts |= {in_stance(text, mirrored) for text in said}


def words_of(value: Any, mirrored: bool) -> list[str]:
    """The techniques and free words of a list, of a table with weights or cues, or of a run of numbers, as called."""
    items: Iterable[Any] = value if isinstance(value, list | dict) else value.split("-")
    return [_called(str(item) if not isinstance(item, dict) else next(iter(item)), mirrored) for item in items]


def _called(word: str, mirrored: bool) -> str:
    words = word.split()
    return " ".join(SIDES.get(one, one) if mirrored else one for one in words)


def called(words: list[str], script: dict[str, Any]) -> str:
    """A combination as one call; by numbers where the script calls so."""
    numbers = NUMBERS if script.get("calls") == "numbers" else {}
    return ", ".join(numbers.get(word, word) for word in words)


def fed(step: dict[str, Any]) -> Iterator[str]:
    """Each defence to both sides, alone where it is shown first, with its answers, and these with the other hand."""
    for defence, side in product(step["partner"], SIDES):
        yield f"{defence} {side}"
        for answer in step["answers"][defence]:
            yield ", ".join((f"{defence} {side}", *answer))
            yield ", ".join((f"{defence} {side}", *(_other_hand(strike) for strike in answer)))


def _other_hand(strike: str) -> str:
    first, *rest = strike.split()
    return " ".join((OTHER_HAND[first], *rest))


def holds_of(step: dict[str, Any]) -> Iterator[str]:
    """How what is held begins: "Child's pose", or "Hamstring stretch, left" where the script asks for both sides."""
    name = step["hold"].capitalize()
    sides = SIDES if step.get("sides") == "both" else ()
    yield from (f"{name}, {side}" for side in sides) if sides else (name,)


def in_stance(text: str, mirrored: bool) -> str:
    """A text with its braces filled in for a stance; plain words stay."""
    return re.sub(r"\{(left|right)\}", lambda brace: SIDES[brace[1]] if mirrored else brace[1], text)
