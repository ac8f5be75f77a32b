"""What a drill's holder holds for each technique, as plain HTML: for the gate of cautions and for paper."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from cornercue.script.model import Drill
from cornercue.technique.sides import STANCES
from cornercue.timing.holding import explained, places
from cornercue.timing.phrasebook import Phrasebook
from cornercue.timing.safety import pads_in


def held(drill: Drill, book: Phrasebook) -> str:
    """The sentences to the holder, each once, in the stances that the drill is done in; empty where nothing is held."""
    sentences = "".join(f"<li>{escape(text)}</li>" for text in dict.fromkeys(_sentences(drill, book)))
    return f"<h3>How it is held</h3><ul>{sentences}</ul>" if sentences else ""


def _sentences(drill: Drill, book: Phrasebook) -> Iterator[str]:
    for inner, step in pads_in(drill):
        yield from places(book, step.thing)
        for stance in STANCES if inner.stance == "both" else (inner.stance,):
            for moves in step.pads:
                yield from explained(book, moves, stance)
