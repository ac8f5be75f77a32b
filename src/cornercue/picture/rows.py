"""What a picture of a timeline shows, as plain values: rows of time with their lanes, and the sums below them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from cornercue.timing.parts import no_more_than
from cornercue.timing.timeline import Span, Timeline
from cornercue.totals.stretches import stretches
from cornercue.totals.summary import Summary, summarised

ROW_SECONDS = (15, 30, 60, 120, 300, 600, 900, 1800)
MOST_ROWS = 12
MOST_ON_A_PAGE = 6
"""A picture has the shortest rows that are no more than so many: bars stay wide, and below a drill on its page it stays
short. Own choice."""


MOST_IN_A_ROW = 5
"""A picture lists no more parts than so many for each row that it may have, so that their numbers find room and the
list is read to its end: above that, rounds or whole steps are listed. Own choice."""


@dataclass(frozen=True, slots=True)
class Bar:
    """Something from `start` to `end`, in seconds; `kind` says how it is drawn."""

    start: float
    end: float
    kind: str


@dataclass(frozen=True, slots=True)
class Water(Bar):
    """A stretch of the tide, `kind` work or rest: its level goes from `first` to `last`, between 0 and 1."""

    first: float
    last: float


@dataclass(frozen=True, slots=True)
class Marker:
    """A part as it is listed: its number from 1 (of the finest part that it starts with), its title, its start (s)."""

    number: int
    title: str
    start: float


@dataclass(frozen=True, slots=True)
class Row:
    """One row of time, with its share of every lane, and the tones and parts that start in it.

    Before these parts stands the one that goes on from the row before, if one does.
    """

    start: float
    end: float
    voice: tuple[Bar, ...]
    sides: tuple[Bar, ...]
    stance: tuple[Bar, ...]
    tide: tuple[Water, ...]
    tones: tuple[Bar, ...]
    parts: tuple[Marker, ...]


@dataclass(frozen=True)
class Picture:
    """All that is drawn; every row stands for `row_seconds`, the last one may end sooner."""

    title: str
    level: str
    seed: int
    row_seconds: int
    rows: tuple[Row, ...]
    parts: tuple[Marker, ...]
    summary: Summary


_Lanes = tuple[list[Bar], list[Bar], list[Bar], list[Water], list[Bar]]


def picture_of(timeline: Timeline, most_rows: int = MOST_ROWS) -> Picture:
    """The picture of a timeline, in no more than so many rows (and of half an hour each at most)."""
    length = next((s for s in ROW_SECONDS if timeline.duration <= s * most_rows), ROW_SECONDS[-1])
    work = stretches(timeline)
    lanes = (
        [Bar(cue.start, cue.end, cue.kind) for cue in timeline.cues if cue.text],
        [Bar(one.start, one.end, one.side) for one in work],
        _joined(Bar(one.start, one.end, one.stance) for one in work if one.stance),
        [_water(span) for span in timeline.spans],
        [Bar(cue.start, cue.end, cue.tone) for cue in timeline.cues if cue.tone],
    )
    listed = no_more_than(MOST_IN_A_ROW * most_rows, timeline.parts)
    parts = tuple(Marker(index + 1, one.told, one.part.start) for index, one in listed)
    starts = range(0, max(1, round(timeline.duration + 0.5)), length)
    rows = tuple(_row(start, min(start + length, timeline.duration), lanes, parts) for start in starts)
    return Picture(
        timeline.drill,
        timeline.level_words,
        timeline.seed,
        row_seconds=length,
        rows=rows,
        parts=parts,
        summary=summarised(timeline),
    )


def _row(start: float, end: float, lanes: _Lanes, parts: tuple[Marker, ...]) -> Row:
    voice, sides, stance, tide, tones = lanes
    here = tuple(part for part in parts if start <= part.start < end)
    before = [part for part in parts if part.start < start]
    if before and not any(part.start == start for part in here):
        here = (before[-1], *here)
    cut_tide = tuple(_lowered(water, start, end) for water in tide if _in(water, start, end))
    begun = tuple(tone for tone in tones if start <= tone.start < end)
    return Row(
        start,
        end,
        _cut(voice, start, end),
        sides=_cut(sides, start, end),
        stance=_cut(stance, start, end),
        tide=cut_tide,
        tones=begun,
        parts=here,
    )


def _joined(bars: Iterable[Bar]) -> list[Bar]:
    """Bars of one kind that touch become one."""
    joined: list[Bar] = []
    for bar in bars:
        if joined and joined[-1].end == bar.start and joined[-1].kind == bar.kind:
            joined[-1] = replace(joined[-1], end=bar.end)
        else:
            joined.append(bar)
    return joined


def _water(span: Span) -> Water:
    """Work runs out, rest fills."""
    first, last = (1.0, 0.0) if span.kind == "work" else (0.0, 1.0)
    return Water(span.start, span.end, span.kind, first, last)


def _in(bar: Bar, start: float, end: float) -> bool:
    return bar.start < end and bar.end > start


def _cut(bars: Iterable[Bar], start: float, end: float) -> tuple[Bar, ...]:
    return tuple(
        replace(bar, start=max(bar.start, start), end=min(bar.end, end)) for bar in bars if _in(bar, start, end)
    )


def _lowered(water: Water, start: float, end: float) -> Water:
    """The part of the tide within a row, with its levels at the row's ends."""
    first, last = max(water.start, start), min(water.end, end)

    def level(at: float) -> float:
        return water.first + (water.last - water.first) * (at - water.start) / (water.end - water.start)

    return Water(first, last, water.kind, level(first), level(last))
