"""60 new phrases in each voice, and the same again from the cache.

Runs in processes of their own, with an empty cache and then with what the first left there. At most 3 s in the system's
voice and 12 s in the natural one; the second time nothing slow is loaded and no process started.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from itertools import product
from pathlib import Path
from statistics import median

from benchmarks.harness import Figure, LeftOut, Line, python
from cornercue.voice.natural import lack

ROUNDS = 3
LIMITS = {"system": 3.0, "natural": 12.0}

CALLS = [f"{first}, {second}" for first, second in product(
    ("jab", "cross", "lead hook", "rear uppercut", "front kick", "parry left", "cover right", "weave left",
     "slip rear", "side kick"),
    ("jab", "cross", "rear hook", "lead uppercut", "roundhouse kick", "step back"),
)]  # fmt: skip

RUN = """\
import json, pathlib, subprocess, sys, time
begun = time.perf_counter()
started = []
popen = subprocess.Popen.__init__
subprocess.Popen.__init__ = lambda self, *a, **k: (started.append(a), popen(self, *a, **k))[1]
from cornercue.voice.voices import open_voice
name, cache, calls = sys.argv[1], pathlib.Path(sys.argv[2]), json.loads(sys.argv[3])
with open_voice(name, cache) as speech:
    speech.warm((call, 1.0) for call in calls)
    total = sum(speech.seconds(call) for call in calls)
slow = {"pyttsx3", "piper", "onnxruntime", "scipy", "pyloudnorm", "soxr", "soundfile"} & set(sys.modules)
print(json.dumps([time.perf_counter() - begun, total, len(slow), len(started)]))
"""


def said(voice: str, cache: Path) -> tuple[float, float, int, int]:
    """Seconds taken, seconds of speech, how much that is slow was imported, and how many processes were started."""
    seconds, speech, slow, started = json.loads(python(RUN, voice, str(cache), json.dumps(CALLS)).output)
    return seconds, speech, slow, started


def figures(folder: Path, rounds: int) -> Iterator[Line]:
    for voice, limit in LIMITS.items():
        if voice == "natural" and (missing := lack()):
            yield LeftOut(f"{len(CALLS)} phrases in the natural voice", missing)
            continue
        new, again = [], []
        for turn in range(rounds):
            cache = folder / f"{voice} {turn}"
            new.append(said(voice, cache))
            again.append(said(voice, cache))
        first, second = median(one[0] for one in new), median(one[0] for one in again)
        yield Figure(f"{voice}: {len(CALLS)} new phrases, {new[0][1]:.0f} s of speech", first, "s", limit=limit)
        yield Figure(f"{voice}: the second time", second, "s")
        yield Figure(f"{voice}: the second time, against the first", second / first, "x", limit=0.5)
        yield Figure(f"{voice}: slow libraries loaded the second time", max(one[2] for one in again), limit=0)
        yield Figure(f"{voice}: processes started the second time", max(one[3] for one in again), limit=0)
