"""Pictures of feeds on the offline page, in a real Chromium: the feed that is due, by the feeder's left and right."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from cornercue.feed.sweep import Pair
from cornercue.feed.table import AUDIENCES, FEEDS
from cornercue.picture.feed_picture import feed_svg
from cornercue.technique.sides import SIDES
from page_in_chromium import CHROMIUM, at, chromium, made

pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="there is no Chromium")

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
def page_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return made(tmp_path_factory.mktemp("page"), DRILL)


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with chromium() as opened:
        yield opened


@pytest.fixture
def view(browser: Any, page_file: Path) -> Iterator[Any]:
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.on("pageerror", lambda error: pytest.fail(f"the page failed: {error}"))
    page.on("console", lambda message: pytest.fail(f"the browser refused: {message.text}"))
    page.goto(page_file.as_uri())
    yield page
    context.close()


def feeds(view: Any) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = view.evaluate("player.draw.cues.filter((cue) => cue.feed)")
    return found


def shown(view: Any) -> str:
    """The id of the picture in the feeder's view."""
    return str(view.evaluate("document.querySelector('#feed use').getAttribute('href')")).removeprefix("#")


def test_beside_the_words_stands_the_picture_of_the_feed_that_is_due(view: Any) -> None:
    view.click("#read")
    assert not view.is_visible("#feed")  # nothing for the student
    view.click("#view")
    seen = set()
    for cue in feeds(view):
        at(view, cue["start"] + 0.01)
        assert view.inner_text("#call") == cue["feed"]
        assert view.is_visible("#feed")
        assert shown(view) == cue["picture"]
        assert view.get_attribute("#feed", "aria-label") == cue["feed"]
        seen.add(cue["picture"])
        # The words in the picture name the same side as the words beside it: the feeder's own.
        told = view.evaluate(f"document.getElementById('{cue['picture']}').textContent")
        own = re.search(r"your (left|right)", cue["feed"])
        assert re.findall(r"your ?(left|right)", told) == ([own[1]] if own else [])
        if own:
            students = {"left": "right", "right": "left"}[own[1]]
            assert cue["picture"].endswith(f"-{students}")
    assert seen == {"feed-parry-left", "feed-parry-right", "feed-cover-left", "feed-cover-right",
                    "feed-weave-right", "feed-duck"}  # fmt: skip
    view.click("#view")
    assert not view.is_visible("#feed")


def test_after_a_stop_there_is_no_picture(view: Any) -> None:
    view.click("#read")
    view.click("#view")
    at(view, feeds(view)[0]["start"])
    assert view.is_visible("#feed")
    view.click("#stop")
    assert view.inner_text("#call") == "STOP"
    assert not view.is_visible("#feed")


def test_the_tip_lies_in_the_browser_where_the_table_says(view: Any) -> None:
    """The browser's own layout of the shown copy: its ring is as far along the picture as the sweep has it."""
    view.click("#read")
    view.click("#view")
    parry = next(cue for cue in feeds(view) if cue["picture"] == "feed-parry-left")
    at(view, parry["start"])
    box = view.evaluate(
        "(() => { const { width, height } = document.getElementById('feed').getBBox();"
        " const ring = document.querySelector('#feed-parry-left [data-part=target]').getBBox();"
        " return [width, height, ring.x + ring.width / 2, ring.y + ring.height / 2]; })()"
    )
    assert box[0] > 500
    palm = Pair(1.4, 1.7).palm("left")
    assert box[2:] == [pytest.approx(436 + 128 * palm.y, abs=1), pytest.approx(80 + 128 * palm.x, abs=1)]


def test_the_cautions_show_each_defence_that_is_fed_and_say_which_side(view: Any) -> None:
    figures = view.locator("#cautions figure")
    assert figures.count() == 4
    texts = figures.all_inner_texts()
    assert sum("the same from your left" in text for text in texts) == 2  # parry and cover come from both sides
    weave = next(text for text in texts if "Weave right." in text)
    assert "from your left" in weave
    assert "the same" not in weave
    for figure in figures.all():
        assert figure.locator("svg").bounding_box()["width"] > 300
        assert figure.locator("svg").get_attribute("aria-label")
    assert "Striped: the feeder" in view.inner_text("#cautions")
    assert view.evaluate("document.scrollingElement.scrollWidth <= innerWidth")


def test_no_id_stands_twice_in_the_page(view: Any) -> None:
    ids = view.evaluate("[...document.querySelectorAll('[id]')].map((one) => one.id)")
    assert len(ids) == len(set(ids))


def test_on_paper_they_follow_the_cautions(view: Any) -> None:
    view.emulate_media(media="print")
    assert view.locator("#paper figure").count() == 4
    assert view.is_visible("#paper figure >> nth=0")
    assert not view.is_visible("#feed")
    assert 1 <= len(re.findall(rb"/Type\s*/Page[^s]", view.pdf(format="A4"))) <= 2


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [(320, 568), (390, 844), (844, 390), (1280, 800)])
def test_the_feeders_view_fits_every_screen_with_its_picture_and_everyone_can_use_it(
    browser: Any, page_file: Path, size: tuple[int, int], scheme: str
) -> None:
    axe = pytest.importorskip("axe_core_python.sync_playwright", reason="axe-core-python is not installed")
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]}, color_scheme=scheme, bypass_csp=True
    )  # fmt: skip
    page = context.new_page()
    page.goto(page_file.as_uri())
    page.click("#read")
    page.click("#view")
    for cue in feeds(page)[:3]:
        at(page, cue["start"])
        picture, call, stop = (page.locator(one).bounding_box() for one in ("#feed", "#call", "#stop"))
        beside = picture["x"] >= call["x"] + call["width"] - 1
        assert beside or picture["y"] >= call["y"] + call["height"] - 1
        assert beside == (size[0] > size[1])
        assert picture["height"] >= 80
        assert picture["x"] + picture["width"] <= size[0]
        assert stop["y"] + stop["height"] <= size[1]
    assert page.evaluate("document.scrollingElement.scrollWidth <= innerWidth")
    bad = [one["id"] for one in axe.Axe().run(page)["violations"] if one["impact"] in ("serious", "critical")]
    assert bad == []
    context.close()


def test_no_words_in_a_picture_lie_on_others(browser: Any) -> None:
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
    html = made(tmp_path, "drill: Alone\nsteps:\n- exercise: push-ups\n  reps: 3\n").read_text(encoding="utf-8")
    assert "feed-" not in re.sub(r"<script>.*</script>|<style>.*</style>", "", html, flags=re.DOTALL)
    assert '"picture":' not in html


def test_the_pictures_cost_the_page_less_than_6_kb_each(page_file: Path) -> None:
    html = page_file.read_text(encoding="utf-8")
    (drawings,) = re.findall(r'<svg width="0".*?</svg>', html, flags=re.DOTALL)
    names = set(re.findall(r'"picture":\s?"(feed-[a-z-]+)"', html))
    assert len(names) == 6
    assert len(drawings) / len(names) < 6000
