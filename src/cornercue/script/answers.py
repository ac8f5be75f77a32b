"""What the student throws back after a defence: the same combinations after each, or some of its own after each."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Any

from pydantic import AfterValidator, BeforeValidator, PlainValidator, ValidationInfo

from cornercue.script.described import described
from cornercue.script.in_words import named
from cornercue.script.moves import vocabulary
from cornercue.script.random_calls import Combinations
from cornercue.technique.loading import loaded_side, starts_from
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance, other_limb
from cornercue.technique.vocabulary import Vocabulary, normalise

Thrown = tuple[Move, ...]

AFTER_ANY = ""
"""The key of answers that follow any defence; the script writes them without one."""


@dataclass(frozen=True, slots=True)
class Answer:
    """A combination, and the same the other way round, lead for rear, where each of its techniques has both."""

    moves: Thrown
    turned: Thrown | None


@dataclass(frozen=True, slots=True)
class Answers:
    """Answers by the defence that they follow, as the script names it; `AFTER_ANY` for all of them."""

    after: tuple[tuple[str, tuple[Answer, ...]], ...] = ()

    def __bool__(self) -> bool:
        return bool(self.after)

    def combinations(self) -> Iterator[Thrown]:
        """All that are written, in order."""
        return (answer.moves for _, answers in self.after for answer in answers)

    def defences(self) -> tuple[str, ...]:
        """The defences that have answers of their own."""
        return tuple(name for name, _ in self.after if name != AFTER_ANY)

    def to(self, defence: Move, name: str, stance: Stance) -> tuple[Thrown, ...]:
        """Those that may follow a defence that the script calls `name`: they start from the side that it loads.

        Where none of them does, each the other way round that does; an empty combination where nothing follows.
        """
        by_name = dict(self.after)
        answers = by_name.get(normalise(name), by_name.get(defence.technique.name, by_name.get(AFTER_ANY, ())))
        loaded = loaded_side(defence, stance)
        fitting = [one.moves for one in answers if starts_from(loaded, one.moves[0], stance)]
        turned = [one.turned for one in answers if one.turned and starts_from(loaded, one.turned[0], stance)]
        return tuple(dict.fromkeys(fitting or turned)) or ((),)

    def in_words(self) -> str:
        """On paper: "jab, cross; or cross", each with the defence that it follows."""
        return "; ".join(
            (f"after {name}: " if name else "") + "; or ".join(named(answer.moves) for answer in answers)
            for name, answers in self.after
        )


def _read(written: dict[str, tuple[Thrown, ...]], info: ValidationInfo) -> Answers:
    known = vocabulary(info)
    return Answers(
        tuple(
            (name, tuple(Answer(moves, _turned(moves, known)) for moves in combinations))
            for name, combinations in written.items()
        )
    )


def _turned(moves: Thrown, known: Vocabulary) -> Thrown | None:
    """A combination with the other hand and leg in each technique; None where one has no counterpart."""
    turned = tuple(_other(move, known) for move in moves)
    return tuple(move for move in turned if move) if all(turned) else None


def _other(move: Move, known: Vocabulary) -> Move | None:
    limb = other_limb(move.limb) if move.limb else None
    if not limb:
        return move
    if not move.technique.limb:  # a defence or a step to a side
        return Move(move.technique, limb, _across(move.written), move.at)
    technique = known.bases.get(move.technique.base, {}).get(limb)
    return Move(technique, limb, _across(move.written), move.at) if technique else None


_OTHER = {"left": "right", "right": "left", "lead": "rear", "rear": "lead"}


def _across(written: str | None) -> str | None:
    """The script's own name with the other side in it; without a side in it the usual name is called."""
    across, sides = re.subn(rf"\b(?:{'|'.join(_OTHER)})\b", lambda found: _OTHER[found[0]], written or "")
    return across if sides else None


def _by_defence(value: Any) -> Any:
    return value if isinstance(value, dict) else {AFTER_ANY: value}


_DefenceName = Annotated[str, PlainValidator(lambda name: normalise(str(name)))]

if TYPE_CHECKING:
    WrittenAnswers = Answers
else:
    # Read as a table, so that a fault inside it is told at its place.
    WrittenAnswers = Annotated[
        dict[_DefenceName, Combinations],
        BeforeValidator(_by_defence, json_schema_input_type=described("Answers")),
        AfterValidator(_read),
    ]
