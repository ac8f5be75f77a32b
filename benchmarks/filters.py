"""The level curve of ten minutes of sound, by our filter and by scipy's, side by side: `python benchmarks/filters.py`.

Each round runs both in processes of their own: seconds of processor time with what must be imported, the same of a
second time, and the memory that came on top of the samples. Prints medians; exits 1 where ours takes longer, with or
without the imports, or more memory, or where the two curves differ.
"""

from __future__ import annotations

import json
import subprocess
import sys
from statistics import median

ROUNDS = 7
Run = tuple[list[float], list[float]]
"""Seconds the first and the second time, and megabytes; then every hundredth level."""

SAME = 1e-6
"""Decibels by which the two may differ."""

RUN = """\
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
print(json.dumps([first, time.process_time() - begun, peak() - before, level[::100].tolist()]))
"""


def run(which: str) -> Run:
    done = subprocess.run([sys.executable, "-c", RUN, which], capture_output=True, check=True)
    first, second, memory, level = json.loads(done.stdout)
    return [first, second, memory], level


def main() -> int:
    runs: dict[str, list[Run]] = {name: [] for name in ("scipy", "ours")}
    for _ in range(ROUNDS):
        for name, found in runs.items():
            found.append(run(name))
    middle = {name: [median(costs[k] for costs, _ in found) for k in range(3)] for name, found in runs.items()}
    for name, (first, second, memory) in middle.items():
        print(f"{name:6} first time {first:.2f} s, second {second:.3f} s, {memory:.0f} MB more")
    apart = max(abs(a - b) for a, b in zip(runs["scipy"][0][1], runs["ours"][0][1], strict=True))
    print(f"{apart:.1e} dB apart at most")
    kept = all(mine <= theirs for mine, theirs in zip(middle["ours"], middle["scipy"], strict=True)) and apart < SAME
    print("every limit is kept" if kept else "A LIMIT IS PASSED")
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
