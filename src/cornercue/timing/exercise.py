"""Exercises: counted on even beats, or timed, in sets."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from cornercue.script.doses import Spacing
from cornercue.script.exercise import Exercise
from cornercue.technique.table import PaceName
from cornercue.timing.pace import rep_seconds
from cornercue.timing.segments import Segment, Talk, Work
from cornercue.timing.sets import doses, in_sets, rest_between
from cornercue.timing.setting import Details, Layout, Setting, fit, too_fast


def segments_of(step: Exercise, setting: Setting) -> Iterator[Segment]:
    """What is done and what to look for, then each set."""
    book = setting.book
    setting = setting.opened(step.exercise, "exercise", points=step.check)
    timed, reps = step.seconds_at(setting.level), step.reps_at(setting.level)
    told = doses(timed, book.time) if timed else doses(reps, book.number)
    for text in (_announced(step, setting), *(() if setting.brief else step.check)):
        yield Talk(setting, text, belongs="next")
    rest = rest_between(step.rest, setting.level, set_seconds(step, setting.level, setting.rep_pace))
    every = step.every.at(setting.level) if step.every else None
    for n, here, before in in_sets(setting, told, rest):
        yield from before
        seconds = timed[n - 1] if timed else None
        body = partial(_timed, seconds) if seconds else partial(_counts, reps=reps[n - 1], every=every, n=n)
        yield Work(here, step.exercise, body, settled=n == 1, seconds=seconds)


def _announced(step: Exercise, setting: Setting) -> str:
    """What is done and how much: all sets where they differ."""
    book = setting.book
    timed, reps = step.seconds_at(setting.level), step.reps_at(setting.level)
    words = [book.time(one) for one in timed] or [book.number(one) for one in reps]
    varied = len(set(words)) > 1
    dose = {"time" if timed else "reps": ", ".join(words) if varied else words[0]}
    phrase = ("timed" if timed else "counted") + ("_each" if varied else "_sets" if len(words) > 1 else "")
    return book.say(phrase, exercise=step.exercise, sets=book.number(len(words)), **dose)


def set_seconds(step: Exercise, level: int, pace: PaceName | float) -> tuple[float, ...]:
    """Seconds of work in each set."""
    rep = rep_seconds(pace)
    every = step.every.at(level) if step.every else Spacing(rep, rep)
    return step.seconds_at(level) or tuple(sum(every.after_each(reps)) for reps in step.reps_at(level))


def _timed(seconds: float, setting: Setting, start: float, ready: float) -> Layout:
    """Work without words, for exactly so long."""
    yield from ()
    return start + seconds


def _counts(setting: Setting, start: float, ready: float, *, reps: int, every: Spacing | None, n: int) -> Layout:
    """Repetitions counted aloud, on beats spaced as asked for, or as near to it as the words allow."""
    words = [setting.count(rep) for rep in range(1, reps + 1)]
    rep_pace = rep_seconds(setting.rep_pace)
    asked = every or Spacing(rep_pace, rep_pace)
    rate, least = fit(lambda rate: setting.beat_to_beat(words, rate), asked.least)
    if least > asked.least:
        yield too_fast(setting, setting.longest(words), asked, least)
    beat = ready + setting.beat(words[0], rate)
    for rep, (word, seconds) in enumerate(zip(words, asked.after_each(reps), strict=True), start=1):
        yield setting.on_beat(beat, "count", word, rate, Details(set=n, rep=rep))
        beat += max(seconds, least)
    return beat
