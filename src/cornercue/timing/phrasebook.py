"""The engine's own words, read from one file a language."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

import yaml

MOST_COUNTED = 99
"""The highest number of the languages that only count."""


@dataclass(frozen=True)
class Phrasebook:
    """Numbers, times and sentences of one language; `phrases` holds templates by name;
    `safety` goes by whom it is for, then by length; `feeding` and `holding` have what `feeding.py` and `holding.py` put
    together."""

    language: str
    numbers: Mapping[str, Any]
    units: Mapping[str, Any]
    phrases: Mapping[str, Any]
    limbs: Mapping[str, str]
    sides: Mapping[str, str]
    safety: Mapping[str, Any]
    feeding: Mapping[str, Any]
    holding: Mapping[str, Any]

    def say(self, phrase: str, **parts: object) -> str:
        """The named sentence with its parts filled in, its first letter large."""
        text = str(self.phrases[phrase]).format(**parts)
        return text[:1].upper() + text[1:]

    def number(self, n: int) -> str:
        """A whole number from 0 to 9,999 in words."""
        if n >= 100:
            rest = self.numbers["hundred_join"] + self.number(n % 100) if n % 100 else ""
            return str(self.numbers["hundred"].format(n=self.number(n // 100))) + rest
        return _below_hundred(self.numbers, n)

    def time(self, seconds: float) -> str:
        """A duration to the second: "one minute thirty seconds"."""
        minutes, rest = divmod(round(seconds), 60)
        parts = [self._counted(minutes, "minute")] if minutes else []
        if rest or not minutes:
            parts.append(self._counted(rest, "second"))
        return str(self.units["join"]).join(parts)

    def listed(self, words: Sequence[str]) -> str:
        """Words in a row: "jab", "parry and cover", "parry, cover and weave"."""
        *others, last = words
        return (", ".join(others) + str(self.phrases["and"]) if others else "") + last

    def times(self, n: int) -> str:
        """ "once", "twice", "five times"."""
        words = self.phrases["times"]
        return str(words[min(n, len(words)) - 1]).format(n=self.number(n))

    def calls(self, n: int) -> str:
        """ "one call", "twenty calls"."""
        return str(self.phrases["calls"][n > 1]).format(n=self.number(n))

    def _counted(self, n: int, unit: str) -> str:
        one, many = self.units[unit]
        return f"{self.number(n)} {one if n == 1 else many}"


def _below_hundred(numbers: Mapping[str, Any], n: int) -> str:
    ones = numbers["ones"]
    if n < len(ones):
        return str(ones[n])
    tens = str(numbers["tens"][n // 10 - 2])
    return tens + (numbers["tens_join"] + ones[n % 10] if n % 10 else "")


def counted(language: str, n: int) -> str:
    """A number from 1 to `MOST_COUNTED` as it is counted aloud in "korean" or "japanese", in that language's script."""
    return _below_hundred(_read("counting")[language], n)


@cache
def phrasebook(name: str = "english") -> Phrasebook:
    """The phrasebook that ships under this name."""
    return Phrasebook(**_read(name))


@cache
def _read(name: str) -> Mapping[str, Any]:
    text = resources.files(__package__).joinpath(f"{name}.yaml").read_text(encoding="utf-8")
    data: Mapping[str, Any] = yaml.load(text, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))
    return data
