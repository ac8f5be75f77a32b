"""How much longer a younger person takes, from hearing a call to being on guard again.

*Reaction.* Children react slower than adults, in choices as in simple tasks: about 3 times as slow at 4 years and twice
at 8 (Kail and Hall 1994, Developmental Psychology 30, introduction read), 1.8 times at 10, 1.5 at 12 and no slower from
15 on (Hale 1990, Child Development 61, abstract read). Between these ages the factor is interpolated. One factor for
all tasks simplifies: slowing differs by task (Kiselev, Espy and Sheffield 2009, abstract read).

*Hearing.* Children of 5 to 7 understood speech of 2.6 and 3.4 syllables a second better than faster one (Berry and
Erickson 1973, abstract read); the voices here say 4.1. So up to 7 years all is said at 3.4. A call counts as heard at
its end, for adults too: two calls often differ in their last word only, and young children need to hear more of a word
(Elliott, Hammer and Evan 1987, abstract read).

*Movement.* No figures were found for strikes and defences; that they slow less than reactions is common practice, no
source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from cornercue.ages import Ages

REACTION_FACTORS = ((4, 3.0), (8, 2.0), (10, 1.8), (12, 1.5), (15, 1.0))
"""Years, and how many times as long as an adult's a reaction takes."""

MOVEMENT_FACTORS = ((7, 1.3), (10, 1.15), (13, 1.0))
"""Years, and how many times as long as an adult's a movement takes; common practice, no source."""

SLOW_SPEECH_TO = 7
"""Years up to which words are said slowly: the oldest of those who were tried."""

SLOW_SPEECH = 0.83
"""How fast they are then, as a share of the usual: 3.4 of 4.1 syllables a second."""


@dataclass(frozen=True)
class Trainee:
    """Whom a drill is laid out for: the youngest of an age band, or an adult where there is none."""

    ages: Ages | None = None

    @cached_property
    def reaction(self) -> float:
        """How many times as long as an adult's a reaction takes."""
        return self._factor(REACTION_FACTORS)

    @cached_property
    def movement(self) -> float:
        """How many times as long as an adult's a movement takes."""
        return self._factor(MOVEMENT_FACTORS)

    @cached_property
    def speech(self) -> float:
        """How fast words are said, as a share of the usual."""
        return SLOW_SPEECH if self.ages and self.ages.youngest <= SLOW_SPEECH_TO else 1.0

    def rate(self, usual: float) -> float:
        """The rate at which a voice speaks what is said at this rate to others: one figure for length and sound."""
        return round(usual * self.speech, 3)

    def _factor(self, table: Sequence[tuple[int, float]]) -> float:
        """Of the youngest, on straight lines between the ages of the table; beyond them as at its ends."""
        if self.ages is None:
            return 1.0
        age, (before, factor) = self.ages.youngest, table[0]
        for years, then in table[1:]:
            if age <= years:
                return factor + (then - factor) * max(0, age - before) / (years - before)
            before, factor = years, then
        return factor


ADULT = Trainee()
