"""Rows of time: the lanes of voice, sides, stance, tide and tones, and above them the parts."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType
from xml.etree.ElementTree import Element, SubElement

from cornercue.durations import clock
from cornercue.picture.rows import Bar, Picture, Row, Water
from cornercue.picture.style import edged, fill, line, number, text, width_of

WIDTH = 560
LEFT = 66
RIGHT = WIDTH - 12
PLOT = RIGHT - LEFT
HEAD = 24
SMALL = 14.5

LANES: Mapping[str, tuple[float, float]] = MappingProxyType(
    {"voice": (0, 14), "sides": (20, 32), "stance": (57, 12), "tide": (74, 28), "tones": (107, 13)}
)
"""Where each lane lies below the row's head, and how high it is."""
ROW_HEIGHT = HEAD + 120

HALVES: Mapping[str, tuple[float, float]] = MappingProxyType(
    {"left": (0, 0.5), "right": (0.5, 0.5), "both": (0, 1), "neither": (0.36, 0.28)}
)
"""The part of the lane that a side takes: left above right, both over all of it, neither a band in the middle."""

FILLS: Mapping[str, dict[str, str]] = MappingProxyType(
    {
        "left": {"fill": "url(#picture-left)"},
        "right": {"fill": "url(#picture-right)"},
        "both": fill("soft"),
        "neither": fill("water"),
        "orthodox": fill("water"),
        "southpaw": {"fill": "url(#picture-southpaw)"},
        "work": fill("water"),
        "rest": {"fill": "url(#picture-rest)"},
    }
)

TONES: Mapping[str, str] = MappingProxyType(
    {"start": "v12l9-6z", "warning": "v12h2v-12zm5 0v12h2v-12z", "end": "v11h9v-11z"}
)
"""The mark of each tone, from its top left corner: a pointer onwards, two strokes, a block."""

X = Callable[[float], float]
"""Where a time of a row lies."""


def scale(picture: Picture) -> float:
    """Units of width for a second."""
    return PLOT / picture.row_seconds


def draw_row(parent: Element, row: Row, picture: Picture, top: float) -> None:
    """One row of time from `top` on, `ROW_HEIGHT` high."""
    per_second = scale(picture)
    end = LEFT + (row.end - row.start) * per_second
    body = top + HEAD

    def x(seconds: float) -> float:
        return LEFT + (seconds - row.start) * per_second

    group = SubElement(parent, "g")
    text(group, LEFT - 8, top + 17, clock(row.start), SMALL, anchor="end", weight="700")
    _grid(group, body, x(row.end))
    for name, (offset, height) in LANES.items():
        if name != "sides":
            text(group, LEFT - 8, body + offset + height / 2 + 5, name, SMALL, anchor="end", colour="soft")
    for word, share in (("left", 0.25), ("right", 0.78)):
        offset, height = LANES["sides"]
        text(group, LEFT - 8, body + offset + height * share + 5, word, SMALL, anchor="end", colour="soft")
    _bars(group, "voice", fill("ink"), bars=row.voice, x=x, y=body, lane_at=LANES["voice"])
    for side, (share, part) in HALVES.items():
        offset, height = LANES["sides"]
        chosen = [bar for bar in row.sides if bar.kind == side]
        half = (offset + share * height, part * height)
        _bars(group, side, edged(FILLS[side]), bars=chosen, x=x, y=body, lane_at=half)
    for stance in ("orthodox", "southpaw"):
        chosen = [bar for bar in row.stance if bar.kind == stance]
        _bars(group, stance, edged(FILLS[stance]), bars=chosen, x=x, y=body, lane_at=LANES["stance"])
    for kind in ("work", "rest"):
        _tide(group, kind, [water for water in row.tide if water.kind == kind], x, body)
    for kind in TONES:
        _tones(group, kind, [bar for bar in row.tones if bar.kind == kind], x, body + LANES["tones"][0])
    _parts(group, row, x, top, end)


def _grid(group: Element, body: float, end: float) -> None:
    """A faint line under each lane, and one upright each fifth of a row."""
    d = [f"M{LEFT} {number(body + offset + height)}H{number(end)}" for offset, height in LANES.values()]
    fifth = PLOT / 5
    count = int((end - LEFT) / fifth + 1e-9)
    d += [f"M{number(LEFT + n * fifth)} {number(body)}v120" for n in range(count + 1)]
    SubElement(group, "path", {"d": "".join(d), **line("water", 1)})


def _bars(
    group: Element,
    lane: str,
    paint: dict[str, str],
    *,
    bars: Iterable[Bar],
    x: X,
    y: float,
    lane_at: tuple[float, float],
) -> None:
    """All bars of one kind as one path; both ends are rounded before the width is taken, so that no error adds up."""
    d, (offset, height) = [], lane_at
    for bar in bars:
        first, last = round(x(bar.start), 2), round(x(bar.end), 2)
        d.append(f"M{number(first)} {number(y + offset)}h{number(last - first)}v{number(height)}H{number(first)}z")
    if d:
        SubElement(group, "path", {"data-lane": lane, "d": "".join(d), **paint})


def _tide(group: Element, kind: str, waters: Iterable[Water], x: X, body: float) -> None:
    """Wedges: the water falls while work runs out and rises while a rest fills."""
    offset, height = LANES["tide"]
    base = number(body + offset + height)
    d = []
    for water in waters:
        first, last = number(x(water.start)), number(x(water.end))
        high, low = (number(body + offset + height * (1 - level)) for level in (water.first, water.last))
        d.append(f"M{first} {base}V{high}L{last} {low}V{base}z")
    if d:
        SubElement(group, "path", {"data-lane": kind, "d": "".join(d), **edged(FILLS[kind])})


def _tones(group: Element, kind: str, tones: Iterable[Bar], x: X, top: float) -> None:
    d = "".join(f"M{number(x(tone.start))} {number(top)}{TONES[kind]}" for tone in tones)
    if d:
        SubElement(group, "path", {"data-lane": f"tone {kind}", "d": d, **fill("accent")})


def _parts(group: Element, row: Row, x: X, top: float, end: float) -> None:
    """A line where each part starts, with its number and, where there is room, its title."""
    starts = [x(part.start) for part in row.parts if part.start >= row.start]
    if starts:
        d = "".join(f"M{number(at)} {number(top + 3)}V{number(top + ROW_HEIGHT)}" for at in starts)
        SubElement(group, "path", {"data-lane": "parts", "d": d, **line("ink", 1.6)})
    places = [max(x(part.start), LEFT) for part in row.parts]
    for part, at, room in zip(row.parts, places, [*places[1:], max(end, RIGHT)], strict=True):
        label = f"{part.number} {part.title}"
        fits = [words for words in (label, str(part.number)) if width_of(words, SMALL) <= room - at - 5]
        if fits:
            text(group, at + 4, top + 17, fits[0], SMALL, colour="ink" if part.start >= row.start else "soft")
