"""The offline page on small and large screens: what stands where, how large, and that everyone can use it."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from page_in_chromium import FED, MadePage, begun, button, made, opened, serious_faults, told
from page_sound import at, painted, wind

if TYPE_CHECKING:
    from playwright.sync_api import Browser, FloatRect, Page

PHONES = [(320, 568), (390, 844)]
SCREENS = [*PHONES, (844, 390), (1280, 720), (1920, 1080)]


def box(view: Page, what: str) -> FloatRect:
    found = view.locator(what).bounding_box()
    assert found
    return found


def foot(view: Page, what: str) -> float:
    """Where something ends, in pixels from the top of the screen."""
    found = box(view, what)
    return found["y"] + found["height"]


def type_size(view: Page, what: str) -> float:
    return float(view.evaluate(f"parseFloat(getComputedStyle(document.querySelector('{what}')).fontSize)"))


def fits(view: Page) -> bool:
    """Whether nothing lies outside the width."""
    return bool(view.evaluate("document.scrollingElement.scrollWidth <= innerWidth"))


@pytest.mark.parametrize("size", [(320, 568), (1280, 800), (3840, 2160)])
def test_it_fits_every_screen_and_everyone_can_use_it(
    browser: Browser, drill_page: MadePage, size: tuple[int, int], tmp_path: Path
) -> None:
    """axe-core finds no serious or critical fault, nothing lies outside the width, the call is large."""
    line = drill_page.line

    def good(page: Page, shown: str) -> None:
        for scheme in ("light", "dark"):
            page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
            painted(page)
            assert fits(page), (shown, scheme)
            assert serious_faults(page) == [], (shown, scheme)

    with opened(browser, drill_page.file, size=size, bypass_csp=True) as page:
        good(page, "cautions")
        begun(page, line)
        at(page, drill_page.first("call"))
        assert page.inner_text("#call") == "jab, cross"
        good(page, "call")
        at(page, next(span.start for span in line.spans if span.kind == "rest") + 4)
        assert page.inner_text("#left").startswith("rest")
        assert type_size(page, "#call") >= size[0] / 14
        good(page, "rest")
        button(page, "Pause").click()
        told(page, "Paused")
        good(page, "paused")
        page.click("summary")
        good(page, "fold")
        page.click("summary")
        button(page, "Go on").click()
        told(page, "Playing")
        wind(page, line.duration)
        told(page, "The end")
        good(page, "end")
    # As it is for whoever runs no script: axe-core is a script itself.
    unscripted = tmp_path / "unscripted.html"
    html = drill_page.file.read_text(encoding="utf-8")
    unscripted.write_text(re.sub(r"<script>.*</script>", "", html, flags=re.DOTALL), encoding="utf-8")
    with opened(browser, unscripted, size=size, bypass_csp=True) as page:
        page.get_by_role("heading", name="This page cannot play here").wait_for(state="visible")
        good(page, "no script")


@pytest.mark.parametrize("size", SCREENS)
def test_clock_and_countdown_are_a_fifth_of_the_call_and_paused_is_as_large(
    browser: Browser, drill_page: MadePage, size: tuple[int, int]
) -> None:
    with opened(browser, drill_page.file, size=size) as view:
        begun(view, drill_page.line)
        at(view, drill_page.first("call"))
        assert view.inner_text("#left").startswith("work")
        assert type_size(view, "#left") >= type_size(view, "#call") / 5
        assert foot(view, "#left") <= box(view, "footer")["y"] + 1
        button(view, "Feeder's view").click()
        start, call = drill_page.feeds("student")[0]
        at(view, start)
        assert view.inner_text("#call") == FED[call]
        assert view.inner_text("#hands") == "in 3 s"
        assert type_size(view, "#hands") >= type_size(view, "#call") / 5
        button(view, "Feeder's view").click()
        called = box(view, "#call")
        button(view, "Pause").click()
        told(view, "Paused")
        assert view.inner_text("#call") == "PAUSED"
        # It fills the width, or stands as high as a call may.
        words = view.evaluate(
            "(() => { const range = document.createRange(); range.selectNodeContents(document.querySelector('#call'));"
            " return range.getBoundingClientRect().width; })()"
        )
        assert words >= 0.85 * called["width"] or type_size(view, "#call") >= 0.3 * size[1]
        assert view.inner_text("#next") == f"at: {call}"


@pytest.mark.parametrize("size", SCREENS)
def test_controls_are_in_two_rows_large_enough_and_all_on_the_screen(
    browser: Browser, drill_page: MadePage, size: tuple[int, int]
) -> None:
    """44 px: WCAG 2.2, 2.5.5 "Target Size (Enhanced)", from memory."""
    names = ["Pause", "Stop", "Feeder's view", "Part back", "Repeat part", "Part on", "Softer", "Louder"]
    with opened(browser, drill_page.file, size=size) as view:
        begun(view, drill_page.line)
        feeds = drill_page.feeds("student")
        for moment in (0.0, drill_page.first("call"), feeds[0][0], feeds[2][0]):
            at(view, moment)
            for _ in ("student", "feeder"):
                controls = [button(view, name) for name in names] + [view.get_by_label("Draw")]
                boxes = [one.bounding_box() for one in controls]
                assert len({round(one["y"]) for one in boxes if one}) <= (1 if size[0] > 800 else 2)
                for one in boxes:
                    assert one
                    assert min(one["width"], one["height"]) >= 44
                    assert one["x"] >= 0
                    assert one["x"] + one["width"] <= size[0]
                    assert one["y"] + one["height"] <= size[1]
                button(view, "Feeder's view").click()
        shown = view.get_by_label("controls").get_by_role("button").all_text_contents()
        assert [" ".join(one.split()) for one in shown] == names


@pytest.mark.parametrize("size", PHONES)
def test_stop_stays_in_sight_when_somebody_scrolls(
    browser: Browser, drill_page: MadePage, size: tuple[int, int]
) -> None:
    with opened(browser, drill_page.file, size=size) as view:
        begun(view, drill_page.line)
        view.locator("summary").scroll_into_view_if_needed()
        view.locator("summary").click()
        view.locator("#picture").scroll_into_view_if_needed()
        assert foot(view, "#stop") <= size[1]
        button(view, "Stop").tap()
        told(view, "Stop")


def test_stop_is_within_reach_on_a_small_phone(browser: Browser, drill_page: MadePage) -> None:
    with opened(browser, drill_page.file, size=(320, 568)) as view:
        begun(view, drill_page.line)
        for start, words in drill_page.feeds("student")[:4]:
            at(view, start)
            for shown in (words, FED[words]):
                assert view.inner_text("#call") == shown
                assert foot(view, "#stop") <= 568
                button(view, "Feeder's view").click()


LONG = "Antidisestablishment" * 4
"""Wider than a small phone even in the smallest type."""

PHRASES = ["cover left", "STOP", "Three defences", "Straight poke from your left, slowly", LONG]


def test_on_a_small_phone_no_word_is_broken_that_could_be_shown_whole(browser: Browser, tmp_path: Path) -> None:
    spoken = made(tmp_path, "drill: Words\nsteps:\n" + "".join(f"- say: {phrase}\n" for phrase in PHRASES))
    with opened(browser, spoken.file, size=(320, 568)) as view:
        begun(view, spoken.line)
        for phrase in PHRASES:
            at(view, next(cue.start for cue in spoken.line.cues if cue.text == phrase))
            assert view.inner_text("#call") == phrase
            # The lines that each word lies on, by the browser's own layout.
            lines = view.evaluate(
                "(words) => { const text = document.querySelector('#call').firstChild; let at = 0;"
                " return words.split(' ').map((word) => { const range = document.createRange();"
                " range.setStart(text, at); range.setEnd(text, at + word.length); at += word.length + 1;"
                " const boxes = [...range.getClientRects()].filter((box) => box.width > 0);"
                " return new Set(boxes.map((box) => Math.round(box.top))).size; }); }",
                phrase,
            )
            assert lines == [2 if phrase == LONG else 1] * len(phrase.split())
            assert fits(view)
