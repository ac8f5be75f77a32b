"""The offline page on paper, and where no script runs: there it is the drill in words, with what to do."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pytest

from cornercue.interface import Overrides, estimated
from cornercue.interface import read as read_script
from cornercue.page.build import page_html
from cornercue.script.read import read_drill
from cornercue.session.folders import scripts_in
from cornercue.timing.phrasebook import phrasebook
from cornercue.voice.clip import Clip
from page_in_chromium import MadePage, opened

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

DRILLS = [*scripts_in([Path(__file__).parent.parent / "drills"])]


def sheets(view: Page, paper: str) -> int:
    """How many sheets of paper a page is printed on."""
    return len(re.findall(rb"/Type\s*/Page\b", view.pdf(format=paper)))


def silent(text: str, rate: float) -> Clip:
    return Clip(text, np.zeros(1, np.int16))


def test_every_demo_drill_is_one_or_two_sheets_of_paper(browser: Browser, tmp_path: Path) -> None:
    """Pages as the command makes them, but for their voice: paper says nothing aloud."""
    file = tmp_path / "drill.html"

    def write(path: Path) -> str:
        """The page of a drill script; its title."""
        drill = read_script(path)
        line = estimated(path.name, drill, Overrides(seed=5))
        file.write_text(page_html(drill, [line], silent, phrasebook()), encoding="utf-8")
        return drill.drill

    write(DRILLS[0])
    with opened(browser, file) as page:
        for path in DRILLS:
            title = write(path)
            page.reload()
            assert page.locator("#paper h2").text_content() == title
            for paper in ("A4", "Letter"):
                assert 1 <= sheets(page, paper) <= 2, (path.name, paper)
    assert len(DRILLS) > 20


def test_on_paper_it_is_one_or_two_pages_with_doses_points_and_cautions(view: Page, drill_page: MadePage) -> None:
    assert 1 <= sheets(view, "A4") <= 2
    view.emulate_media(media="print")
    paper = view.inner_text("#paper")
    for step in read_drill(drill_page.script).steps:
        assert step.in_words(2) in paper
    assert "jab: straight out" in paper
    assert "body flat" in paper
    assert "Stop at once when anyone says" in paper
    assert not view.is_visible("main")


@pytest.mark.parametrize("size", [(320, 568), (390, 844), (1280, 720)])
@pytest.mark.parametrize("how", ["switched off", "blocked"])
def test_a_page_without_script_says_what_to_do_and_shows_the_drill(
    browser: Browser, drill_page: MadePage, tmp_path: Path, size: tuple[int, int], how: str
) -> None:
    target = drill_page.file
    if how == "blocked":  # as by a host's policy: the browser has scripts, and runs none
        target = tmp_path / "blocked.html"
        html = drill_page.file.read_text(encoding="utf-8")
        target.write_text(re.sub("script-src 'sha256-[^']+'", "script-src 'none'", html), encoding="utf-8")
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]}, java_script_enabled=how == "blocked"
    )  # fmt: skip
    page = context.new_page()
    page.goto(target.as_uri())
    page.wait_for_selector("#unscripted", state="visible")
    words = page.inner_text("#unscripted") + page.inner_text("#paper")
    assert words.startswith("This page cannot play here")
    for advice in ("open it in your web browser", "put it on a web space", "sound file"):
        assert advice in words
    assert "Stop at once when anyone says" in words  # the cautions
    for line in ("jab, cross: 4 times", "Partner: parry, cover, 1 min 30 s", "push-ups: 3 times", "body flat"):
        assert line in words
    for control in ("#start", "#draw", "#instructor", "#water"):
        assert not page.is_visible(control)
    assert page.is_visible("#paper figure >> nth=0")
    paper = page.locator("#paper").bounding_box()
    assert paper
    assert paper["width"] <= size[0]
    context.close()


def test_a_page_with_its_script_shows_no_word_of_that(view: Page) -> None:
    view.wait_for_timeout(700)
    assert "cannot play here" not in view.inner_text("body")
    assert not view.is_visible("#paper")
