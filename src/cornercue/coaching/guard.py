"""Calls leave time to come back on guard, and nothing goes higher than the level or the age allows.

*Time.* A random call may come any moment once the student is back on guard. Where the longest gap is hardly longer than
that, the calls come like a clock: nobody waits on guard, the next one is guessed. And a partner never feeds faster than
the student can defend: a learning pace up to level 3, a steady one up to level 7.

*Height.* Answers go into the air: the program has the feeder step back before any of them. The American Academy of
Pediatrics and the Canadian Paediatric Society oppose boxing for young people because it rewards blows to the head.
Kicks to head height come when balance and hips are ready for them, which here is level 6; until then the same kick goes
to the body.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cornercue.coaching.problem import Problem
from cornercue.coaching.traversal import Occurrence, own
from cornercue.script.model import Drill
from cornercue.script.pads import Pads
from cornercue.script.partner import Partner
from cornercue.script.react import React
from cornercue.script.shadow import Shadow
from cornercue.technique.move import Move
from cornercue.technique.sides import sided
from cornercue.technique.table import PACES, PaceName
from cornercue.timing.calls import doing
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.exchange import done_after, said_after
from cornercue.timing.pace import MOVE, pace_for, to_guard
from cornercue.timing.person import Trainee
from cornercue.timing.phrasebook import phrasebook
from cornercue.timing.timeline import Cue, Timeline

NAME = "guard"
SUMMARY = "random gaps that leave no time on guard; partner work too fast for the level; kicks above the level's height"
SOURCE = (
    "blows to the head: AAP and CPS 2011, doi:10.1542/peds.2011-1165 (abstract); paces, gaps and kick heights: common "
    "practice, no source"
)
FAILING = """\
drill: Like a clock
pace: learning
steps:
- partner: parry  # here
  reps: 6
  gap: [7 s, 7.5 s]
"""
PASSING = """\
drill: Any moment
pace: learning
steps:
- partner: parry
  reps: 6
  gap: [7 s, 12 s]
"""

LEAST_ROOM = 1.0
"""Seconds that the longest gap should be longer than what the longest call needs. Where a script gives no gap, it is
2 to 3 s longer (`timing.calls.ROOM`)."""

HIGH_KICKS_FROM = 6
"""The level from which kicks go to head height."""


def review(drill: Drill, timeline: Timeline) -> Iterator[Problem]:
    for step in own(drill):
        seen = Occurrence(step, drill, step)
        for move, text, remedy in _too_high(seen, timeline.level):
            yield Problem(seen.place_of(move), NAME, "warning", text, remedy)
        if isinstance(step, Pads | Partner | React | Shadow) and step.gap:
            yield from _gap(step, seen, timeline)
        if isinstance(step, Pads | Partner):
            yield from _too_fast(step, seen, timeline.level)


def high_kicks(seen: Occurrence, level: int) -> tuple[Move, ...]:
    """The kicks to head height that the student throws or holds in a step, once each."""
    moves = (move for one in seen.practice(level) for move in one.moves)
    return tuple(
        dict.fromkeys(move for move in moves if move.technique.kind == "kick" and move.technique.height == "head")
    )


def _too_high(seen: Occurrence, level: int) -> Iterator[tuple[Move, str, str]]:
    for move in high_kicks(seen, level):
        lower = f"aim lower: `{move.technique.name.replace('high ', '')}`"
        if level < HIGH_KICKS_FROM:
            yield move, f"a {move.technique.base} is above the height for level {level}", lower
        elif seen.drill.junior and isinstance(seen.step, Partner):
            yield move, f"a {move.technique.base} opposite a partner is too high for juniors", lower


def _too_fast(step: Pads | Partner, seen: Occurrence, level: int) -> Iterator[Problem]:
    asked, fit = named_pace(seen.pace), pace_for(level)
    faster = PACES.index(asked) - PACES.index(fit)
    if faster > 0:
        what = "partner work" if isinstance(step, Partner) else "work at pads"
        yield Problem(
            step.at,
            NAME,
            "warning" if faster > 1 else "hint",
            f"{what} at a {asked} pace is fast for level {level}",
            f"begin with `pace: {fit}`",
        )


def named_pace(pace: PaceName | float) -> PaceName:
    """The named pace that seconds per technique come to, by what a straight punch takes at each."""
    if isinstance(pace, str):
        return pace
    return "learning" if pace >= 1.0 else "steady" if pace >= 0.5 else "sharp"


def _gap(step: Pads | Partner | React | Shadow, seen: Occurrence, timeline: Timeline) -> Iterator[Problem]:
    cues = [cue for cue in timeline.cues if cue.line == step.line and cue.kind == "call" and cue.rep]
    if not cues or step.gap is None:
        return
    needed = max(_floor(step, seen, call) for call in _calls(cues))
    room = step.gap[1] - max(needed, step.gap[0])
    if room < LEAST_ROOM - 1e-9:
        enough = max(needed, step.gap[0]) + 2 * LEAST_ROOM
        yield Problem(
            step.at,
            NAME,
            "warning",
            f"the calls come almost like a clock: a call needs up to {needed:.1f} s, and the next one comes at most "
            f"{max(room, 0):.1f} s later than it could",
            f"ask for `gap: [{step.gap[0]:g} s, {enough:.1f} s]` or longer",
        )


def _calls(cues: Sequence[Cue]) -> Iterator[list[Cue]]:
    """The cues of one call after the other: what is called or prompted, with the answer called after it."""
    call: list[Cue] = []
    for cue in cues:
        if call and (cue.rep, cue.stance) != (call[0].rep, call[0].stance):
            yield call
            call = []
        call.append(cue)
    yield call


def _floor(step: Pads | Partner | React | Shadow, seen: Occurrence, call: list[Cue]) -> float:
    """Seconds from the start of a call until the student is back on guard, as `timing` leaves them."""
    pace, person = seen.pace, Trainee(seen.drill.whom)
    done = max(cue.done or cue.end for cue in call)
    if isinstance(step, Partner):
        answered = bool(step.answers)
        words, then = said_after(step, phrasebook(), answered), done_after(step, pace, person.movement, answered)
    else:
        words, then = step.between.text if step.between else None, doing(step.between, step.then, pace, person.movement)
    between = (estimated_seconds(sided(words), person.speech) if words else 0.0) + then
    out = MOVE * person.movement if isinstance(step, Pads) else 0.0  # a step back
    return done - call[0].start + max(to_guard(pace) * person.movement, between, out)
