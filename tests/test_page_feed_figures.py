"""Pictures of feeds on the offline page, in a real Chromium: the feed that is due, by the feeder's left and right."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from cornercue.feed.sweep import Pair
from cornercue.feed.table import AUDIENCES, FEEDS
from cornercue.picture.feed_picture import feed_svg
from cornercue.technique.sides import SIDES
from page_in_chromium import FED, MadePage, begun, button, made, opened, serious_faults
from page_sound import at, painted

if TYPE_CHECKING:
    from playwright.sync_api import Browser, FloatRect, Page

DRILL = """\
drill: Pictures
level: 4
gear: [soft stick]
steps:
- partner: [parry, cover]
  for: 40 s
  order: alternate
- partner: weave
  reps: 2
  sides: right
- partner: duck
  reps: 2
  listener: feeder
"""


@pytest.fixture(scope="module")
def fed_page(tmp_path_factory: pytest.TempPathFactory) -> MadePage:
    return made(tmp_path_factory.mktemp("page"), DRILL)


@pytest.fixture
def view(browser: Browser, fed_page: MadePage) -> Iterator[Page]:
    with opened(browser, fed_page.file, size=(390, 844)) as page:
        yield page


def box(view: Page, what: str) -> FloatRect:
    found = view.locator(what).bounding_box()
    assert found
    return found


def test_beside_the_words_stands_the_picture_of_the_feed_that_is_due(view: Page, fed_page: MadePage) -> None:
    begun(view, fed_page.line)
    assert not view.is_visible("#feed")  # nothing for the student
    button(view, "Feeder's view").click()
    seen = set()
    for start, call in [*fed_page.feeds("student"), *fed_page.feeds("feeder")]:
        at(view, start)
        words = FED.get(call, call)
        assert view.inner_text("#call") == words
        assert view.get_by_role("img", name=words, exact=True).is_visible()
        picture = (view.locator("#feed use").get_attribute("href") or "").removeprefix("#")
        seen.add(picture)
        # It is drawn for the side that is called; what is written in it names the side beside it, the feeder's own.
        assert picture.removeprefix("feed-").replace("-", " ") == (call if call in FED else "duck")
        own = re.findall(r"your (left|right)", words)
        written = view.locator(f"#{picture}").text_content() or ""
        assert re.findall(r"your ?(left|right)", written) == own
        assert box(view, "#feed")["width"] > 300
    assert seen == {"feed-parry-left", "feed-parry-right", "feed-cover-left", "feed-cover-right",
                    "feed-weave-right", "feed-duck"}  # fmt: skip
    button(view, "Feeder's view").click()
    assert not view.is_visible("#feed")


def test_after_a_stop_there_is_no_picture(view: Page, fed_page: MadePage) -> None:
    begun(view, fed_page.line)
    button(view, "Feeder's view").click()
    at(view, fed_page.first("call"))
    assert view.is_visible("#feed")
    button(view, "Stop").click()
    assert view.inner_text("#call") == "STOP"
    assert not view.is_visible("#feed")


def test_the_tip_lies_in_the_browser_where_the_table_says(view: Page, fed_page: MadePage) -> None:
    """The browser's own layout of the shown copy: its ring is as far along the picture as the sweep has it."""
    begun(view, fed_page.line)
    button(view, "Feeder's view").click()
    at(view, next(start for start, call in fed_page.feeds("student") if call == "parry left"))
    measured = view.evaluate(
        "(() => { const { width } = document.getElementById('feed').getBBox();"
        " const ring = document.querySelector('#feed-parry-left [data-part=target]').getBBox();"
        " return [width, ring.x + ring.width / 2, ring.y + ring.height / 2]; })()"
    )
    assert measured[0] > 500
    palm = Pair(1.4, 1.7).palm("left")
    assert measured[1:] == [pytest.approx(436 + 128 * palm.y, abs=1), pytest.approx(80 + 128 * palm.x, abs=1)]


def test_the_cautions_show_each_defence_that_is_fed_and_say_which_side(view: Page) -> None:
    figures = view.locator("#cautions figure")
    assert figures.count() == 4
    texts = figures.all_inner_texts()
    assert sum("the same from your left" in text for text in texts) == 2  # parry and cover come from both sides
    weave = next(text for text in texts if "Weave right." in text)
    assert "from your left" in weave
    assert "the same" not in weave
    for figure in figures.all():
        drawn = figure.locator("svg").bounding_box()
        assert drawn
        assert drawn["width"] > 300
        assert figure.locator("svg").get_attribute("aria-label")
    assert "Striped: the feeder" in view.inner_text("#cautions")
    assert view.evaluate("document.scrollingElement.scrollWidth <= innerWidth")


def test_no_id_stands_twice_in_the_page(view: Page) -> None:
    ids = view.evaluate("[...document.querySelectorAll('[id]')].map((one) => one.id)")
    assert len(ids) == len(set(ids))


def test_on_paper_they_follow_the_cautions(view: Page) -> None:
    view.emulate_media(media="print")
    assert view.locator("#paper figure").count() == 4
    assert view.is_visible("#paper figure >> nth=0")
    assert not view.is_visible("#feed")
    assert 1 <= len(re.findall(rb"/Type\s*/Page[^s]", view.pdf(format="A4"))) <= 2


@pytest.mark.parametrize("size", [(320, 568), (390, 844), (844, 390), (1280, 800)])
def test_the_feeders_view_fits_every_screen_with_its_picture_and_everyone_can_use_it(
    browser: Browser, fed_page: MadePage, size: tuple[int, int]
) -> None:
    with opened(browser, fed_page.file, size=size, bypass_csp=True) as page:
        begun(page, fed_page.line)
        button(page, "Feeder's view").click()
        for start, call in fed_page.feeds("student")[:3]:
            at(page, start)
            assert page.inner_text("#call") == FED[call]
            picture, words, stop = (box(page, one) for one in ("#feed", "#call", "#stop"))
            beside = picture["x"] >= words["x"] + words["width"] - 1
            assert beside or picture["y"] >= words["y"] + words["height"] - 1
            assert beside == (size[0] > size[1])
            assert picture["height"] >= 80
            assert picture["x"] + picture["width"] <= size[0]
            assert stop["y"] + stop["height"] <= size[1]
        assert page.evaluate("document.scrollingElement.scrollWidth <= innerWidth")
        page.emulate_media(color_scheme="light")
        painted(page)
        assert serious_faults(page) == []
        page.emulate_media(color_scheme="dark")
        painted(page)
        assert serious_faults(page) == []


def test_no_words_in_a_picture_lie_on_others(browser: Browser) -> None:
    """By the browser's own fonts and boxes."""
    page = browser.new_page(viewport={"width": 600, "height": 600})
    for audience in AUDIENCES:
        for defence in FEEDS[audience]:
            for side in SIDES:
                page.set_content(feed_svg(audience, defence, side))
                boxes = page.evaluate(
                    "[...document.querySelectorAll('text')].map((one) => { const box = one.getBoundingClientRect();"
                    " return [one.textContent, box.left, box.right, box.top + 3, box.bottom - 3]; })"
                )
                for n, (words, left, right, top, bottom) in enumerate(boxes):
                    for other, left2, right2, top2, bottom2 in boxes[n + 1 :]:
                        apart = right <= left2 or right2 <= left or bottom <= top2 or bottom2 <= top
                        assert apart, (audience, defence, side, words, other)
    page.close()


def test_a_drill_without_a_feeder_has_no_pictures(tmp_path: Path) -> None:
    html = made(tmp_path, "drill: Alone\nsteps:\n- exercise: push-ups\n  reps: 3\n").file.read_text(encoding="utf-8")
    assert "feed-" not in re.sub(r"<script>.*</script>|<style>.*</style>", "", html, flags=re.DOTALL)
    assert '"picture":' not in html


def test_the_pictures_cost_the_page_less_than_6_kb_each(fed_page: MadePage) -> None:
    html = fed_page.file.read_text(encoding="utf-8")
    (drawings,) = re.findall(r'<svg width="0".*?</svg>', html, flags=re.DOTALL)
    names = set(re.findall(r'"picture":\s?"(feed-[a-z-]+)"', html))
    assert len(names) == 6
    assert len(drawings) / len(names) < 6000
