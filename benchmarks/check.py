"""Reading and laying out 1,000 scripts, as `cornercue check` does: `python benchmarks/check.py`.

The scripts are files made here, each different, of every step kind that a student does alone. Prints the median rate;
exits 1 below 100 scripts a second.
"""

from __future__ import annotations

import random
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

from cornercue.script.read import read_drill
from cornercue.technique.table import TECHNIQUES
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request

ROUNDS = 1
SCRIPTS = 1000
LIMIT = 100.0


def script(number: int) -> str:
    """A script about as long as a demo drill; seeded, so every process makes the same."""
    draw = random.Random(number)
    names = [technique.name for technique in TECHNIQUES]
    lines = [
        f"drill: Benchmark {number}",
        f"level: {draw.randint(1, 10)}",
        f"stance: {draw.choice(['both', 'southpaw'])}",
    ]
    lines += ["gear: [clear floor, water]", "steps:", "- say: Knees soft, hands at home."]
    for _ in range(draw.randint(2, 4)):
        lines += [
            "- combination:",
            *(f"  - {draw.choice(names)}: hands come home" for _ in range(draw.randint(2, 5))),
        ]
        lines += [
            "  teach: 2",
            f"  reps: {draw.randint(4, 10)}",
            "  angles: [ahead, right 90, left 30]",
            "- rest: 30 s",
        ]
    lines += ["- exercise: push-ups", "  reps: 1 per level", "  sets: 3", "  rest: 45 s", "  check: [body flat]"]
    lines += ["- hold: knee", "  for: 10 s", "- repeat: 3", "  rest: 1 min", "  steps:"]
    lines += ["  - exercise: shadow boxing", "    for: 3 min"]
    return "\n".join(lines) + "\n"


def check_all(paths: list[Path]) -> float:
    """Seconds to read and lay out every script."""
    begun = time.perf_counter()
    for path in paths:
        expand(read_drill(path), Request(seed=0), estimated_seconds)
    return time.perf_counter() - begun


def main() -> int:
    with tempfile.TemporaryDirectory() as folder:
        paths = [Path(folder, f"{number}.yaml") for number in range(SCRIPTS)]
        for number, path in enumerate(paths):
            path.write_text(script(number), encoding="utf-8")
        check_all(paths[:50])
        taken = median(check_all(paths) for _ in range(ROUNDS))
    rate = SCRIPTS / taken
    print(f"{SCRIPTS} scripts in {taken:.2f} s: {rate:.0f} scripts a second (limit {LIMIT:.0f})")
    print("the limit is kept" if rate >= LIMIT else "THE LIMIT IS PASSED")
    return 0 if rate >= LIMIT else 1


if __name__ == "__main__":
    sys.exit(main())
