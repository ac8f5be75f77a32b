"""Drill to timeline: the one function that the rest of the program asks for times."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cache

from cornercue.script.model import Drill
from cornercue.timing.faults import TimingFault, TooLong
from cornercue.timing.numbering import numbered
from cornercue.timing.pace import usual_pace
from cornercue.timing.parts import Heading, tree
from cornercue.timing.person import Trainee
from cornercue.timing.phrasebook import phrasebook
from cornercue.timing.safety import audience, cautions
from cornercue.timing.segments import Segment, Talk, Work, count_in, lay
from cornercue.timing.setting import GAP, BeatSeconds, Event, Horizon, Request, Setting, SpokenSeconds, no_beat
from cornercue.timing.steps import drill_setting, segments_of
from cornercue.timing.timeline import Advice, Cue, Part, Span, Timeline

LONGEST = 6 * 3600.0
GROWTH = 1.25
"""How many times as long a beginning is as the one before: copying them all stays cheap."""

SHORTEST = 2 * GAP
"""No segment takes less time (s): a phrase is followed by this much silence; rest and work are longer."""


def expand(drill: Drill, request: Request, seconds: SpokenSeconds, beat: BeatSeconds = no_beat) -> Timeline:
    """Lay a drill out in time.

    Pure: the same drill, request and speech lengths give the same timeline. `seconds(text, rate)` tells how
    long a phrase takes to say, `beat(text, rate)` how long after its start it is heard to fall. Raises `TimingFault`.
    """
    setting = _opening_setting(drill, request, seconds, beat)
    run, headings = _run(drill, setting)
    *_, (found, duration) = _growing(drill, setting, run)
    return _timeline(drill, setting, found, duration, headings)


def unfold(drill: Drill, request: Request, seconds: SpokenSeconds, beat: BeatSeconds = no_beat) -> Iterator[Timeline]:
    """The timeline as it becomes known: longer and longer beginnings of it, the last one whole.

    A beginning's `duration` is how far it goes; nothing that sounds before then is missing from it, and the last of its
    parts may go on. The lengths of later phrases are not asked for before it is given. Raises `TimingFault`.
    """
    setting = _opening_setting(drill, request, seconds, beat)
    run, headings = _run(drill, setting)
    for found, duration in _growing(drill, setting, run):
        yield _timeline(drill, setting, found, duration, headings)


def outline(drill: Drill, request: Request) -> tuple[Part, ...]:
    """The parts that a drill will have, before anything has a time: all start and end at 0. Raises `TimingFault`.

    They are the same in every voice.
    """
    _, headings = _run(drill, _opening_setting(drill, request, lambda text, rate: 0.0, no_beat))
    return tree(headings, dict.fromkeys(range(len(headings)), 0.0), 0.0)


def _run(drill: Drill, setting: Setting) -> tuple[list[Segment], list[Heading]]:
    """All segments of a drill in order, and the headings of its finest parts."""
    return numbered(list(_said_once(_counted(_segments(drill, setting)))))


def _growing(drill: Drill, setting: Setting, run: Sequence[Segment]) -> Iterator[tuple[list[Event], float]]:
    """What has been laid out so far, and how far that goes; the last time all of it."""
    found: list[Event] = []
    if setting.level < drill.level:
        found.append(
            Advice(
                1,
                f"this drill is for {drill.level_words(drill.level)} and above",
                f"it is played at {drill.level_words(setting.level)}",
            )
        )
    given = 0.0
    for event in _bounded(lay(run)):
        if not isinstance(event, Horizon):
            found.append(event)
        elif event.at > given * GROWTH:
            given = event.at
            yield found, given
    yield found, max(event.end for event in found if isinstance(event, Cue))


def _timeline(
    drill: Drill, setting: Setting, events: Iterable[Event], duration: float, headings: Sequence[Heading] = ()
) -> Timeline:
    cues = sorted((event for event in events if isinstance(event, Cue)), key=lambda cue: cue.start)
    spans = sorted((event for event in events if isinstance(event, Span)), key=lambda span: span.start)
    advice = dict.fromkeys(event for event in events if isinstance(event, Advice))
    request = setting.request
    starts: dict[int, float] = {}
    for cue in cues:
        starts.setdefault(cue.part, cue.start)
    parts = tree(headings, starts, duration) if headings else ()
    return Timeline(
        drill.drill,
        setting.level,
        request.seed,
        voice=request.voice,
        duration=duration,
        cues=tuple(cues),
        spans=tuple(spans),
        advice=tuple(advice),
        parts=parts,
        ages=setting.person.ages,
        level_name=drill.levels.get(setting.level),
    )


def counted_in(drill: Drill, request: Request, seconds: SpokenSeconds, beat: BeatSeconds = no_beat) -> Timeline:
    """A count-in alone, for whoever comes back from a pause; work goes on at its end."""
    setting = _opening_setting(drill, request, seconds, beat)
    cues, end = count_in(setting)
    return _timeline(drill, setting, cues, end)


def _opening_setting(drill: Drill, request: Request, seconds: SpokenSeconds, beat: BeatSeconds) -> Setting:
    if request.ages and not drill.junior:
        raise TimingFault(1, "this drill is for adults (`junior: no`), so it takes no ages of juniors")
    person = Trainee(request.ages or drill.whom)
    setting = Setting(
        request,
        request.level or drill.level,
        ("orthodox",),
        written="orthodox",
        pace=usual_pace(drill, request.level),
        numbers=False,
        book=phrasebook(),
        seconds=cache(lambda text, rate: seconds(text, person.rate(rate))),  # the same phrases are asked for often
        line=1,
        beat=cache(lambda text, rate: beat(text, person.rate(rate))),
        person=person,
    )
    return drill_setting(drill, replace(setting, whom=audience(drill)))


def _segments(drill: Drill, setting: Setting) -> Iterator[Segment]:
    book = setting.book
    for text in cautions(drill, book):
        yield Talk(setting, text, belongs="next")
    level = drill.levels.get(setting.level) or book.say("level", level=book.number(setting.level))
    yield Talk(setting, book.say("opening", title=drill.drill, level=level), belongs="next")
    if drill.gear:
        yield Talk(setting, book.say("gear", things=book.listed(drill.gear)), belongs="next")
    for number, step in enumerate(drill.steps):
        setting = replace(setting, place=f"{number}/").at(step)
        yield from segments_of(step, setting)
    yield Talk(setting, book.say("finish"), belongs="last")


def _said_once(segments: Iterable[Segment]) -> Iterator[Segment]:
    """The segments without what was explained or walked through before."""
    said: set[str] = set()
    for segment in segments:
        if isinstance(segment, Talk | Work) and segment.once:
            words = segment.text if isinstance(segment, Talk) else segment.label
            if words in said:
                continue
            said.add(words)
        yield segment


def _counted(segments: Iterator[Segment]) -> Iterator[Segment]:
    """Stops repeats within repeats before they fill the memory: so many segments cannot fit in six hours."""
    for count, segment in enumerate(segments):
        if count * SHORTEST > LONGEST:
            raise TooLong(segment.setting.line)
        yield segment


def _bounded(events: Iterator[Event | Horizon]) -> Iterator[Event | Horizon]:
    for event in events:
        if isinstance(event, Cue | Span) and event.end > LONGEST:
            raise TooLong(event.line)
        yield event
