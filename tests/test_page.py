"""The offline page in a real Chromium, opened from a file: its cautions, controls and draws, and what it never does."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner

from cornercue.cli.main import commands
from cornercue.interface import Overrides, page_text
from cornercue.interface import read as read_script
from page_in_chromium import DRILL, MadePage, begun, button, made, opened, play, read, timeline_of, told
from page_sound import at, loudness, sounding, sounds, until, wind

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

HOSTILE = """\
drill: "</script><script>document.title='owned'</script> & \\"quotes\\" 🥊 مرحبا"
about: "<img src=x onerror=alert(1)>"
steps:
- say: "<b>bold</b> & 'quoted' 🥊 שלום"
- exercise: "push-ups <i>"
  reps: 2
  check: ["<script>alert(1)</script>", "one '\\"--> ]]>"]
"""

KEYS = {"Start": " ", "Pause": " ", "Go on": " ", "Part back": "ArrowLeft", "Part on": "ArrowRight", "Repeat part": "r",
        "Softer": "ArrowDown", "Louder": "ArrowUp", "Feeder's view": "f", "Stop": "s"}  # fmt: skip


def test_nothing_starts_before_the_cautions_were_shown(view: Page) -> None:
    assert "A soft foam stick, nothing else." in view.inner_text("#cautions")
    for control in view.get_by_label("controls").get_by_role("button").all():
        assert control.is_disabled()
    for key in KEYS.values():
        view.keyboard.press(key)
    view.wait_for_timeout(300)
    told(view, "Read this first")
    assert view.is_visible("#cautions")
    assert sounds(view) == []
    button(view, "We have read it").click()
    told(view, "Ready")
    assert not view.is_visible("#cautions")


@pytest.mark.parametrize("by", ["keyboard", "touch"])
def test_every_control_works(view: Page, by: str) -> None:
    def do(control: str) -> None:
        if by == "keyboard":
            assert button(view, control).is_visible()
            view.keyboard.press(KEYS[control])
        else:
            button(view, control).tap()
        view.wait_for_timeout(100)
        if sounds(view):
            wind(view, 0.2)  # a part begins so much later, for a breath

    def top() -> str:
        """Both are one line: "Playing · 2 of 5 · Parry and cover"."""
        return f"{view.inner_text('#state')} · {view.inner_text('#where')}"

    read(view)
    view.click("header")  # nothing is chosen
    do("Start")
    told(view, "Playing")
    assert top() == "Playing · 1 of 5 · Jab, cross"
    assert len(sounding(view)) > 0
    assert loudness(view) == pytest.approx(0.8)
    do("Part on")
    assert top() == "Playing · 2 of 5 · Parry and cover"
    first_words = view.inner_text("#call")
    do("Part on")
    assert top() == "Playing · 3 of 5 · Weave"
    do("Part back")
    assert top() == "Playing · 2 of 5 · Parry and cover"
    wind(view, 3)
    assert view.inner_text("#call") != first_words
    do("Repeat part")
    assert view.inner_text("#call") == first_words
    assert top() == "Playing · 2 of 5 · Parry and cover"
    do("Part on")
    do("Part on")
    assert top() == "Playing · 4 of 5 · Push-ups"
    do("Softer")
    do("Softer")
    do("Louder")
    assert loudness(view) == pytest.approx(0.7)
    assert view.text_content("#loudness") == "loudness 7 of 10"
    wind(view, 1)
    assert view.inner_text("#left").startswith("work")
    do("Pause")
    assert top() == "Paused · 4 of 5 · Push-ups"
    assert view.inner_text("#call") == "PAUSED"
    assert sounding(view) == []
    paused = view.inner_text("#drill")
    wind(view, 2)
    assert view.inner_text("#drill") == paused  # the clock, too
    do("Go on")
    assert top() == "Playing · 4 of 5 · Push-ups"
    wind(view, 1.5)
    until(view, lambda: len(sounding(view)) > 0)
    do("Feeder's view")
    assert loudness(view) == 0
    do("Stop")
    assert view.inner_text("#call") == "STOP"
    assert sounding(view) == []
    do("Go on")
    do("Pause")
    assert top().startswith("Paused")
    do("Stop")
    assert top().startswith("Stop")


def test_after_a_stop_nothing_is_announced_until_somebody_goes_on(view: Page, drill_page: MadePage) -> None:
    begun(view, drill_page.line)
    at(view, drill_page.first("count"))
    assert view.inner_text("#next") == "then: two"
    button(view, "Stop").click()
    assert view.inner_text("#call") == "STOP"
    assert view.inner_text("#next") == ""
    button(view, "Go on").click()
    wind(view, 0.2)
    assert view.inner_text("#next") == "then: two"


def test_a_page_opened_by_play_fills_the_screen_at_its_start_and_only_once(
    browser: Browser, drill_page: MadePage, tmp_path: Path
) -> None:
    script, wide = tmp_path / "drill.yaml", tmp_path / "wide.html"
    script.write_text("drill: Wide\nsteps:\n- rest: 60 s\n", encoding="utf-8")
    asked = Overrides(seed=5, voice="british")
    text = page_text("drill.yaml", read_script(script), asked, draws=1, full_screen=True)
    wide.write_text(text, encoding="utf-8")
    for file, fills in ((wide, True), (drill_page.file, False)):
        with opened(browser, file) as page:

            def filled() -> bool:
                return bool(page.evaluate("document.fullscreenElement !== null"))

            read(page)
            assert not filled()
            button(page, "Start").click()
            told(page, "Playing")
            page.wait_for_timeout(300)
            assert filled() == fills
            page.evaluate("document.fullscreenElement && document.exitFullscreen()")
            until(page, lambda: not filled())
            button(page, "Pause").click()
            button(page, "Go on").click()
            page.wait_for_timeout(300)
            assert not filled()


def test_each_draw_is_the_engines_own_and_can_be_named_and_chosen(view: Page, drill_page: MadePage) -> None:
    read(view)
    choice = view.get_by_label("Draw")
    assert choice.locator("option").all_inner_texts() == ["Draw A", "Draw B", "Draw C"]
    seeds = dict(re.findall(r"\b([A-Z]) has seed (\d+)", view.text_content("#instructor") or ""))
    assert seeds["A"] == "5"
    called = []
    for name, seed in seeds.items():
        line = timeline_of(drill_page.script, int(seed))
        choice.select_option(f"Draw {name}")
        assert choice.get_attribute("title") == f"seed {seed}"
        told(view, "Ready")
        play(view, line)
        feeds = [cue for cue in line.cues if cue.due is not None and cue.listener == "student"]
        shown = []
        for cue in feeds:
            at(view, cue.start)
            shown.append(view.inner_text("#call"))
        assert shown == [cue.text for cue in feeds]
        called.append(shown)
    assert len(set(map(tuple, called))) == 3


def test_no_request_leaves_the_page_and_its_policy_forbids_them(browser: Browser, drill_page: MadePage) -> None:
    asked: list[str] = []
    with opened(browser, drill_page.file) as page:
        page.on("request", lambda request: asked.append(request.url))
        page.reload()
        begun(page, drill_page.line)
        at(page, drill_page.line.duration + 1)
        told(page, "The end")
        assert asked == [drill_page.file.as_uri()]
    context = browser.new_context()  # apart, since the browser says aloud what it refuses
    page = context.new_page()
    page.goto(drill_page.file.as_uri())
    policy = page.get_attribute("meta[http-equiv=Content-Security-Policy]", "content") or ""
    assert policy.startswith("default-src 'none'; script-src 'sha256-")
    assert page.evaluate("fetch('https://example.org/').then(() => 'sent', () => 'refused')") == "refused"
    context.close()


def test_texts_are_shown_as_texts_whatever_they_hold(browser: Browser, tmp_path: Path) -> None:
    hostile = made(tmp_path, HOSTILE)
    with opened(browser, hostile.file) as page:
        page.on("dialog", lambda dialog: dialog.dismiss())
        title = "</script><script>document.title='owned'</script> & \"quotes\" 🥊 مرحبا"
        assert page.title() == title
        assert page.inner_text("h1") == title
        assert page.locator("img, b, i, main script").count() == 0
        begun(page, hostile.line)
        at(page, next(cue.start for cue in hostile.line.cues if "bold" in cue.text))
        assert page.inner_text("#call") == "<b>bold</b> & 'quoted' 🥊 שלום"
        page.keyboard.press("ArrowRight")
        wind(page, 0.2)
        assert page.inner_text("#points").splitlines() == ["<script>alert(1)</script>", "one '\"--> ]]>"]
        assert page.locator("img, b, i, main script").count() == 0


def test_a_page_needs_a_name_that_ends_in_html(tmp_path: Path) -> None:
    script = tmp_path / "drill.yaml"
    script.write_text(DRILL, encoding="utf-8")
    result = CliRunner().invoke(commands, ["page", str(script), "-o", str(tmp_path / "drill.pdf")])
    assert result.exit_code == 1
    assert ".html" in result.output
