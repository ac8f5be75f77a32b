"""60 new phrases in each voice, and the same again from the cache: `python benchmarks/voice.py`.

Runs in processes of their own, with an empty cache and then with what the first left there. Prints seconds, median of
the rounds; exits 1 where a limit is passed, or where the second time a voice is loaded or a process started.
The natural voice is left out, with a word about it, where it is not installed.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from itertools import product
from statistics import median

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
print(json.dumps([time.perf_counter() - begun, total, sorted(slow), len(started)]))
"""


def run(voice: str, cache: str) -> tuple[float, float, list[str], int]:
    """Seconds taken, seconds of speech, what slow was imported, and how many processes were started."""
    command = [sys.executable, "-c", RUN, voice, cache, json.dumps(CALLS)]
    seconds, speech, slow, started = json.loads(subprocess.run(command, capture_output=True, check=True).stdout)
    return seconds, speech, slow, started


def main() -> int:
    kept = True
    for voice, limit in LIMITS.items():
        if voice == "natural" and (missing := lack()):
            print(missing)
            continue
        firsts, seconds = [], []
        for _ in range(ROUNDS):
            with tempfile.TemporaryDirectory() as cache:
                firsts.append(run(voice, cache))
                seconds.append(run(voice, cache))
        first, second = (median(one[0] for one in runs) for runs in (firsts, seconds))
        loaded = sorted({name for one in seconds for name in one[2]}) or "nothing"
        print(f"{voice:8} {len(CALLS)} new phrases, {firsts[0][1]:.0f} s of speech: {first:.2f} s (limit {limit:g} s)")
        print(f"{voice:8} the second time: {second:.2f} s; loaded: {loaded}; processes started: {seconds[0][3]}")
        kept = kept and first <= limit and loaded == "nothing" and not any(one[3] for one in seconds)
    print("every limit is kept" if kept else "A LIMIT IS PASSED")
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
