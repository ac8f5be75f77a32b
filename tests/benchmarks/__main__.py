"""`python tests/benchmarks [NAME ...] [--times N]` runs these benchmarks, all if none is named.

Prints a line a figure, as `harness.py` says; ends with code 1 if a limit is passed. `--times 3` takes three times as
many rounds. Several run one after the other, each in a process of its own, so that none finds what another left warm.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import tempfile
from importlib import import_module
from pathlib import Path
from typing import cast

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent))

from benchmarks.harness import Benchmark, report, slowness  # noqa: E402

NAMES = sorted(path.stem for path in HERE.glob("*.py") if path.stem not in ("__init__", "__main__", "harness"))


def run(name: str, times: int) -> bool:
    """One benchmark, here; true where every limit is kept."""
    benchmark = cast(Benchmark, import_module(f"benchmarks.{name}"))
    with tempfile.TemporaryDirectory() as folder:
        return report(benchmark.figures(Path(folder), benchmark.ROUNDS * times))


def run_each(names: list[str], times: int) -> bool:
    """Each in a process of its own, also after one that failed."""
    kept = True
    for name in names:
        print(f"-- {name}", flush=True)
        done = subprocess.run([sys.executable, str(HERE), name, "--times", str(times)], check=False)
        kept = kept and done.returncode == 0
    print(f"times may take {slowness():.1f} times their limits on this machine")
    print("every limit is kept" if kept else "A LIMIT IS PASSED")
    return kept


def main() -> int:
    parser = argparse.ArgumentParser(prog="python tests/benchmarks", description="Each speed claim, measured.")
    parser.add_argument("names", nargs="*", choices=[[], *NAMES], metavar="NAME", help=", ".join(NAMES))
    parser.add_argument("--times", type=int, default=1, help="how many times as many rounds")
    asked = parser.parse_args()
    names: list[str] = asked.names or NAMES
    kept = run(names[0], asked.times) if len(names) == 1 else run_each(names, asked.times)
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
