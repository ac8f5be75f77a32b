"""The dose suits the age group, and grows in small steps.

*Strength.* One to three sets of 6 to 15 repetitions are the usual advice for adolescents (Miller, Cheatham and Patel
2010; only the abstract was read). So a set of more than 15 is a warning for juniors, whatever the level: who can do
more does them better or slower. For adults a set of more than 35 is a hint, and a warning above twice that. More than
three such sets of one exercise in a session is a hint, and a warning above twice as many: an exercise without weights
may be light.

*Steps.* Where a script asks for repetitions per level, the next level asks for more at once. About a tenth at a time is
common practice. Within the dose a larger step has months to be climbed; where it leads beyond the dose, this rule gives
a hint.

*Time.* Attention goes before strength does. Half an hour is long for juniors of the first two levels, an hour for any
of them, an hour and a half for adults; ten minutes are long for one thing. These are common practice, no source.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from cornercue.coaching.exercises import ADULTS, is_strength
from cornercue.coaching.problem import Problem, Severity
from cornercue.coaching.traversal import Occurrence, done
from cornercue.durations import lasting
from cornercue.script.exercise import Exercise
from cornercue.script.fields import Amount
from cornercue.script.model import Drill
from cornercue.timing.timeline import Part, Timeline

NAME = "dose"
SUMMARY = (
    "strength work above the age group's dose, steps of more than a tenth from level to level, sessions too long for "
    "the age group"
)
SOURCE = (
    "one to three sets of 6 to 15: Miller, Cheatham and Patel 2010, doi:10.1016/j.pcl.2010.02.009 (abstract; "
    "co-authors from memory); the rest is common practice, no source"
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
  reps: 8
  sets: 3
  rest: 1 min
"""

MOST_IN_A_SET = {True: 15, False: 35}
"""Repetitions in a set, for juniors and for adults, whatever the level. For juniors the top of 6 to 15. For adults: 36
push-ups are what the table of ACSM and CSEP (secondary copy) calls excellent for men of 20 to 29 years; there is no
need for more at home."""

SETS = 3
"""Sets of one exercise in a session: the top of one to three."""

STEP = 0.1
"""From level to level, as a share: common practice, no source."""

LONG_FOR_BEGINNERS = 30 * 60.0
LONG = {True: 60 * 60.0, False: 90 * 60.0}
"""Seconds of a session, for juniors and for adults: common practice, no source, as is the half hour for beginners."""

LONG_FOR_ONE_THING = 10 * 60.0
"""Seconds that juniors do one thing: common practice, no source."""


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
        reps, most = step.reps.at(level), MOST_IN_A_SET[drill.junior]
        name = step.exercise.lower()
        before, asked[name] = asked[name], asked[name] + reps * step.sets * one.times
        if reps > most:
            yield Problem(
                one.place.at, NAME, "warning" if drill.junior else _severity(reps / most),
                f"{reps} {step.exercise} in a set are many for {_who(drill)}: up to {most} are usual",
                f"ask for {most} or fewer",
            )  # fmt: skip
        elif before <= SETS * most < asked[name]:
            yield Problem(
                one.place.at, NAME, _severity(asked[name] / SETS / most),
                f"{asked[name]} {step.exercise} are more than three sets of {most}, the dose of {_who(drill)}",
                "take sets or repetitions away",
            )  # fmt: skip
        else:
            yield from _next_level(one, step, step.reps, level, drill.junior)


def _severity(times: float) -> Severity:
    """Somewhat more than the dose is a hint: an exercise may be light. Twice as much is a warning."""
    return "warning" if times > 2 else "hint"


def _who(drill: Drill) -> str:
    return "juniors" if drill.junior else "adults"


def _next_level(one: Occurrence, step: Exercise, reps: Amount, level: int, junior: bool) -> Iterator[Problem]:
    """What the same script asks for one level higher."""
    now, then = reps.at(level), reps.at(level + 1)
    if then > MOST_IN_A_SET[junior] and then > now * (1 + STEP):
        yield Problem(
            one.place.at, NAME, "hint",
            f"from level {level} to {level + 1} a set of {step.exercise} grows from {now} to {then}, by "
            f"{(then - now) / now:.0%}: a tenth is usual",
            f"let the first weeks of the new level do {round(now * (1 + STEP))}, or write the number for this level",
        )  # fmt: skip


def _whole(drill: Drill, timeline: Timeline) -> Iterator[Problem]:
    if timeline.duration > LONG[drill.junior]:
        text = f"{lasting(timeline.duration)} is long for {_who(drill)}: {lasting(LONG[drill.junior])} is usual at most"
        yield Problem(drill.at, NAME, "warning", text, f"make two sessions of it{ADULTS if drill.junior else ''}")
    elif drill.junior and timeline.level <= 2 and timeline.duration > LONG_FOR_BEGINNERS:
        text = f"{lasting(timeline.duration)} is long for juniors of level {timeline.level}: attention goes first"
        yield Problem(drill.at, NAME, "hint", text, "keep it to half an hour, with something playful at the end")


def _one_thing(drill: Drill, timeline: Timeline) -> Iterator[Problem]:
    """Steps that go on and on. Repeats and includes hold several things, so they are left out."""
    for part in timeline.parts:
        seconds = _without_rest_after(part, timeline)
        if drill.junior and seconds > LONG_FOR_ONE_THING and part.kind not in ("repeat", "include"):
            at = next(step.at for step in drill.steps if step.line == part.line)
            text = f"this goes on for {lasting(seconds)}, which is long for juniors to do one thing"
            yield Problem(at, NAME, "hint", text, "make it shorter, or put something else in between")


def _without_rest_after(part: Part, timeline: Timeline) -> float:
    """The seconds of a part up to a rest that a step of its own asks for."""
    rests = (span.start for span in timeline.spans if span.kind == "rest" and span.line != part.line)
    return min([part.end, *(start for start in rests if start > part.start)]) - part.start
