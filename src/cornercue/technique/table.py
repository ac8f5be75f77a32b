"""The vocabulary, read from one table: `techniques.csv`, a row a technique.

Each row has its times at every pace, what an instructor would allow a student for one clean technique, out and back,
and their source. A row whose sides are `lead/rear` stands for two techniques, one with the lead and one with the rear
hand or leg; they are called "lead hook" and "rear hook" unless its columns `lead` and `rear` say otherwise (the name,
then other names of that one alone). `also` has other names of the row, `numbers` the usual numbers of lead and rear:
odd is the lead hand, even the rear, whatever the stance. `with` tells strikes of the hand from those of the leg;
`loads` is `end` for a defence that loads the side that it ends on. Semicolons part names.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import KW_ONLY, dataclass
from pathlib import Path
from typing import Literal, NamedTuple, TypeVar, get_args

from cornercue.technique.sides import LIMBS, Limb

TechniqueKind = Literal["strike", "kick", "defence", "stance", "footwork", "ground", "position"]
"""A position is what is held by free words; it is not in the table."""
Height = Literal["low", "body", "head"]
PaceName = Literal["learning", "steady", "sharp"]
PACES: tuple[PaceName, ...] = ("learning", "steady", "sharp")

Word = TypeVar("Word", bound=str)

KINDS: tuple[TechniqueKind, ...] = get_args(TechniqueKind)
HEIGHTS: tuple[Height, ...] = get_args(Height)
COLUMNS = ("kind", "technique", "sides", "height", *PACES, "with", "loads", "numbers", "lead", "rear", "also", "source")
"""The table's columns, in its order."""


class ByPace(NamedTuple):
    """Execution time of one technique at each pace, in seconds."""

    learning: float
    steady: float
    sharp: float


@dataclass(frozen=True, slots=True)
class Technique:
    """One technique of the vocabulary.

    `limb` is the hand or leg that a strike or kick uses; a defence, step or stance has none and may be `sided`: done to
    either side of the room, or with that side's foot in front. `base` is the name without its limb ("hook"). `hip` is
    the hip that drives it ("end" for a defence that loads the side it ends on). `leg` marks a strike with the leg.
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
    leg: bool = False

    @property
    def with_the_leg(self) -> bool:
        """Whether a strike or kick is done with the leg: a knee is called among the strikes."""
        return self.kind == "kick" or self.leg


def techniques_of(rows: Iterable[Mapping[str, str]]) -> Iterator[Technique]:
    """The techniques of rows of the table, in order. Raises ValueError at a word that the table does not know."""
    for row in rows:
        limbs: tuple[Limb | None, ...] = LIMBS if row["sides"] == "lead/rear" else (None,)
        numbers = row["numbers"].split("/") if row["numbers"] else [None] * len(limbs)
        for limb, number in zip(limbs, numbers, strict=True):
            yield _technique(row, limb, number)


def _technique(row: Mapping[str, str], limb: Limb | None, number: str | None) -> Technique:
    base, loads = row["technique"], _one_of(("end", ""), row["loads"])
    name, *own = (limb and _names(row[limb])) or [f"{limb} {base}" if limb else base]
    also = [f"{limb} {other}" if limb else other for other in _names(row["also"])]
    return Technique(
        name, _one_of(KINDS, row["kind"]), base,
        limb=limb,
        sided=_one_of(("lead/rear", "left/right", "none"), row["sides"]) == "left/right",
        hip=limb or ("end" if loads == "end" else None),
        height=_one_of(HEIGHTS, row["height"]) if row["height"] else None,
        seconds=ByPace(*(float(row[pace]) for pace in PACES)),
        number=number,
        synonyms=(*also, *own),
        leg=_one_of(("hand", "leg", ""), row["with"]) == "leg",
    )  # fmt: skip


def _names(cell: str) -> list[str]:
    return [name.strip() for name in cell.split(";") if name.strip()]


def _one_of(known: tuple[Word, ...], word: str) -> Word:
    found = next((one for one in known if one == word), None)
    if found is None:
        raise ValueError(f"`{word}` in the table of techniques is none of {', '.join(known)}")
    return found


def _read() -> tuple[Technique, ...]:
    with Path(__file__).with_name("techniques.csv").open(encoding="utf-8", newline="") as table:
        return tuple(techniques_of(csv.DictReader(table, strict=True)))


TECHNIQUES: tuple[Technique, ...] = _read()
"""Every technique, in the order of the table."""
