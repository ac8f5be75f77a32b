"""What an instructor means who writes a value or a key of another kind: the way to write it here."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from cornercue.errors import InputFault
from cornercue.technique.lookup import WhichSide, resolve
from cornercue.technique.move import Move
from cornercue.technique.vocabulary import Vocabulary

NUMBERS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")

MEANT: Mapping[str, tuple[str, ...]] = {
    "reps": ("repetitions", "repetition", "rep", "count", "times", "number", "amount"),
    "hold": ("stretch", "stance", "plank"),
    "for": ("time", "duration", "seconds", "minutes", "length", "lasts", "hold for"),
    "rest": ("pause", "break", "recovery", "recover", "wait"),
    "repeat": ("round", "rounds", "circuit", "loop", "times"),
    "exercise": ("warm-up", "warmup", "run", "strength", "cardio", "move", "drill"),
    "combination": ("combo", "kick", "kicks", "punch", "punches", "strike", "strikes", "technique", "techniques"),
    "say": ("text", "speak", "tell", "talk", "note", "explain", "instruction"),
    "drill": ("title", "name"),
    "steps": ("exercises", "parts", "content", "workout"),
    "check": ("points", "tips", "cues", "look for", "watch"),
    "include": ("import", "insert", "use"),
    "between": ("after", "then say", "in between"),
    "gap": ("interval", "spacing", "delay"),
    "sides": ("side", "each side"),
    "partner": ("feed", "defence", "defences", "defense", "parry", "weave"),
    "react": ("reaction", "reactions", "random"),
    "pads": ("mitts", "focus pads", "shield"),
}
"""Keys of the script language, each with words that people write for it. Common practice, no source."""


def key_meant(written: str, known: Sequence[str]) -> str | None:
    """The key, of those known here, that a word stands for."""
    word = written.strip().lower().replace("_", " ")
    return next((key for key, words in MEANT.items() if key in known and word in words), None)


def count_meant(written: str) -> str | None:
    """How to write what stands where a number of repetitions belongs."""
    text = written.strip().lower()
    if found := re.fullmatch(r"(\d{1,2})\s*[x×*]\s*(\d{1,3})", text):
        return f"write `sets: {int(found[1])}` and `reps: {int(found[2])}`, each in a line of its own"
    if found := re.fullmatch(r"(\d{1,3})\s*(?:per|each|a|on each|on every|every|/)\s*(?:side|leg|arm|hand)s?", text):
        both = 2 * int(found[1])
        return f"write `reps: {both}`, both sides together, or make a step of each side"
    if found := re.fullmatch(r"(\d{1,3})\s*(?:times|x|reps?|repetitions?)", text):
        return f"write `{int(found[1])}`"
    if found := re.fullmatch(r"(\d{1,3})\s*(?:-|–|\.\.)\s*(\d{1,3})", text):
        return f"write `{int(found[1])} to {int(found[2])}`: so many at the first level and at the last"
    if text in NUMBERS:
        return f"write `{NUMBERS.index(text) + 1}`"
    if found := re.fullmatch(r"(\d{1,4})\s*(?:s|sec|secs|seconds|min|minutes?)", text):
        return f"a time belongs under `for`: write `for: {text}`"
    return None


def is_ambiguous(written: str) -> bool:
    """Whether a number may be minutes and seconds as well as seconds: "1.30"."""
    return bool(re.fullmatch(r"0*[1-9]\d{0,2}\.[0-5]\d", written.strip()))


def duration_meant(written: str) -> str | None:
    """How to write what stands where a duration belongs."""
    text = written.strip().lower()
    if is_ambiguous(text):
        minutes, seconds = text.split(".")
        return f"write `{int(minutes)}:{seconds}` for minutes and seconds, or `{float(text):g} s`"
    if found := re.fullmatch(r"(\d+),(\d+)(.*)", text):
        return f"write `{found[1]}.{found[2]}{found[3] or ' s'}`"
    if text.endswith(".") and re.fullmatch(r"\d+\s*[a-z]+\.", text):
        return f"write `{text.rstrip('.')}`"
    if re.fullmatch(r"(?:half a|half|½)\s*min(?:ute)?", text):
        return "write `30 s`"
    if found := re.fullmatch(rf"(an?|{'|'.join(NUMBERS)})\s+(second|minute|hour)s?", text):
        number = 1 if found[1] in ("a", "an") else NUMBERS.index(found[1]) + 1
        return f"write `{number} {'min' if found[2] == 'minute' else 's' if found[2] == 'second' else 'h'}`"
    if found := re.fullmatch(r"(\d+)\s*(?:sek|sekunden|segundos|\"|″|'')", text):
        return f"write `{found[1]} s`"
    if found := re.fullmatch(r"(\d+)\s*(?:'|′|minuten|minutos)", text):
        return f"write `{found[1]} min`"
    return None


def angle_meant(written: str) -> str | None:
    """How to write what stands where an angle belongs."""
    text = written.strip().lower().rstrip("°")
    if found := re.fullmatch(r"(\d{1,3})\s*(?:degrees?|°)?\s*(?:to the\s*)?(left|right)", text):
        return f"write `{found[2]} {found[1]}`"
    if re.fullmatch(r"\d{1,3}", text) and 1 <= int(text) <= 180:
        return f"write `right {text}` or `left {text}`"
    return None


_APART = re.compile(r"\s*(?:,|;|/|\+|&|->|→|–|\s-\s|-|\bthen\b|\band\b)\s*")


def list_meant(written: str, known: Vocabulary) -> tuple[str, ...] | None:
    """The techniques of a combination that was written as one: "jab-cross-hook", "jab cross", "double jab"."""
    text = " ".join(written.lower().split())
    if found := re.fullmatch(r"(?:(double|triple|\d)\s*x?\s+(.+)|(.+?)\s*(?:x\s*(\d)|(twice)))", text):
        times = {"double": 2, "triple": 3, "twice": 2}.get(found[1] or found[5] or "", 0) or int(found[1] or found[4])
        one = _named(found[2] or found[3], known)
        return (one,) * times if one and 2 <= times <= 6 else None
    parts = [part for part in _APART.split(text) if part]
    if len(parts) < 2:
        parts = list(_in_words(text.split(), known))
    named = [_named(part, known) for part in parts]
    return tuple(name for name in named if name) if len(named) > 1 and all(named) else None


def choice_meant(written: str, known: Vocabulary) -> tuple[str, ...] | None:
    """The techniques of "jab or cross"."""
    parts = [_named(part, known) for part in re.split(r"\s+or\s+", " ".join(written.lower().split()))]
    return tuple(name for name in parts if name) if len(parts) > 1 and all(parts) else None


def _in_words(words: Sequence[str], known: Vocabulary) -> Iterator[str]:
    """Words parted into techniques, the longest names first; what is none stays as it is."""
    at = 0
    while at < len(words):
        names = (" ".join(words[at:end]) for end in range(min(len(words), at + 4), at, -1))
        name = next((name for name in names if _move(name, known)), words[at])
        yield name
        at += len(name.split())


def _named(text: str, known: Vocabulary) -> str | None:
    """The text, with a side where it leaves one open; None where it is no technique."""
    move = _move(text.strip(), known)
    return None if move is None else move if isinstance(move, str) else text.strip()


def _move(text: str, known: Vocabulary) -> Move | str | None:
    try:
        return resolve(text, known=known)
    except WhichSide as open_:
        return open_.options[0]
    except InputFault:
        return None
