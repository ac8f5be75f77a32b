"""Words to techniques: names, synonyms, numbers, and a side said before or after."""

from __future__ import annotations

from dataclasses import replace

from cornercue.errors import InputFault
from cornercue.spelling import offer
from cornercue.technique.move import Move
from cornercue.technique.sides import LIMBS, SIDES, Limb, Stance, limb_of
from cornercue.technique.vocabulary import USUAL, Vocabulary, normalise

LISTED = "`cornercue techniques` lists the known ones"


MOST_OFFERED = 8
"""Techniques that are offered where a name fits several; of more, the command that lists them is told."""


class UnknownTechnique(InputFault):
    """A word that names no technique; those that it may be short for are offered, else the nearest one.

    They are looked for when the sentence is asked for: it takes a hundredth of a second.
    """

    def __init__(self, word: str, known: Vocabulary, stance: Stance = "orthodox") -> None:
        super().__init__(word)
        self._word, self._known, self._stance = word, known, stance

    def __str__(self) -> str:
        word, known = self._word, self._known
        words = normalise(word)
        _, rest = _split_side(words, self._stance)
        said = (words.removesuffix(rest) if words.endswith(rest) else words.removeprefix(rest)).strip()
        longer = [f"{said} {name}".strip() for name in longer_names(rest, known)]
        if len(longer) > MOST_OFFERED:
            return f"`{word}` may be many techniques; `cornercue techniques {rest}` lists them"
        if len(longer) > 1:
            return f"`{word}` leaves open which one; write {' or '.join(f'`{name}`' for name in longer)}"
        near = f"did you mean `{longer[0]}`?" if longer else offer(words, known.known, LISTED)
        return f"`{word}` is not a technique; {near}"


class WhichSide(InputFault):
    """A name that fits the lead and the rear technique alike."""

    def __init__(self, word: str, options: tuple[str, ...]) -> None:
        self.options = options
        super().__init__(f"`{word}` leaves the side open; write `{'` or `'.join(options)}`")


def resolve(text: str, stance: Stance = "orthodox", known: Vocabulary = USUAL) -> Move:
    """The move that the words name, for a script written for `stance`.

    "straight right" is the cross of an orthodox fighter and the jab of a southpaw, and stays so called; hyphens stay
    as well. Raises `UnknownTechnique` or `WhichSide`.
    """
    move = _resolved(text, stance, known)
    typed = " ".join(text.lower().split())
    return replace(move, written=typed) if "-" in typed and normalise(typed) == _spoken(move) else move


def _spoken(move: Move) -> str:
    """The words by which a move was looked up."""
    return move.written or move.name


def _resolved(text: str, stance: Stance, known: Vocabulary) -> Move:
    words = _as_known(normalise(text), known)
    if words in known.names:
        technique = known.names[words]
        return Move(technique, technique.limb, None if words == technique.name or words[0].isdigit() else words)
    limb, rest = _split_side(words, stance)
    rest = _as_known(rest, known)
    if limb and rest in known.bases and limb in known.bases[rest]:
        technique = known.bases[rest][limb]
        return Move(technique, limb, None if f"{limb} {rest}" == technique.name == words else words)
    if limb and rest in known.names and known.names[rest].sided:
        technique = known.names[rest]
        usual = rest == technique.name and words.endswith(LIMBS)
        return Move(technique, limb, None if usual else words)
    if limb is None and words in known.bases:
        raise WhichSide(text, tuple(f"{side} {words}" for side in known.bases[words]))
    raise UnknownTechnique(text, known, stance)


def _as_known(words: str, known: Vocabulary) -> str:
    """The words, with the accents that a known name has where they are written without."""
    if words.isascii() and words not in known:
        return known.with_accents.get(words, words)
    return words


def resolve_base(text: str, stance: Stance = "orthodox", known: Vocabulary = USUAL) -> tuple[Move, ...]:
    """Like `resolve`, but a name that leaves the side open gives both: the lead move, then the rear."""
    try:
        move = resolve(text, stance, known)
    except WhichSide:
        words = normalise(text)
        return tuple(
            Move(technique, technique.limb, None if words == technique.base else words)
            for technique in known.bases[words].values()
        )
    if move.technique.sided and move.limb is None:
        return Move(move.technique, "lead", move.written), Move(move.technique, "rear", move.written)
    return (move,)


def longer_names(words: str, known: Vocabulary) -> list[str]:
    """The names, without lead and rear, that begin or end with these words: "inside crescent kick", "crescent kick"."""
    bases = dict.fromkeys(technique.base for technique in known.names.values())
    longer = [base for base in bases if base.startswith(f"{words} ") or base.endswith(f" {words}")]
    return [base for base in longer if not any(base != other and base.endswith(other) for other in longer)]


def without_side(words: str, stance: Stance = "orthodox") -> str:
    """What remains without a side at the beginning or the end."""
    return _split_side(words, stance)[1]


def _split_side(words: str, stance: Stance) -> tuple[Limb | None, str]:
    """A leading or trailing left, right, lead or rear, turned into lead or rear, and what remains."""
    head, _, after = words.partition(" ")
    before, _, tail = words.rpartition(" ")
    limbs: dict[str, Limb] = {"lead": "lead", "rear": "rear", **{side: limb_of(side, stance) for side in SIDES}}
    for side, rest in ((head, after), (tail, before)):
        if side in limbs:
            return limbs[side], rest
    return None, words
