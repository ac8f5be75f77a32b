"""Each strike should turn the hips back the way that the one before has turned them.

A strike is driven by the hip of its own side. Once that hip has come through, it has to go back before it can drive
again: a second strike from the same side is an arm punch, and the student stands open while the hip returns. So a
combination swings like a door, one side and then the other.

A jab needs no hip and a step gives both back, so anything may follow them; so does a parry or a cover. A weave or a
slip puts the weight on the side that it ends on, and the answer should start from there (or with a jab). A hand that
goes from the body up to the head is driven by the legs and may do so twice. A knee after a hand of its side goes on in
the same direction: the hip is on its way already. Two kicks of the same leg in a row are meant so: that is what a
doubled kick is. Where only one of the two is a kick, this is a hint: the foot has to be put down in between, which is a
reset if there is time for it.
"""

from __future__ import annotations

from collections.abc import Iterator

from cornercue.coaching.problem import Problem, Severity
from cornercue.coaching.traversal import own, written_stance
from cornercue.script.model import Drill
from cornercue.technique.loading import loaded_side, needs_hip
from cornercue.technique.move import Move, in_stance
from cornercue.technique.sides import Side, Stance
from cornercue.timing.timeline import Timeline

NAME = "flow"
SUMMARY = "strikes that drive the same hip twice; answers from the side that a weave or slip has not loaded"
SOURCE = "common practice, no source"
FAILING = """\
drill: Two from the same side
steps:
- combination: [jab, cross, rear body hook]  # here
"""
PASSING = """\
drill: One side, then the other
stance: both
steps:
- combination: [jab, cross, lead hook]
- rest: 30 s
- combination: [weave left, lead hook, cross]
"""


def review(drill: Drill, timeline: Timeline) -> Iterator[Problem]:
    stance = written_stance(drill)
    for step in own(drill):
        combinations = (one.moves for one in step.practice(timeline.level, stance, stance) if not one.held)
        found = (fault for moves in combinations for fault in broken(moves, stance))
        for move, severity, text, remedy in dict.fromkeys(found):
            yield Problem(move.at or step.at, NAME, severity, text, remedy)


def broken(moves: tuple[Move, ...], stance: Stance) -> Iterator[tuple[Move, Severity, str, str]]:
    """The first move with which a combination does not flow, if there is one: how grave, what, and the remedy."""
    before: Move | None = None  # the strike whose hip has just come through
    used: Side | None = None
    loaded: tuple[Side, Move] | None = None
    for move, now in in_stance(moves, stance):
        side = move.side(now)
        if not needs_hip(move):
            before, used = None, None
            load = loaded_side(move, now)
            loaded = (load, move) if load else None
            continue
        if loaded and side != loaded[0]:
            yield move, *_unloaded(move, loaded[1], loaded[0], now)
            return
        if before and side == used and not _goes_on(before, move):
            yield move, *_twice(before, move)
            return
        before, used, loaded = move, side, None


def _goes_on(before: Move, move: Move) -> bool:
    """Whether the second of one side needs no hip of its own, or is meant: see the rule's page."""
    one, other = before.technique, move.technique
    twice_the_leg = one.kind == other.kind == "kick"
    knee = other.kind == "strike" and other.leg and not one.with_the_leg
    hands = not one.with_the_leg and not other.with_the_leg
    rises = hands and one.height == "body" and other.height == "head"
    return twice_the_leg or knee or rises


def _twice(before: Move, move: Move) -> tuple[Severity, str, str]:
    kick = "kick" in (before.technique.kind, move.technique.kind)
    return (
        "hint" if kick else "warning",
        f"the {move.technique.name} needs the hip that the {before.technique.name} before it has just used",
        "put a strike of the other side, a jab or a step between them",
    )


def _unloaded(move: Move, defence: Move, side: Side, stance: Stance) -> tuple[Severity, str, str]:
    return (
        "warning",
        f"the {move.technique.name} starts from the wrong side: {defence.words(stance)} loads the {side} one",
        f"answer with a strike of the {side} side or with a jab",
    )
