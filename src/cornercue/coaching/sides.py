"""Both sides get their share.

What is easy is done more often: the strong leg kicks, the weak one stands, and the weak side never catches up. Over a
whole drill kicks, knees, elbows, defences, holds and exercises that name a side should come out about even, and so
should the stances where a drill uses both.

Twice as much on one side is where this rule speaks up: with a warning where the other side gets no kick (or knee, or
elbow), no hold and no exercise at all, else with a hint. Small differences are left alone. Random calls count as they
fall on average: what chance makes of them in one session is not the script's doing. A drill in one stance is a choice,
not a mistake, and so are punches: the jab comes more often than the rest.

With `stance: both` every technique changes sides, and words do not: a plain "left" in a cue, a point or `between` stays
left in the other stance. Where that is meant it is fine; else it wants braces, `{left}`.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from cornercue.coaching.expected import ExpectedCall, expected, stances_of
from cornercue.coaching.problem import Problem
from cornercue.coaching.traversal import Occurrence, done, own
from cornercue.script.combination import Combination
from cornercue.script.exercise import Exercise
from cornercue.script.hold import Hold
from cornercue.script.model import Drill
from cornercue.script.pads import Pads
from cornercue.script.partner import Partner
from cornercue.script.react import React
from cornercue.script.shadow import Shadow
from cornercue.technique.move import in_stance
from cornercue.technique.sides import LIMBS, SIDES, STANCES, Side, Stance, other_side
from cornercue.technique.table import Technique
from cornercue.timing.timeline import Timeline

NAME = "sides"
SUMMARY = (
    "kicks, knees, elbows, defences, holds, exercises and stances that come at least twice as often on one side; a "
    "plain left or right in the words of a step that comes again, mirrored"
)
SOURCE = "common practice, no source"
FAILING = """\
drill: The strong leg
steps:
- combination: [jab, rear roundhouse kick]  # here
  reps: 10
"""
PASSING = """\
drill: Both legs
stance: both
steps:
- combination: [jab, rear roundhouse kick]
  reps: 10
"""

_MIRRORED = (Combination, Hold, Pads, Partner, React, Shadow)
"""The steps that come again in the other stance; what is said beside them comes once."""

LEAST_CALLS = 6
"""Calls that one side may be ahead, whatever the ratio: chance and odd numbers make such differences. Own choice."""

LEAST_SECONDS = 5.0
"""Seconds that one side of a hold may be ahead. Own choice."""


def review(drill: Drill, timeline: Timeline) -> Iterator[Problem]:
    seen = list(done(drill))
    calls = [call for one in seen for call in expected(one, timeline.level)]
    yield from _moves(calls)
    yield from _stances(calls)
    yield from _holds(seen, timeline.level)
    yield from _exercises(seen)
    yield from _words(drill)


def uneven(counts: Collection[float], least: float) -> bool:
    """Whether one of two counts is more than twice the other, and ahead by at least so much."""
    more, less = max(counts), min(counts)
    return more > 2 * less and more - less >= least


def _ranked(counts: Mapping[Side, float]) -> tuple[Side, Side]:
    """The side with more, then the other one."""
    more: Side = "left" if counts["left"] >= counts["right"] else "right"
    return more, other_side(more)


def is_for_both(technique: Technique) -> bool:
    """Whether it is one that both sides want alike: kicks, knees and elbows, but no punches."""
    return technique.with_the_leg or "elbow" in technique.base.split()


def _moves(calls: Iterable[ExpectedCall]) -> Iterator[Problem]:
    """Kicks, knees, elbows and defences, each by its name without lead and rear, as the script writes it first; told at
    the first on that side."""
    counts: dict[str, dict[Side, float]] = {}
    first: dict[tuple[str, Side], tuple[int, int]] = {}
    kicks: set[str] = set()
    names: dict[str, str] = {}
    for call in calls:
        for move, now in in_stance(call.moves, call.stance):
            side, base = move.side(now), move.technique.base
            if side and (move.technique.kind == "defence" or is_for_both(move.technique)):
                counts.setdefault(base, {"left": 0, "right": 0})[side] += call.times
                first.setdefault((base, side), call.seen.place_of(move))
                names.setdefault(base, _without_side(move.words(now)))
                kicks |= {base} if is_for_both(move.technique) else set()
    for base, count in counts.items():
        if uneven(count.values(), LEAST_CALLS):
            more, less = _ranked(count)
            yield Problem(
                first[base, more],
                NAME,
                "hint" if count[less] or base not in kicks else "warning",
                f"the {names[base]} comes about {count[more]:.0f} times on the {more} and {count[less]:.0f} on "
                f"the {less}",
                "add the other side, or `stance: both` at the top to have everything again, mirrored",
            )


def _without_side(words: str) -> str:
    return " ".join(word for word in words.split() if word not in (*LIMBS, *SIDES))


def _stances(calls: Sequence[ExpectedCall]) -> Iterator[Problem]:
    counts: dict[Stance, float] = {}
    for call in calls:
        counts[call.stance] = counts.get(call.stance, 0) + call.times
    if len(counts) == 2 and uneven(counts.values(), 2 * LEAST_CALLS):
        more = max(STANCES, key=counts.__getitem__)
        yield Problem(
            next(call.seen.place.at for call in calls if call.stance == more),
            NAME,
            "hint",
            f"about {counts[more]:.0f} calls are done in {more} stance and {min(counts.values()):.0f} in the other one",
            "give the shorter stance more repetitions, or use `stance: both`",
        )


def _holds(seen: list[Occurrence], level: int) -> Iterator[Problem]:
    seconds: dict[str, dict[Side, float]] = {}
    first: dict[tuple[str, Side], Occurrence] = {}
    for one in seen:
        if isinstance(one.step, Hold):
            for side in _held(one, one.step):
                base = one.step.positions[0].technique.base
                held = seconds.setdefault(base, {"left": 0, "right": 0})
                held[side] += sum(one.step.seconds_at(level)) * one.times
                first.setdefault((base, side), one)
    for base, held in seconds.items():
        if uneven(held.values(), LEAST_SECONDS):
            more, less = _ranked(held)
            yield Problem(
                first[base, more].place.at,
                NAME,
                "hint" if held[less] else "warning",
                f"the {base} is held for {held[more]:g} s on the {more} and {held[less]:g} s on the {less}",
                "hold it on both: `sides: both`, and no lead, rear, left or right in its name",
            )


def _held(one: Occurrence, step: Hold) -> Iterator[Side]:
    """The sides that a hold is done on: a hold of one side comes again, mirrored, where the drill has both stances."""
    if len(step.positions) == 1:
        yield from (side for stance in stances_of(one.drill) if (side := step.positions[0].side(stance)))
    else:
        yield from (side for side in SIDES if step.sides in (None, "both", side))


def _exercises(seen: list[Occurrence]) -> Iterator[Problem]:
    """Exercises that name a side: each should have its twin, or as many others for the other side."""
    alone: dict[Side, dict[str, Occurrence]] = {"left": {}, "right": {}}
    for one in seen:
        if isinstance(one.step, Exercise):
            words = one.step.exercise.lower().replace(",", " ").split()
            for side in SIDES:
                if side in words and other_side(side) not in words:
                    twin = " ".join(word for word in words if word != side)
                    if alone[other_side(side)].pop(twin, None) is None:
                        alone[side][twin] = one
    for side in SIDES:
        for one in list(alone[side].values())[len(alone[other_side(side)]) :]:
            yield Problem(
                one.place.at,
                NAME,
                "warning",
                f"this exercise is for the {side} side, and nothing like it comes for the {other_side(side)} one",
                f"add the same for the {other_side(side)}",
            )


_PLAIN = re.compile(r"(?<!\{)\b(left|right)\b(?!\})", re.IGNORECASE)
_NO_SIDE = re.compile(
    r"\b(?:(?:all|that's|is|just) right|(?:has|have|had|is|are|you|we|nothing|time|seconds) left)\b"
    r"|\b(?:right (?:away|now|up|there|after|before|behind|through)|left (?:over|out|off|alone))\b",
    re.IGNORECASE,
)
"""Words that look like a side and are none."""


def _words(drill: Drill) -> Iterator[Problem]:
    """Texts of steps that come in both stances, with a side in them that stays the same; each step once."""
    for step in own(drill) if len(stances_of(drill)) > 1 else ():
        for said in step.said() if isinstance(step, _MIRRORED) else ():
            if said.what == "name":  # a free word to react to
                continue
            named = {side.lower() for side in _PLAIN.findall(_NO_SIDE.sub("", said.written))}
            if len(named) == 1:  # with both it is for both
                (side,) = named
                yield Problem(
                    step.at, NAME, "hint",
                    f"«{said.text}» says {side} in the other stance too, where the techniques change sides",
                    f"write `{{{side}}}` if it should change with them",
                )  # fmt: skip
                break
