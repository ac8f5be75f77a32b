"""A move: a technique with the side that does it, relative to the stance until someone stands in one."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from cornercue.technique.sides import SIDES, Limb, Side, Stance, mirror, side_of
from cornercue.technique.table import PaceName, Technique

SWITCH = "switch stance"

_SIDE = re.compile(rf"\b(?:{'|'.join(SIDES)})\b")


@dataclass(frozen=True, slots=True)
class Move:
    """`limb` is None where the side is open or the technique has none.

    `written` is another name that the script has for it; that is what is spoken and shown. `at` is the line and column
    of the script where it stands, if it does; moves at two places are the same.
    """

    technique: Technique
    limb: Limb | None = None
    written: str | None = None
    at: tuple[int, int] | None = field(default=None, compare=False, repr=False)

    def side(self, stance: Stance) -> Side | None:
        """The side of the room, for a student standing in `stance`."""
        return side_of(self.limb, stance) if self.limb else None

    def words(self, stance: Stance, numbers: bool = False) -> str:
        """How the move is called: as written, with left and right for this stance.

        Where the script has the usual name, strikes are called by lead and rear or by number, the rest by their side.
        """
        if numbers and self.technique.number:
            return spoken_number(self.technique.number)
        if self.written:
            side = self.side(stance)
            return _SIDE.sub(side, self.written) if side else self.written
        if self.technique.sided and self.limb:
            return f"{self.technique.name} {self.side(stance)}"
        return self.technique.name

    @property
    def name(self) -> str:
        """What it is called on paper: as written, else by lead and rear."""
        if self.written:
            return self.written
        return f"{self.technique.name} {self.limb}" if self.technique.sided and self.limb else self.technique.name

    def seconds(self, pace: PaceName | float) -> float:
        """Execution time in seconds at a named pace, or the pace itself where it is a number."""
        return pace if isinstance(pace, int | float) else float(getattr(self.technique.seconds, pace))


def spoken_number(number: str) -> str:
    """A punch number as it is called: "3b" is "three body"."""
    words = ("one", "two", "three", "four", "five", "six")
    return words[int(number[0]) - 1] + (" body" if number.endswith("b") else "")


def in_stance(moves: Iterable[Move], stance: Stance) -> Iterator[tuple[Move, Stance]]:
    """Each move with the stance it is done in; a switch of stance turns the ones after it."""
    for move in moves:
        yield move, stance
        if move.technique.name == SWITCH:
            stance = mirror(stance)
