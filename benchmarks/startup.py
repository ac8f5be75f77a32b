"""`cornercue --help` against a Python that does nothing, side by side: `python benchmarks/startup.py`.

Runs the two by turns, so that a busy moment of the machine meets both. Prints the medians; exits 1 where the help
takes more than 0.2 s longer.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import time
from pathlib import Path
from statistics import median

ROUNDS = 21
LIMIT = 0.2


def command() -> str:
    """The installed command, beside this Python if it is there."""
    beside = Path(sys.executable).with_name("cornercue")
    found = str(beside) if beside.exists() else shutil.which("cornercue")
    if found is None:
        sys.exit("there is no command `cornercue`; install the project first: pip install -e .")
    return found


def seconds(arguments: list[str]) -> float:
    begun = time.perf_counter()
    subprocess.run(arguments, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - begun


def main() -> int:
    ways = {"python -c pass": [sys.executable, "-c", "pass"], "cornercue --help": [command(), "--help"]}
    taken: dict[str, list[float]] = {name: [] for name in ways}
    for arguments in ways.values():
        seconds(arguments)
    for _ in range(ROUNDS):
        for name, arguments in ways.items():
            taken[name].append(seconds(arguments))
    medians = {name: median(times) for name, times in taken.items()}
    for name, one in medians.items():
        print(f"{name:18} {one:.3f} s")
    extra = medians["cornercue --help"] - medians["python -c pass"]
    print(f"the help takes {extra:.3f} s longer (limit {LIMIT} s)")
    print("the limit is kept" if extra <= LIMIT else "THE LIMIT IS PASSED")
    return 0 if extra <= LIMIT else 1


if __name__ == "__main__":
    sys.exit(main())
