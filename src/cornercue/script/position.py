"""What a hold names: a technique, a stance, the chamber of a technique, or free words such as a stretch.

Words are free only where nobody can take them for a technique: they name no side at either end, are not near a known
name nor short for one, and do not end as names of techniques do. Whatever else is meant is told, with an offer.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator
from dataclasses import replace
from types import MappingProxyType
from typing import Any

from pydantic import ValidationInfo

from cornercue.errors import InputFault
from cornercue.script.fields import text_of, wrong
from cornercue.script.moves import name_of, vocabulary, written_stance
from cornercue.script.written import place_of
from cornercue.spelling import offer
from cornercue.technique.lookup import UnknownTechnique, longer_names, resolve_base, without_side
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance
from cornercue.technique.table import ByPace, Technique, TechniqueKind
from cornercue.technique.vocabulary import Vocabulary, normalise

NEAR = 0.8
"""How like a known name (difflib's ratio) words are taken for it. Own choice: "hosre stance" is 0.92 like "horse
stance", "cat stretch" 0.76 like "cat stance"."""

ENDINGS = MappingProxyType[str, TechniqueKind](
    {"kick": "kick", "strike": "strike", "punch": "strike", "block": "defence", "stance": "stance"}
)
"""Words that end the names of techniques, with the kind that a club would give one of its own."""

HIGH_KNEE = "high knee"

_CHAMBER = re.compile(r"\bchamber(?:ed)?\b(?: (?:of|for)\b)?(?: (?:the|an?)\b)?")
_NO_TIME = ByPace(0.0, 0.0, 0.0)


def position_of(value: Any, info: ValidationInfo) -> tuple[Move, ...]:
    """What is held: one move, or the lead and the rear one where the side is left open. Free words are one move."""
    return tuple(replace(move, at=place_of(value)) for move in _positions(name_of(value), info))


def _positions(name: str, info: ValidationInfo) -> tuple[Move, ...]:
    stance, known = written_stance(info), vocabulary(info)
    words = normalise(name)
    try:
        if words not in known and (_CHAMBER.search(words) or HIGH_KNEE in words):
            return tuple(_raised(words, stance, known))
        return tuple(_as_written(move, words) for move in resolve_base(name, stance, known))
    except UnknownTechnique as unknown:
        _refuse_what_may_be_a_technique(name, stance, known, unknown)
        return (Move(_free(text_of(name))),)
    except InputFault as fault:
        raise wrong(str(fault)) from None


def _as_written(move: Move, words: str) -> Move:
    """A move with the side that is written, which the usual name of a defence or stance leaves open."""
    named = move.technique.sided and words != move.technique.name
    return replace(move, written=words) if named else move


def _raised(words: str, stance: Stance, known: Vocabulary) -> Iterator[Move]:
    """The chamber of a technique, or the knee held high. What it is like is looked up without these words."""
    plain = normalise(_CHAMBER.sub(" ", words)) if _CHAMBER.search(words) else words.replace(HIGH_KNEE, "knee")
    if not plain:
        raise wrong(f"`{words}` leaves open of what; write for example `side kick chamber`")
    try:
        moves = resolve_base(plain, stance, known)
    except InputFault as fault:
        raise wrong(str(fault)) from None
    for move in moves:
        technique = _held_before(move.technique, _CHAMBER.search(words) is not None)
        usual = words in (technique.name, technique.base)
        yield Move(technique, move.limb, None if usual else words)


def _held_before(technique: Technique, chamber: bool) -> Technique:
    """The technique as it is before the leg or arm goes out; at no height."""
    if technique.kind not in ("strike", "kick", "defence"):
        raise wrong(f"`{technique.name}` has no chamber; hold it as it is")
    if chamber:
        name, base = f"{technique.name} chamber", f"{technique.base} chamber"
    else:
        name, base = (text.replace("knee", HIGH_KNEE) for text in (technique.name, technique.base))
    return replace(technique, name=name, base=base, height=None, number=None, synonyms=())


def _free(words: str) -> Technique:
    return Technique(words, "position", words, limb=None, sided=True, hip=None, height=None, seconds=_NO_TIME)


def _refuse_what_may_be_a_technique(name: str, stance: Stance, known: Vocabulary, unknown: UnknownTechnique) -> None:
    words = normalise(name)
    rest = without_side(words, stance)
    ending = rest.rpartition(" ")[2]
    kind = ENDINGS.get(ending)
    own = f"a {ending} of your own goes into `words`: `{rest}: {{kind: {kind}}}`" if kind else ""
    names = (*known.known, HIGH_KNEE)
    longer = longer_names(rest, known)
    if not any(map(str.isalpha, rest)) or longer:
        more = " Else say in more words what is held" if len(longer) == 1 else ""
        raise wrong(f"{unknown}{more}") from None
    if _near(rest, names):
        raise wrong(f"`{name}` is not a technique; {offer(rest, names)}{f' Else {own}' if own else ''}") from None
    if any(_near(word, ("chamber",)) for word in words.split()):
        raise wrong(f"`{name}` is not a technique; did you mean a `chamber`, as in `side kick chamber`?") from None
    if own:
        raise wrong(f"`{name}` is not a technique; {own}") from None
    if rest != words:
        sides = "`sides: left`, `right` or `both`"
        raise wrong(f"leave the side out of `{name}`: write `hold: {rest}` and {sides}") from None


def _near(words: str, known: tuple[str, ...]) -> bool:
    return bool(difflib.get_close_matches(words, known, n=1, cutoff=NEAR))
