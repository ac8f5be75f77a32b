"""The two views of a feed: both people, the stick at its nearest, the way of its tip, and the distance that is kept."""

from __future__ import annotations

import math
from collections.abc import Sequence
from xml.etree.ElementTree import Element, SubElement

from cornercue.feed.body import CHEST_FRONT, HEAD_RADIUS, Point
from cornercue.feed.sweep import BELLY, SUNK, Pair, heads, target
from cornercue.feed.table import Feed
from cornercue.picture.outlines import ABOVE, GROUND, INK, SCALE, SIDE, Projection, Spot, draw_person, short, way_of
from cornercue.picture.people import Scene
from cornercue.picture.style import fill, line, lines_of
from cornercue.technique.sides import Side, other_side

WIDTH, HEIGHT = 560, 336
SIZE = 16.5
LINE = 18
STICK = 9.0
"""Units: the stick is about as thick as a foam one."""


def draw_side(parent: Element, drawn: Scene, feed: Feed, *, defence: str, side: Side, pair: Pair) -> None:
    """From the side: the student at the left, the feeder at the right, the floor below. The same for left and right."""
    group = _view(parent, SIDE)
    floor = SIDE.origin[1]
    SubElement(group, "path", {"d": f"M12 {short(floor)}H316", **line("soft", 1.5)})
    draw_person(group, SIDE, drawn.feeder, feed.holds == "palms")
    draw_person(group, SIDE, drawn.student, feed.holds == "palms")
    _stick(group, SIDE, drawn)
    _ring(group, SIDE, target(feed, side, pair))
    if "swing" not in feed.action:
        _way(group, SIDE, (drawn.way[0], drawn.way[-1]))
    _moving(group, SIDE, defence, side, pair)
    words = _words(group)
    if not is_aslant(feed):
        _measured(group, words, drawn, feed, pair)
    _say(words, 12, 16, "from the side")
    _say(words, SIDE.origin[0], floor + 21, "student", anchor="middle")
    _say(words, SIDE.at(drawn.feeder.head)[0], floor + 21, "feeder", anchor="middle")


def draw_above(parent: Element, drawn: Scene, feed: Feed, *, defence: str, side: Side, pair: Pair, sided: bool) -> None:
    """From above: the feeder at the bottom and looking up, so that left and right are the feeder's own."""
    group = _view(parent, ABOVE)
    for person in (drawn.feeder, drawn.student):
        draw_person(group, ABOVE, person, feed.holds == "palms")
    _stick(group, ABOVE, drawn)
    _ring(group, ABOVE, target(feed, side, pair))
    _way(group, ABOVE, drawn.way if "swing" in feed.action else (drawn.way[0], drawn.way[-1]))
    _moving(group, ABOVE, defence, side, pair)
    words = _words(group)
    if is_aslant(feed):
        _measured_aslant(group, words, drawn, feed)
    x, y = ABOVE.origin
    to = 1 if side == "left" else -1
    away, near = ("end", "start") if to > 0 else ("start", "end")
    _say(words, 330 if to > 0 else WIDTH - 12, 16, "from above", anchor=near)
    _say(words, x - to * 46, y - 14, "student", anchor=away)
    foot = ABOVE.at(drawn.feeder.head)[1]
    _say(words, x - to * 46, foot + 34, "feeder", anchor=away)
    if sided:
        _say(words, x + to * 46, foot + 14, f"your {other_side(side)}", 60, anchor=near, weight="700")


def is_aslant(feed: Feed) -> bool:
    """Whether the tip stops half beside the head, so that its distance is seen from above alone."""
    return feed.action == "swing" and feed.stop == "short of the head"


def measure_words(feed: Feed) -> str:
    """How far away the tip stays."""
    if feed.stop.startswith("short"):
        return "a hand's breadth short"
    return "elbow to fingertips and a hand more" if feed.beyond else "elbow to fingertips"


def _view(parent: Element, view: Projection) -> Element:
    ends = {"fill": "none", "stroke-linecap": "round", "stroke-linejoin": "round"}
    return SubElement(parent, "g", {"data-view": view.name, **ends})


def _stick(group: Element, view: Projection, drawn: Scene) -> None:
    d = way_of(view, (drawn.grip, drawn.tip))
    for part, look, wide in (("edge", INK, STICK), ("stick", GROUND, STICK - 3)):
        SubElement(group, "path", {"data-part": part, "d": d, **look, "stroke-width": short(wide)})


def _ring(group: Element, view: Projection, aim: Point) -> None:
    x, y = view.at(aim)
    SubElement(
        group, "circle", {"data-part": "target", "cx": short(x), "cy": short(y), "r": "9", **line("accent", 2.4)}
    )


def _way(group: Element, view: Projection, way: Sequence[Point]) -> None:
    """The way of the tip, with an arrow where it ends."""
    SubElement(group, "path", {"data-part": "way", "d": way_of(view, way), **line("accent", 2.4)})
    SubElement(group, "path", {"d": _arrow(view.at(way[-2]), view.at(way[-1]), 11), **fill("accent")})


def _moving(group: Element, view: Projection, defence: str, side: Side, pair: Pair) -> None:
    """Where a defence that moves the whole body takes the student, dashed."""
    if defence not in SUNK:
        return
    way = heads(defence, side, pair.student)
    x, y = view.at(way[-1])
    dashed = {**line("ink", 1.8), "stroke-dasharray": "3 4"}
    radius = short(HEAD_RADIUS * SCALE)
    SubElement(group, "circle", {"data-part": "moved", "cx": short(x), "cy": short(y), "r": radius, **dashed})
    if math.dist(view.at(way[0]), (x, y)) > 12:
        SubElement(group, "path", {"d": way_of(view, way[::6]), **line("ink", 1.8)})
        SubElement(group, "path", {"d": _arrow(view.at(way[-7]), (x, y), 8), **fill("ink")})


def _measured(group: Element, words: Element, drawn: Scene, feed: Feed, pair: Pair) -> None:
    """The distance from the chest or a lowered arm, below the stick, or from a grown student's head, above it."""
    near = feed.stop == "short of the head"
    body = BELLY if feed.stop == "short of the body" else CHEST_FRONT
    front = drawn.student.head.x + HEAD_RADIUS if near else body * pair.student
    first = SIDE.at(Point(front, 0.0, drawn.student.head.z if near else drawn.tip.z))
    last = SIDE.at(drawn.tip)
    up = -1 if near else 1
    y = min(first[1], last[1]) - 34 if near else last[1] + 36
    ends = "".join(f"M{short(x)} {short(at + 12 * up)}V{short(y + 5 * up)}" for x, at in (first, last))
    _dimension(group, f"{ends}M{short(first[0])} {short(y)}H{short(last[0])}")
    past = 128 if feed.action == "chop" else last[0] + 7
    _say(
        words,
        past if near else max(first[0], SIDE.origin[0] + 42),
        y - 8 if near else y + 20,
        measure_words(feed),
        160 if near else 118,
    )


def _measured_aslant(group: Element, words: Element, drawn: Scene, feed: Feed) -> None:
    """The same from above, straight from a grown student's head to the tip."""
    (x, y), last = ABOVE.at(drawn.student.head), ABOVE.at(drawn.tip)
    share = HEAD_RADIUS * SCALE / math.dist((x, y), last)
    first = (x + (last[0] - x) * share, y + (last[1] - y) * share)
    _dimension(group, f"M{short(first[0])} {short(first[1])}L{short(last[0])} {short(last[1])}")
    to = 1 if drawn.tip.y > 0 else -1
    _say(words, last[0] + 18 * to, last[1] + 34, measure_words(feed), 90, anchor="start" if to > 0 else "end")


def _dimension(group: Element, d: str) -> None:
    SubElement(group, "path", {"data-part": "measure", "d": d, **line("ink", 1.5)})


def _words(group: Element) -> Element:
    return SubElement(group, "g", {"font-size": short(SIZE), **fill("ink")})


def _say(words: Element, x: float, y: float, said: str, room: float = 400, **more: str) -> None:
    """Words in lines that fit the room, from their first baseline down; `anchor` and `weight` as SVG has them."""
    named = {"anchor": "text-anchor", "weight": "font-weight"}
    for row, part in enumerate(lines_of(said, SIZE, room)):
        place = {"x": short(x), "y": short(y + LINE * row)}
        SubElement(words, "text", place | {named[key]: value for key, value in more.items()}).text = part


def _arrow(before: Spot, end: Spot, size: float) -> str:
    """An arrow's head whose point is `end`."""
    length = math.dist(before, end) or 1.0
    x, y = (end[0] - before[0]) / length * size, (end[1] - before[1]) / length * size
    corners = (end, (end[0] - x - 0.55 * y, end[1] - y + 0.55 * x), (end[0] - x + 0.55 * y, end[1] - y - 0.55 * x))
    return "M" + "L".join(f"{short(a)} {short(b)}" for a, b in corners) + "z"
