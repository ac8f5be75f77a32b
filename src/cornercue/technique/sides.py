"""Left and right, lead and rear: the one place where a stance turns one into the other."""

from __future__ import annotations

import re
from typing import Literal

Side = Literal["left", "right"]
Limb = Literal["lead", "rear"]
Stance = Literal["orthodox", "southpaw"]

STANCES: tuple[Stance, ...] = ("orthodox", "southpaw")
SIDES: tuple[Side, ...] = ("left", "right")
LIMBS: tuple[Limb, ...] = ("lead", "rear")


def other_side(side: Side) -> Side:
    """The other side of the room."""
    return "right" if side == "left" else "left"


def sided(text: str, mirrored: bool = False) -> str:
    """A text with `{left}` and `{right}` as plain words; with the other side for each where it is mirrored."""
    sides = {f"{{{side}}}": other_side(side) if mirrored else side for side in SIDES}
    return re.sub(r"\{(?:left|right)\}", lambda found: sides[found[0]], text)


def other_limb(limb: Limb) -> Limb:
    """The other hand or leg."""
    return "rear" if limb == "lead" else "lead"


def mirror(stance: Stance) -> Stance:
    """The stance with the other foot in front; mirroring twice is the identity."""
    return "southpaw" if stance == "orthodox" else "orthodox"


def lead_side(stance: Stance) -> Side:
    """The side in front: left for orthodox, right for southpaw (common practice, no source)."""
    return "left" if stance == "orthodox" else "right"


def side_of(limb: Limb, stance: Stance) -> Side:
    """Lead or rear as a side of the room."""
    lead = lead_side(stance)
    return lead if limb == "lead" else other_side(lead)


def limb_of(side: Side, stance: Stance) -> Limb:
    """A side of the room as lead or rear."""
    return "lead" if side == lead_side(stance) else "rear"
