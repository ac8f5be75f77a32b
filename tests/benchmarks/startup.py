"""`cornercue --help` against a Python that does nothing: at most 0.2 s longer."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator
from functools import partial
from pathlib import Path

from benchmarks.harness import Figure, of_the_processor, side_by_side

ROUNDS = 21


def command() -> str:
    """The installed command, beside this Python if it is there."""
    beside = Path(sys.executable).with_name("cornercue")
    found = str(beside) if beside.exists() else shutil.which("cornercue")
    if found is None:
        sys.exit("there is no command `cornercue`; install the project first: pip install -e .")
    return found


def figures(folder: Path, rounds: int) -> Iterator[Figure]:
    ran = partial(subprocess.run, check=True, stdout=subprocess.DEVNULL)
    ways = {"bare": partial(ran, [sys.executable, "-c", "pass"]), "help": partial(ran, [command(), "--help"])}
    times = side_by_side(ways, rounds, of_the_processor)
    yield Figure("python -c pass", times["bare"], "s")
    yield Figure("cornercue --help", times["help"], "s")
    yield Figure("how much longer the help takes", times["help"] - times["bare"], "s", limit=0.2)
