"""The offline page of a 20-minute drill with 60 phrases: `python benchmarks/page.py`.

Prints size and medians; exits 1 where a limit is passed:
- under 1.5 MB;
- made in under 3 s with the clips cached;
- opened and ready to start within 1 s in Chromium (left out where there is none).
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

ROUNDS = 5
SIZE_LIMIT, MAKING_LIMIT, OPENING_LIMIT = 1.5, 3.0, 1.0

STRIKES = ("jab", "cross", "lead hook", "rear hook", "lead uppercut", "rear uppercut", "body jab", "body cross")


def script() -> str:
    """Rounds of shadow boxing over many combinations, and partner work with answers."""
    pairs = [f"[{one}, {other}]" for one in STRIKES for other in STRIKES[:4] if one != other]
    rounds = "".join(
        f"- shadow: [{', '.join(pairs[at : at + 7])}]\n  for: 4 min\n- rest: 30 s\n" for at in (0, 7, 14, 21)
    )
    return f"drill: Benchmark\nsteps:\n{rounds}- partner: [parry, cover, weave, slip]\n  for: 3 min\n"


def made(path: Path, page: Path, cache: Path) -> float:
    begun = time.perf_counter()
    subprocess.run(
        [sys.executable, "-m", "cornercue", "page", str(path), "-o", str(page), "--seed", "1", "--voice", "system"],
        env={**os.environ, "XDG_CACHE_HOME": str(cache)}, stdout=subprocess.DEVNULL, check=True,
    )  # fmt: skip
    return time.perf_counter() - begun


def opened(page: Path) -> tuple[float | None, int, float]:
    """Seconds until the page can start, its number of sounds and its minutes; no seconds where no Chromium is."""
    chromium = shutil.which("chromium")
    if chromium is None:
        return None, 0, 0.0
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(
            executable_path=chromium,
            args=["--no-sandbox", "--disable-gpu", "--autoplay-policy=no-user-gesture-required"],
        )
        times = []
        for _ in range(ROUNDS):
            view = browser.new_page()
            begun = time.perf_counter()
            view.goto(page.as_uri())
            view.evaluate("ready()")
            times.append(time.perf_counter() - begun)
            sounds, duration = view.evaluate("[data.sounds.length, data.draws[0].duration]")
            view.close()
        browser.close()
    return median(times), sounds, duration / 60


def main() -> int:
    with tempfile.TemporaryDirectory() as name:
        path, page, cache = Path(name) / "drill.yaml", Path(name) / "drill.html", Path(name) / "cache"
        path.write_text(script(), encoding="utf-8")
        made(path, page, cache)
        making = median(made(path, page, cache) for _ in range(ROUNDS))
        size = page.stat().st_size / 1e6
        opening, sounds, minutes = opened(page)
    print(f"a page of {minutes:.0f} minutes with {sounds} sounds: {size:.2f} MB (limit {SIZE_LIMIT})")
    print(f"made in {making:.2f} s with clips cached (limit {MAKING_LIMIT})")
    print("no Chromium to open it in" if opening is None else f"ready in {opening:.2f} s (limit {OPENING_LIMIT})")
    kept = size < SIZE_LIMIT and making < MAKING_LIMIT and (opening is None or opening < OPENING_LIMIT)
    print("every limit is kept" if kept else "A LIMIT IS PASSED")
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
