"""How each defence is fed: one table for children and teenagers, one for adults.

Everything that is said, printed or drawn about a feed comes from these rows. Lengths are shares of the student's
height. The rows are common practice, no source; what makes them safe is measured in `sweep`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from cornercue.feed.body import BROW, CHEST, CHIN, ELBOW, HALF_SHOULDERS, HAND, HIP

Audience = Literal["junior", "adult"]
Action = Literal["poke", "low poke", "swing", "level swing", "chop"]
Target = Literal["palm", "elbow", "palms", "chest", "forearm", "chin", "guard", "brow", "crown"]
Stop = Literal["on the palm", "level with the palm", "beyond the palm", "short of the head", "short of the body"]
Holds = Literal["palms", "gloves"]

AUDIENCES: tuple[Audience, ...] = ("junior", "adult")
WHOM: Mapping[Audience, str] = MappingProxyType({"junior": "children and teenagers", "adult": "adults"})
"""The audiences as people say them."""


@dataclass(frozen=True, slots=True)
class Feed:
    """What the feeder does for one defence.

    `target` is what the tip goes to, at the share `height` of the student's height and the share `aside` from the
    middle, on the side that defends. `stop` says how near the tip comes: `beyond` is how much farther out than the
    palm. `holds` is what the student holds out or up.
    """

    action: Action
    target: Target
    height: float
    aside: float
    stop: Stop
    holds: Holds
    beyond: float = 0.0


PALM_ASIDE = 0.08
"""How far from the middle each palm is held: in front of the shoulder's inner half."""

_JUNIOR = {
    "parry": Feed("poke", "palm", CHEST, PALM_ASIDE, "on the palm", "palms"),
    "cover": Feed("swing", "elbow", ELBOW, HALF_SHOULDERS, "level with the palm", "palms"),
    "weave": Feed("level swing", "chest", CHEST, 0.0, "beyond the palm", "palms", HAND),
    "slip": Feed("poke", "palms", CHEST, 0.0, "level with the palm", "palms"),
    "duck": Feed("level swing", "chest", CHEST, 0.0, "beyond the palm", "palms", HAND),
    "low block": Feed("low poke", "forearm", HIP, PALM_ASIDE, "level with the palm", "palms"),
}
_ADULT = {
    "parry": Feed("poke", "chin", CHIN, 0.0, "short of the head", "gloves"),
    "cover": Feed("swing", "guard", CHIN, 0.0, "short of the head", "gloves"),
    "weave": Feed("level swing", "brow", BROW, 0.0, "short of the head", "gloves"),
    "slip": Feed("poke", "brow", BROW, 0.0, "short of the head", "gloves"),
    "duck": Feed("level swing", "brow", BROW, 0.0, "short of the head", "gloves"),
    "high block": Feed("chop", "crown", BROW, 0.0, "short of the head", "gloves"),
    "low block": Feed("low poke", "forearm", HIP, PALM_ASIDE, "short of the body", "gloves"),
}

FEEDS: Mapping[Audience, Mapping[str, Feed]] = MappingProxyType(
    {"junior": MappingProxyType(_JUNIOR), "adult": MappingProxyType(_ADULT)}
)
"""The feeds by audience and defence. A defence without a row in either cannot be fed."""

FED = tuple(_ADULT)
"""Every defence that somebody can be fed."""

LEFT_OUT: Mapping[str, str] = MappingProxyType(
    {"high block": "a chop from above comes through the space of the head where the block is missed"}
)
"""Defences that are not fed to juniors, and why."""
