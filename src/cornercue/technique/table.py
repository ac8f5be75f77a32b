"""The vocabulary as one table, and the lookups derived from it.

Execution times and the driving hip are common practice, no source: what an instructor would allow a
student for one clean technique, out and back, at each pace. Punch numbers follow the usual six (common
practice, no source): odd is the lead hand, even the rear, whatever the stance.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import KW_ONLY, dataclass
from typing import Literal, NamedTuple

from cornercue.technique.sides import LIMBS, Limb

TechniqueKind = Literal["strike", "kick", "defence", "stance", "footwork", "ground"]
Height = Literal["low", "body", "head"]
PaceName = Literal["learning", "steady", "sharp"]
PACES: tuple[PaceName, ...] = ("learning", "steady", "sharp")


class ByPace(NamedTuple):
    """Execution time of one technique at each pace, in seconds."""

    learning: float
    steady: float
    sharp: float


@dataclass(frozen=True, slots=True)
class Technique:
    """One technique of the vocabulary.

    `limb` is the hand or leg that a strike or kick uses; a defence or step has none and may be `sided`:
    done to either side of the room. `base` is the name without its limb ("hook"). `hip` is the hip that
    drives it ("end" for a defence that loads the side it ends on).
    """

    name: str
    kind: TechniqueKind
    base: str
    _: KW_ONLY
    limb: Limb | None
    sided: bool
    hip: Limb | Literal["end"] | None
    height: Height | None
    seconds: ByPace
    number: str | None = None
    synonyms: tuple[str, ...] = ()

    @property
    def with_the_leg(self) -> bool:
        """Whether a strike or kick is done with the leg: a knee is called among the strikes."""
        return self.kind == "kick" or self.base == "knee"


_Named = tuple[str, str | None, tuple[str, ...]]

# base, seconds, height, (lead: name, number, synonyms), (rear: name, number, synonyms)
_PUNCHES: tuple[tuple[str, ByPace, Height, _Named, _Named], ...] = (
    ("straight", ByPace(1.2, 0.5, 0.30), "head", ("jab", "1", ()), ("cross", "2", ())),
    ("hook", ByPace(1.3, 0.55, 0.35), "head", ("lead hook", "3", ()), ("rear hook", "4", ())),
    ("uppercut", ByPace(1.3, 0.55, 0.35), "head", ("lead uppercut", "5", ()), ("rear uppercut", "6", ())),
    (
        "body straight",
        ByPace(1.3, 0.6, 0.35),
        "body",
        ("body jab", "1b", ("jab to the body",)),
        ("body cross", "2b", ("cross to the body",)),
    ),
    ("body hook", ByPace(1.4, 0.6, 0.40), "body", ("lead body hook", "3b", ()), ("rear body hook", "4b", ())),
    (
        "body uppercut",
        ByPace(1.4, 0.6, 0.40),
        "body",
        ("lead body uppercut", "5b", ()),
        ("rear body uppercut", "6b", ()),
    ),
    ("overhand", ByPace(1.4, 0.6, 0.40), "head", ("lead overhand", None, ()), ("rear overhand", None, ("overhand",))),
    (
        "backfist",
        ByPace(1.2, 0.55, 0.35),
        "head",
        ("lead backfist", None, ("backfist", "back fist")),
        ("rear backfist", None, ()),
    ),
    ("palm heel", ByPace(1.2, 0.5, 0.30), "head", ("lead palm heel", None, ()), ("rear palm heel", None, ())),
    ("elbow", ByPace(1.3, 0.55, 0.35), "head", ("lead elbow", None, ()), ("rear elbow", None, ())),
    ("knee", ByPace(1.6, 0.8, 0.55), "body", ("lead knee", None, ()), ("rear knee", None, ())),
)

# base, seconds at body height, other names of the base
_KICKS = (
    ("front kick", ByPace(2.0, 1.0, 0.65), ("push kick",)),
    ("side kick", ByPace(2.4, 1.2, 0.8), ()),
    ("roundhouse kick", ByPace(2.2, 1.1, 0.75), ("roundhouse", "round kick", "turning kick")),
    ("back kick", ByPace(2.6, 1.4, 0.95), ()),
)
_KICK_HEIGHTS: tuple[tuple[Height, str, float], ...] = (
    ("low", "low ", -0.1),
    ("body", "", 0.0),
    ("head", "high ", 0.1),
)

# name, kind, sided, hip, seconds, synonyms
_OTHERS: tuple[tuple[str, TechniqueKind, bool, Literal["end"] | None, ByPace, tuple[str, ...]], ...] = (
    ("parry", "defence", True, None, ByPace(1.0, 0.5, 0.30), ("catch",)),
    ("cover", "defence", True, None, ByPace(1.0, 0.5, 0.35), ("cover up",)),
    ("weave", "defence", True, "end", ByPace(1.6, 0.8, 0.55), ("roll", "bob and weave")),
    ("slip", "defence", True, "end", ByPace(1.0, 0.5, 0.35), ()),
    ("duck", "defence", False, None, ByPace(1.4, 0.7, 0.50), ()),
    ("high block", "defence", True, None, ByPace(1.0, 0.5, 0.35), ("block high", "rising block")),
    ("low block", "defence", True, None, ByPace(1.0, 0.5, 0.35), ("block low",)),
    ("step", "footwork", True, None, ByPace(1.0, 0.5, 0.35), ()),
    ("step forward", "footwork", False, None, ByPace(1.0, 0.5, 0.35), ("step in",)),
    ("step back", "footwork", False, None, ByPace(1.0, 0.5, 0.35), ("step out",)),
    ("pivot", "footwork", True, None, ByPace(1.3, 0.8, 0.50), ()),
    ("circle", "footwork", True, None, ByPace(1.8, 1.2, 0.80), ()),
    ("switch stance", "footwork", False, None, ByPace(1.2, 0.8, 0.50), ("switch", "change stance")),
)

def _punches() -> Iterator[Technique]:
    for base, seconds, height, lead, rear in _PUNCHES:
        for limb, (name, number, synonyms) in zip(LIMBS, (lead, rear), strict=True):
            yield Technique(
                name, "strike", base, limb=limb, sided=False, hip=limb, height=height, seconds=seconds,
                number=number, synonyms=synonyms,
            )  # fmt: skip


def _kicks() -> Iterator[Technique]:
    for base, seconds, others in _KICKS:
        for height, prefix, more in _KICK_HEIGHTS:
            slower = ByPace(*(round(value + more, 3) for value in seconds))
            for limb in LIMBS:
                synonyms = tuple(f"{limb} {prefix}{other}" for other in others)
                if base == "roundhouse kick" and height == "low" and limb == "rear":
                    synonyms += ("low kick",)
                name = f"{limb} {prefix}{base}"
                yield Technique(
                    name, "kick", prefix + base, limb=limb, sided=False, hip=limb, height=height, seconds=slower,
                    synonyms=synonyms,
                )  # fmt: skip


def _others() -> Iterator[Technique]:
    for name, kind, sided, hip, seconds, synonyms in _OTHERS:
        yield Technique(
            name, kind, name, limb=None, sided=sided, hip=hip, height=None, seconds=seconds, synonyms=synonyms
        )


TECHNIQUES: tuple[Technique, ...] = (*_punches(), *_kicks(), *_others())
"""Every technique, in the order of the table."""
