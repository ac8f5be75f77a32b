"""The picture of a drill, read again as a drawing: its bars add up, its words are safe, its file is whole."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from PIL import Image

from cornercue.cli.main import commands
from cornercue.picture.png import png
from cornercue.picture.rows import MOST_IN_A_ROW, MOST_ON_A_PAGE, MOST_ROWS, picture_of
from cornercue.picture.style import COLOURS, lines_of, width_of, written
from cornercue.picture.svg import svg
from cornercue.script.read import read_drill
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.parts import finest
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Timeline
from strategies import Script, scripts

DRILLS = Path(__file__).parent.parent / "drills"
SVG = "{http://www.w3.org/2000/svg}"

HOSTILE = """\
drill: "</script><script>alert(1)</script> & \\"quotes\\" ]]> 🥊 مرحبا"
steps:
- say: "<!-- <b>bold</b> & 'quoted' 🥊 שלום"
- exercise: "push-ups </svg><i>"
  reps: 2
"""


def timeline_of(name: str) -> Timeline:
    return expand(read_drill(DRILLS / f"{name}.yaml"), Request(seed=5), estimated_seconds)


def drawn(timeline: Timeline, alone: bool = True) -> ElementTree.Element:
    return ElementTree.fromstring(svg(timeline, alone))


def lane_seconds(root: ElementTree.Element, lane: str) -> float:
    """What the bars of a lane come to, by their geometry alone: widths over the scale that the drawing names."""
    wide = 0.0
    for path in root.iter(f"{SVG}path"):
        if path.get("data-lane") == lane:
            bars = re.findall(r"M([\d.]+) [\d.]+(?:h([\d.]+)v|V[\d.]+L([\d.]+) )", path.get("d", ""))
            assert len(bars) == path.get("d", "").count("M")
            wide += sum(float(width) if width else float(last) - float(first) for first, width, last in bars)
    return wide / float(root.get("data-scale", "nan"))


def bars(root: ElementTree.Element, *lanes: str) -> int:
    return sum(p.get("d", "").count("M") for p in root.iter(f"{SVG}path") if p.get("data-lane") in lanes)


def words(root: ElementTree.Element) -> list[str]:
    return [text.text or "" for text in root.iter(f"{SVG}text")]


def check_sums(timeline: Timeline) -> None:
    """Every lane comes to what the timeline says, but for rounding: each end of a bar to a hundredth of a unit."""
    root = drawn(timeline)
    spoken = sum(cue.end - cue.start for cue in timeline.spoken())
    for lanes, seconds in (
        (("work",), timeline.total("work")),
        (("rest",), timeline.total("rest")),
        (("left", "right", "both", "neither"), timeline.total("work")),
        (("voice",), spoken),
    ):
        close = 0.01 * (1 + bars(root, *lanes)) / float(root.get("data-scale", "nan"))
        assert sum(lane_seconds(root, lane) for lane in lanes) == pytest.approx(seconds, abs=close), lanes
    for tone in ("start", "warning", "end"):
        assert bars(root, f"tone {tone}") == sum(cue.tone == tone for cue in timeline.cues)


@pytest.mark.parametrize("path", sorted(DRILLS.glob("*.yaml")), ids=lambda path: path.stem)
def test_the_bars_of_every_demo_drill_add_up_to_the_timelines_totals(path: Path) -> None:
    check_sums(timeline_of(path.stem))


@settings(max_examples=25, deadline=None)
@given(scripts())
def test_the_bars_of_any_drill_add_up_to_the_timelines_totals(script: Script) -> None:
    check_sums(expand(script.read(), Request(seed=1), estimated_seconds))


def test_a_hold_of_both_sides_is_as_long_on_the_left_as_on_the_right() -> None:
    root = drawn(timeline_of("heron-holds"))
    # Twelve, eight and ten seconds a side; from the script.
    assert lane_seconds(root, "left") == pytest.approx(30, abs=0.1)
    assert lane_seconds(root, "right") == pytest.approx(30, abs=0.1)
    assert lane_seconds(root, "both") == lane_seconds(root, "neither") == 0


def test_the_stance_lane_tells_orthodox_from_southpaw() -> None:
    timeline = timeline_of("first-combination")
    root = drawn(timeline)
    stances = [lane_seconds(root, stance) for stance in ("orthodox", "southpaw")]
    assert stances[0] == pytest.approx(stances[1], abs=0.5)
    assert sum(stances) == pytest.approx(timeline.total("work"), abs=0.1)


def test_the_bars_below_are_as_long_as_their_counts() -> None:
    """The lengths of the balance are in the ratio of the figures that stand beside them."""
    timeline = timeline_of("evening")
    root = drawn(timeline)
    width = {
        path.get("data-sum"): abs(float(re.findall(r"h(-?[\d.]+)", path.get("d", ""))[0]))
        for path in root.iter(f"{SVG}path")
        if path.get("data-sum")
    }
    summary = picture_of(timeline).summary
    hands, legs = summary.limbs["left hand"], summary.limbs["left leg"]
    assert width["hands left"] / width["legs left"] == pytest.approx(hands / legs, rel=0.01)
    assert width["strikes"] / width["kicks"] == pytest.approx(summary.called["strikes"] / summary.called["kicks"], 0.01)
    assert width["work"] / width["rest"] == pytest.approx(timeline.total("work") / timeline.total("rest"), rel=0.01)
    for count in (hands, legs, *summary.called.values()):
        assert not count or str(count) in words(root)


@pytest.mark.parametrize("name", ["first-combination", "evening"])
def test_rows_follow_on_without_a_gap_and_are_few(name: str) -> None:
    timeline = timeline_of(name)
    for most in (MOST_ROWS, MOST_ON_A_PAGE):
        rows = picture_of(timeline, most).rows
        assert 1 < len(rows) <= most
        assert [row.start for row in rows[1:]] == [row.end for row in rows[:-1]]
        assert (rows[0].start, rows[-1].end) == (0, timeline.duration)


def test_every_round_is_listed_with_its_number_and_its_start() -> None:
    timeline = timeline_of("skipping-rounds")
    listed = " ".join(words(drawn(timeline)))
    parts = finest(timeline.parts)
    assert [one.of for one in parts] == ["", *(f"Round {n} of 4" for n in (1, 2, 3, 4)), ""]
    for number, one in enumerate(parts, start=1):
        minutes, seconds = divmod(int(one.part.start), 60)
        assert f"{number} {minutes}:{seconds:02} {one.told}" in listed


def test_a_list_that_would_be_too_long_to_read_has_whole_steps_and_keeps_the_numbers_of_the_parts() -> None:
    timeline = timeline_of("evening")
    picture = picture_of(timeline, MOST_ON_A_PAGE)
    parts = finest(timeline.parts)
    assert len(parts) > MOST_IN_A_ROW * MOST_ON_A_PAGE >= len(picture.parts)
    for listed in picture.parts:
        assert parts[listed.number - 1].part.start == listed.start
    assert "Push-ups" in [listed.title for listed in picture.parts]


def test_every_sign_differs_by_its_pattern_or_shape_and_has_a_word() -> None:
    """In black and white no two kinds of bar look alike: their fills differ without colour."""
    root = drawn(timeline_of("evening"))
    tiles = {tile.get("id"): [path.get("d") for path in tile.iter(f"{SVG}path")] for tile in root.iter(f"{SVG}pattern")}
    assert set(tiles) == {"picture-left", "picture-right", "picture-southpaw", "picture-rest"}
    assert len({str(marks) for marks in tiles.values()}) == len(tiles)
    for word in ("left side", "right side", "both in turn", "neither side", "orthodox", "southpaw",
                 "work: it falls", "rest: it rises", "tone: start", "tone: nearly over", "tone: end"):  # fmt: skip
        assert word in words(root)
    for lane, tile in (("left", "left"), ("right", "right"), ("southpaw", "southpaw"), ("rest", "rest")):
        (fill,) = {path.get("fill") for path in root.iter(f"{SVG}path") if path.get("data-lane") == lane}
        assert fill == f"url(#picture-{tile})"


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2, from its definition."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("scheme", [0, 1], ids=["light", "dark"])
@pytest.mark.parametrize("ink", ["ink", "soft", "accent"])
def test_words_and_signs_stand_out_from_the_ground(ink: str, scheme: int) -> None:
    """WCAG 2.2, success criterion 1.4.3: at least 4.5 to 1."""
    one, other = sorted((luminance(COLOURS[ink][scheme]), luminance(COLOURS["ground"][scheme])))
    assert (other + 0.05) / (one + 0.05) >= 4.5


def test_whatever_a_script_says_the_drawing_is_well_formed_and_says_it(tmp_path: Path) -> None:
    script = tmp_path / "hostile.yaml"
    script.write_text(HOSTILE, encoding="utf-8")
    timeline = expand(read_drill(script), Request(seed=5), estimated_seconds)
    text = svg(
        replace(timeline, drill=f"{timeline.drill} \a")
    )  # A script may not hold this one: the reader refuses it.
    root = ElementTree.fromstring(text)
    assert "<script" not in text
    assert "</script" not in text
    allowed = {"svg", "title", "desc", "style", "defs", "pattern", "rect", "path", "g", "text"}
    assert {element.tag.removeprefix(SVG) for element in root.iter()} == allowed
    title = root.findtext(f"{SVG}title", "")
    assert '</script><script>alert(1)</script> & "quotes" ]]> 🥊 مرحبا \N{REPLACEMENT CHARACTER}' in title
    assert Image.open(io.BytesIO(png(text))).format == "PNG"


@pytest.mark.parametrize("bad", ["\0", "\x07", "\x1b", "\x7f\x0b", "\ud800", "\ufffe", "\uffff"])
def test_what_xml_cannot_hold_is_replaced(bad: str) -> None:
    """XML 1.0, fifth edition, production 2, by somebody else's parser."""
    assert ElementTree.fromstring(f"<a>{written(f'x{bad}y')}</a>").text is not None


def test_a_screen_reader_is_told_the_same_in_words() -> None:
    root = drawn(timeline_of("heron-holds"))
    assert root.get("role") == "img"
    names = {element.get("id"): element.text or "" for element in root if element.get("id")}
    title, desc = (names[name] for name in root.get("aria-labelledby", "").split())
    assert "as a picture" in title
    assert "work 1:00" in desc
    assert "left leg 3, right leg 3" in desc


def test_it_is_dark_where_the_screen_is_and_needs_no_style_sheet_in_a_page() -> None:
    alone, inside = (drawn(timeline_of("heron-holds"), alone) for alone in (True, False))
    assert "prefers-color-scheme:dark" in alone.findtext(f"{SVG}style", "")
    assert inside.find(f"{SVG}style") is None
    assert all(element.get("style") is None for element in inside.iter())
    assert {rect.get("fill") for rect in inside.findall(f"{SVG}rect")} == {COLOURS["ground"][0]}


def test_long_titles_are_broken_and_none_is_lost() -> None:
    long = "Antidisestablishment " * 3 + "x" * 90 + " 漢字" * 20
    lines = lines_of(long, 16, 300)
    assert "".join(lines).replace(" ", "") == long.replace(" ", "")
    assert all(width_of(line, 16) <= 300 for line in lines)


# ---- the command


def show(*arguments: str) -> Result:
    return CliRunner().invoke(commands, ["show", "--voice", "none", "--seed", "5", *arguments])


@pytest.mark.parametrize("name", ["heron-holds", "evening"])
def test_show_writes_the_picture_as_svg_and_as_png(name: str, tmp_path: Path) -> None:
    script = str(DRILLS / f"{name}.yaml")
    for suffix in (".svg", ".png"):
        result = show(script, "--picture", str(tmp_path / f"drill{suffix}"))
        assert result.exit_code == 0, result.output
        assert "the drill as a picture" in result.output
    root = ElementTree.parse(tmp_path / "drill.svg").getroot()
    with Image.open(tmp_path / "drill.png") as image:
        image.load()
        assert image.width == 2 * float(root.get("width", "0"))
        assert image.height == pytest.approx(2 * float(root.get("height", "0")), abs=1)
        shades = image.convert("L").getcolors()
        assert shades
        assert len(shades) > 3
    assert sorted(path.name for path in tmp_path.iterdir()) == ["drill.png", "drill.svg"]


def test_a_picture_in_another_format_is_refused_before_any_work(tmp_path: Path) -> None:
    result = show(str(tmp_path / "nowhere.yaml"), "--picture", str(tmp_path / "drill.gif"))
    assert result.exit_code == 1
    assert ".svg or .png" in result.output
    assert list(tmp_path.iterdir()) == []


def test_a_picture_that_cannot_be_written_says_so(tmp_path: Path) -> None:
    result = show(str(DRILLS / "heron-holds.yaml"), "--picture", str(tmp_path / "nowhere" / "drill.svg"))
    assert result.exit_code == 1
    assert "there is no folder" in result.output


def test_without_a_font_a_png_is_refused_and_svg_offered(monkeypatch: pytest.MonkeyPatch) -> None:
    from cornercue.errors import MachineLacks

    # What resvg draws where it finds no font: the same, whatever the word.
    monkeypatch.setattr("resvg_py.svg_to_bytes", lambda **_: b"nothing")
    with pytest.raises(MachineLacks, match=r"\.svg"):
        png("<svg xmlns='http://www.w3.org/2000/svg'/>")
