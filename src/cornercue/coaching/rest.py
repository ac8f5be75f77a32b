"""Work needs its rest: enough to start the next round fresh, and not so much work that none would do.

The rounds of USA Boxing give the range: 1 min of work at 8 to 12 years, 1.5 min at 13 and 14, 2 min at 15 and 16, 3 min
from 17 on, each with 1 min of rest. So the longest work without a rest is the round of the youngest in the script's age
band, and a rest has the same share of the work before it as there, or a minute.

Sets of strength exercises have a rest between them: a minute suits most children, two or three where it is harder
(Lloyd and others 2014, secondary copy). This rule speaks up below half a minute (or below the length of the set, where
that is shorter). Timed sets are like rounds.

Rounds are shadow boxing, reactions, partner work and pads faster than a learning pace, exercises with a word such as
boxing, bag, rope or round in their name, and whatever is timed in a `repeat`. Easy and slow ones do not count. Calls
that are counted, combinations too, count half, for as long as the timeline has them: after each the student comes back
on guard and waits. Slow repetitions, those of `teach` too, leave time to breathe, and so does the change between such
calls and an exercise.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from cornercue.ages import Ages
from cornercue.coaching.exercises import AGES, is_gentle, is_round, name_of
from cornercue.coaching.expected import stances_of
from cornercue.coaching.guard import named_pace
from cornercue.coaching.problem import Problem
from cornercue.coaching.traversal import Occurrence, own, part_of
from cornercue.durations import lasting
from cornercue.script.exercise import Exercise
from cornercue.script.hold import Hold
from cornercue.script.model import Drill, Include, Repeat
from cornercue.script.pads import Pads
from cornercue.script.partner import Partner
from cornercue.script.rest import Rest
from cornercue.script.step import StepNode
from cornercue.timing.exercise import set_seconds
from cornercue.timing.sets import rest_between
from cornercue.timing.timeline import Timeline

NAME = "rest"
SUMMARY = "work too long without a rest, rests too short for the work or between sets"
SOURCE = (
    "rounds: USA Boxing rule book (secondary copy); sets of juniors: Lloyd and others 2014, "
    "doi:10.1136/bjsports-2013-092952 (secondary copy); the rest is common practice, no source"
)
FAILING = """\
drill: Out of breath
steps:
- exercise: skipping
  for: 1 min
- rest: 20 s  # here
- exercise: skipping
  for: 1 min
"""
PASSING = """\
drill: Fresh again
steps:
- exercise: skipping
  for: 1 min
- rest: 1 min
- exercise: skipping
  for: 1 min
"""

ROUNDS = ((13, 60.0), (15, 90.0), (17, 120.0))
"""Seconds of a round below these years. Under eight there are no bouts: no longer than the shortest."""

ADULT_ROUND = 180.0
"""Seconds from 17 years on."""

ENOUGH = 60.0
"""Seconds of rest that suit any round of the table."""

FINE = 5.0
"""Seconds: nobody counts a rest finer than that."""

WAITING = 0.5
"""Partner work and counted calls count half: between two of them the student waits on guard. Own choice."""

BETWEEN_SETS = 30.0
"""Seconds of rest between sets below which the rule speaks up; half of what suits most children. Own choice."""


@dataclass(frozen=True, slots=True)
class _Stretch:
    """Seconds of hard work in a row, or of rest, with the step that asks for it.

    `work` is what it counts for, `lasts` how long it takes where that is more, `by` what is done. `fresh` work begins
    with talk: time enough to breathe, so that it does not add to the work before it.
    """

    at: tuple[int, int]
    work: float = 0.0
    lasts: float = 0.0
    by: Literal["exercise", "round", "counted calls"] = "round"
    rest: float = 0.0
    fresh: bool = False


def review(drill: Drill, timeline: Timeline) -> Iterator[Problem]:
    yield from dict.fromkeys(_rounds(list(_stretches(drill.steps, drill, timeline, False)), drill))
    for step in own(drill):
        yield from _sets(step, Occurrence(step, drill, step), timeline.level)


def _stretches(steps: Iterable[StepNode], drill: Drill, timeline: Timeline, repeated: bool) -> Iterator[_Stretch]:
    """Work and rests in order. Anything else, such as slow work with its own pauses, parts them: an empty one."""
    level = timeline.level
    for step in steps:
        if isinstance(step, Rest):
            yield _Stretch(step.at, rest=step.rest.at(level))
        elif isinstance(step, Repeat):
            yield from _of_repeat(step, drill, timeline)
        elif isinstance(step, Exercise):
            yield from _of_exercise(step, drill, level, repeated)
        elif seconds := step.non_stop(level):
            fed = isinstance(step, Partner)
            slow = isinstance(step, Partner | Pads) and named_pace(Occurrence(step, drill, step).pace) == "learning"
            work = 0.0 if slow else seconds * len(stances_of(drill)) * (WAITING if fed else 1.0)
            yield _Stretch(step.at, work=work, fresh=fed and not slow)
        elif seconds is not None:
            yield from _of_calls(Occurrence(step, drill, step), timeline)


def _of_calls(seen: Occurrence, timeline: Timeline) -> Iterator[_Stretch]:
    """Calls that are counted: the work and the rests that the timeline has for the first time that they come."""
    step = seen.step
    part = part_of(step.line, timeline)
    if part is None or named_pace(seen.pace) == "learning" or isinstance(step, Hold | Include):
        yield _Stretch(step.at)
        return
    slow = [cue.start for cue in timeline.cues if cue.taught]
    for span in (span for span in timeline.spans if part.start <= span.start < part.end):
        seconds = span.end - span.start
        if span.kind == "rest":
            yield _Stretch(step.at, rest=seconds)
        elif any(span.start <= start < span.end for start in slow):
            yield _Stretch(step.at)
        else:
            yield _Stretch(step.at, work=seconds * WAITING, lasts=seconds, by="counted calls")


def _of_exercise(step: Exercise, drill: Drill, level: int, repeated: bool) -> Iterator[_Stretch]:
    """The sets of a round, or of anything that is not gentle in a repeat; another exercise leaves time to breathe."""
    if is_round(step.exercise) or (repeated and not is_gentle(step.exercise)):
        work = set_seconds(step, level, Occurrence(step, drill, step).rep_pace)
        rests = (0.0, *rest_between(step.rest, level, work))
        for seconds, rest in zip(work, rests, strict=False):
            if rest:
                yield _Stretch(step.at, rest=rest)
            yield _Stretch(step.at, work=seconds, by="exercise")
    else:
        yield _Stretch(step.at)


def _of_repeat(step: Repeat, drill: Drill, timeline: Timeline) -> Iterator[_Stretch]:
    """A repeat with rests as two rounds of it, which are like all others; one without as one long stretch."""
    inner = list(_stretches(step.steps, drill, timeline, step.repeat > 1))
    if not step.rest and all(one.work and not one.fresh for one in inner):
        yield from (replace(one, work=one.work * step.repeat, lasts=one.lasts * step.repeat) for one in inner)
        return
    yield from inner
    if step.repeat > 1:
        if step.rest:
            yield _Stretch(step.at, rest=step.rest.at(timeline.level))
        yield from inner


def longest_round(ages: Ages | None) -> float:
    """Seconds of work without a rest, by the youngest of an age band; None are adults."""
    if ages is None:
        return ADULT_ROUND
    return next((seconds for years, seconds in ROUNDS if ages.youngest < years), ADULT_ROUND)


def _rounds(run: Sequence[_Stretch], drill: Drill) -> Iterator[Problem]:
    ages, both = drill.whom, len(stances_of(drill)) > 1
    who, longest = f"juniors of {ages}" if ages else "adults", longest_round(ages)
    work = lasted = 0.0
    before: _Stretch | None = None  # the work that goes on
    for one, after in pairwise([*run, _Stretch((0, 0))]):
        if one.fresh or (before and {before.by, one.by} == {"exercise", "counted calls"}):
            work = lasted = 0.0
        before = one if one.work else None
        if one.rest:
            need = min(ENOUGH, work * ENOUGH / longest) // FINE * FINE
            if after.work and one.rest < need - 1e-9:
                yield Problem(
                    one.at,
                    NAME,
                    "warning",
                    f"{lasting(one.rest)} of rest after {lasting(lasted)} of work is short for {who}: USA Boxing gives "
                    f"1 min after rounds of {lasting(longest)}",
                    f"rest for {lasting(need)} or more",
                )
            work = lasted = 0.0
        elif one.work:
            work, lasted = work + one.work, lasted + (one.lasts or one.work)
            if work - one.work <= longest < work:
                twice = ", since it comes in both stances" if both and one.work == work else ""
                yield Problem(
                    one.at,
                    NAME,
                    "warning",
                    f"{lasting(lasted)} of work without a rest is long for {who}: a round of USA Boxing lasts "
                    f"{lasting(longest)} at most",
                    f"make it shorter{twice or ', or put a rest of 1 min in between'}{_whose(drill)}",
                )
        else:
            work = lasted = 0.0


def _whose(drill: Drill) -> str:
    """What ends a remedy where it is open whether the script is for the ages that it is taken for."""
    return AGES if drill.junior and drill.ages is None else ""


def _sets(step: StepNode, seen: Occurrence, level: int) -> Iterator[Problem]:
    """Sets of an exercise or a long hold with hardly a rest between them; by the longest set that a rest follows."""
    if not isinstance(step, Exercise | Hold) or step.rest is None:
        return
    if is_gentle(name_of(step)) or (isinstance(step, Exercise) and step.for_ and is_round(step.exercise)):
        return  # rounds are looked at as such
    seconds = set_seconds(step, level, seen.rep_pace) if isinstance(step, Exercise) else step.seconds_at(level)
    rest, work = step.rest.at(level), max(seconds[:-1], default=0.0)
    timed = step.for_ is not None
    need = min(BETWEEN_SETS, work * ENOUGH / longest_round(seen.drill.whom) if timed else work) // FINE * FINE
    if rest >= need - 1e-9:
        return
    what = f"{lasting(rest)} of rest between sets of {lasting(work)} is short"
    usual = "a minute suits most children" if seen.drill.junior else "a minute is usual"
    yield Problem(step.at, NAME, "warning", f"{what}: {usual}", "give it `rest: 1 min`")
