"""Timeline to picture: one SVG drawing that scales to any width, for the eye and for a screen reader."""

from __future__ import annotations

from xml.etree.ElementTree import Element, SubElement, tostring

from cornercue.durations import clock
from cornercue.picture.lanes import ROW_HEIGHT, WIDTH, draw_row, scale
from cornercue.picture.rows import MOST_ON_A_PAGE, MOST_ROWS, Picture, picture_of
from cornercue.picture.style import FONT, fill, lines_of, number, patterns, style, text, written
from cornercue.picture.summary_panels import EDGE, draw_legend, draw_parts, draw_sums
from cornercue.timing.timeline import Timeline
from cornercue.totals.summary import short

BETWEEN = 12


def svg(timeline: Timeline, alone: bool = True) -> str:
    """The picture as the text of an SVG element.

    `alone`: with a style sheet of its own, for a file; without, and short enough to be printed, for a page that has
    `look.themed()` among its styles.
    Texts are escaped, and what XML 1.0 cannot hold is replaced.
    """
    picture = picture_of(timeline, MOST_ROWS if alone else MOST_ON_A_PAGE)
    root = Element("svg", {"xmlns": "http://www.w3.org/2000/svg", "role": "img", "font-family": FONT})
    root.set("aria-labelledby", "picture-title picture-desc")
    root.set("data-scale", f"{scale(picture):.6f}")
    SubElement(root, "title", {"id": "picture-title"}).text = written(f"{picture.title}, as a picture")
    SubElement(root, "desc", {"id": "picture-desc"}).text = written(described(picture))
    if alone:
        SubElement(root, "style").text = style()
    patterns(root)
    ground = SubElement(root, "rect", {"width": str(WIDTH), **fill("ground")})
    height = number(_drawn(root, picture))
    ground.set("height", height)
    for key, value in (("viewBox", f"0 0 {WIDTH} {height}"), ("width", str(WIDTH)), ("height", height)):
        root.set(key, value)
    return tostring(root, encoding="unicode")


def _drawn(root: Element, picture: Picture) -> float:
    """Draws all parts, one below the other; returns the height."""
    y = 34.0
    for words in lines_of(picture.title, 24, WIDTH - 2 * EDGE):
        text(root, EDGE, y, words, 24, weight="700")
        y += 29
    about = f"{picture.level} · {clock(picture.summary.duration)} · seed {picture.seed}"
    text(root, EDGE, y - 4, about, colour="soft")
    y = draw_legend(root, picture, y + 4)
    for row in picture.rows:
        draw_row(root, row, picture, y)
        y += ROW_HEIGHT + BETWEEN
    y = draw_parts(root, picture, y)
    return draw_sums(root, picture.summary, y) + EDGE


def described(picture: Picture) -> str:
    """The picture in words."""
    parts = "; ".join(f"{part.number} at {clock(part.start)}, {part.title}" for part in picture.parts)
    return f"Lasts {clock(picture.summary.duration)}: {short(picture.summary)}. The parts: {parts}."
