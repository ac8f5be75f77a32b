"""The beat of every count from 1 to 99, in every voice and accent and at every rate, against where its vowel begins.

That is told by the synthesiser. The limits: no count beyond what `tests/counted.py` allows it, and half of them within
10 ms. No round is needed, as the same words give the same samples.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

import numpy as np

from benchmarks.harness import Figure, LeftOut, Line
from cornercue.timing.setting import RATES
from cornercue.voice.natural import lack
from counted import ALLOWED, ESPEAK, Onsets, beyond, by_espeak, errors, naturally

ROUNDS = 1


def figures(folder: Path, rounds: int) -> Iterator[Line]:
    voices: dict[str, Callable[[float], Onsets]] = {voice: partial(_by_espeak, voice) for voice in ESPEAK}
    for voice, measure in {**voices, "natural": _naturally}.items():
        if voice == "natural" and (missing := lack()):
            yield LeftOut("beats of the natural voice", missing)
            continue
        for rate in RATES:
            found = measure(rate)
            apart = np.abs(list(errors(found).values())) * 1000
            which = f"{voice} at {rate:g}"
            yield Figure(f"{which}: beat and vowel of {len(found)} counts, the worst", float(apart.max()), "ms off")
            yield Figure(f"{which}: the median", float(np.median(apart)), "ms off", limit=10)
            yield Figure(f"{which}: counts beyond {ALLOWED * 1000:.0f} ms", int((apart > ALLOWED * 1000).sum()))
            yield Figure(f"{which}: counts beyond what is allowed to them", len(beyond(voice, found, rate)), limit=0)


def _by_espeak(voice: str, rate: float) -> Onsets:
    return by_espeak(voice, rate=rate)


def _naturally(rate: float) -> Onsets:
    return naturally(rate=rate)
