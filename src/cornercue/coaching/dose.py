"""The dose suits the level, and grows in small steps.

*Strength.* The National Strength and Conditioning Association has young people do one to three sets of 6 to 15
repetitions. With the levels it grows: five for each level is a dose that many clubs use, so from level 4 on a set may
be that long, and for adults 35 at any level. More than three such sets of one exercise is more than the level's dose.
This rule gives a hint, and a warning above twice the dose: an exercise without weights may be light.

*Steps.* Where a script asks for repetitions per level, the next level asks for more at once. About a tenth at a time is
the usual advice. Within the level's dose a larger step has months to be climbed; where it leads beyond the dose of the
next level, this rule gives a hint.

*Time.* Attention goes before strength does. Half an hour is long for juniors of the first two levels, an hour for any
of them (the World Health Organization asks for an hour of activity on average for a whole day), an hour and a half for
adults; ten minutes are long for one thing.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from cornercue.coaching.exercises import ADULTS, is_strength, minutes
from cornercue.coaching.problem import Problem, Severity
from cornercue.coaching.walk import Seen, done
from cornercue.script.fields import Amount
from cornercue.script.model import Drill, Include, Repeat
from cornercue.script.solo import Exercise
from cornercue.timing.blocks import block_starts
from cornercue.timing.timeline import Timeline

NAME = "dose"
SUMMARY = (
    "strength work above the level's dose, steps of more than a tenth from level to level, sessions too long for the "
    "age group"
)
SOURCE = (
    "sets of 6 to 15: NSCA 2009, JSCR 23 S60-S79 (numbers from memory); an hour a day: WHO 2020, "
    "doi:10.1186/s12966-020-01037-z; the rest is common practice, no source"
)
FAILING = """\
drill: Too many
level: 2
steps:
- exercise: push-ups  # here
  reps: 25
  sets: 2
  rest: 1 min
"""
PASSING = """\
drill: Enough
level: 2
steps:
- exercise: push-ups
  reps: 5 per level
  sets: 3
  rest: 1 min
"""

MOST_IN_A_SET = {True: 15, False: 35}
"""Repetitions in a set, for juniors and for adults, whatever the level. For adults: 36 push-ups are what the table of
ACSM and CSEP (secondary copy) calls excellent for men of 20 to 29 years; there is no need for more at home."""

PER_LEVEL = 5
SETS = 3
STEP = 0.1

LONG_FOR_BEGINNERS = 30 * 60.0
LONG = {True: 60 * 60.0, False: 90 * 60.0}
LONG_FOR_ONE_THING = 10 * 60.0


def review(drill: Drill, timeline: Timeline) -> Iterator[Problem]:
    yield from _strength(drill, timeline.level)
    yield from _whole(drill, timeline)
    yield from _one_thing(drill, timeline)


def _strength(drill: Drill, level: int) -> Iterator[Problem]:
    asked: dict[str, int] = defaultdict(int)
    for one in done(drill):
        step = one.step
        if not isinstance(step, Exercise) or step.reps is None or not is_strength(step.exercise):
            continue
        reps, most = step.reps.at(level), most_in_a_set(level, drill.junior)
        name = step.exercise.lower()
        before, asked[name] = asked[name], asked[name] + reps * step.sets * one.times
        if reps > most:
            yield Problem(
                *one.place.at, NAME, _severity(reps / most),
                f"{reps} {step.exercise} in a set are many for level {level}: 6 to 15 (NSCA), or {PER_LEVEL} a level",
                f"ask for {most} or fewer",
            )  # fmt: skip
        elif before <= SETS * most < asked[name]:
            yield Problem(
                *one.place.at, NAME, _severity(asked[name] / SETS / most),
                f"{asked[name]} {step.exercise} are more than three sets of {most}, the dose of level {level}",
                "take sets or repetitions away",
            )  # fmt: skip
        else:
            yield from _next_level(one, step, step.reps, level, drill.junior)


def _severity(times: float) -> Severity:
    """Somewhat more than the dose is a hint: an exercise may be light. Twice as much is a warning."""
    return "warning" if times > 2 else "hint"


def most_in_a_set(level: int, junior: bool) -> int:
    """The most repetitions of a strength exercise in one set."""
    return max(MOST_IN_A_SET[junior], PER_LEVEL * level)


def _next_level(one: Seen, step: Exercise, reps: Amount, level: int, junior: bool) -> Iterator[Problem]:
    """What the same script asks for one level higher."""
    now, then = reps.at(level), reps.at(level + 1)
    if then > most_in_a_set(level + 1, junior) and then > now * (1 + STEP):
        yield Problem(
            *one.place.at, NAME, "hint",
            f"from level {level} to {level + 1} a set of {step.exercise} grows from {now} to {then}, by "
            f"{(then - now) / now:.0%}: a tenth is usual",
            f"let the first weeks of the new level do {round(now * (1 + STEP))}, or write the number for this level",
        )  # fmt: skip


def _whole(drill: Drill, timeline: Timeline) -> Iterator[Problem]:
    who = "juniors" if drill.junior else "adults"
    if timeline.duration > LONG[drill.junior]:
        text = f"{minutes(timeline.duration)} is long for {who}: {minutes(LONG[drill.junior])} is usual at most"
        yield Problem(*drill.at, NAME, "warning", text, f"make two sessions of it{ADULTS if drill.junior else ''}")
    elif drill.junior and timeline.level <= 2 and timeline.duration > LONG_FOR_BEGINNERS:
        text = f"{minutes(timeline.duration)} is long for juniors of level {timeline.level}: attention goes first"
        yield Problem(*drill.at, NAME, "hint", text, "keep it to half an hour, with something playful at the end")


def _one_thing(drill: Drill, timeline: Timeline) -> Iterator[Problem]:
    """Steps that go on and on. Repeats and includes hold several things, so they are left out."""
    starts = [*block_starts(timeline), timeline.duration]
    for step, start, end in zip(drill.steps, starts, starts[1:], strict=False):
        if drill.junior and end - start > LONG_FOR_ONE_THING and not isinstance(step, Repeat | Include):
            text = f"this goes on for {minutes(end - start)}, which is long for juniors to do one thing"
            yield Problem(*step.at, NAME, "hint", text, "make it shorter, or put something else in between")
