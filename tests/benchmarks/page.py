"""The offline page of a 20-minute drill with 60 phrases.

- under 1.5 MB;
- made in under 3 s with the clips cached, beside the rendering of the same drill;
- opened and ready to start within 1 s in Chromium, beside an empty page.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import Any

from benchmarks.harness import Figure, LeftOut, Line, cornercue, of_the_processor, on_the_wall, side_by_side

ROUNDS = 5
EMPTY = "data:text/html,<!doctype html><title>Empty</title>"

STRIKES = ("jab", "cross", "lead hook", "rear hook", "lead uppercut", "rear uppercut", "body jab", "body cross")


def script() -> str:
    """Rounds of shadow boxing over many combinations, and partner work with answers."""
    pairs = [f"[{one}, {other}]" for one in STRIKES for other in STRIKES[:4] if one != other]
    rounds = "".join(
        f"- shadow: [{', '.join(pairs[at : at + 7])}]\n  for: 4 min\n- rest: 30 s\n" for at in (0, 7, 14, 21)
    )
    return f"drill: Benchmark\nsteps:\n{rounds}- partner: [parry, cover, weave, slip]\n  for: 3 min\n"


def opened(view: Any, address: str, ready: str) -> None:
    view.goto(address)
    view.evaluate(ready)


def figures(folder: Path, rounds: int) -> Iterator[Line]:
    path, page, cache = folder / "drill.yaml", folder / "drill.html", folder / "cache"
    path.write_text(script(), encoding="utf-8")
    in_voice = ("--seed", "1", "--voice", "system")
    made = {
        "page": lambda: cornercue("page", str(path), "-o", str(page), *in_voice, cache=cache),
        "render": lambda: cornercue("render", str(path), "-o", str(folder / "drill.wav"), *in_voice, cache=cache),
    }
    times = side_by_side(made, rounds, of_the_processor)
    yield Figure("the page's size", page.stat().st_size / 1e6, "MB", limit=1.5)
    yield Figure("making the page, clips cached", times["page"], "s", limit=3)
    yield Figure("making the page, against rendering the drill", times["page"] / times["render"], "x", limit=8)
    yield from opening(page, rounds)


def opening(page: Path, rounds: int) -> Iterator[Line]:
    """In Chromium, each time in a view of its own."""
    chromium = shutil.which("chromium")
    if chromium is None:
        yield LeftOut("opening the page", "there is no Chromium")
        return
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(
            executable_path=chromium,
            args=["--no-sandbox", "--disable-gpu", "--autoplay-policy=no-user-gesture-required"],
        )

        def in_a_new_view(address: str, ready: str) -> None:
            view = browser.new_page()
            opened(view, address, ready)
            view.close()

        times = side_by_side(
            {"empty": partial(in_a_new_view, EMPTY, "1"), "page": partial(in_a_new_view, page.as_uri(), "ready()")},
            rounds,
            on_the_wall,
        )
        view = browser.new_page()
        opened(view, page.as_uri(), "ready()")
        sounds, duration = view.evaluate("[data.sounds.length, data.draws[0].duration]")
        browser.close()
    assert sounds >= 60, sounds
    assert duration >= 20 * 60, duration
    yield Figure("an empty page, opened", times["empty"], "s")
    yield Figure("the page, opened and ready to start", times["page"], "s", limit=1)
