"""The two people of a feed as plain limbs, in metres, from the shares of `feed.body`: what a drawing projects.

How somebody stands, bends and holds the hands is common practice, no source; where the palm, the elbow and the head
are comes from the table and the sweep.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from cornercue.feed.body import (
    CHEST,
    CHEST_FRONT,
    CHIN,
    ELBOW,
    FOOT,
    FOREARM,
    HALF_SHOULDERS,
    HAND,
    HIP,
    SHOULDER,
    UPPER_ARM,
    Point,
)
from cornercue.feed.sweep import BELLY, GUARD, PALM_OUT, Pair, heads, path, target
from cornercue.feed.table import PALM_ASIDE, Feed
from cornercue.technique.sides import Side, other_side

ANKLE = 0.04
DOWN = Point(0.0, 0.0, -1.0)


@dataclass(frozen=True, slots=True)
class BodyPart:
    """A capsule along points: `half` its width in metres."""

    half: float
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody who stands: `forward` is 1 for the student and -1 for the feeder, along `x`."""

    forward: int
    head: Point
    body: tuple[BodyPart, ...]
    arms: tuple[BodyPart, ...]
    hands: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Scene:
    """A feed at its nearest: both people, the hand and the tip of the stick, and the tip's whole way."""

    student: Person
    feeder: Person
    grip: Point
    tip: Point
    way: tuple[Point, ...]


def scene(feed: Feed, defence: str, side: Side, pair: Pair) -> Scene:
    """Both people where the tip is at its nearest. The feeder has stepped in as far as a straight arm needs."""
    way = path(feed, side, pair)
    aim = target(feed, side, pair)
    tip = min(way, key=lambda point: math.dist(point, aim))
    shoulder = _stepped_in(pair.shoulder(side), tip, pair.reach)
    share = pair.stick / math.dist(shoulder, tip)
    grip = Point(*(a + (b - a) * share for a, b in zip(tip, shoulder, strict=True)))
    return Scene(_student(feed, defence, side, pair), _feeder(side, pair, shoulder, grip), grip, tip, tuple(way))


def _stepped_in(shoulder: Point, tip: Point, reach: float) -> Point:
    """The shoulder moved towards the student until the arm reaches: not at all where it already does."""
    room = reach**2 - (shoulder.y - tip.y) ** 2 - (shoulder.z - tip.z) ** 2
    return shoulder._replace(x=min(shoulder.x, tip.x + math.sqrt(max(0.0, room))))


HANDS: Mapping[tuple[str, str], tuple[tuple[float, float, float], tuple[float, float, float] | None]] = (
    MappingProxyType(
        {
            ("cover", "palms"): ((0.09, 0.10, SHOULDER), (0.02, HALF_SHOULDERS, ELBOW)),
            ("low block", "palms"): ((PALM_OUT, PALM_ASIDE, HIP), None),
            ("cover", "gloves"): ((0.03, 0.09, CHIN), (0.09, HALF_SHOULDERS, ELBOW + 0.04)),
            ("high block", "gloves"): ((0.14, -0.04, 1.0), (0.13, HALF_SHOULDERS + 0.03, CHIN)),
            ("low block", "gloves"): ((BELLY, PALM_ASIDE, HIP), None),
        }
    )
)
"""Where a defence holds the hand of its side, and the elbow where that is not left to bend by itself: forward, to that
side, up, in shares of height. Both hands are held out, or on guard, where there is no row."""

OUT = (PALM_OUT, PALM_ASIDE, CHEST)
ON_GUARD = (0.13, 0.075, CHIN)


def _student(feed: Feed, defence: str, side: Side, pair: Pair) -> Person:
    height = pair.student
    arms, hands = [], []
    for one in (side, other_side(side)):
        to = 1 if one == "left" else -1
        plain = (OUT if feed.holds == "palms" else ON_GUARD, None)
        hand, elbow = HANDS.get((defence, feed.holds), plain) if one == side else plain
        shoulder = _at(height, 1, 0.0, (0.01, to * HALF_SHOULDERS, SHOULDER - GUARD[2]))
        end = _at(height, 1, 0.0, (hand[0], to * hand[1], hand[2]))
        middle = _at(height, 1, 0.0, (elbow[0], to * elbow[1], elbow[2])) if elbow else _elbow(shoulder, end, height)
        arms.append(BodyPart(0.03 * height, (shoulder, middle, end)))
        hands.append(end)
    return Person(1, heads(None, side, height)[0], _standing(height, 1, 0.0, 1), tuple(arms), tuple(hands))


def _feeder(side: Side, pair: Pair, shoulder: Point, grip: Point) -> Person:
    height, place = pair.feeder, shoulder.x
    to = 1 if side == "left" else -1
    other = _at(height, -1, place, (0.0, to * HALF_SHOULDERS, SHOULDER))
    rest = _at(height, -1, place, (0.12, to * 0.08, HIP + 0.04))
    arms = (
        BodyPart(0.03 * height, (other, _elbow(other, rest, height), rest)),
        BodyPart(0.03 * height, (shoulder, grip)),
    )
    head = heads(None, side, height)[0]
    head = head._replace(x=place - head.x, z=head.z + GUARD[2] * height)
    return Person(-1, head, _standing(height, -1, place, -to), arms, (rest, grip))


def _standing(height: float, forward: int, place: float, lead: int) -> tuple[BodyPart, ...]:
    """Feet, legs, trunk and neck of somebody with one foot in front: the one on `lead`, 1 left and -1 right."""
    sunk = GUARD[2] if forward > 0 else 0.01

    def at(*shares: float) -> Point:
        return _at(height, forward, place, (shares[0], shares[1], shares[2]))

    limbs = []
    for to in (lead, -lead):
        step = 0.12 if to == lead else -0.12
        hip, ankle = at(0.0, to * 0.05, HIP - sunk), at(step, to * 0.08, ANKLE)
        thigh = (HIP - ANKLE) / 2
        knee = _joint(hip, ankle, thigh * height, thigh * height, Point(float(forward), 0.0, 0.0))
        toe = at(step + 0.6 * FOOT, to * 0.09, ANKLE / 2)
        limbs += [BodyPart(0.042 * height, (hip, knee, ankle)), BodyPart(0.025 * height, (ankle, toe))]
    shoulders = SHOULDER - sunk
    limbs.append(BodyPart(CHEST_FRONT * height, (at(0.0, 0.0, HIP - sunk), at(0.0, 0.0, shoulders - 0.03))))
    across = 0.75 * HALF_SHOULDERS
    chest = (at(0.0, across, shoulders - 0.03), at(0.0, -across, shoulders - 0.03))
    limbs.append(BodyPart(CHEST_FRONT * height, chest))
    limbs.append(BodyPart(0.025 * height, (at(0.0, 0.0, shoulders), at(0.01, 0.0, CHIN - sunk))))
    return tuple(limbs)


def _at(height: float, forward: int, place: float, shares: tuple[float, float, float]) -> Point:
    """A point of somebody's own body: forward, to the own left, up, in shares of height."""
    return Point(place + forward * shares[0] * height, forward * shares[1] * height, shares[2] * height)


def _elbow(shoulder: Point, hand: Point, height: float) -> Point:
    return _joint(shoulder, hand, UPPER_ARM * height, (FOREARM + HAND / 2) * height, DOWN)


def _joint(start: Point, end: Point, first: float, second: float, bend: Point) -> Point:
    """Where a limb of two lengths bends, towards `bend`; straight where it is too short."""
    length = math.dist(start, end)
    along = Point(*((b - a) / length for a, b in zip(start, end, strict=True)))
    far = first / (first + second) * length
    if length < first + second:
        far = (first**2 - second**2 + length**2) / (2 * length)
    out = math.sqrt(max(0.0, first**2 - far**2)) if length < first + second else 0.0
    lean = sum(a * b for a, b in zip(along, bend, strict=True))
    across = Point(*(b - lean * a for a, b in zip(along, bend, strict=True)))
    norm = math.hypot(*across) or 1.0
    return Point(*(a + far * b + out * c / norm for a, b, c in zip(start, along, across, strict=True)))
