"""The dose suits the age group, from the lowest level of a script to the last.

*Strength.* One to three sets of 6 to 15 repetitions are the usual advice for adolescents (Miller, Cheatham and Patel
2010; only the abstract was read). So a set of more than 15 is a warning for juniors, whatever the level: who can do
more does them better or slower. For adults a set of more than 35 is a hint, and a warning above twice that. More than
three such sets of one exercise in a session is a hint, and a warning above twice as many: an exercise without weights
may be light. A timed set counts as one repetition in 3 s, the cadence of FitnessGram (secondary copy).

*Levels.* What a script asks for per level is looked at for every level from its own to the last, and told for the first
that passes the dose. Steps within the dose have months to be climbed.

*Jumps.* Programmes for children of 5 to 14 began with 50 to 60 jumps a session, twice a week (Johnson, Salzberg and
Stevenson 2011; only the abstract was read). So more than 60 counted jumps and burpees are a hint for juniors.

*Ages.* An included script for older people has rounds and doses for them.

*Time.* Attention goes before strength does. Half an hour is long for juniors of the first two levels, an hour for any
of them, an hour and a half for adults; ten minutes are long for one thing. These are common practice, no source.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from cornercue.coaching.exercises import ADULTS, is_jump, is_strength
from cornercue.coaching.problem import Problem, Severity
from cornercue.coaching.traversal import done, own
from cornercue.durations import lasting
from cornercue.script.amount import MAX_LEVEL
from cornercue.script.exercise import Exercise
from cornercue.script.model import Drill, Include
from cornercue.timing.timeline import Part, Timeline

NAME = "dose"
SUMMARY = (
    "strength work or jumps above the age group's dose, at the script's level or a higher one; included scripts for "
    "older people; sessions too long for the age group"
)
SOURCE = (
    "one to three sets of 6 to 15: Miller, Cheatham and Patel 2010, doi:10.1016/j.pcl.2010.02.009 (abstract; "
    "co-authors from memory); one in 3 s: FitnessGram (secondary copy); 60 jumps: Johnson, Salzberg and Stevenson 2011 "
    "(abstract); the rest is common practice, no source"
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

JUMPS = 60
"""Jumps of juniors in a session: the upper end of the first weeks of those programmes."""

CADENCE = 3.0
"""Seconds of a timed set that count as a repetition."""

LONG_FOR_BEGINNERS = 30 * 60.0
LONG = {True: 60 * 60.0, False: 90 * 60.0}
"""Seconds of a session, for juniors and for adults: common practice, no source, as is the half hour for beginners."""

LONG_FOR_ONE_THING = 10 * 60.0
"""Seconds that juniors do one thing: common practice, no source."""


def review(drill: Drill, timeline: Timeline) -> Iterator[Problem]:
    yield from _strength(drill)
    if drill.junior:
        yield from _jumps(drill)
    yield from _included(drill)
    yield from _whole(drill, timeline)
    yield from _one_thing(drill, timeline)


def _strength(drill: Drill) -> Iterator[Problem]:
    """The first level at which a set, or all sets of an exercise together, are more than the dose."""
    most, who = MOST_IN_A_SET[drill.junior], _who(drill)
    asked: dict[tuple[str, int], int] = defaultdict(int)
    told = set[str]()
    for one in done(drill):
        step = one.step
        if not isinstance(step, Exercise) or not is_strength(step.exercise):
            continue
        name = step.exercise.lower()
        for level in range(drill.level, MAX_LEVEL + 1):
            sets, at_level = _repetitions(step, level), _at_level(level, drill)
            reps = max(sets)
            asked[name, level] += sum(sets) * one.times
            if reps > most:
                yield Problem(
                    one.place.at, NAME, "warning" if drill.junior else _severity(reps / most),
                    f"{_of_set(step, reps, level)} in a set are many for {who}{at_level}: up to {most} are usual",
                    _fewer(step, most, level > drill.level, drill.level),
                )  # fmt: skip
                break
            if asked[name, level] > SETS * most and name not in told:
                told.add(name)
                yield Problem(
                    one.place.at, NAME, _severity(asked[name, level] / SETS / most),
                    f"{asked[name, level]} {step.exercise}{at_level} are more than three sets of {most}, "
                    f"the dose of {who}",
                    "take sets or repetitions away",
                )  # fmt: skip


def _repetitions(step: Exercise, level: int) -> tuple[int, ...]:
    """Of each set; a timed one as if counted."""
    return step.reps_at(level) or tuple(int(seconds / CADENCE) for seconds in step.seconds_at(level))


def _of_set(step: Exercise, reps: int, level: int) -> str:
    if step.reps:
        return f"{reps} {step.exercise}"
    return f"{lasting(max(step.seconds_at(level)))} of {step.exercise}, some {reps},"


def _fewer(step: Exercise, most: int, at_a_higher_level: bool, first: int) -> str:
    if not step.reps:
        return f"ask for {lasting(most * CADENCE)} or less"
    if at_a_higher_level and len(step.reps_at(first)) == 1:
        return f"write `{min(step.reps_at(first)[0], most)} to {most}`: so many at the first level and at the last"
    return f"ask for {most} or fewer"


def _at_level(level: int, drill: Drill) -> str:
    return f" at {drill.level_words(level)}" if level > drill.level else ""


def _jumps(drill: Drill) -> Iterator[Problem]:
    """The step with which the counted jumps of a session become many at the script's own level."""
    jumps = 0
    for one in done(drill):
        step = one.step
        if isinstance(step, Exercise) and step.reps and is_jump(step.exercise):
            before, jumps = jumps, jumps + sum(step.reps_at(drill.level)) * one.times
            if before <= JUMPS < jumps:
                text = f"{jumps} jumps are many for juniors in a session: programmes for children began with {JUMPS}"
                yield Problem(one.place.at, NAME, "hint", text, f"ask for {JUMPS} or fewer in all{ADULTS}")


def _included(drill: Drill) -> Iterator[Problem]:
    """Included scripts that are for people older than the youngest whom this drill is for."""
    for step in own(drill):
        if isinstance(step, Include) and drill.whom:
            other = step.include.drill
            if other.whom is None or (other.ages and other.ages.youngest > drill.whom.youngest):
                theirs = f"juniors of {other.whom}" if other.whom else "adults"
                text = f"«{other.drill}» is for {theirs}, and this drill for juniors of {drill.whom}"
                yield Problem(step.at, NAME, "warning", text, f"include another, or write `{_same(other)}` at the top")


def _same(other: Drill) -> str:
    return f"ages: {other.whom}" if other.whom else "junior: no"


def _severity(times: float) -> Severity:
    """Somewhat more than the dose is a hint: an exercise may be light. Twice as much is a warning."""
    return "warning" if times > 2 else "hint"


def _who(drill: Drill) -> str:
    return "juniors" if drill.junior else "adults"


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
