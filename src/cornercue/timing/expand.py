"""Drill to timeline: the one function that the rest of the program asks for times."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from cornercue.script.model import Drill
from cornercue.timing.faults import TooLong
from cornercue.timing.phrasebook import phrasebook
from cornercue.timing.safety import cautions
from cornercue.timing.segments import Segment, Talk, lay
from cornercue.timing.setting import GAP, Beats, Event, Request, Seconds, Setting, no_beat
from cornercue.timing.steps import drill_setting, segments_of
from cornercue.timing.timeline import Advice, Cue, Span, Timeline

LONGEST = 6 * 3600.0
SHORTEST = 2 * GAP
"""No segment takes less time (s): a phrase is followed by this much silence; rest and work are longer."""


def expand(drill: Drill, request: Request, seconds: Seconds, beat: Beats = no_beat) -> Timeline:
    """Lay a drill out in time.

    Pure: the same drill, request and speech lengths give the same timeline. `seconds(text, rate)` tells how
    long a phrase takes to say, `beat(text, rate)` how long after its start it is heard to fall. Raises `TimingFault`.
    """
    cues: list[Cue] = []
    spans: list[Span] = []
    advice: list[Advice] = []
    setting = _opening_setting(drill, request, seconds, beat)
    if setting.level < drill.level:
        advice.append(
            Advice(1, f"this drill is for level {drill.level} and above; it is played at level {setting.level}")
        )
    for event in _bounded(lay(_counted(_segments(drill, setting)))):
        match event:
            case Cue():
                cues.append(event)
            case Span():
                spans.append(event)
            case Advice():
                advice.append(event)
    cues.sort(key=lambda cue: cue.start)
    spans.sort(key=lambda span: span.start)
    return Timeline(
        drill.drill,
        setting.level,
        request.seed,
        request.voice,
        max(cue.end for cue in cues),
        tuple(cues),
        tuple(spans),
        tuple(dict.fromkeys(advice)),
    )


def _opening_setting(drill: Drill, request: Request, seconds: Seconds, beat: Beats) -> Setting:
    setting = Setting(
        request,
        request.level or drill.level,
        ("orthodox",),
        "orthodox",
        "steady",
        False,
        phrasebook(),
        seconds,
        block=0,
        line=1,
        beat=beat,
    )
    return drill_setting(drill, setting)


def _segments(drill: Drill, setting: Setting) -> Iterator[Segment]:
    book = setting.book
    for text in cautions(drill, book):
        yield Talk(setting, text)
    yield Talk(setting, book.say("opening", title=drill.drill, level=book.number(setting.level)))
    if drill.gear:
        yield Talk(setting, book.say("gear", things=book.listed(drill.gear)))
    for block, step in enumerate(drill.steps):
        setting = replace(setting, block=block).at(step)
        yield from segments_of(step, setting)
    yield Talk(setting, book.say("finish"))


def _counted(segments: Iterator[Segment]) -> Iterator[Segment]:
    """Stops repeats within repeats before they fill the memory: so many segments cannot fit in six hours."""
    for count, segment in enumerate(segments):
        if count * SHORTEST > LONGEST:
            raise TooLong(segment.setting.line)
        yield segment


def _bounded(events: Iterator[Event]) -> Iterator[Event]:
    for event in events:
        if not isinstance(event, Advice) and event.end > LONGEST:
            raise TooLong(event.line)
        yield event
