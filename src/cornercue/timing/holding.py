"""What is said about holding pads and shields, put together from the rows of the table of pads."""

from __future__ import annotations

from collections.abc import Iterator

from cornercue.pads.table import Thing, held_for
from cornercue.technique.move import Move, in_stance
from cornercue.technique.sides import Stance
from cornercue.timing.phrasebook import Phrasebook


def places(book: Phrasebook, thing: Thing) -> tuple[str, ...]:
    """Who is who, how the holder stands and holds, and how near the student comes."""
    words = book.holding
    return (*(words[what][thing] for what in ("people", "hold", "clear", "heights", "meet")), words["step"])


def what_is_held(book: Phrasebook, move: Move, stance: Stance) -> str:
    """What the holder holds for a technique, and where, in the holder's own left and right; empty where nothing is."""
    held, hand = held_for(move.technique), move.side(stance)
    if held is None or hand is None:
        return ""
    side = held.side(hand)
    way, words = book.holding["ways"][held.way], book.holding["what"][held.place]
    return str(words.format(side=side and book.sides[side], height=held.height, way=way))


def to_holder(book: Phrasebook, move: Move, stance: Stance) -> str:
    """The one sentence to a holder before a technique comes for the first time."""
    what = what_is_held(book, move, stance)
    return str(book.holding["holder"].format(technique=move.words(stance), what=what)) if what else ""


def to_student(book: Phrasebook, move: Move, stance: Stance) -> str:
    """The one sentence to a student: what to aim at."""
    held = held_for(move.technique)
    if held is None:
        return ""
    target = book.holding["target"][held.place][held.way]
    return str(book.holding["student"].format(technique=move.words(stance), target=target))


def prompt(book: Phrasebook, moves: tuple[Move, ...], stance: Stance) -> str:
    """What the holder shows for a combination, one after the other, in short: "Right pad, left pad, left pad in"."""
    text = ", ".join(filter(None, (_short(book, move, now) for move, now in in_stance(moves, stance))))
    return text[:1].upper() + text[1:]


def _short(book: Phrasebook, move: Move, stance: Stance) -> str:
    held, hand = held_for(move.technique), move.side(stance)
    if held is None or hand is None:
        return ""
    words, side = book.holding, held.side(hand)
    low = words["low"] if held.height == "belly" and held.way != "down" else ""
    way = words["short_ways"][held.way]
    return str(words["prompt"][held.place].format(side=side and book.sides[side], low=low, way=way))


def explained(book: Phrasebook, moves: tuple[Move, ...], stance: Stance) -> Iterator[str]:
    """The sentences to the holder for a combination, each once."""
    yield from dict.fromkeys(
        sentence for move, now in in_stance(moves, stance) if (sentence := to_holder(book, move, now))
    )
