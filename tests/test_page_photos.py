"""Pictures of a club's words in the page and on its sheet: small, upright, and with nothing of the file around them."""

from __future__ import annotations

import base64
import io
import re
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

import numpy as np
import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from cornercue.cli.main import commands
from cornercue.page.photos import LARGEST, WordPicture, pictures_of, shown_in, word_of
from cornercue.script.faults import Fault, ScriptFaults
from cornercue.script.photo import Photo
from cornercue.script.read import read_drill
from cornercue.session.checking import check_script
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Action, Timeline
from page_in_chromium import MadePage, begun, button, opened, serious_faults, timeline_of
from page_sound import at, painted
from photos import CLUB, LYING, library, photograph

if TYPE_CHECKING:
    from playwright.sync_api import Browser


@pytest.fixture
def script(tmp_path: Path) -> Path:
    return library(tmp_path)


def laid_out(script: Path) -> Timeline:
    return expand(read_drill(script), Request(1), estimated_seconds)


def pictures(script: Path) -> list[WordPicture]:
    return pictures_of(read_drill(script).photos, [laid_out(script)])


def seen(picture: WordPicture) -> Image.Image:
    image = Image.open(io.BytesIO(picture.jpeg))
    image.load()
    return image


def test_only_what_is_called_is_in_the_page_each_once(script: Path) -> None:
    assert [one.word for one in pictures(script)] == ["tide kick", "heron"]


def test_a_photograph_is_small_and_as_it_was_meant_to_be_seen(script: Path) -> None:
    kick, heron = map(seen, pictures(script))
    assert (kick.format, kick.size) == ("JPEG", (640, 480))
    above, below = kick.getpixel((320, 100)), kick.getpixel((320, 400))
    assert isinstance(above, tuple)
    assert isinstance(below, tuple)
    assert above[0] > 200 > 60 > above[2]  # red
    assert below[2] > 200 > 60 > below[0]  # blue
    assert heron.size == (213, 640)
    assert heron.convert("L").getpixel((5, 5)) == 255  # what can be seen through is white, like paper
    assert heron.convert("L").getpixel((106, 300)) == pytest.approx(0, abs=30)


def test_nothing_that_was_written_beside_the_picture_comes_along(script: Path) -> None:
    """Read by the library that wrote it, and by its bytes: a JPEG's segments are all of the picture itself."""
    original = (script.parent.parent / "tide.jpg").read_bytes()
    assert original.count(b"SECRET") == 3
    assert Image.open(io.BytesIO(original)).getexif().get_ifd(0x8825)
    for one in pictures(script):
        assert b"SECRET" not in one.jpeg
        assert b"Exif" not in one.jpeg
        image = seen(one)
        assert dict(image.getexif()) == {}
        assert {*image.info} <= {"jfif", "jfif_version", "jfif_unit", "jfif_density", "progressive", "progression"}
        # ITU-T T.81, table B.1: only JFIF's own APP0, tables, frame and scans; neither APPn (E1 on) nor comments (FE).
        assert set(markers(one.jpeg)) <= {0xE0, 0xDB, 0xC4, 0xC2, 0xDA}


def markers(jpeg: bytes) -> Iterator[int]:
    """The markers of a JPEG's segments, in order; what is coded after a scan's header has no other than RSTn and 00."""
    place = 2
    while place < len(jpeg) - 2:
        if jpeg[place] == 0xFF and jpeg[place + 1] not in (0x00, *range(0xD0, 0xD8)):
            yield jpeg[place + 1]
            place += 2 + int.from_bytes(jpeg[place + 2 : place + 4], "big")
        else:
            place += 1


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA", "CMYK", "I;16"])
def test_every_kind_of_colour_is_shown(tmp_path: Path, mode: str) -> None:
    path = tmp_path / ("a.jpg" if mode == "CMYK" else "a.png")
    if mode == "I;16":
        Image.fromarray(np.full((30, 40), 40_000, np.uint16)).save(path)
    else:
        Image.new("L", (40, 30), 160).convert(mode).save(path)
    script = written(tmp_path, path.name)
    (one,) = pictures(script)
    level = np.asarray(seen(one).convert("L"), float).mean()
    assert level == pytest.approx(160, abs=12)


def written(folder: Path, picture: str) -> Path:
    script = folder / "drill.yaml"
    words = f"words:\n  ebb: {{like: jab, picture: {picture}}}\n"
    script.write_text(f"drill: A\n{words}steps:\n- combination: [ebb]\n  teach: 1\n", encoding="utf-8")
    return script


@pytest.mark.parametrize("size", [(3000, 2000), (4000, 30), (2, 2), (1, 5000)])
def test_whatever_there_is_to_see_fits_the_budget(tmp_path: Path, size: tuple[int, int]) -> None:
    """Noise is the worst that can be compressed."""
    noise = np.random.default_rng(1).integers(0, 256, (size[1], size[0], 3), np.uint8)
    Image.fromarray(noise).save(tmp_path / "a.png")
    (one,) = pictures(written(tmp_path, "a.png"))
    assert len(one.jpeg) <= LARGEST
    assert max(seen(one).size) <= 640


def test_a_picture_that_is_cut_short_is_told_where_it_is_named(script: Path) -> None:
    picture = script.parent.parent / "tide.jpg"
    photograph(picture, (1600, 1200))
    picture.write_bytes(picture.read_bytes()[:4000])
    for asked in (lambda: pictures(script), lambda: check_script(script)):
        with pytest.raises(ScriptFaults) as caught:
            asked()
        (fault,) = caught.value.faults
        told = "`tide.jpg` is damaged; open it elsewhere and save it as JPEG or PNG"
        assert str(fault) == f"{script.parent.parent}/club.yaml:3:32: {told}"
    assert CliRunner().invoke(commands, ["check", str(script)]).exit_code == 1


@given(st.lists(st.tuples(st.floats(0, 1), st.integers(0, 255)), min_size=1, max_size=20), st.floats(0.1, 1))
@settings(max_examples=200)
def test_whatever_is_damaged_is_shown_or_told(changes: list[tuple[float, int]], kept: float) -> None:
    with TemporaryDirectory() as folder:
        script = written_beside(Path(folder))
        path = script.parent / "a.jpg"
        content = bytearray(path.read_bytes())
        for place, value in changes:  # most of them near the beginning, where all is told that is not the picture
            content[min(int(place**4 * len(content)), len(content) - 1)] = value
        path.write_bytes(content[: int(kept * len(content))])
        made, faulty = list[WordPicture](), tuple[Fault, ...]()
        try:
            made = pictures(script)
        except ScriptFaults as found:
            faulty = found.faults
        assert all(len(one.jpeg) <= LARGEST for one in made)
        assert [fault.line for fault in faulty] == [3] * (1 - len(made))


def test_a_picture_that_is_gone_or_has_grown_since_is_told_too(tmp_path: Path) -> None:
    moves = (Action("jab", "strike", "ebb"),)
    line = laid_out(written_beside(tmp_path))
    call = next(cue for cue in line.cues if cue.moves)
    assert word_of(moves[0]) == word_of(call.moves[0]) == "ebb"
    with pytest.raises(ScriptFaults, match=r"`gone\.jpg` is damaged"):
        pictures_of({"ebb": Photo(tmp_path / "gone.jpg", "a.yaml", 3, 4)}, [line])
    (tmp_path / "big.png").write_bytes(b"\0" * 30_000_000)
    with pytest.raises(ScriptFaults, match=r"a\.yaml:3:4: `big\.png` has 30 MB, of 20 at most"):
        pictures_of({"ebb": Photo(tmp_path / "big.png", "a.yaml", 3, 4)}, [line])


def written_beside(folder: Path) -> Path:
    photograph(folder / "a.jpg")
    return written(folder, "a.jpg")


def test_a_picture_that_was_changed_is_read_anew(tmp_path: Path) -> None:
    script = written_beside(tmp_path)
    (before,) = pictures(script)
    photograph(tmp_path / "a.jpg", (300, 700), LYING)
    (after,) = pictures(script)
    assert (seen(before).size, seen(after).size) == ((640, 480), (274, 640))


def test_it_is_shown_while_the_word_is_taught_or_held_and_at_no_other_time(script: Path) -> None:
    line = laid_out(script)
    shown = {cue.start: at for cue, at in zip(line.cues, shown_in(line, ["tide kick", "heron"]), strict=True)}
    for cue in line.cues:
        if cue.taught:
            assert shown[cue.start] == (0 if cue.text == "lead tide kick" else None), cue
        elif cue.text == "knee up first":
            assert shown[cue.start] == 0
        elif cue.rep:  # called, or another technique's point
            assert shown[cue.start] is None
        elif "heron" in cue.text.lower() or cue.text in ("stand tall", "Hold."):
            assert shown[cue.start] == 1, cue
    assert list(shown.values()).count(0) == 4
    assert list(shown.values()).count(1) == 5


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> MadePage:
    script = library(tmp_path_factory.mktemp("page"))
    file = script.with_suffix(".html")
    result = CliRunner().invoke(commands, ["page", str(script), "-o", str(file), "--seed", "5", "--voice", "british"])
    assert result.exit_code == 0, result.output
    return MadePage(file, script, timeline_of(script))


@pytest.mark.parametrize("size", [(320, 568), (390, 844), (844, 390), (1280, 800)])
def test_it_fits_every_screen_and_everyone_can_use_it(browser: Browser, page: MadePage, size: tuple[int, int]) -> None:
    taught = next(cue for cue in page.line.cues if cue.taught)
    called = next(cue for cue in page.line.cues if cue.kind == "call" and cue.rep and not cue.taught)
    with opened(browser, page.file, size=size, bypass_csp=True) as view:
        begun(view, page.line)
        at(view, taught.start)
        assert view.inner_text("#call") == "lead tide kick"
        photo = view.get_by_role("img", name="tide kick", exact=True)
        assert photo.evaluate("(one) => one.complete && one.naturalWidth") == 640
        picture, words, stop = (view.locator(one).bounding_box() for one in ("#photo", "#call", "#start"))
        assert picture
        assert words
        assert stop
        beside = picture["x"] >= words["x"] + words["width"] - 1
        assert beside or picture["y"] >= words["y"] + words["height"] - 1
        assert beside == (size[0] > size[1])
        assert picture["height"] >= 80
        assert picture["x"] >= 0
        assert picture["x"] + picture["width"] <= size[0]
        assert picture["y"] + picture["height"] <= stop["y"]
        assert view.evaluate("document.scrollingElement.scrollWidth <= innerWidth")
        for scheme in ("light", "dark"):
            view.emulate_media(color_scheme=scheme)
            painted(view)
            assert serious_faults(view) == []
        button(view, "Pause").click()
        assert view.is_visible("#photo")
        button(view, "Go on").click()
        at(view, called.start)
        assert not view.is_visible("#photo")


FROM_ELSEWHERE = """() => new Promise((done) => {
  document.addEventListener("securitypolicyviolation", (event) => done(event.effectiveDirective));
  new Image().src = "a.png";
})"""


def test_its_policy_lets_pictures_in_from_the_page_alone_and_only_where_there_are_any(
    browser: Browser, page: MadePage, script: Path
) -> None:
    """As the browser has it: pictures of the page are shown, one from elsewhere is refused."""
    text = page.file.read_text("utf-8")
    assert "; img-src data:; " in text
    assert text.count("data:image/jpeg;base64,") == 2  # each once, for the screen and for paper
    for found in re.findall(r"data:image/jpeg;base64,([\w+/=]+)", text):
        assert len(base64.b64decode(found)) <= LARGEST
    with pytest.raises(AssertionError), opened(browser, page.file) as view:
        assert view.evaluate(FROM_ELSEWHERE) == "img-src"  # and the browser told it, which `opened` does not allow
    (script.parent.parent / "club.yaml").write_text(re.sub(", picture: tide.jpg|    picture: .*\n", "", CLUB), "utf-8")
    plain = script.with_suffix(".html")
    result = CliRunner().invoke(commands, ["page", str(script), "-o", str(plain), "--voice", "british"])
    assert result.exit_code == 0, result.output
    assert "img-src" not in plain.read_text("utf-8")
    assert "What it looks like" not in plain.read_text("utf-8")


def test_on_paper_it_is_printed_grey_with_its_word(browser: Browser, page: MadePage) -> None:
    with opened(browser, page.file) as view:
        view.emulate_media(media="print")
        figures = view.locator("#paper .photos figure")
        assert figures.all_inner_texts() == ["tide kick", "heron"]
        for at_ in range(2):
            image = figures.nth(at_).get_by_role("img")
            box = image.bounding_box()
            assert box
            assert 40 < box["height"] <= 125  # 32 mm at 96 pixels an inch are 121
            assert image.evaluate("(one) => getComputedStyle(one).filter") == "grayscale(1)"
        assert not view.is_visible("#photo")
        assert len(re.findall(rb"/Type\s*/Page[^s]", view.pdf(format="A4"))) == 1
