"""The offline page, made by the command and opened in a real Chromium from a file, as a user has it."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import pytest

from page_sound import EAR, STILL, follow, forget

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Locator, Page

    from cornercue.timing.timeline import Timeline

CHROMIUM = shutil.which("chromium")
FLAGS = ["--no-sandbox", "--disable-gpu", "--autoplay-policy=no-user-gesture-required", "--no-first-run",
         "--disable-background-networking", "--disable-component-update", "--disable-sync"]  # fmt: skip
SEED = 5

DRILL = """\
drill: Page test
level: 2
gear: [soft stick]
steps:
- combination:
  - jab: straight out
  - cross: hip and hand together
  reps: 4
  every: 3 s
- partner: [parry, cover]
  for: 90 s
- partner: [weave]
  reps: 4
  listener: feeder
- rest: 20 s
- exercise: push-ups
  reps: 3
  check: [body flat]
- exercise: squats
  reps: 3
  check: [heels down]
"""

FED = {
    "parry left": "Slow poke from your right, to the palm",
    "parry right": "Slow poke from your left, to the palm",
    "cover left": "Slow swing from your right, at the elbow",
    "cover right": "Slow swing from your left, at the elbow",
    "weave right": "Level swing from your left, elbow bent",
}
"""What the feeder reads for a call, in their own left and right: docs/partner.md, and who faces whom."""


@dataclass(frozen=True, slots=True)
class MadePage:
    """A page and what it must do: `line` is the same script laid out with the same seed, which is draw A."""

    file: Path
    script: Path
    line: Timeline

    def feeds(self, listener: Literal["student", "feeder"]) -> list[tuple[float, str]]:
        """When each feed is called, in seconds, and its words; `listener` is whom these are for."""
        return [(cue.start, cue.text) for cue in self.line.cues if cue.due is not None and cue.listener == listener]

    def first(self, kind: str) -> float:
        """When the first cue of a kind begins, in seconds."""
        return next(cue.start for cue in self.line.cues if cue.kind == kind)


def timeline_of(script: Path, seed: int = SEED) -> Timeline:
    """A script laid out by the engine, without any page."""
    from cornercue.interface import Overrides, open_script

    with open_script(script, Overrides(seed=seed, voice="british")) as opened:
        return opened.timeline


def made(folder: Path, text: str, *, draws: int = 1) -> MadePage:
    """The page of a drill script, beside it in `folder`."""
    from click.testing import CliRunner

    from cornercue.cli.main import commands

    script, page = folder / "drill.yaml", folder / "drill.html"
    script.write_text(text, encoding="utf-8")
    options = ["--seed", str(SEED), "--voice", "british", "--draws", str(draws)]
    result = CliRunner().invoke(commands, ["page", str(script), "-o", str(page), *options])
    assert result.exit_code == 0, result.output
    return MadePage(page, script, timeline_of(script))


@pytest.fixture(scope="session")
def drill_page(tmp_path_factory: pytest.TempPathFactory) -> MadePage:
    """The page that most tests look at."""
    return made(tmp_path_factory.mktemp("page"), DRILL, draws=3)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """The browser; sound begins without a touch, since tests have no fingers."""
    api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    if CHROMIUM is None:
        pytest.skip("there is no Chromium")
    api.expect.set_options(timeout=15_000)
    with api.sync_playwright() as driver:
        opened = driver.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield opened
        opened.close()


@pytest.fixture
def view(browser: Browser, drill_page: MadePage) -> Iterator[Page]:
    """That page on a notebook's screen, its clock in the test's hands."""
    with opened(browser, drill_page.file) as page:
        yield page


@contextmanager
def opened(
    browser: Browser,
    file: Path,
    *,
    size: tuple[int, int] = (1280, 720),
    running: bool = False,
    asleep: bool = False,
    bypass_csp: bool = False,
) -> Iterator[Page]:
    """A page on a screen of so many pixels; afterwards no fault was told and nothing was refused.

    Its audio clock stands where a test sets it, or is `running`. `asleep`: the machine can be put to sleep, by
    `clock.fast_forward`. `bypass_csp`: scripts for testing may come in.
    """
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]}, has_touch=True, bypass_csp=bypass_csp
    )  # fmt: skip
    page = context.new_page()
    told: list[str] = []
    page.on("pageerror", lambda error: told.append(str(error)))
    page.on("console", lambda message: told.append(message.text))
    page.add_init_script(EAR + ("" if running else STILL))
    if asleep:
        page.clock.install()
    page.goto(file.as_uri())
    yield page
    context.close()
    assert told == []


def button(view: Page, name: str) -> Locator:
    """A button by the name that people and screen readers know."""
    return view.get_by_role("button", name=name, exact=True)


def told(view: Page, words: str) -> None:
    """Wait until the page says that this is its state."""
    from playwright.sync_api import expect

    expect(view.get_by_role("status")).to_have_text(words)


def read(view: Page) -> None:
    """The cautions read, where there are any, and draw A chosen, where there are several."""
    if button(view, "We have read it").is_visible():
        button(view, "We have read it").click()
    if view.get_by_label("Draw").is_visible():
        view.get_by_label("Draw").select_option("Draw A")


def begun(view: Page, line: Timeline) -> None:
    """The cautions read, and the drill playing from its start."""
    read(view)
    play(view, line)


def play(view: Page, line: Timeline, since: float = 0.0) -> None:
    """Playing, with the Start button, the draw that is chosen, from its second `since`, where it stands."""
    forget(view)
    button(view, "Start").click()
    told(view, "Playing")
    follow(view, line, since)


def serious_faults(view: Page) -> list[str]:
    """What axe-core finds on a page that lets it in (`bypass_csp`): its serious and critical faults."""
    axe = pytest.importorskip("axe_core_python.sync_playwright", reason="axe-core-python is not installed")
    if view.evaluate("window.axe === undefined"):
        view.evaluate(axe.Axe().axe_script)
    found = view.evaluate("axe.run({ resultTypes: ['violations'] })")["violations"]
    return [one["id"] for one in found if one["impact"] in ("serious", "critical")]
