"""The level curve of ten minutes of sound, by our filter and by scipy's: no slower, with and without the imports.

Each round runs both in processes of their own, and the curves must be the same.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from statistics import median

from benchmarks.harness import Figure, python

ROUNDS = 7

SAME = 1e-6
"""Decibels by which the two may differ."""

LEVELS = """\
import json, resource, sys, time
import numpy as np
from cornercue.sound import SAMPLE_RATE
from cornercue.voice import recording as ours

samples = np.random.default_rng(1).random(600 * SAMPLE_RATE, np.float32) - np.float32(0.5)

def by_scipy():
    from scipy.signal import butter, sosfilt
    clean = sosfilt(butter(2, ours.RUMBLE, "highpass", fs=SAMPLE_RATE, output="sos"), samples)
    frames = clean[: len(clean) // ours.HOP_FRAMES * ours.HOP_FRAMES].reshape(-1, ours.HOP_FRAMES)
    return 10 * np.log10(np.maximum(np.mean(frames**2, axis=1), 1e-10))

curve = by_scipy if sys.argv[1] == "scipy" else lambda: ours.levels(samples)
peak = lambda: resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
before, begun = peak(), time.process_time()
curve()
first, begun = time.process_time() - begun, time.process_time()
level = curve()
print(json.dumps({"costs": [first, time.process_time() - begun, peak() - before], "curve": level[::100].tolist()}))
"""
"""Prints seconds of the processor the first and the second time, megabytes on top of the samples, and the curve."""


def figures(folder: Path, rounds: int) -> Iterator[Figure]:
    costs: dict[str, list[list[float]]] = {"scipy": [], "ours": []}
    curves: dict[str, list[float]] = {}
    for _ in range(rounds):
        for name, found in costs.items():
            told = json.loads(python(LEVELS, name).output)
            found.append(told["costs"])
            curves[name] = told["curve"]
    theirs, ours = ([median(run[k] for run in costs[name]) for k in range(3)] for name in ("scipy", "ours"))
    whats = ("ten minutes filtered, with the imports", "once more", "memory on top of the samples")
    for what, unit, mine, other in zip(whats, ("s", "s", "MB"), ours, theirs, strict=True):
        yield Figure(f"{what}: scipy", other, unit)
        yield Figure(f"{what}: ours", mine, unit, limit=other)
    apart = max(abs(mine - other) for mine, other in zip(curves["ours"], curves["scipy"], strict=True))
    yield Figure("the two apart at most", apart, "dB", limit=SAME)
