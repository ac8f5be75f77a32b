"""Exercises: counted on even beats, or timed, in sets."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from cornercue.script.exercise import Exercise
from cornercue.technique.table import PaceName
from cornercue.timing.pace import rep_seconds, rest_for
from cornercue.timing.segments import Segment, Talk, Work
from cornercue.timing.sets import in_sets
from cornercue.timing.setting import Details, Layout, Setting, fit, too_fast


def segments_of(step: Exercise, setting: Setting) -> Iterator[Segment]:
    """What is done and what to look for, then each set."""
    book = setting.book
    setting = setting.opened(step.exercise, "exercise", points=step.check)
    reps = step.reps.at(setting.level) if step.reps else 0
    dose = {"time": book.time(step.for_)} if step.for_ else {"reps": book.number(reps)}
    phrase = ("timed" if step.for_ else "counted") + ("_sets" if step.sets > 1 else "")
    words = book.say(phrase, exercise=step.exercise, sets=book.number(step.sets), **dose)
    for text in (words, *(() if setting.brief else step.check)):
        yield Talk(setting, text, belongs="next")
    rest = step.rest or rest_for(setting.level, set_seconds(step, setting.level, setting.rep_pace))
    for n, here, before in in_sets(setting, step.sets, rest):
        yield from before
        body = partial(_timed, step.for_) if step.for_ else partial(_counts, reps=reps, every=step.every, n=n)
        yield Work(here, step.exercise, body, settled=n == 1, seconds=step.for_)


def set_seconds(step: Exercise, level: int, pace: PaceName | float) -> float:
    """Seconds of work in one set."""
    if step.for_:
        return step.for_
    reps = step.reps.at(level) if step.reps else 0
    return reps * (step.every or rep_seconds(pace))


def _timed(seconds: float, setting: Setting, start: float, ready: float) -> Layout:
    """Work without words, for exactly so long."""
    yield from ()
    return start + seconds


def _counts(setting: Setting, start: float, ready: float, *, reps: int, every: float | None, n: int) -> Layout:
    """Repetitions counted aloud, on even beats, at the pace asked for or as near to it as the words allow."""
    words = [setting.count(rep) for rep in range(1, reps + 1)]
    asked = every or rep_seconds(setting.rep_pace)
    rate, interval = fit(lambda rate: setting.beat_to_beat(words, rate), asked)
    if interval > asked:
        yield too_fast(setting, setting.longest(words), asked, interval)
    first = ready + setting.beat(words[0], rate)
    for rep, word in enumerate(words, start=1):
        yield setting.on_beat(first + (rep - 1) * interval, "count", word, rate, Details(set=n, rep=rep))
    return first + reps * interval
