"""The offline page in Firefox and in WebKit, for `.ci/deep`: pytest collects this file only by its name.

What is asked is what a student would notice: it starts, its clock goes on, Space pauses, keys go by parts, every sound
can be decoded, it asks the network for nothing, and nothing hangs over the edge of a screen.
"""

from __future__ import annotations

import json
import os
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from page_in_chromium import made
from webdriver import FIREFOX, MINI_BROWSER, WEBKIT, View, firefox, webkit

SPACE, LEFT, RIGHT = " ", "\ue012", "\ue014"
"""Keys by the standard's numbers."""

DRILL = """\
drill: Engine test
level: 2
steps:
- combination: [jab, cross]
  reps: 4
  every: 3 s
- rest: 15 s
- partner: [parry, cover]
  for: 25 s
  answers: jab, cross
- exercise: push-ups
  reps: 5
"""

ENGINES = {
    "firefox": (firefox, FIREFOX is not None),
    "webkit": (webkit, WEBKIT is not None and MINI_BROWSER is not None and "DISPLAY" in os.environ),
}


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return made(tmp_path_factory.mktemp("page"), DRILL).file


@pytest.fixture(scope="module", params=ENGINES)
def engine(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[View]:
    opened, there = ENGINES[request.param]
    if not there:
        pytest.skip(f"{request.param} is not here, or has no display")
    with opened(tmp_path_factory.mktemp(request.param)) as view:
        yield view


@pytest.fixture
def view(engine: View, page: Path) -> View:
    """The page as it opens, on a laptop, its cautions read."""
    engine.resize(1280, 800)
    engine.open(page.as_uri())
    engine.click("read")
    return engine


def shown(name: str) -> str:
    return f"document.getElementById('{name}').textContent"


def started(view: View) -> None:
    view.click("start")
    view.until("position() > 0.5")


def test_it_starts_and_goes_on_in_time(view: View) -> None:
    started(view)
    moment = "[position(), performance.now() / 1000]"
    before, begun = view.evaluate(moment)
    view.until(f"position() > {before + 5}")
    after, ended = view.evaluate(moment)
    assert -1.0 < (after - before) - (ended - begun) < 0.3  # a busy machine may hold sound up, never drive it on
    view.until(f"{shown('call')}.startsWith('jab')", 60)


def test_space_pauses_and_goes_on(view: View) -> None:
    started(view)
    view.press(SPACE)
    view.until(f"{shown('call')} === 'PAUSED'")
    held = view.evaluate("position()")
    time.sleep(0.5)
    assert view.evaluate("position()") == held
    view.press(SPACE)
    view.until(f"{shown('call')} !== 'PAUSED'")
    view.until(f"position() > {held + 1}")


def test_keys_go_by_parts(view: View) -> None:
    started(view)
    first = view.evaluate(shown("where"))
    view.press(RIGHT)
    view.until(f"{shown('where')} !== {json.dumps(first)}")
    view.press(LEFT)
    view.until(f"{shown('where')} === {json.dumps(first)}")


def test_every_sound_can_be_decoded(view: View) -> None:
    sounds = view.evaluate("JSON.parse(document.getElementById('data').textContent).sounds.length")
    lengths = view.evaluate("decoded(new OfflineAudioContext(1, 1, 48000)).then(all => all.map(one => one.duration))")
    assert len(lengths) == sounds > 10
    assert min(lengths) > 0.03


def test_it_asks_the_network_for_nothing(view: View, page: Path) -> None:
    started(view)
    asked = view.evaluate("performance.getEntriesByType('resource').map(one => one.name)")
    assert [name for name in asked if not name.startswith(("data:", "blob:", page.as_uri()))] == []


EDGES = """\
[document.documentElement.scrollWidth - innerWidth].concat(["call", "next", "start", "louder"]
  .map((id) => document.getElementById(id).getBoundingClientRect())
  .map((box) => Math.max(-box.left, box.right - innerWidth)))"""


@pytest.mark.parametrize(("width", "height"), [(500, 800), (800, 500), (1280, 800), (1920, 1080)])
def test_nothing_hangs_over_the_edge(view: View, width: int, height: int) -> None:
    view.resize(width, height)
    started(view)
    for part in range(4):
        assert max(view.evaluate(EDGES)) <= 1, part
        view.press(RIGHT)
