"""How each defence is fed: one table for children and teenagers, one for adults.

Everything that is said, printed or drawn about a feed comes from these rows. Lengths are shares of the student's
height. The rows are common practice, no source; what makes them safe is measured in `sweep`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import KW_ONLY, dataclass
from types import MappingProxyType
from typing import Literal

from cornercue.feed.body import BROW, CHEST, CHIN, ELBOW, HALF_SHOULDERS, HAND, HIP

Audience = Literal["junior", "adult"]
Motion = Literal["poke", "low poke", "swing", "level swing", "chop"]
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

    action: Motion
    target: Target
    _: KW_ONLY
    height: float
    aside: float
    stop: Stop
    holds: Holds
    beyond: float = 0.0


PALM_ASIDE = 0.08
"""How far from the middle each palm is held: in front of the shoulder's inner half."""

_JUNIOR = {
    "parry": Feed("poke", "palm", height=CHEST, aside=PALM_ASIDE, stop="on the palm", holds="palms"),
    "cover": Feed("swing", "elbow", height=ELBOW, aside=HALF_SHOULDERS, stop="level with the palm", holds="palms"),
    "weave": Feed("level swing", "chest", height=CHEST, aside=0.0, stop="beyond the palm", holds="palms", beyond=HAND),
    "slip": Feed("poke", "palms", height=CHEST, aside=0.0, stop="level with the palm", holds="palms"),
    "duck": Feed("level swing", "chest", height=CHEST, aside=0.0, stop="beyond the palm", holds="palms", beyond=HAND),
    "low block": Feed("low poke", "forearm", height=HIP, aside=PALM_ASIDE, stop="level with the palm", holds="palms"),
}
_ADULT = {
    "parry": Feed("poke", "chin", height=CHIN, aside=0.0, stop="short of the head", holds="gloves"),
    "cover": Feed("swing", "guard", height=CHIN, aside=0.0, stop="short of the head", holds="gloves"),
    "weave": Feed("level swing", "brow", height=BROW, aside=0.0, stop="short of the head", holds="gloves"),
    "slip": Feed("poke", "brow", height=BROW, aside=0.0, stop="short of the head", holds="gloves"),
    "duck": Feed("level swing", "brow", height=BROW, aside=0.0, stop="short of the head", holds="gloves"),
    "high block": Feed("chop", "crown", height=BROW, aside=0.0, stop="short of the head", holds="gloves"),
    "low block": Feed("low poke", "forearm", height=HIP, aside=PALM_ASIDE, stop="short of the body", holds="gloves"),
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
