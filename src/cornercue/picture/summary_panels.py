"""What stands above and below the rows of time: how to read them, the parts, and the sums."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from xml.etree.ElementTree import Element, SubElement

from cornercue.durations import clock
from cornercue.picture.lanes import FILLS, HALVES, SMALL, TONES, WIDTH
from cornercue.picture.rows import Picture
from cornercue.picture.style import edged, fill, line, lines_of, number, text
from cornercue.totals.summary import Summary

EDGE = 12
LINE = 22
MIDDLE = WIDTH / 2

LEGEND = (
    (("voice", "the voice"), ("start", "tone: start"), ("warning", "tone: nearly over"), ("end", "tone: end")),
    (("left", "left side"), ("right", "right side"), ("both", "both in turn"), ("neither", "neither side")),
    (("orthodox", "orthodox"), ("southpaw", "southpaw"), ("work", "work: it falls"), ("rest", "rest: it rises")),
)
"""Every sign in the rows and what it means, a column after the other."""


def draw_legend(parent: Element, picture: Picture, top: float) -> float:
    """How to read the rows; returns where it ends."""
    group = SubElement(parent, "g")
    length = picture.row_seconds
    span = f"{length // 60} min" if length >= 60 else f"{length} s"
    text(group, EDGE, top + 16, f"Each row is {span}, from left to right.", SMALL, colour="soft")
    y = top + LINE + 4
    for column, signs in enumerate(LEGEND):
        x = EDGE + column * (WIDTH - EDGE) / len(LEGEND)
        for row, (kind, words) in enumerate(signs):
            _swatch(group, kind, x, y + row * LINE)
            text(group, x + 36, y + row * LINE + 14, words, SMALL)
    return y + len(LEGEND[0]) * LINE + 10


def _swatch(group: Element, kind: str, x: float, y: float) -> None:
    """The sign of one kind, 28 by 16 units."""
    paint = fill("accent") if kind in TONES else fill("ink") if kind == "voice" else edged(FILLS[kind])
    if kind in TONES:
        d = f"M{number(x + 10)} {number(y + 2)}{TONES[kind]}"
    elif kind == "voice":
        d = "".join(f"M{number(x + at)} {number(y + 1)}h{wide}v14h-{wide}z" for at, wide in ((0, 11), (14, 3), (21, 7)))
    elif kind in ("work", "rest"):
        d = f"M{number(x)} {number(y + 16)}" + ("v-16l28 16z" if kind == "work" else "h28v-16z")
    else:
        share, part = HALVES.get(kind, (0.1, 0.8))
        d = f"M{number(x)} {number(y + share * 16)}h28v{number(part * 16)}h-28z"
    SubElement(group, "path", {"d": d, **paint})


def draw_parts(parent: Element, picture: Picture, top: float) -> float:
    """The list of parts with their starts."""
    group = SubElement(parent, "g")
    y = _heading(group, "Parts", top)
    for part in picture.parts:
        text(group, EDGE + 26, y, str(part.number), anchor="end", weight="700")
        text(group, EDGE + 88, y, clock(part.start), anchor="end", colour="soft")
        for words in lines_of(part.title, 16, WIDTH - 2 * EDGE - 100):
            text(group, EDGE + 100, y, words)
            y += LINE
    return y


def draw_sums(parent: Element, summary: Summary, top: float) -> float:
    """The balance of sides, what is called, and work against rest."""
    group = SubElement(parent, "g")
    y = _heading(group, "Left and right", top)
    pairs = [
        (part, summary.limbs[f"left {part}"], summary.limbs[f"right {part}"]) for part in ("hand", "leg")
    ]  # fmt: skip
    pairs.append(("defence", summary.defences["left"], summary.defences["right"]))
    shown = [(f"{name}s", left, right) for name, left, right in pairs if left or right]
    if shown:
        y = _balance(group, shown, y)
    else:
        text(group, EDGE, y, "Nothing here belongs to one side.", colour="soft")
        y += LINE
    y = _heading(group, "What is called", y)
    y = _counts(group, {kind: count for kind, count in summary.called.items() if count}, y)
    y = _heading(group, "Work and rest", y)
    return _shares(group, summary, y)


def _heading(group: Element, words: str, top: float) -> float:
    text(group, EDGE, top + 30, words, 19, weight="700")
    return top + 30 + LINE + 4


def _balance(group: Element, pairs: Sequence[tuple[str, int, int]], y: float) -> float:
    """A bar to each side of the middle, left and right drawn as in the rows."""
    most = max(max(left, right) for _, left, right in pairs)
    room = MIDDLE - EDGE - 92 - 44
    for name, left, right in pairs:
        text(group, EDGE, y, name)
        middle = MIDDLE + 46
        for side, count, step in (("left", left, -1), ("right", right, 1)):
            wide = room * count / most
            d = f"M{number(middle)} {number(y - 14)}h{number(step * wide)}v17h{number(-step * wide)}z"
            SubElement(group, "path", {"data-sum": f"{name} {side}", "d": d, **edged(FILLS[side])})
            anchor = "end" if step < 0 else "start"
            text(group, middle + step * (wide + 6), y, str(count), anchor=anchor, weight="700")
        SubElement(group, "path", {"d": f"M{number(middle)} {number(y - 17)}v23", **line("ink", 2)})
        y += LINE + 6
    return y


def _counts(group: Element, counts: Mapping[str, int], y: float) -> float:
    most = max(counts.values(), default=1)
    for name, count in counts.items():
        text(group, EDGE, y, name)
        wide = (WIDTH - EDGE - 104 - 60) * count / most
        d = f"M{EDGE + 92} {number(y - 14)}h{number(wide)}v17h{number(-wide)}z"
        SubElement(group, "path", {"data-sum": name, "d": d, **fill("soft")})
        text(group, EDGE + 92 + wide + 6, y, str(count), weight="700")
        y += LINE + 4
    return y


def _shares(group: Element, summary: Summary, y: float) -> float:
    """One bar for the whole drill: work, rest, and the time of words between them."""
    between = max(0.0, summary.duration - summary.work - summary.rest)
    x, room = float(EDGE), WIDTH - 2 * EDGE
    for name, seconds in (("work", summary.work), ("rest", summary.rest), ("words", between)):
        wide = room * seconds / summary.duration
        d = f"M{number(x)} {number(y - 14)}h{number(wide)}v26h{number(-wide)}z"
        paint = FILLS[name] if name in FILLS else fill("ground")
        SubElement(group, "path", {"data-sum": name, "d": d, **edged(paint)})
        x += wide
    y += 38
    ratio = f", {summary.work / summary.rest:.1f} to 1" if summary.rest else ""
    text(
        group, EDGE, y, f"work {clock(summary.work)}, rest {clock(summary.rest)}{ratio}; words between {clock(between)}"
    )
    y += LINE
    sides = ", ".join(f"{side} {clock(seconds)}" for side, seconds in summary.by_side.items())
    text(group, EDGE, y, f"work by side: {sides}")
    return y + LINE
