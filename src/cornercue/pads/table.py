"""What a holder holds for each technique: one table, by the technique without its side.

All that is said and printed about holding comes from these rows. They are common practice, no source, chosen so that a
blow that misses goes past the holder: pads are held clear of the holder's own side, no higher than the chest of the
smaller of the two, and kicks are met by a shield, no higher than the belt of the smaller.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from cornercue.feed.table import Audience
from cornercue.technique.sides import Side, other_side
from cornercue.technique.table import Technique

Thing = Literal["pads", "shield"]
PadPlace = Literal["opposite", "across", "both", "front", "beside"]
PadHeight = Literal["chest", "belly", "belt"]
PadWay = Literal["student", "in", "down"]


@dataclass(frozen=True, slots=True)
class Held:
    """How one technique is held for.

    `place` is the pad straight opposite the striking hand, the pad `across` from it (which bears the hand's own name),
    `both` pads one on the other, or the shield in `front` of the holder's legs or `beside` them. `height` is that of
    the smaller one's body; `way` is where the palm of the pad looks.
    """

    thing: Thing
    place: PadPlace
    height: PadHeight
    way: PadWay

    def side(self, hand: Side) -> Side | None:
        """The holder's own side for a hand or leg of the student's: the two face each other. None for the front."""
        if self.place == "front":
            return None
        return hand if self.place == "across" else other_side(hand)


HELD: Mapping[str, Held] = MappingProxyType(
    {
        "straight": Held("pads", "opposite", height="chest", way="student"),
        "palm heel": Held("pads", "opposite", height="chest", way="student"),
        "hook": Held("pads", "across", height="chest", way="in"),
        "uppercut": Held("pads", "opposite", height="belly", way="down"),
        "body straight": Held("pads", "opposite", height="belly", way="student"),
        "body hook": Held("pads", "across", height="belly", way="in"),
        "body uppercut": Held("pads", "opposite", height="belly", way="down"),
        "elbow": Held("pads", "across", height="chest", way="in"),
        "knee": Held("pads", "both", height="belt", way="down"),
        "front kick": Held("shield", "front", height="belt", way="student"),
        "side kick": Held("shield", "front", height="belt", way="student"),
        "back kick": Held("shield", "front", height="belt", way="student"),
        "roundhouse kick": Held("shield", "beside", height="belt", way="student"),
    }
)
"""The rows, by the base of a technique."""

LEFT_OUT: Mapping[str, str] = MappingProxyType(
    {
        "overhand": "it comes down from above, on whoever stands behind the pad",
        "backfist": "it comes round without being seen, and ends near the holder",
        "low front kick": "a low kick that misses lands on the holder's knee or shin",
        "low side kick": "a low kick that misses lands on the holder's knee or shin",
        "low roundhouse kick": "a low kick that misses lands on the holder's knee or shin",
        "low back kick": "a low kick that misses lands on the holder's knee or shin",
        "high front kick": "nothing is held at head height",
        "high side kick": "nothing is held at head height",
        "high roundhouse kick": "nothing is held at head height",
        "high back kick": "nothing is held at head height",
    }
)
"""What is not held for, and why."""

ADULTS_ONLY: Mapping[str, str] = MappingProxyType(
    {
        "elbow": "an elbow brings the two too close together",
        "back kick": "who turns round does not see where the shield is",
    }
)
"""What is held for adults alone, and why."""

NOTHING = ("footwork", "stance")
"""Kinds of technique for which nothing is held: a step in a combination needs no pad."""


def held_for(technique: Technique) -> Held | None:
    """The row of a technique, if it has one."""
    return HELD.get(technique.base)


def not_held(technique: Technique, whom: Audience) -> str | None:
    """Why nobody holds for a technique; None where somebody does, or where nothing need be held."""
    base = technique.base
    if base in LEFT_OUT:
        return LEFT_OUT[base]
    if whom == "junior" and base in ADULTS_ONLY:
        return ADULTS_ONLY[base]
    return None if base in HELD or technique.kind in NOTHING else "the table of pads has no row for it"
