"""The picture of a feed, read again as a drawing: the tip is where the table says, and it reads without colour."""

from __future__ import annotations

import io
import math
import re
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner, Result
from PIL import Image

from cornercue.cli.main import commands
from cornercue.errors import InputFault
from cornercue.feed.body import CHEST, FOREARM, HAND, HAND_BREADTH, Point
from cornercue.feed.sweep import SUNK, heads, path, target
from cornercue.feed.table import AUDIENCES, FED, FEEDS, LEFT_OUT, Audience
from cornercue.picture.feed_picture import PAIRS, SIDED, definitions, feed_svg, name_of
from cornercue.picture.outlines import ABOVE, SCALE, SIDE
from cornercue.picture.png import png
from cornercue.picture.style import COLOURS
from cornercue.technique.sides import SIDES, Side

SVG = "{http://www.w3.org/2000/svg}"
ALL = [(audience, defence, side) for audience in AUDIENCES for defence in FEEDS[audience] for side in SIDES]
JUNIOR = [(defence, side) for audience, defence, side in ALL if audience == "junior"]
PIXEL = 1.0
"""A unit of the drawing: it is shown with about one pixel to the unit."""


def drawn(audience: Audience, defence: str, side: Side) -> ElementTree.Element:
    return ElementTree.fromstring(feed_svg(audience, defence, side))


def view(root: ElementTree.Element, name: str) -> ElementTree.Element:
    (found,) = [group for group in root.iter(f"{SVG}g") if group.get("data-view") == name]
    return found


def part(group: ElementTree.Element, name: str) -> ElementTree.Element | None:
    return next((one for one in group.iter() if one.get("data-part") == name), None)


def points(element: ElementTree.Element | None) -> list[tuple[float, float]]:
    """The corners of a path of lines, or the middle of a circle."""
    assert element is not None
    if element.get("cx"):
        return [(float(element.get("cx", "")), float(element.get("cy", "")))]
    pairs = [one.split(" ") for one in re.split("[ML]", element.get("d", "").replace("h0", "")) if one]
    return [(float(x), float(y)) for x, y in pairs]


def from_side(point: Point) -> tuple[float, float]:
    return SIDE.origin[0] + SCALE * point.x, SIDE.origin[1] - SCALE * point.z


def from_above(point: Point) -> tuple[float, float]:
    return ABOVE.origin[0] + SCALE * point.y, ABOVE.origin[1] + SCALE * point.x


def words(root: ElementTree.Element) -> list[str]:
    return ["".join(one.itertext()) for one in root.iter() if one.tag.removeprefix(SVG) in ("text", "title", "desc")]


def near(audience: Audience, defence: str, side: Side) -> Point:
    """The point of the tip's way that is nearest to the target, by the sweep alone."""
    feed, pair = FEEDS[audience][defence], PAIRS[audience]
    aim = target(feed, side, pair)
    return min(path(feed, side, pair), key=lambda at: sum((a - b) ** 2 for a, b in zip(at, aim, strict=True)))


@pytest.mark.parametrize(("audience", "defence", "side"), ALL)
def test_the_tip_the_target_and_the_way_are_where_the_table_says(audience: Audience, defence: str, side: Side) -> None:
    root = drawn(audience, defence, side)
    feed, pair = FEEDS[audience][defence], PAIRS[audience]
    for name, flat in (("side", from_side), ("above", from_above)):
        group = view(root, name)
        assert points(part(group, "stick"))[-1] == pytest.approx(flat(near(audience, defence, side)), abs=PIXEL)
        if (ring := part(group, "target")) is not None:
            assert points(ring) == [pytest.approx(flat(target(feed, side, pair)), abs=PIXEL)]
        if (way := part(group, "way")) is not None:
            told = path(feed, side, pair)
            for shown, true in ((points(way)[0], told[0]), (points(way)[-1], told[-1])):
                assert shown == pytest.approx(flat(true), abs=PIXEL)
    assert part(view(root, "above"), "target") is not None
    assert part(view(root, "above"), "way") is not None


@pytest.mark.parametrize(("audience", "defence", "side"), ALL)
def test_the_stick_is_as_long_as_the_sweeps_and_the_arm_behind_it_reaches(
    audience: Audience, defence: str, side: Side
) -> None:
    root, pair = drawn(audience, defence, side), PAIRS[audience]
    (_, low), (_, high) = points(part(view(root, "side"), "stick"))
    ends = [points(part(view(root, name), "stick")) for name in ("side", "above")]
    (along, up), (across, _) = ([b - a for a, b in zip(*two, strict=True)] for two in ends)
    assert (along**2 + up**2 + across**2) ** 0.5 == pytest.approx(pair.stick * SCALE, abs=PIXEL)
    assert low != high or FEEDS[audience][defence].action == "swing"


@pytest.mark.parametrize(("audience", "defence"), [(a, d) for a in AUDIENCES for d in FEEDS[a] if d in SIDED])
def test_left_and_right_mirror_each_other_and_are_named_by_the_feeders_own(audience: Audience, defence: str) -> None:
    left, right = (drawn(audience, defence, side) for side in SIDES)
    for name in ("stick", "target", "way", "moved"):
        if (one := part(view(left, "above"), name)) is None:
            assert name == "moved"
            continue
        other = points(part(view(right, "above"), name))
        assert [(2 * ABOVE.origin[0] - x, y) for x, y in other] == [pytest.approx(at, abs=0.11) for at in points(one)]
    # What comes to the student's left comes from the feeder's right.
    assert "your right" in " ".join(words(view(left, "above")))
    assert "your left" in " ".join(words(view(right, "above")))
    # The feeder stands at the bottom and looks up, so that the right hand is at the right of the picture.
    (grip, _) = points(part(view(left, "above"), "stick"))
    assert grip[0] > ABOVE.origin[0]


def test_from_the_side_left_and_right_are_one_picture() -> None:
    for audience, defence, _ in ALL:
        sides = [ElementTree.tostring(view(drawn(audience, defence, side), "side")) for side in SIDES]
        assert sides[0] == sides[1], (audience, defence)


def length(audience: Audience, defence: str) -> float:
    """The measure's length in metres, from the drawing alone."""
    (measure,) = [one for one in drawn(audience, defence, "left").iter() if one.get("data-part") == "measure"]
    found = re.search(r"M([\d.]+) ([\d.]+)(?:H([\d.]+)|L([\d.]+) ([\d.]+))$", measure.get("d", ""))
    assert found
    across, down = float(found[3] or found[4]) - float(found[1]), float(found[5] or found[2]) - float(found[2])
    return math.hypot(across, down) / SCALE


def test_the_distance_drawn_is_the_distance_told() -> None:
    close = 0.2 / SCALE  # each end is rounded to a tenth of a unit
    child, grown = PAIRS["junior"].student, PAIRS["adult"].student
    for defence in ("parry", "cover", "slip", "low block"):
        assert length("junior", defence) == pytest.approx((FOREARM + HAND) * child, abs=close)
    for defence in ("weave", "duck"):
        assert length("junior", defence) == pytest.approx((FOREARM + 2 * HAND) * child, abs=close)
    for defence in ("parry", "slip", "cover", "high block", "low block"):
        assert length("adult", defence) == pytest.approx(HAND_BREADTH * grown, abs=close)


@pytest.mark.parametrize(("defence", "side"), JUNIOR)
def test_in_no_picture_for_juniors_is_the_tip_near_the_head_as_drawn(defence: str, side: Side) -> None:
    root, pair = drawn("junior", defence, side), PAIRS["junior"]
    middle = from_side(heads(None, side, pair.student)[0])
    dots = [
        one for one in view(root, "side").iter(f"{SVG}path") if one.get("class") is None and one.get("stroke-width")
    ]
    shown = [one for one in dots if points(one)[0] == pytest.approx(middle, abs=PIXEL)]
    assert shown  # the student's head is drawn where the sweep has it
    radius = max(float(one.get("stroke-width", "")) for one in shown) / 2
    tip = points(part(view(root, "side"), "stick"))[-1]
    away = ((tip[0] - middle[0]) ** 2 + (tip[1] - middle[1]) ** 2) ** 0.5 - radius
    assert away >= 0.15 * SCALE


@pytest.mark.parametrize(("defence", "side"), JUNIOR)
def test_the_words_of_a_picture_for_juniors_name_no_part_of_the_head(defence: str, side: Side) -> None:
    named = re.compile(r"\b(head|face|chin|brow|ear|ears|eye|eyes|nose|mouth|jaw|temple|neck|forehead)\b", re.I)
    assert not named.search(" ".join(words(drawn("junior", defence, side))))


def test_it_reads_without_colour() -> None:
    """The people differ by stripes, where the student goes is dashed, and both people are named in both views."""
    for audience, defence, side in ALL:
        root = drawn(audience, defence, side)
        for name in ("side", "above"):
            group = view(root, name)
            fills = {one.get("stroke") for one in group.iter(f"{SVG}g")}
            assert {"url(#picture-feeder)", COLOURS["water"][0]} <= fills
            assert {"student", "feeder", f"from {'the side' if name == 'side' else 'above'}"} <= set(words(group))
            moved = part(group, "moved")
            assert (moved is not None) == (defence in SUNK)
            assert moved is None or moved.get("stroke-dasharray")
        (stripes,) = root.iter(f"{SVG}pattern")
        assert stripes.get("id") == "picture-feeder"


@pytest.mark.parametrize(("audience", "defence", "side"), ALL)
def test_it_is_well_formed_and_says_in_words_what_it_shows(audience: Audience, defence: str, side: Side) -> None:
    root = drawn(audience, defence, side)
    allowed = {"svg", "title", "desc", "style", "defs", "pattern", "rect", "path", "circle", "g", "text"}
    assert {one.tag.removeprefix(SVG) for one in root.iter()} == allowed
    names = {one.get("id"): one.text or "" for one in root if one.get("id")}
    title, desc = (names[name] for name in root.get("aria-labelledby", "").split())
    assert defence in title
    own = "right" if side == "left" else "left"
    assert f"your {own}" in desc or defence not in SIDED
    assert "prefers-color-scheme:dark" in root.findtext(f"{SVG}style", "")
    assert all(one.get("style") is None for one in root.iter())


def every_place(root: ElementTree.Element) -> Iterator[tuple[float, float]]:
    for name in ("side", "above"):
        for one in view(root, name).iter():
            if one.get("x"):
                yield float(one.get("x", "")), float(one.get("y", ""))
            elif one.get("d") and not re.search("[HVvz]", one.get("d", "")):
                yield from points(one)


@pytest.mark.parametrize(("audience", "defence", "side"), ALL)
def test_nothing_is_drawn_outside_the_picture(audience: Audience, defence: str, side: Side) -> None:
    assert all(0 <= x <= 560 and 0 <= y <= 336 for x, y in every_place(drawn(audience, defence, side)))


def test_another_program_draws_the_ring_where_the_palm_is() -> None:
    """resvg's pixels: around the target lies a ring in the accent's colour."""
    root = drawn("junior", "parry", "left")
    image = Image.open(io.BytesIO(png(feed_svg("junior", "parry", "left")))).convert("RGB")
    (move,) = [one for one in root.iter(f"{SVG}g") if one.get("transform")]
    top = float(re.findall(r"[\d.]+", move.get("transform", ""))[1])
    palm = PAIRS["junior"].palm("left")
    assert palm.z == pytest.approx(CHEST * PAIRS["junior"].student)
    x, y = from_side(palm)
    accent = tuple(int(COLOURS["accent"][0][at : at + 2], 16) for at in (1, 3, 5))
    for across, down in ((0, -9), (-9, 0), (0, 9)):
        assert image.getpixel((round(2 * (x + across)), round(2 * (top + y + down)))) == pytest.approx(accent, abs=40)


def test_what_is_left_out_for_juniors_has_no_picture_but_a_reason() -> None:
    for defence, reason in LEFT_OUT.items():
        with pytest.raises(InputFault, match=reason):
            feed_svg("junior", defence, "left")
        assert feed_svg("adult", defence, "left")


def test_a_page_has_each_view_once_in_few_bytes_and_no_name_twice() -> None:
    text = definitions("junior", JUNIOR)
    ids = re.findall(r' id="([^"]+)"', text)
    assert len(ids) == len(set(ids))
    assert {name_of(*one) for one in JUNIOR} < set(ids)
    assert {one.removeprefix("#") for one in re.findall(r'href="([^"]+)"', text)} <= set(ids)
    assert len(text) / len({name_of(*one) for one in JUNIOR}) < 6000
    assert "style" not in text


# ---- the command


def techniques(*arguments: str) -> Result:
    return CliRunner().invoke(commands, ["techniques", *arguments])


def test_techniques_writes_the_picture_as_svg_and_as_png(tmp_path: Path) -> None:
    for suffix in (".svg", ".png"):
        result = techniques("parry", "--picture", str(tmp_path / f"parry{suffix}"))
        assert result.exit_code == 0, result.output
        assert "how to feed parry left" in result.output
    assert (tmp_path / "parry.svg").read_text(encoding="utf-8").endswith(feed_svg("junior", "parry", "left") + "\n")
    with Image.open(tmp_path / "parry.png") as image:
        assert image.width == 1120
    assert sorted(one.name for one in tmp_path.iterdir()) == ["parry.png", "parry.svg"]


def test_it_takes_another_name_the_other_side_and_adults(tmp_path: Path) -> None:
    result = techniques("roll", "--adults", "--side", "right", "--picture", str(tmp_path / "weave.svg"))
    assert result.exit_code == 0, result.output
    assert feed_svg("adult", "weave", "right") in (tmp_path / "weave.svg").read_text(encoding="utf-8")


@pytest.mark.parametrize("defence", FED)
def test_every_defence_is_found_by_its_name(defence: str, tmp_path: Path) -> None:
    result = techniques(defence, "--adults", "--picture", str(tmp_path / "feed.svg"))
    assert result.exit_code == 0, result.output


@pytest.mark.parametrize(
    ("arguments", "code", "told"),
    [
        (("jab", "--picture", "x.svg"), 1, "`jab` is nothing that a feeder feeds; there are pictures of parry, cover"),
        (("block", "--picture", "x.svg"), 1, "`block` matches high block, low block, inner block"),
        (("high block", "--picture", "x.svg"), 1, "not fed to children and teenagers"),
        (("moonwalk", "--picture", "x.svg"), 1, "no technique matches `moonwalk`"),
        (("parry", "--picture", "x.gif"), 1, "must end in .svg or .png"),
        (("--picture", "x.svg"), 2, "--picture needs the name of a defence"),
        (("parry", "--adults"), 2, "--adults and --side go with --picture"),
    ],
)
def test_what_cannot_be_drawn_is_told_in_a_sentence(
    arguments: tuple[str, ...], code: int, told: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    result = techniques(*arguments)
    assert result.exit_code == code
    assert told in result.output
    assert not list(tmp_path.iterdir())
