"""A defence walked through before it is called: shown while the student looks, then defended just as slowly."""

from __future__ import annotations

from collections.abc import Sequence

from cornercue.technique.move import Move
from cornercue.technique.sides import Stance
from cornercue.timing.feeding import prompt
from cornercue.timing.pace import REACTION, to_guard
from cornercue.timing.setting import GAP, Details, Layout, Setting, actions

THERE = 2.0
"""Seconds that a shown feed takes to its target, twice as slow as at learning pace: time enough for a
child to react. Common practice, no source."""

BACK = 1.0
"""Seconds to bring the stick back; common practice, no source."""


def walk_through(moves: Sequence[Move], stance: Stance, setting: Setting, start: float, ready: float) -> Layout:
    """One defence on each of its sides: first only looked at, then defended. Returns the end."""
    at, book = ready, setting.book
    for n, move in enumerate(moves):
        words = prompt(book, setting.whom, move.technique.name, move.side(stance))
        text = book.say("look_again" if n else "look", prompt=words[:1].lower() + words[1:])
        cue = setting.cue(at, "say", text, details=Details(stance=stance))
        yield cue
        at = cue.end + REACTION + THERE + BACK
    now = setting.cue(at, "say", book.say("slowly"), details=Details(stance=stance))
    yield now
    at = now.end + 2 * GAP
    for move in moves:
        words = move.words(stance)
        due = at + setting.seconds(words, 1.0) + REACTION + THERE
        asks = Details(stance=stance, listener="student", due=due, moves=actions((move,), stance))
        yield setting.cue(at, "call", words, details=asks)
        at = due + (move.seconds("learning") + to_guard("learning")) * setting.person.movement
    return at
