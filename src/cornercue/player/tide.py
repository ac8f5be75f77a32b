"""The tide: a moment of a drill as a picture of cells, with the call in large type above the water."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from types import MappingProxyType

from rich.console import RenderableType
from rich.segment import Segment, Segments
from rich.style import Style

from cornercue.durations import clock
from cornercue.player.letters import QUARTERS, cells, centred, large, shortened, wrapped
from cornercue.player.view import State, View
from cornercue.player.volume import LOUDEST
from cornercue.printable import printable

SURFACE = "▁▂▃▄▅▆▇"
"""A cell that is filled from below, by eighths."""

PATTERN = MappingProxyType({"work": "~", "rest": "·"})
"""What the water is drawn with, so that work and rest are told apart without colour."""

KIND = MappingProxyType({"work": "Work", "rest": "Rest", "talk": ""})

STATE = MappingProxyType[State, str](
    {"playing": "", "paused": "Paused", "counting in": "Counting in", "waiting": "Waiting", "ended": "The end"}
)

KEYS = (
    "space pause · ← back · → on · r again · ↑↓ louder, softer · q quit",
    "space pause · ←→ part · r again · ↑↓ loudness · q quit",
    "space pause · ←→ part · q quit",
    "space pause · q quit",
    "q quit",
)
"""What the keys do, in full and shortened."""

TextRow = tuple[Segment, ...]


@dataclass(frozen=True, slots=True)
class Inks:
    """The colours, as rich names them: two grounds, two inks and an accent."""

    ground: str
    water: str
    ink: str
    soft: str
    accent: str


LIGHT = Inks("#f3efe6", "#c6d8dc", "#16262e", "#42545d", "#7d3410")
DARK = Inks("#0f1d25", "#1d4050", "#f2f4ef", "#b7c6cb", "#f2b27a")
LIGHT_256 = Inks("color(255)", "color(152)", "color(235)", "color(239)", "color(88)")
DARK_256 = Inks("color(234)", "color(23)", "color(255)", "color(252)", "color(223)")
"""Of a terminal's 256 colours those that are close to ours and still far enough from each other to be read."""

OWN = Inks("default", "default", "default", "default", "default")
"""The terminal's own two colours."""


def tide(view: View, columns: int, rows: int, inks: Inks = DARK) -> RenderableType:
    """A picture of exactly `columns` x `rows` cells, from one cell up; small ones leave out what matters least."""
    line, *others = picture(view, columns, rows, inks)
    return Segments([*line, *(part for row in others for part in (Segment.line(), *row))])


def picture(view: View, columns: int, rows: int, inks: Inks) -> list[TextRow]:
    """The rows of the tide, each of exactly `columns` cells."""
    page = _Page(columns, inks)
    hands = (view.hands.replace(" ·", ","), 5) if rows >= 30 else (view.hands, int(rows >= 4))
    gap = [page.blank()] * (rows >= 22)
    depth = rows * 3 // 10 if rows >= 4 else 0
    head = [page.spread(*_head(view, page.room))] if rows >= 6 else []
    below = [
        *page.lettered(*hands, inks.accent),
        *gap,
        *([page.middle(_following(view), inks.soft)] if rows >= 7 else []),
        *gap,
        *([page.spread(_time(view, depth), _aside(view))] if rows >= 2 else []),
        *_water(view, depth, page),
        *([page.middle(_keys(page.room), inks.soft)] if rows >= 5 else []),
    ]
    return [*head, *gap, *page.lettered(view.call, rows - len(head) - len(gap) - len(below), inks.ink), *below]


@dataclass(frozen=True, slots=True)
class _Page:
    """Lays words on rows of a width."""

    columns: int
    inks: Inks

    @property
    def margin(self) -> int:
        return min(2, self.columns // 20)

    @property
    def room(self) -> int:
        return self.columns - 2 * self.margin

    def style(self, ink: str, ground: str = "", bold: bool = False) -> Style:
        return Style(color=ink, bgcolor=ground or self.inks.ground, bold=bold)

    def blank(self) -> TextRow:
        return (Segment(" " * self.columns, self.style(self.inks.ink)),)

    def middle(self, text: str, ink: str, bold: bool = False) -> TextRow:
        return (Segment(centred(shortened(text, self.room), self.columns), self.style(ink, bold=bold)),)

    def lettered(self, text: str, rows: int, ink: str) -> list[TextRow]:
        """Words as large as they fit, in the middle of so many rows."""
        words = large(text, self.room, rows)
        plain = any(sign not in QUARTERS for line in words for sign in line)
        above = (rows - len(words)) // 2
        drawn = [(Segment(centred(line, self.columns), self.style(ink, bold=plain)),) for line in words]
        return [*[self.blank()] * above, *drawn, *[self.blank()] * (rows - len(words) - above)]

    def spread(self, left: str, right: str) -> TextRow:
        """Bold ink on the left, soft on the right; where there is no room for both, the left one stays."""
        left = shortened(left, self.room)
        right = shortened(right, max(self.room - cells(left) - 2, 0))
        edge, between = " " * self.margin, " " * (self.room - cells(left) - cells(right))
        return (
            Segment(edge + left, self.style(self.inks.ink, bold=True)),
            Segment(between + right + edge, self.style(self.inks.soft)),
        )


def _head(view: View, room: int) -> tuple[str, str]:
    """The title and where we are. Where it is narrow, the second is what counts."""
    title = printable(view.title)
    where = " · ".join(filter(None, (f"part {view.part} of {view.parts}", printable(view.told))))
    if room < 48:
        return where, ""
    return shortened(title, max(room // 3, room - cells(where) - 3)), where


def _following(view: View) -> str:
    following = printable(view.following)
    return f"next: {following}" if following else ""


def _time(view: View, depth: int) -> str:
    """ "Work 1:23". A message stands here where there is no water for it to stand in."""
    if view.message and not depth:
        return printable(view.message)
    left = "" if view.left is None else clock(ceil(view.left))
    return f"{KIND[view.kind]} {left}".strip()


def _aside(view: View) -> str:
    """The state, where it is not just playing, and the loudness, where it is not full."""
    volume = f"volume {view.volume} of {LOUDEST}" if view.volume < LOUDEST else ""
    return " · ".join(filter(None, (STATE[view.state], volume)))


def _keys(room: int) -> str:
    return next((keys for keys in KEYS if cells(keys) <= room), "")


# ---- water


def _water(view: View, depth: int, page: _Page) -> list[TextRow]:
    """`depth` rows, filled from below to `view.level` of them, with the message in the lowest."""
    full, part = divmod(round(min(max(view.level, 0.0), 1.0) * depth * 8), 8)
    message = wrapped(printable(view.message), page.room - 2, min(depth, 3)) if view.message else []
    foot = int(depth > len(message) + 1)
    rows = []
    for height in range(depth, 0, -1):
        at = len(message) + foot - height
        text = message[at] if 0 <= at < len(message) else ""
        rows.append(_water_row(view.kind, height - full, height, part=part, text=text, page=page))
    return rows


def _water_row(kind: str, above: int, height: int, *, part: int, text: str, page: _Page) -> TextRow:
    """One row, `height` from the bottom (1 is the lowest) and `above` the full ones (0 is the highest of these)."""
    inks = page.inks
    wet, ground, ink, drawn = above < 1, inks.ground, inks.ink, " " * page.columns
    if wet:
        ground, ink, drawn = inks.water, inks.soft, _waves(PATTERN[kind], height, page.columns, dense=not above)
    elif above == 1 and part:
        ink, drawn = inks.water, SURFACE[part - 1] * page.columns
    if not text or cells(text) + 2 > page.columns:
        return (Segment(drawn, page.style(ink, ground)),)
    text = f" {text} "
    left = (page.columns - cells(text)) // 2
    behind = inks.water if wet or (above == 1 and part >= 4) else inks.ground
    return (
        Segment(drawn[:left], page.style(ink, ground)),
        Segment(text, page.style(inks.accent, behind, bold=True)),
        Segment(drawn[left + cells(text) :], page.style(ink, ground)),
    )


def _waves(sign: str, height: int, columns: int, dense: bool) -> str:
    """A row of the pattern, shifted from row to row; dense at the surface."""
    wave = f"{sign} " if dense else f"{sign}   "
    return ((" " * (2 * (height % 2))) * (not dense) + wave * columns)[:columns]
