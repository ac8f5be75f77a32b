"""Where the tip of the stick goes in a feed, where the head goes in a defence, and how near the one comes to the other.

The student stands at the origin and faces the feeder (`body.Point`). The feeder stands where the tip, with the arm
straight, just touches the palm that the student holds out, an elbow-to-fingertips length in front of the chest; among
adults, where it stops a hand's breadth in front of the chin.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from types import MappingProxyType

from cornercue.feed.body import (
    ARM,
    CHEST,
    CHEST_FRONT,
    CHIN,
    FOREARM,
    HALF_SHOULDERS,
    HAND,
    HAND_BREADTH,
    HEAD_RADIUS,
    KNEE,
    SHOULDER,
    Point,
)
from cornercue.feed.table import PALM_ASIDE, Audience, Feed
from cornercue.technique.sides import Side

STICK = 0.6
"""Metres of stick in front of the hand: a soft foam stick of arm's length. Common practice, no source."""

PALM_OUT = CHEST_FRONT + FOREARM + HAND
"""The palm in front of the body's axis: the chest, then elbow to fingertips."""

BACK = 0.3
"""Metres that the tip is drawn back before a poke; common practice, no source."""

AROUND = 0.5
"""How far to the side a swing begins, as a share of the student's height; common practice, no source."""

STEPS = 24
"""Moments that a movement is looked at."""

FROM_THE_FRONT = math.radians(30)
"""How far round the head from its front a swing among adults stops: at the glove beside the chin. Own choice."""

BELLY = 0.16
"""How far in front of the body's axis an adult holds the lowered forearm; common practice, no source."""

GUARD = (0.02, 0.0, 0.03)
SUNK = MappingProxyType(
    {
        "slip": (0.05, 0.12, 0.05),
        "weave": (0.07, 0.20, 0.20),
        "duck": (0.07, 0.0, 0.22),
    }
)
"""How far the head goes forward, to the side and down, as shares of height: on guard, and at most in a defence that
moves it. The back leans as a beginner's does. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Pair:
    """Who stands opposite whom: heights of student and feeder and length of the stick, in metres, and how they feed."""

    student: float = 1.4
    feeder: float = 1.7
    stick: float = STICK
    audience: Audience = "junior"

    @property
    def kneels(self) -> bool:
        """Whether the feeder kneels: the student does not reach up to the feeder's shoulder."""
        return self.student < SHOULDER * self.feeder

    @property
    def reach(self) -> float:
        """Shoulder to tip, with the arm straight."""
        return ARM * self.feeder + self.stick

    def palm(self, side: Side) -> Point:
        """The palm that the student holds out on a side."""
        return Point(PALM_OUT * self.student, _to(side) * PALM_ASIDE * self.student, CHEST * self.student)

    def mark(self, side: Side) -> Point:
        """What the tip just reaches with a straight arm, from the feeder's place."""
        if self.audience == "junior":
            return self.palm(side)
        return Point(_in_front_of_the_head(self.student), 0.0, CHIN * self.student)

    def shoulder(self, side: Side) -> Point:
        """The feeder's shoulder opposite that side of the student's, at the feeder's place."""
        mark = self.mark(side)
        height = (SHOULDER - KNEE if self.kneels else SHOULDER) * self.feeder
        aside, up = _to(side) * HALF_SHOULDERS * self.feeder, height
        away = math.sqrt(max(0.0, self.reach**2 - (aside - mark.y) ** 2 - (up - mark.z) ** 2))
        return Point(mark.x + away, aside, up)


def _in_front_of_the_head(height: float) -> float:
    """A hand's breadth in front of a head on guard (m)."""
    return GUARD[0] * height + HEAD_RADIUS + HAND_BREADTH * height


def _to(side: Side) -> int:
    return 1 if side == "left" else -1


def target(feed: Feed, side: Side, pair: Pair) -> Point:
    """The nearest that the tip comes to the student, as the table has it."""
    height = pair.student
    if feed.stop == "short of the body":
        return Point((BELLY + HAND_BREADTH) * height, _to(side) * feed.aside * height, feed.height * height)
    if feed.stop == "short of the head":
        out = HEAD_RADIUS + HAND_BREADTH * height
        if feed.action == "swing":
            ahead, aside = out * math.cos(FROM_THE_FRONT), out * math.sin(FROM_THE_FRONT)
            return Point(GUARD[0] * height + ahead, _to(side) * aside, feed.height * height)
        if feed.action == "chop":
            return Point(GUARD[0] * height + out, 0.0, (1 - GUARD[2]) * height)
        return Point(GUARD[0] * height + out, 0.0, feed.height * height)
    return Point((PALM_OUT + feed.beyond) * height, _to(side) * feed.aside * height, feed.height * height)


def path(feed: Feed, side: Side, pair: Pair) -> list[Point]:
    """The way of the tip as told, from where it starts to where it stops, in `STEPS` + 1 points (m)."""
    end, shoulder = target(feed, side, pair), pair.shoulder(side)
    if "poke" in feed.action:
        length = math.dist(end, shoulder)
        start = Point(*(a + (b - a) * BACK / length for a, b in zip(end, shoulder, strict=True)))
        return _line(start, end)
    if feed.action == "chop":
        return _line(Point(end.x + BACK, end.y, end.z + BACK), end)
    # A swing turns about the feeder's shoulder, as seen from above; a level one goes on to the other side.
    level = feed.action == "level swing"
    radius = shoulder.x - end.x if level else math.dist(end[:2], shoulder[:2])
    wide = AROUND * pair.student
    first = _to(side) * min(wide, radius * 0.9)
    last = -first if level and feed.stop != "short of the head" else end.y
    middle = end.y if level else shoulder.y
    return [
        Point(shoulder.x - math.sqrt(max(0.0, radius**2 - (y - middle) ** 2)), y, end.z) for y in _between(first, last)
    ]


def straight(feed: Feed, side: Side, pair: Pair) -> list[Point]:
    """The same way by a feeder who keeps the arm straight all along, which is the nearest that the place allows."""
    shoulder = pair.shoulder(side)
    return [_nearest(point, shoulder, pair.reach) for point in path(feed, side, pair)]


def deflected(side: Side, pair: Pair, aside: float = 0.3, up: float = 0.1) -> list[Point]:
    """Where the tip of a poke may be patted, in metres aside and up, with the arm straight."""
    palm, shoulder = pair.palm(side), pair.shoulder(side)
    return [
        _nearest(Point(palm.x, palm.y + y, palm.z + z), shoulder, pair.reach)
        for y in _between(-aside, aside)
        for z in (-up, 0.0, up)
    ]


def _nearest(point: Point, shoulder: Point, reach: float) -> Point:
    """The point at that height and side that a straight arm reaches nearest to the student."""
    room = reach**2 - (point.y - shoulder.y) ** 2 - (point.z - shoulder.z) ** 2
    return Point(min(point.x, shoulder.x - math.sqrt(room)), point.y, point.z) if room > 0 else point


def _between(first: float, last: float) -> Iterator[float]:
    return (first + (last - first) * step / STEPS for step in range(STEPS + 1))


def _line(start: Point, end: Point) -> list[Point]:
    return [Point(*point) for point in zip(*(_between(a, b) for a, b in zip(start, end, strict=True)), strict=True)]


def heads(defence: str | None, side: Side, height: float) -> list[Point]:
    """Where the middle of the head is during a defence, from on guard to its end (m)."""
    forward, aside, down = SUNK.get(defence or "", GUARD)
    found = []
    for share in _between(0.0, 1.0):
        # A weave goes down before it goes across; the others go straight.
        sinking = min(1.0, 2 * share) if defence == "weave" else share
        ahead = GUARD[0] + (forward - GUARD[0]) * sinking
        sunk = GUARD[2] + (down - GUARD[2]) * sinking
        found.append(Point(ahead * height, _to(side) * aside * share * height, (1 - sunk) * height - HEAD_RADIUS))
    return found


def clearance(way: list[Point], head: list[Point]) -> float:
    """Metres between the tip anywhere on its way and the head anywhere on its own: nobody keeps time."""
    return min(math.dist(tip, middle) for tip in way for middle in head) - HEAD_RADIUS
