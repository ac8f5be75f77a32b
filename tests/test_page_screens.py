"""The offline page as its people have it before them: what it says, where it stands, how large, by which key."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from page_in_chromium import CHROMIUM, at, chromium, made, until

pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="there is no Chromium")

PHONES = [(320, 568), (390, 844)]
SCREENS = [*PHONES, (844, 390), (1280, 720), (1920, 1080)]

DRILL = """\
drill: Page test
level: 2
gear: [soft stick]
steps:
- combination: [jab, cross]
  reps: 4
  every: 3 s
- partner: [parry, cover]
  for: 75 s
- rest: 10 s
- exercise: push-ups
  reps: 3
  check: [body flat]
- exercise: squats
  reps: 3
  check: [heels down]
"""
ROUNDS = """\
drill: Rounds
steps:
- repeat: 2
  rest: 10 s
  steps:
  - exercise: squats
    reps: 2
    check: [heels down]
  - exercise: push-ups
    reps: 1
    check: [body flat]
"""


@pytest.fixture(scope="module")
def drill_page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return made(tmp_path_factory.mktemp("page"), DRILL, "--draws", "2")


@pytest.fixture(scope="module")
def rounds_page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return made(tmp_path_factory.mktemp("rounds"), ROUNDS)


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with chromium() as opened:
        yield opened


@pytest.fixture
def view(browser: Any, drill_page: Path) -> Iterator[Any]:
    context = browser.new_context(viewport={"width": 1280, "height": 720}, has_touch=True)
    page = context.new_page()
    page.on("pageerror", lambda error: pytest.fail(f"the page failed: {error}"))
    page.goto(drill_page.as_uri())
    yield page
    context.close()


def state(view: Any) -> str:
    view.wait_for_timeout(150)
    return str(view.inner_text("#state"))


def cues(view: Any, kind: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = view.evaluate(f"player.draw.cues.filter((cue) => cue.kind === '{kind}')")
    return found


def box(view: Any, what: str) -> dict[str, float]:
    found: dict[str, float] = view.locator(what).bounding_box()
    return found


def type_size(view: Any, what: str) -> float:
    return float(view.evaluate(f"parseFloat(getComputedStyle(document.querySelector('{what}')).fontSize)"))


# ---- keys


@pytest.mark.parametrize("chosen", ["#start", "#stop", "#view", "#draw", "#back", "#louder", "#points", "summary"])
def test_space_pauses_and_goes_on_whatever_was_chosen_last(view: Any, chosen: str) -> None:
    view.click("#read")
    at(view, cues(view, "call")[0]["start"])
    view.focus(chosen)

    def rest() -> tuple[str, str, str, float]:
        """All that Space must leave as it is."""
        scrolled = view.evaluate("document.querySelector('#screen').scrollTop")
        told = view.inner_text("#where"), view.inner_text("#loudness")
        return *told, view.get_attribute("#view", "aria-pressed"), scrolled

    before = rest()
    for then in ("Paused", "Playing", "Paused"):
        view.keyboard.press(" ")
        assert state(view) == then
    assert rest() == before
    assert not view.is_visible("#picture")  # the fold was not opened


def test_space_pauses_after_a_click_on_any_control(view: Any) -> None:
    view.click("#read")
    for control in ("#on", "#again", "#softer", "#louder", "#view", "#back"):
        at(view, cues(view, "call")[0]["start"])
        view.click(control)
        view.keyboard.press(" ")
        assert state(view) == "Paused", control


def test_space_held_down_pauses_once(view: Any) -> None:
    view.click("#read")
    at(view, 5)
    for _ in range(4):  # the browser repeats a key that is not let go
        view.keyboard.down(" ")
    view.keyboard.up(" ")
    assert state(view) == "Paused"


def test_enter_presses_what_is_chosen(view: Any) -> None:
    view.focus("#read")
    view.keyboard.press("Enter")
    assert state(view) == "Ready"
    view.focus("#view")
    view.keyboard.press("Enter")
    assert view.get_attribute("#view", "aria-pressed") == "true"
    view.focus("#on")
    view.keyboard.press("Enter")
    assert "2 of 4" in view.inner_text("#where")
    view.focus("summary")
    view.keyboard.press("Enter")
    assert view.is_visible("#picture")


def test_space_also_presses_that_the_cautions_were_read(view: Any) -> None:
    view.focus("#read")
    view.keyboard.press(" ")
    assert state(view) == "Ready"


def test_each_key_can_be_looked_up(view: Any) -> None:
    view.click("#read")
    for control, key in {"start": "Space", "stop": "S", "view": "F", "back": "←", "on": "→", "again": "R",
                         "softer": "↓", "louder": "↑"}.items():  # fmt: skip
        assert view.get_attribute(f"#{control}", "title") == f"key: {key}"
    view.click("summary")
    assert "the space bar pauses and goes on" in view.inner_text("#instructor")


# ---- words


def test_the_part_in_hand_and_only_its_points_are_told(view: Any) -> None:
    view.click("#read")
    seen = []
    for _ in range(4):
        seen.append((view.inner_text("#where"), view.inner_text("#points") if view.is_visible("#points") else ""))
        view.click("#on")
    assert [where[:9] for where, _ in seen] == [f"{n} of 4 · " for n in range(1, 5)]
    assert "Push-ups" in seen[2][0]
    assert [points for _, points in seen] == ["", "", "body flat", "heels down"]


def test_each_round_is_told_as_one_with_the_exercise_in_hand_and_its_points(browser: Any, rounds_page: Path) -> None:
    page = browser.new_page()
    page.goto(rounds_page.as_uri())
    seen = []
    for _ in range(4):
        seen.append((page.inner_text("#where"), page.inner_text("#points")))
        page.click("#on")
    assert seen == [
        ("1 of 4 · Round 1 of 2 · Squats", "heels down"),
        ("2 of 4 · Round 1 of 2 · Push-ups", "body flat"),
        ("3 of 4 · Round 2 of 2 · Squats", "heels down"),
        ("4 of 4 · Round 2 of 2 · Push-ups", "body flat"),
    ]
    page.close()


def test_a_draw_is_called_by_its_letter_and_no_seed_is_in_sight(view: Any) -> None:
    view.click("#read")
    assert "seed" not in view.inner_text("body")
    assert view.locator("#draw option").all_inner_texts() == ["Draw A", "Draw B"]
    view.click("summary")
    assert re.search(r"A has seed 5, B has seed \d+\.", view.inner_text("#instructor"))


def test_nothing_on_the_page_is_called_a_block(view: Any) -> None:
    view.click("#read")
    view.click("summary")
    shown = view.evaluate(
        "[document.body.innerText, ...[...document.querySelectorAll('*')].flatMap((one) => ['title', 'aria-label',"
        " 'aria-labelledby'].map((name) => one.getAttribute(name) ?? ''))].join(' ')"
    )
    assert "block" not in shown.lower()


def test_work_and_rest_are_told_with_their_unit(view: Any) -> None:
    view.click("#read")
    work, rest = (
        view.evaluate(f"Math.max(...player.draw.spans.filter((s) => s.kind === '{kind}').map((s) => s.end - s.start))")
        for kind in ("work", "rest")
    )
    assert work > 60 > rest
    for kind, long in (("work", work), ("rest", rest)):
        start = view.evaluate(f"player.draw.spans.find((s) => s.kind === '{kind}' && s.end - s.start >= {long}).start")
        at(view, start + 1)
        told = view.inner_text("#left")
        assert re.fullmatch(r"work 1:\d\d min" if kind == "work" else r"rest \d+ s", told), told


def test_the_ending_says_what_was_done(view: Any, browser: Any, rounds_page: Path) -> None:
    view.click("#read")
    feeds = view.evaluate("player.draw.cues.filter((cue) => cue.feed).map((cue) => cue.text.split(' ')[0])")
    at(view, view.evaluate("player.draw.duration") - 0.2)
    until(view, "element('state').textContent === 'The end'")
    assert view.inner_text("#call") == "Done"
    told = view.inner_text("#done").replace("\N{NO-BREAK SPACE}", " ")
    assert re.search(r"1 min \d+ s of work, \d+ s of rest\.", told)
    assert f"{4 + len(feeds) + 3 + 3} repetitions." in told
    for defence in ("parry", "cover"):
        assert f"{defence} {feeds.count(defence)}" in told.lower()
    assert "8 strikes." in told
    assert "back or on" not in told
    assert view.inner_text("#left") == view.inner_text("#where") == ""
    assert not view.is_visible("#points")
    page = browser.new_page()
    page.goto(rounds_page.as_uri())
    page.click("#start")
    page.click("#on")
    at(page, page.evaluate("player.draw.duration") - 0.2)
    until(page, "element('state').textContent === 'The end'")
    # Whoever left something out is not told that it was done.
    assert page.inner_text("#done").startswith("You went back or on. The whole drill is:")
    assert "6 repetitions." in page.inner_text("#done")
    page.click("#start")
    assert not page.is_visible("#done")
    page.close()


# ---- sizes


@pytest.mark.parametrize("size", SCREENS)
def test_clock_and_countdown_are_a_fifth_of_the_call_and_paused_is_as_large(view: Any, size: tuple[int, int]) -> None:
    view.set_viewport_size({"width": size[0], "height": size[1]})
    view.click("#read")
    call = cues(view, "call")[0]
    at(view, call["start"])
    assert view.inner_text("#left").startswith("work")
    assert type_size(view, "#left") >= type_size(view, "#call") / 5
    assert box(view, "#left")["y"] + box(view, "#left")["height"] <= box(view, "footer")["y"] + 1
    called = box(view, "#call")
    view.keyboard.press(" ")
    assert state(view) == "Paused"
    assert view.inner_text("#call") == "PAUSED"
    # It fills the width, or stands as high as a call may.
    words = view.evaluate(
        "(() => { const range = document.createRange(); range.selectNodeContents(element('call'));"
        " return range.getBoundingClientRect().width; })()"
    )
    assert words >= 0.85 * called["width"] or type_size(view, "#call") >= 0.3 * size[1]
    assert call["text"] in view.inner_text("#next")
    view.click("#view")
    feed = next(cue for cue in cues(view, "call") if "feed" in cue and cue["due"] - cue["start"] > 0.5)
    at(view, feed["start"])
    assert re.fullmatch(r"in \d s|now", view.inner_text("#hands"))
    assert type_size(view, "#hands") >= type_size(view, "#call") / 5


@pytest.mark.parametrize("feeder", [False, True])
@pytest.mark.parametrize("size", SCREENS)
def test_controls_are_in_two_rows_large_enough_and_all_on_the_screen(
    view: Any, size: tuple[int, int], feeder: bool
) -> None:
    """44 px: WCAG 2.2, 2.5.5 "Target Size (Enhanced)", from memory."""
    view.set_viewport_size({"width": size[0], "height": size[1]})
    view.click("#read")
    if feeder:
        view.click("#view")
    for moment in (0, cues(view, "call")[0]["start"], cues(view, "call")[6]["start"]):
        at(view, moment)
        controls = [one.bounding_box() for one in view.locator("footer button, footer select").all()]
        assert len(controls) == 9
        assert len({round(one["y"]) for one in controls}) <= (1 if size[0] > 800 else 2)
        for one in controls:
            assert min(one["width"], one["height"]) >= 44
            assert one["x"] >= 0
            assert one["x"] + one["width"] <= size[0]
            assert one["y"] + one["height"] <= size[1]
    names = view.evaluate("[...document.querySelectorAll('footer button')].map((one) => one.textContent.trim())")
    assert names == ["Pause", "Stop", "Feeder's view", "Part back", "Repeat part", "Part on", "Softer", "Louder"]


@pytest.mark.parametrize("size", PHONES)
def test_stop_stays_in_sight_when_somebody_scrolls(view: Any, size: tuple[int, int]) -> None:
    view.set_viewport_size({"width": size[0], "height": size[1]})
    view.click("#read")
    at(view, 0)
    view.locator("summary").scroll_into_view_if_needed()
    view.locator("summary").click()
    view.locator("#picture").scroll_into_view_if_needed()
    assert box(view, "#stop")["y"] + box(view, "#stop")["height"] <= size[1]
    view.tap("#stop")
    assert state(view) == "Stop"


# ---- without a script


@pytest.mark.parametrize("size", [*PHONES, (1280, 720)])
@pytest.mark.parametrize("how", ["switched off", "blocked"])
def test_a_page_without_script_says_what_to_do_and_shows_the_drill(
    browser: Any, drill_page: Path, tmp_path: Path, size: tuple[int, int], how: str
) -> None:
    target = drill_page
    if how == "blocked":  # as by a host's policy: the browser has scripts, and runs none
        target = tmp_path / "blocked.html"
        html = drill_page.read_text(encoding="utf-8")
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
    for line in ("jab, cross: 4 times", "Partner: parry, cover, 1 min 15 s", "push-ups: 3 times", "body flat"):
        assert line in words
    for control in ("#start", "#draw", "#instructor", "#water"):
        assert not page.is_visible(control)
    assert page.is_visible("#paper figure >> nth=0")
    assert page.locator("#paper").bounding_box()["width"] <= size[0]
    context.close()


def test_a_page_with_its_script_shows_no_word_of_that(view: Any) -> None:
    view.wait_for_timeout(700)
    assert "cannot play here" not in view.inner_text("body")
    assert not view.is_visible("#paper")
