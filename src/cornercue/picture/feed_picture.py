"""A feed as a picture: from the side and from above, where the tip of the stick goes and how far away it stays.

Never from the front: there a swing an arm's length ahead seems to pass through the face. The student is solid and the
feeder striped; the target is a ring, the tip's way a line with an arrow, the student's own way dashed.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from xml.etree.ElementTree import Element, SubElement, tostring

from cornercue.errors import InputFault
from cornercue.feed.sweep import SUNK, Pair
from cornercue.feed.table import FEEDS, LEFT_OUT, WHOM, Audience, Feed
from cornercue.picture.people import Scene, scene
from cornercue.picture.style import FONT, fill, line, lines_of, pattern, style, text
from cornercue.picture.views import HEIGHT, WIDTH, draw_above, draw_side, measure_words
from cornercue.technique.sides import Side
from cornercue.technique.table import TECHNIQUES
from cornercue.timing.feeding import prompt
from cornercue.timing.phrasebook import phrasebook

PAIRS: Mapping[Audience, Pair] = MappingProxyType(
    {"junior": Pair(1.4, 1.7), "adult": Pair(1.75, 1.75, audience="adult")}
)
"""Who is drawn, in metres: a child whom a grown feeder need not kneel before, and two adults."""

SIDED = frozenset(technique.name for technique in TECHNIQUES if technique.sided)
EDGE = 12
KEY = (
    "Pale: the student. Striped: the feeder, with a straight arm; never stand nearer. "
    "Ring: as near as the tip comes. Arrow: its way; then back at once."
)
DASHED = "Dashed: where the student goes."


def feed_svg(audience: Audience, defence: str, side: Side) -> str:
    """The picture of a feed as the text of an SVG element, with its words and its key, for a file.

    `side` is the student's; a defence without sides is drawn once. Raises `InputFault` for a feed that is left out.
    """
    words = feed_words(audience, defence, side)
    above, below = (lines_of(said, 17, 1.1 * WIDTH) for said in (words, key_of([defence])))
    top = 50 + 20 * len(above)
    height = top + HEIGHT + 21 * len(below) + 10
    root = Element("svg", {"xmlns": "http://www.w3.org/2000/svg", "role": "img", "font-family": FONT})
    root.set("aria-labelledby", "feed-title feed-desc")
    for key, value in (("viewBox", f"0 0 {WIDTH} {height}"), ("width", str(WIDTH)), ("height", str(height))):
        root.set(key, value)
    SubElement(root, "title", {"id": "feed-title"}).text = f"How to feed: {titled(defence, side)}, for {WHOM[audience]}"
    SubElement(root, "desc", {"id": "feed-desc"}).text = described(audience, defence, side)
    SubElement(root, "style").text = style()
    stripes(root)
    SubElement(root, "rect", {"width": str(WIDTH), "height": str(height), **fill("ground")})
    text(root, EDGE, 30, titled(defence, side), 24, weight="700")
    text(root, WIDTH - EDGE, 30, f"for {WHOM[audience]}", anchor="end", colour="soft")
    for row, part in enumerate(above):
        text(root, EDGE, 54 + 20 * row, part, 17)
    views = SubElement(root, "g", {"transform": f"translate(0 {top})"})
    drawn, feed, pair = _drawn(audience, defence, side)
    draw_side(views, drawn, feed, defence=defence, side=side, pair=pair)
    draw_above(views, drawn, feed, defence=defence, side=side, pair=pair, sided=defence in SIDED)
    for row, part in enumerate(below):
        text(root, EDGE, top + HEIGHT + 20 + 21 * row, part, 15.5, colour="soft")
    return tostring(root, encoding="unicode")


def definitions(audience: Audience, feeds: Iterable[tuple[str, Side]]) -> str:
    """The pictures of a page as an SVG element that shows nothing: each to be used by its `name_of`, stripes once."""
    root = Element("svg", {"width": "0", "height": "0", "aria-hidden": "true", "font-family": FONT, "class": "defs"})
    stripes(root)
    defs = SubElement(root, "defs")
    shared: set[str] = set()
    for defence, side in {name_of(*one): one for one in feeds}.values():
        drawn, feed, pair = _drawn(audience, defence, side)
        name = f"feed-{defence.replace(' ', '-')}-side"
        if name not in shared:
            shared.add(name)
            draw_side(SubElement(defs, "g", {"id": name}), drawn, feed, defence=defence, side=side, pair=pair)
        whole = SubElement(defs, "g", {"id": name_of(defence, side)})
        SubElement(whole, "use", {"href": f"#{name}"})
        draw_above(whole, drawn, feed, defence=defence, side=side, pair=pair, sided=defence in SIDED)
    return tostring(root, encoding="unicode")


def name_of(defence: str, side: Side) -> str:
    """The id of a feed's picture among a page's definitions."""
    return f"feed-{titled(defence, side).replace(' ', '-')}"


def stripes(parent: Element) -> None:
    """Defines what the feeder is filled with: once for all pictures of a page."""
    pattern(SubElement(parent, "defs"), "feeder", 5, "ground", {"d": "M-1 6L6-1M-1 1L1-1M4 6L6 4", **line("ink", 1.1)})


def _drawn(audience: Audience, defence: str, side: Side) -> tuple[Scene, Feed, Pair]:
    feed, pair = FEEDS[audience][defence], PAIRS[audience]
    return scene(feed, defence, side, pair), feed, pair


def titled(defence: str, side: Side) -> str:
    """The call that the feed answers to: "parry left", "duck"."""
    return f"{defence} {side}" if defence in SIDED else defence


def key_of(defences: list[str]) -> str:
    """How to read the pictures of these defences."""
    return f"{KEY} {DASHED}" if any(defence in SUNK for defence in defences) else KEY


def feed_words(audience: Audience, defence: str, side: Side) -> str:
    """What the feeder does, in the feeder's own left and right, as it is said. Raises `InputFault` if left out."""
    if defence not in FEEDS[audience]:
        raise InputFault(f"`{defence}` is not fed to {WHOM[audience]}, so it has no picture: {LEFT_OUT[defence]}")
    return prompt(phrasebook(), audience, defence, side if defence in SIDED else None)


def described(audience: Audience, defence: str, side: Side) -> str:
    """The picture in words, for whoever cannot see it."""
    return (
        f"{feed_words(audience, defence, side)}. From the side and from above: they stand opposite each other, "
        f"and the tip of the stick stays away by this much: {measure_words(FEEDS[audience][defence])}."
    )
