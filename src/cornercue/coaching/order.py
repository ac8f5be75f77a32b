"""First warm, then new, then fast, then tired, then calm.

*Warm before sharp.* Work at a sharp pace and kicks to head height come after at least a minute of easier exercise. A
session of 20 minutes or more is taken for a whole evening: it begins with five to ten minutes of warm-up (this rule
speaks up below three) and ends with a cool-down, so that nobody goes home out of breath.

What is all-out (sprints, burpees, tuck jumps) is sharp work, too. A stretch that is held makes nobody warm, and from a
minute on it costs strength (Kay and Blazevich 2012, abstract): splits belong to the end.

*New before tired.* What is taught with slow repetitions belongs into the first two thirds of a session. Later the body
learns how to do it badly. So does a strike, a kick, a fall or a word of the club's own that comes for the first time in
the last third: a hint, since it may be known from another day. The punches with a number, everybody knows.

*Warm once, calm once.* A session made of several scripts may bring its warm-up or cool-down along twice: by itself, and
in a drill that includes it, too. That costs minutes, and children who warm up again get cold while they do. What a
`repeat` holds is meant to come again.

*Alone before with a partner.* A defence, an answer or a combination is done in the air before somebody feeds it or
holds pads for it; and up to level 2 each is fed or held for alone, in turn or slowly before they come mixed. A script
that has the partner work first and practises the same alone afterwards has the two the wrong way round. What was learnt
in earlier sessions, this rule cannot know, so it asks for nothing that a script leaves out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from cornercue.coaching.exercises import is_all_out, is_gentle, is_hard, is_stretch, name_of, warms_up
from cornercue.coaching.guard import high_kicks, named_pace
from cornercue.coaching.problem import Problem
from cornercue.coaching.tired import new_when_tired
from cornercue.coaching.traversal import Occurrence, done, includes
from cornercue.durations import lasting
from cornercue.script.exercise import Exercise
from cornercue.script.in_words import named
from cornercue.script.model import Drill
from cornercue.script.pads import Pads
from cornercue.script.partner import Partner
from cornercue.timing.exercise import set_seconds
from cornercue.timing.timeline import Timeline

NAME = "order"
SUMMARY = (
    "no warm-up before sharp or all-out work, no cool-down in a full session, a warm-up or cool-down that comes twice, "
    "new things when tired, partner work before the same was done alone"
)
SOURCE = (
    "a warm-up of 5 to 10 min: NSCA 2009, JSCR 23 S60-S79 (numbers from memory); long stretches: Kay and Blazevich "
    "2012, MSSE 44:154-164 (abstract); the rest is common practice, no source"
)
FAILING = """\
drill: Cold start
level: 8
steps:
- combination: [jab, cross, lead hook]  # here
  pace: sharp
"""
PASSING = """\
drill: Warm start
level: 8
steps:
- exercise: easy skipping
  for: 2 min
- combination: [jab, cross, lead hook]
  pace: sharp
"""

WARM = 60.0
"""Seconds of exercise before sharp work in a short drill."""

FULL_SESSION = 20 * 60.0
WARM_UP = 3 * 60.0
"""Seconds of exercise before the first techniques of a full session below which the rule speaks up. Own choice: well
short of the five minutes."""

MIXED_FROM = 3
"""The level from which a script may mix defences without having had each alone."""


def review(drill: Drill, timeline: Timeline) -> Iterator[Problem]:
    seen = list(done(drill))
    full = timeline.duration >= FULL_SESSION
    yield from _warm_up(seen, timeline.level, full)
    if full:
        yield from _cool_down(seen, timeline.level)
        yield from new_when_tired(drill, seen, timeline, NAME)
    yield from _twice(drill, timeline.level)
    yield from _alone_first(seen, timeline.level)


def _warm_up(seen: Sequence[Occurrence], level: int, full: bool) -> Iterator[Problem]:
    """The first sharp work, or the first work at all in a full session, that comes too soon."""
    warm, stretched = 0.0, ""
    for one in seen:
        step = one.step
        if is_stretch(name_of(step)):
            stretched = f" (“{name_of(step)}” is a stretch, which does not warm)"
        elif isinstance(step, Exercise) and warms_up(step.exercise):
            warm += sum(set_seconds(step, level, one.rep_pace)) * one.times
        elif full and warm < WARM_UP and _is_work(one, level):
            text = f"{lasting(warm)} of warm-up come before this" if warm else "no warm-up comes before this"
            yield Problem(
                one.place.at, NAME, "warning", f"{text}: a full session wants 5 to 10 min",
                "begin with easy exercises, or include a warm-up",
            )  # fmt: skip
            return
        elif warm < WARM and _is_sharp(one, level):
            what = "all-out work" if isinstance(step, Exercise) else "sharp work"
            text = f"this is {what} for cold muscles: too little easy exercise comes before it{stretched}"
            yield Problem(one.place.at, NAME, "warning", text, "put a minute or two of easy exercise first")
            return


def _is_work(one: Occurrence, level: int) -> bool:
    """Whether it is work that wants a warm-up: techniques called at more than a learning pace, rounds."""
    if isinstance(one.step, Exercise):
        return is_hard(one.step.exercise)
    return _is_called(one, level) and named_pace(one.pace) != "learning"


def _is_sharp(one: Occurrence, level: int) -> bool:
    if isinstance(one.step, Exercise):
        return is_all_out(one.step.exercise)
    return _is_called(one, level) and (named_pace(one.pace) == "sharp" or bool(high_kicks(one, level)))


def _is_called(one: Occurrence, level: int) -> bool:
    return any(not practised.held for practised in one.practice(level))


def _cool_down(seen: Sequence[Occurrence], level: int) -> Iterator[Problem]:
    work = [one for one in seen if one.step.non_stop(level) is not None]
    if not work:
        return
    last = work[-1]
    title = last.drill.drill.lower()
    if not is_gentle(name_of(last.step)) and "cool" not in title and "stretch" not in title:
        yield Problem(
            last.place.at, NAME, "warning", "a full session ends here without a cool-down",
            "end with a few minutes of walking and stretching, or include a cool-down",
        )  # fmt: skip


def _twice(drill: Drill, level: int) -> Iterator[Problem]:
    """Warm-ups and cool-downs that are included again, in this script or in one that it includes."""
    before: list[Drill] = []
    for include, place in includes(drill):
        script = include.include.drill  # each file is read once: the same drill is the same file
        times = sum(script is one for one in before)
        before.append(script)
        if times and (what := _easy_part(script, level)):
            within = f", in “{place.include.drill.drill}”" if include is not place else ""
            yield Problem(
                place.at, NAME, "hint",
                f"{what} comes {'a second time' if times == 1 else 'once more'}{within}",
                "leave it out in one of the places",
            )  # fmt: skip


def _easy_part(script: Drill, level: int) -> str:
    """What to call a warm-up, a cool-down, or a script whose steps are all gentle; empty for all else."""
    if named := re.search(r"\b(?:warm|cool)(?:ing)?[- ]?(up|down)\b", script.drill, re.IGNORECASE):
        return "the warm-up" if named[1].lower() == "up" else "the cool-down"
    work = [one.step for one in done(script) if one.step.non_stop(level) is not None]
    gentle = work and all(is_gentle(name_of(step)) for step in work)
    return f"“{script.drill}”, which is gentle throughout," if gentle else ""


def _alone_first(seen: Sequence[Occurrence], level: int) -> Iterator[Problem]:
    """Partner work whose defence or answer is practised alone only afterwards, or mixed too soon."""
    alone, fed = set[object](), set[object]()
    for at, one in enumerate(seen):
        alone |= _practised(one, level)
        if not isinstance(one.step, Partner | Pads):
            continue
        names, answers = _with_helper(one.step)
        later = set[object]().union(*(_practised(after, level) for after in seen[at + 1 :]))
        wanted = {*names, *answers}
        early = [thing for thing in wanted & later if thing not in alone and thing not in fed]
        if early:
            what = sorted(_told(thing, one.step) for thing in early)
            yield Problem(
                _place_of(early, one), NAME, "warning",
                f"{_listed(what)} with a partner before it is done alone, further down",
                "put the work alone before it",
            )  # fmt: skip
        new = [name for name in names if name not in alone and name not in fed]
        walked = isinstance(one.step, Pads) and one.step.teach  # each combination was alone in its walk-through
        if level < MIXED_FROM and len(names) > 1 and one.step.order == "random" and new and not walked:
            yield Problem(
                _place_of(new, one), NAME, "hint",
                f"{_listed(_told(thing, one.step) for thing in new)} mixed at random before it was "
                f"{'fed' if isinstance(one.step, Partner) else 'held for'} alone",
                "begin with a round of one thing only, or with `order: alternate`",
            )  # fmt: skip
        fed |= set(names)


def _with_helper(step: Partner | Pads) -> tuple[Sequence[object], Sequence[object]]:
    """What is called of a student opposite somebody: defences or combinations, and the answers to them."""
    if isinstance(step, Pads):
        return step.pads, ()
    return [weighted.technique.name for weighted in step.partner], tuple(step.answers.combinations())


def _place_of(things: Sequence[object], one: Occurrence) -> tuple[int, int]:
    """Where a single defence or combination stands; the step, where there are several."""
    if len(things) == 1 and one.place is one.step:
        (thing,) = things
        if isinstance(one.step, Partner):
            places = [each.at for each in one.step.partner if each.technique.name == thing]
        else:
            places = [moves[0].at for moves in (one.step.pads if isinstance(one.step, Pads) else ()) if moves == thing]
        return next(filter(None, places), one.place.at)
    return one.place.at


def _told(thing: object, step: Partner | Pads) -> str:
    """What is looked at, as it is spoken of."""
    if isinstance(step, Pads) and isinstance(thing, tuple):
        return f"“{named(thing)}”"
    return thing if isinstance(thing, str) else "the answer"


def _practised(one: Occurrence, level: int) -> set[object]:
    """The defences and whole combinations that a step without a partner practises."""
    if isinstance(one.step, Partner | Pads):
        return set()
    combinations = [practised.moves for practised in one.practice(level)]
    defences = {move.technique.name for moves in combinations for move in moves if move.technique.kind == "defence"}
    return {*combinations, *defences}


def _listed(names: Iterable[str]) -> str:
    """ "parry comes"; "parry, cover and weave each come"."""
    *some, last = dict.fromkeys(names)
    return f"{', '.join(some)} and {last} each come" if some else f"{last} comes"
