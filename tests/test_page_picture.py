"""The picture in the offline page, in a real Chromium: folded, out of the way, in the page's colours, not on paper."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from cornercue.cli.main import commands
from cornercue.picture.style import COLOURS
from page_in_chromium import CHROMIUM, chromium

pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="there is no Chromium")

DRILL = Path(__file__).parent.parent / "drills" / "heron-holds.yaml"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    page = tmp_path_factory.mktemp("page") / "drill.html"
    result = CliRunner().invoke(commands, ["page", str(DRILL), "-o", str(page), "--voice", "system", "--seed", "5"])
    assert result.exit_code == 0, result.output
    return page


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with chromium() as opened:
        yield opened


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [(360, 640), (1280, 800)])
def test_it_lies_folded_below_the_drill_in_the_pages_colours(
    browser: Any, made: Path, size: tuple[int, int], scheme: str
) -> None:
    page = browser.new_page(viewport={"width": size[0], "height": size[1]}, color_scheme=scheme)
    told: list[str] = []
    page.on("console", lambda message: told.append(message.text))
    page.goto(made.as_uri())
    page.click("#read")
    fold, picture = page.locator("#instructor summary"), page.locator("#picture svg")
    drill, controls = page.locator("#drill").bounding_box(), page.locator("footer").bounding_box()
    assert drill["y"] + drill["height"] == controls["y"]
    assert fold.bounding_box()["y"] >= controls["y"]  # out of sight until somebody scrolls down
    assert not picture.is_visible()
    fold.click()
    assert picture.is_visible()
    wide = picture.bounding_box()["width"]
    assert wide == size[0] if size[0] < 700 else 560 < wide < size[0]
    ink = COLOURS["ink"][scheme == "dark"]
    shown = page.evaluate("getComputedStyle(document.querySelector('#picture text')).fill")
    assert shown == f"rgb({', '.join(str(int(ink[at : at + 2], 16)) for at in (1, 3, 5))})"
    assert told == []  # nothing was refused by the page's policy
    page.close()


def test_on_paper_the_drill_in_words_has_the_sheet_alone(browser: Any, made: Path) -> None:
    page = browser.new_page()
    page.goto(made.as_uri())
    page.click("#read")
    page.click("#instructor summary")
    assert page.is_visible("#picture")
    page.emulate_media(media="print")
    assert not page.is_visible("#picture")
    assert page.is_visible("#paper")
    page.close()
