"""A drill as a flat run of talk, rest and work, and the pass that lays the run out in time.

The first pass (`steps`) unfolds sets, stances, repeats and includes into segments; this second one
gives them times. It alone knows the shape of a session: instructions are spoken in the rest before the
work where there is room, every stretch of work starts with a count-in and a tone and ends with a warning
and a tone, and the count-in is the last seconds of a rest where there is one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from cornercue.timing.setting import GAP, PLAIN, Details, Event, Horizon, Layout, Setting
from cornercue.timing.timeline import Advice, Cue, CueKind, Span, Tone
from cornercue.timing.tones import TONE_SECONDS
from cornercue.timing.warning import warned

LEAD_IN = 0.5
"""Seconds of silence before the first word. Own choice."""

COUNT_IN = 3
"""Counts before work, a `BEAT` apart: common practice, no source."""

SHORT_COUNT_IN = 2
"""Counts before work shorter than `SHORT`: own choice."""

SHORT = 20.0
"""Seconds of work below which it is counted in shortly, and has no ten-second warning: that would come before anyone is
warm. Own choice."""

SETTLE = 3.0
"""Seconds to get into position for an exercise or a hold between what is said of it and the count-in; common practice,
no source."""

BEAT = 1.0
"""Seconds from count to count."""


@dataclass(frozen=True, slots=True)
class Talk:
    """Words outside work: they take the time they take. `once`: not again later in the same drill.

    `belongs` is for words that make no part of their own: they lie in the part that comes next, or in the last one.
    `then` is how long it is quiet afterwards, in seconds, so that what is said can be done.
    """

    setting: Setting
    text: str
    kind: CueKind = "say"
    once: bool = False
    details: Details = PLAIN
    belongs: Literal["next", "last"] | None = None
    then: float = 0.0

    @property
    def quiet(self) -> float:
        """Seconds from the end of the words until the next ones."""
        return max(2 * GAP, self.then)


@dataclass(frozen=True, slots=True)
class Pause:
    """A rest of so many seconds."""

    setting: Setting
    seconds: float


@dataclass(frozen=True, slots=True)
class Work:
    """Work: `body(setting, start, ready)` lays out what happens between the tones and returns the end.

    `start` is when the work begins (its start tone sounds), `ready` when the voice is free. `once`: not again later in
    the same drill. `warned`: with a tone ten seconds before its end, where it is long enough. `settled`: with time to
    get into position before the count-in. `seconds` is how long it lasts, where that is known beforehand.
    """

    setting: Setting
    label: str
    body: Callable[[Setting, float, float], Layout]
    once: bool = False
    warned: bool = True
    settled: bool = False
    seconds: float | None = None

    @property
    def counts(self) -> int:
        """Counts before it."""
        return SHORT_COUNT_IN if self.seconds is not None and self.seconds < SHORT else COUNT_IN

    @property
    def settle(self) -> float:
        """Seconds to get into position."""
        return SETTLE if self.settled else 0.0


Segment = Talk | Pause | Work


def lay(run: Sequence[Segment]) -> Iterator[Event | Horizon]:
    """The segments in time, one after the other; events in no strict order, and after each segment how far they go."""
    now, tail, counted_in = LEAD_IN, 0.0, False
    index = 0
    while index < len(run):
        segment = run[index]
        index += 1
        if isinstance(segment, Pause):
            talks = [ahead(talk) for talk in talks_before_work(run, index)]
            work = _work_after(run, index + len(talks))
            if talks and not _fit_in_rest(segment, talks, tail, work):
                talks, work = [], None  # said when the rest is over
            index += len(talks)
            now = yield from _rest(segment, talks, now, tail, work)
            counted_in, tail = bool(work), 0.0 if work else TONE_SECONDS["end"] + GAP
        elif isinstance(segment, Work):
            if not counted_in:
                now = yield from _count_in(segment.setting, now + tail + segment.settle, segment.counts)
            now = yield from _work(segment, now)
            counted_in, tail = False, TONE_SECONDS["end"] + GAP
        else:
            now = yield from _talk([segment], now + tail)
            tail = 0.0
        yield Horizon(now)


def count_in(setting: Setting) -> tuple[list[Cue], float]:
    """A count-in that stands alone, from 0, and the time at which the work after it starts."""
    counts = [event for event in _count_in(setting, 0.0, COUNT_IN) if isinstance(event, Cue)]
    return counts, _count_seconds(setting, _count_words(setting, COUNT_IN))


def _work_after(run: Sequence[Segment], index: int) -> Work | None:
    """The work that comes here, if that is what comes."""
    segment = run[index] if index < len(run) else None
    return segment if isinstance(segment, Work) else None


def talks_before_work(run: Sequence[Segment], index: int) -> list[Talk]:
    """The talk between here and the next work; none where something else comes first, or a whole round of words."""
    talks: list[Talk] = []
    for segment in run[index:]:
        if isinstance(segment, Talk):
            talks.append(segment)
        else:
            lead_to_it = isinstance(segment, Work) and _turns(talks) <= _turns([segment])
            return talks if lead_to_it else []
    return []


def _turns(segments: Iterable[Segment]) -> set[int]:
    """The rounds, sets and stances that these lie in, as what tells headings apart."""
    headings = (segment.setting.heading for segment in segments)
    paths = (heading.path() for heading in headings if heading)
    return {id(one) for path in paths for one in path if one.part.kind in ("round", "set", "stance")}


def ahead(talk: Talk) -> Talk:
    """The same words, said in a rest about what comes after it."""
    return replace(talk, details=replace(talk.details, ahead=True))


def _talk(talks: Sequence[Talk], at: float) -> Layout:
    for talk in talks:
        cue = talk.setting.cue(at, talk.kind, talk.text, details=talk.details)
        yield cue
        at = cue.end + talk.quiet
    return at


def _talk_seconds(talks: Sequence[Talk]) -> float:
    return sum(talk.setting.seconds(talk.text, 1.0) + talk.quiet for talk in talks)


def _count_words(setting: Setting, counts: int) -> list[str]:
    return [setting.book.number(n) for n in range(counts, 0, -1)]


def _beat(setting: Setting, words: Sequence[str]) -> float:
    """Seconds from count to count of a count-in: one, or more for a slow voice."""
    return max(BEAT, setting.beat_to_beat(words, 1.0))


def _count_in(setting: Setting, at: float, counts: int) -> Layout:
    """Even counts, the first one's sound at `at`; returns the beat after the last, where the work starts."""
    words = _count_words(setting, counts)
    end = at + _count_seconds(setting, words)
    yield from _counts(setting, words, end)
    return end


def _count_seconds(setting: Setting, words: Sequence[str]) -> float:
    """Seconds from the first count's sound to the beat after the last."""
    return setting.beat(words[0], 1.0) + len(words) * _beat(setting, _count_words(setting, COUNT_IN))


def _counts(setting: Setting, words: Sequence[str], end: float) -> Iterator[Event]:
    beat = _beat(setting, _count_words(setting, COUNT_IN))
    for left, word in zip(range(len(words), 0, -1), words, strict=True):
        yield setting.on_beat(end - left * beat, "count", word)


def _rest_words(setting: Setting, seconds: float) -> str:
    return setting.book.say("rest", time=setting.book.time(seconds))


def _fit_in_rest(pause: Pause, talks: Sequence[Talk], tail: float, work: Work | None) -> bool:
    words = pause.setting.seconds(_rest_words(pause.setting, pause.seconds), 1.0) + 2 * GAP
    return tail + words + _talk_seconds(talks) + _before_work(pause.setting, work) <= pause.seconds


def _before_work(setting: Setting, work: Work | None) -> float:
    """Seconds to get into position and to be counted in."""
    counts, settle = (work.counts, work.settle) if work else (COUNT_IN, 0.0)
    return settle + _count_seconds(setting, _count_words(setting, counts))


def _rest(pause: Pause, talks: Sequence[Talk], start: float, tail: float, work: Work | None) -> Layout:
    """A rest from `start`: the announcement, right before its end what comes next, and the count-in as its end."""
    setting = pause.setting
    words = _count_words(setting, work.counts if work else COUNT_IN)
    text = _rest_words(setting, pause.seconds)
    if tail + setting.seconds(text, 1.0) + GAP + _count_seconds(setting, words) > pause.seconds:
        text = setting.book.say("rest_short")
    cue = setting.cue(start + tail, "rest", text)
    yield cue
    free = cue.end + GAP
    if talks:
        late = start + pause.seconds - _before_work(setting, work) - _talk_seconds(talks)
        free = yield from _talk(talks, max(cue.end + 2 * GAP, late))
    room = start + pause.seconds - free + 1e-9
    while len(words) > 1 and _count_seconds(setting, words) > room:
        words = words[1:]
    end = max(start + pause.seconds, free + _count_seconds(setting, words))
    if end > start + pause.seconds + 1e-6:
        yield Advice(
            setting.line, f"the rest of {pause.seconds:g} s is too short for its words", f"it lasts {end - start:.1f} s"
        )
    yield from _counts(setting, words, end)
    yield Span(start, end, "rest", label="rest", line=setting.line, part=setting.part)
    if work is None:
        yield tone(setting, end, "end")
    return end


def _work(work: Work, start: float) -> Layout:
    """One stretch of work: start tone, body, warning, closing tone."""
    setting = work.setting
    yield tone(setting, start, "start")
    body: list[Event] = []
    end = _kept(work.body(setting, start, start + TONE_SECONDS["start"] + GAP), body)
    if work.warned and end - start >= SHORT:
        at, body, end = warned(body, start + TONE_SECONDS["start"], end)
        if at is not None:
            yield tone(setting, at, "warning")
    yield from body
    yield Span(start, end, "work", label=work.label, line=setting.line, part=setting.part)
    yield tone(setting, end, "end")
    return end


def _kept(body: Layout, kept: list[Event]) -> float:
    """Keeps a layer's events; returns its end."""
    while True:
        try:
            kept.append(next(body))
        except StopIteration as stop:
            return float(stop.value)


def tone(setting: Setting, at: float, name: Tone) -> Cue:
    """A tone that starts at `at`."""
    return Cue(at, at + TONE_SECONDS[name], "tone", text="", line=setting.line, part=setting.part, tone=name)
