"""Reading and laying out scripts, as `cornercue check` does: at least 100 a second, at most 10 ms each.

The scripts are files made here, each different, of every step kind that a student does alone. Beside it stands what the
YAML library alone takes for the same files.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from pathlib import Path

import yaml

from benchmarks.harness import Figure, of_the_processor, side_by_side
from cornercue.script.read import read_drill
from cornercue.technique.table import TECHNIQUES
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request

LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
ROUNDS = 3
SCRIPTS = 300


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


def check_all(paths: list[Path]) -> None:
    for path in paths:
        expand(read_drill(path), Request(seed=0), estimated_seconds)


def load_all(paths: list[Path]) -> None:
    for path in paths:
        yaml.load(path.read_text(encoding="utf-8"), LOADER)


def figures(folder: Path, rounds: int) -> Iterator[Figure]:
    paths = [folder / f"{number}.yaml" for number in range(SCRIPTS)]
    for number, path in enumerate(paths):
        path.write_text(script(number), encoding="utf-8")
    times = side_by_side({"load": lambda: load_all(paths), "check": lambda: check_all(paths)}, rounds, of_the_processor)
    each = {name: 1000 * taken / SCRIPTS for name, taken in times.items()}
    yield Figure("loading a script with the YAML library alone", each["load"], "ms")
    yield Figure("reading a script and laying it out", each["check"], "ms", limit=10)
    yield Figure("reading and laying out, against loading", times["check"] / times["load"], "x", limit=25)
