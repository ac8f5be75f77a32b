"""What the offline page tells its people: the student, the feeder, the instructor, and all of them at the end."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from page_in_chromium import FED, MadePage, begun, button, made, opened, play, read, told
from page_sound import at, wind

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

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
def rounds_page(tmp_path_factory: pytest.TempPathFactory) -> MadePage:
    return made(tmp_path_factory.mktemp("rounds"), ROUNDS)


@pytest.fixture
def rounds(browser: Browser, rounds_page: MadePage) -> Iterator[Page]:
    with opened(browser, rounds_page.file) as page:
        yield page


def test_the_feeder_sees_the_next_feed_in_their_own_left_and_right(view: Page, drill_page: MadePage) -> None:
    called, read_aloud = drill_page.feeds("student"), drill_page.feeds("feeder")
    assert {words for _, words in called} == FED.keys() - {"weave right"}
    assert len(read_aloud) == 4
    begun(view, drill_page.line)
    button(view, "Feeder's view").click()
    for start, words in called:
        at(view, start)
        assert view.inner_text("#call") == FED[words]
    for start, words in read_aloud:
        at(view, start)
        assert view.inner_text("#call") == words


PADS = """\
drill: Pads
gear: [two focus pads, gloves]
steps:
- pads: [[jab, cross], [lead hook]]
  reps: 4
- pads: [[jab, cross], [lead hook]]
  reps: 3
  listener: holder
"""
SHOWN = {"jab, cross": "Right pad, left pad", "lead hook": "Left pad in"}


def test_the_holder_sees_what_to_show_next_and_the_student_not_what_only_the_holder_hears(
    browser: Browser, tmp_path: Path
) -> None:
    pads = made(tmp_path, PADS)
    calls = [cue for cue in pads.line.cues if cue.kind == "call"]
    with opened(browser, pads.file) as page:
        begun(page, pads.line)
        for cue in calls:
            at(page, cue.start)
            assert page.inner_text("#call") == ("Watch what is held" if cue.listener else cue.text)
        button(page, "Holder's view").click()
        for cue in calls:
            at(page, cue.start)
            assert page.inner_text("#call") == SHOWN.get(cue.text, cue.text)
        assert calls[-1].due
        at(page, calls[-1].due + 0.1)
        assert page.inner_text("#call") == "Hold nothing now"


def test_the_feeder_is_told_when_a_feed_is_due(view: Page, drill_page: MadePage) -> None:
    begun(view, drill_page.line)
    button(view, "Feeder's view").click()
    cue = next(cue for cue in drill_page.line.cues if cue.due)
    assert cue.due
    at(view, cue.due - 2.5)
    assert view.inner_text("#hands") == "in 3 s"
    at(view, cue.due - 1.5)
    assert view.inner_text("#hands") == "in 2 s"
    at(view, cue.due - 0.5)
    assert view.inner_text("#hands") == "now"


def test_the_student_is_not_told_what_only_the_feeder_may_know(view: Page, drill_page: MadePage) -> None:
    begun(view, drill_page.line)
    start, words = drill_page.feeds("student")[0]
    at(view, start - 0.6)
    assert view.inner_text("#next") == "then: wait for it"
    assert words not in view.inner_text("main")
    at(view, start)
    assert view.inner_text("#call") == words
    start, words = drill_page.feeds("feeder")[0]
    at(view, start - 0.6)
    assert words not in view.inner_text("main")
    at(view, start + 0.1)
    assert view.inner_text("#call") == "Watch the stick"
    assert words not in view.inner_text("main")


def test_the_part_in_hand_and_only_its_points_are_told(view: Page) -> None:
    read(view)
    seen = []
    for _ in range(5):
        points = view.get_by_label("coaching points")
        seen.append((view.inner_text("#where"), points.inner_text() if points.is_visible() else ""))
        button(view, "Part on").click()
    assert seen == [
        ("1 of 5 · Jab, cross", "jab: straight out\ncross: hip and hand together"),
        ("2 of 5 · Parry and cover", ""),
        ("3 of 5 · Weave", ""),
        ("4 of 5 · Push-ups", "body flat"),
        ("5 of 5 · Squats", "heels down"),
    ]


def test_each_round_is_told_as_one_with_the_exercise_in_hand_and_its_points(rounds: Page) -> None:
    seen = []
    for _ in range(4):
        seen.append((rounds.inner_text("#where"), rounds.get_by_label("coaching points").inner_text()))
        button(rounds, "Part on").click()
    assert seen == [
        ("1 of 4 · Round 1 of 2 · Squats", "heels down"),
        ("2 of 4 · Round 1 of 2 · Push-ups", "body flat"),
        ("3 of 4 · Round 2 of 2 · Squats", "heels down"),
        ("4 of 4 · Round 2 of 2 · Push-ups", "body flat"),
    ]


def test_a_draw_is_called_by_its_letter_and_no_seed_is_in_sight(view: Page) -> None:
    read(view)
    assert "seed" not in view.inner_text("body")
    assert view.get_by_label("Draw").locator("option").all_inner_texts() == ["Draw A", "Draw B", "Draw C"]
    view.click("summary")
    assert re.search(r"A has seed 5, B has seed \d+, C has seed \d+\.", view.inner_text("#instructor"))


def test_nothing_on_the_page_is_called_a_block(view: Page) -> None:
    read(view)
    view.click("summary")
    shown = view.evaluate(
        "[document.body.innerText, ...[...document.querySelectorAll('*')].flatMap((one) => ['title', 'aria-label',"
        " 'aria-labelledby'].map((name) => one.getAttribute(name) ?? ''))].join(' ')"
    )
    assert "Part back" in shown
    assert "block" not in shown.lower()


def test_work_and_rest_are_told_with_their_unit(view: Page, drill_page: MadePage) -> None:
    begun(view, drill_page.line)
    for kind, form in (("work", r"work 1:\d\d min"), ("rest", r"rest \d+ s")):
        longest = max(span.end - span.start for span in drill_page.line.spans if span.kind == kind)
        assert (longest > 60) == (kind == "work")
        start = next(one.start for one in drill_page.line.spans if one.kind == kind and one.end - one.start >= longest)
        at(view, start + 1)
        assert re.fullmatch(form, view.inner_text("#left"))


def test_the_clock_tells_the_seconds_that_are_left(view: Page, drill_page: MadePage) -> None:
    begun(view, drill_page.line)
    rest = next(span for span in drill_page.line.spans if span.kind == "rest")
    for left in (8, 5, 1):
        at(view, rest.end - left + 0.5)
        assert view.inner_text("#left") == f"rest {left} s"


def test_the_ending_says_what_was_done(view: Page, drill_page: MadePage) -> None:
    begun(view, drill_page.line)
    at(view, drill_page.line.duration - 0.2)
    assert view.inner_text("#state") == "Playing"
    wind(view, 1)
    told(view, "The end")
    assert view.inner_text("#call") == "Done"
    done = view.get_by_label("what was done").inner_text().replace("\N{NO-BREAK SPACE}", " ")
    assert re.search(r"2 min \d+ s of work, 20 s of rest\.", done)
    fed = [words.split(" ")[0] for _, words in drill_page.feeds("student")]
    assert f"{4 + len(fed) + 4 + 3 + 3} repetitions." in done
    for defence in ("parry", "cover"):
        assert f"{defence} {fed.count(defence)}" in done.lower()
    assert "weave 4" in done
    assert "8 strikes." in done
    assert "back or on" not in done
    assert view.inner_text("#left") == view.inner_text("#where") == ""
    assert not view.get_by_label("coaching points").is_visible()


def test_whoever_left_something_out_is_not_told_that_it_was_done(rounds: Page, rounds_page: MadePage) -> None:
    play(rounds, rounds_page.line)
    button(rounds, "Part on").click()
    wind(rounds, rounds_page.line.duration)
    told(rounds, "The end")
    done = rounds.get_by_label("what was done")
    assert done.inner_text().startswith("You went back or on. The whole drill is:")
    assert "6 repetitions." in done.inner_text().replace("\N{NO-BREAK SPACE}", " ")
    button(rounds, "Start").click()
    told(rounds, "Playing")
    assert not done.is_visible()
