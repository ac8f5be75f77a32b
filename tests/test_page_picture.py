"""The picture in the offline page, in a real Chromium: folded, out of the way, in the page's colours, not on paper."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from cornercue.picture.style import COLOURS
from page_in_chromium import MadePage, made, opened, read

if TYPE_CHECKING:
    from playwright.sync_api import Browser

DRILL = Path(__file__).parent.parent / "drills" / "heron-holds.yaml"


@pytest.fixture(scope="module")
def heron_page(tmp_path_factory: pytest.TempPathFactory) -> MadePage:
    return made(tmp_path_factory.mktemp("page"), DRILL.read_text(encoding="utf-8"))


@pytest.mark.parametrize("size", [(360, 640), (1280, 800)])
def test_it_lies_folded_below_the_drill_in_the_pages_colours(
    browser: Browser, heron_page: MadePage, size: tuple[int, int]
) -> None:
    with opened(browser, heron_page.file, size=size) as page:
        read(page)
        fold, picture = page.locator("#instructor summary"), page.locator("#picture svg")
        drill, controls = page.locator("#drill").bounding_box(), page.locator("footer").bounding_box()
        below = fold.bounding_box()
        assert drill
        assert controls
        assert below
        assert drill["y"] + drill["height"] == controls["y"]
        assert below["y"] >= controls["y"]  # out of sight until somebody scrolls down
        assert not picture.is_visible()
        fold.click()
        assert picture.is_visible()
        drawn = picture.bounding_box()
        assert drawn
        assert drawn["width"] == size[0] if size[0] < 700 else 560 < drawn["width"] < size[0]
        for dark in (False, True):
            page.emulate_media(color_scheme="dark" if dark else "light")
            ink = COLOURS["ink"][dark]
            shown = page.evaluate("getComputedStyle(document.querySelector('#picture text')).fill")
            assert shown == f"rgb({', '.join(str(int(ink[at : at + 2], 16)) for at in (1, 3, 5))})"


def test_on_paper_the_drill_in_words_has_the_sheet_alone(browser: Browser, heron_page: MadePage) -> None:
    with opened(browser, heron_page.file) as page:
        read(page)
        page.click("#instructor summary")
        assert page.is_visible("#picture")
        page.emulate_media(media="print")
        assert not page.is_visible("#picture")
        assert page.is_visible("#paper")
