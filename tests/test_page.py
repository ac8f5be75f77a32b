"""The offline page in a real Chromium, opened from a file."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from click.testing import CliRunner

from cornercue.cli.main import commands
from cornercue.page.data import feeds_of
from cornercue.page.feed_figures import figures
from cornercue.page.paper import sheet
from cornercue.script.read import read_drill
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.phrasebook import phrasebook
from cornercue.timing.safety import audience, cautions
from cornercue.timing.setting import Request
from page_in_chromium import CHROMIUM, chromium, made, until

pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="there is no Chromium")

DRILL = """\
drill: Page test
level: 2
gear: [soft stick]
steps:
- combination:
  - jab: straight out
  - cross: hip and hand together
  reps: 3
  every: 3 s
- partner: [parry, cover]
  for: 25 s
  answers: jab, cross
- partner: [weave]
  reps: 4
  listener: feeder
- rest: 10 s
- exercise: push-ups
  reps: 3
  check: [body flat]
"""

HOSTILE = """\
drill: "</script><script>document.title='owned'</script> & \\"quotes\\" 🥊 مرحبا"
about: "<img src=x onerror=alert(1)>"
steps:
- say: "<b>bold</b> & 'quoted' 🥊 שלום"
- exercise: "push-ups <i>"
  reps: 2
  check: ["<script>alert(1)</script>", "one '\\"--> ]]>"]
"""


@pytest.fixture(scope="module")
def drill_page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return made(tmp_path_factory.mktemp("page"), DRILL, "--draws", "3")


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with chromium() as opened:
        yield opened


@pytest.fixture
def view(browser: Any, drill_page: Path) -> Iterator[Any]:
    context = browser.new_context(viewport={"width": 1280, "height": 800}, has_touch=True)
    page = context.new_page()
    page.on("pageerror", lambda error: pytest.fail(f"the page failed: {error}"))
    page.goto(drill_page.as_uri())
    yield page
    context.close()


def begun(view: Any, at: float = 0.0) -> None:
    """The cautions read, and the drill playing from `at` seconds."""
    view.click("#read")
    view.evaluate(f"play({at})")
    until(view, "player.state === 'playing'")


def cues(view: Any) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = view.evaluate("player.draw.cues")
    return found


def test_every_sound_of_a_minute_lies_within_2_ms_of_the_timeline(view: Any, drill_page: Path) -> None:
    """The page's own placing through an offline clock, each sound found again by correlation."""
    from cornercue.track.tone_samples import tone_samples
    from cornercue.voice.voices import open_voice

    rate = 22_050
    raw = view.evaluate(
        f"renderedOffline(0, 60, {rate}).then((samples) => Array.from(new Uint8Array(samples.buffer),"
        " (byte) => String.fromCharCode(byte)).join(''))"
    )
    track = np.frombuffer(raw.encode("latin-1"), "<f4").astype(float)
    shown = json.loads(
        CliRunner().invoke(
            commands, ["show", str(drill_page.with_suffix(".yaml")), "--json", "--seed", "5", "--voice", "system"]
        ).stdout
    )  # fmt: skip
    checked = 0
    with open_voice("system") as speech:
        for cue in shown["cues"]:
            if cue["end"] > 59:
                break
            clip = None if "tone" in cue else speech.clip(cue["text"], cue.get("rate", 1.0))
            sound = clip.samples if clip else tone_samples(cue["tone"])
            reach, first = 220, round(cue["start"] * rate)
            around = track[first - reach : first + len(sound) + reach]
            lag = int(np.argmax(np.correlate(around, sound.astype(float), "valid"))) - reach
            assert abs(lag) / rate <= 0.002, cue
            checked += 1
    assert checked > 20


def test_a_page_opened_by_play_fills_the_screen_at_its_start_and_only_once(browser: Any, drill_page: Path) -> None:
    wide = drill_page.with_name("wide.html")
    wide.write_text(drill_page.read_text().replace('"fullScreen":false', '"fullScreen":true'))
    for page, fills in ((wide, True), (drill_page, False)):
        context = browser.new_context()
        view = context.new_page()
        view.goto(page.as_uri())
        view.click("#read")
        assert view.evaluate("document.fullscreenElement === null")
        view.click("#start")
        until(view, "player.state === 'playing'")
        until(view, f"(document.fullscreenElement !== null) === {str(fills).lower()}")
        view.evaluate("document.fullscreenElement && document.exitFullscreen()")
        until(view, "document.fullscreenElement === null")
        view.click("#start")
        view.click("#start")
        view.wait_for_timeout(300)
        assert view.evaluate("document.fullscreenElement === null")
        context.close()


def test_live_nothing_is_placed_more_than_20_ms_late_on_a_slow_machine(view: Any) -> None:
    view.context.new_cdp_session(view).send("Emulation.setCPUThrottlingRate", {"rate": 6})
    view.evaluate(
        "() => { window.log = []; const old = place; place = (context, ...rest) => { const placed = [];"
        " const next = old(context, ...rest.slice(0, -1), placed);"
        " window.log.push(...placed.map(({when, at, cue}) => [when, at, cue.start])); return next; }; }"
    )
    begun(view, next(cue["start"] for cue in cues(view) if cue["kind"] == "count") - 0.3)
    view.wait_for_timeout(4000)
    log = view.evaluate("window.log")
    assert len(log) >= 3
    assert all(when - at >= -0.02 for when, at, _ in log)


def test_a_call_whose_time_is_gone_is_left_out(view: Any) -> None:
    begun(view)
    placed = view.evaluate(
        "() => { const placed = []; const clock = player.context.currentTime;"
        " const next = place(player.context, player.gain, player.buffers, player.draw.cues, 0, 30, clock - 29, placed);"
        " return [next, placed.map(({cue}) => cue.start)]; }"
    )
    starts = [cue["start"] for cue in cues(view) if cue["start"] < 30]
    assert placed[0] == len(starts)
    assert placed[1] == [start for start in starts if start >= 28.95]


def test_after_a_sleep_the_page_pauses_and_plays_no_burst(view: Any) -> None:
    begun(view, 10)
    view.evaluate("player.seen = performance.now() - 60000; tick()")
    assert view.evaluate("[player.state, player.placed.length]") == ["paused", 0]


def test_the_visible_call_changes_within_100_ms_of_its_sound(view: Any) -> None:
    """ITU-R BT.1359-1 (1998): sound may lead the picture by 90 ms or lag it by 185 ms and be accepted."""
    begun(view, next(cue["start"] for cue in cues(view) if cue["kind"] == "count") - 0.5)
    view.evaluate(
        "() => { window.seen = []; let last = ''; (function look() { const words = element('call').textContent;"
        " if (words !== last) { last = words; window.seen.push([words, player.context.currentTime - player.origin]); }"
        " requestAnimationFrame(look); })(); }"
    )
    view.wait_for_timeout(5000)
    seen = view.evaluate("window.seen")[1:]
    assert len(seen) >= 3
    for words, at in seen:
        assert min(abs(at - cue["start"]) for cue in cues(view) if cue.get("text") == words) <= 0.1


def test_nothing_starts_before_the_cautions_were_shown(view: Any) -> None:
    assert "A soft foam stick, nothing else." in view.inner_text("#cautions")
    assert view.is_disabled("#start")
    view.keyboard.press(" ")
    view.evaluate("toggle()")
    assert view.evaluate("player.state") == "closed"
    view.click("#read")
    assert view.evaluate("player.state") == "ready"


@pytest.mark.parametrize("by", ["keyboard", "touch"])
def test_every_control_works(view: Any, by: str) -> None:
    keys = {"start": " ", "back": "ArrowLeft", "on": "ArrowRight", "again": "r", "softer": "ArrowDown",
            "louder": "ArrowUp", "view": "f", "stop": "s"}  # fmt: skip

    def do(control: str) -> None:
        if by == "keyboard":
            view.keyboard.press(keys[control])
        else:
            view.tap(f"#{control}")
        view.wait_for_timeout(150)

    def told() -> str:
        """Both are one line at the top: "Playing · 2 of 4 · Parry and cover"."""
        return f"{view.inner_text('#state')} · {view.inner_text('#where')}"

    view.click("#read")
    view.evaluate("document.activeElement.blur()")
    do("start")
    assert told() == "Playing · 1 of 4 · Jab, cross"
    assert view.evaluate("player.context.state") == "running"
    do("on")
    assert told() == "Playing · 2 of 4 · Parry and cover"
    first_words = view.inner_text("#call")
    do("on")
    assert told().startswith("Playing · 3 of 4 · ")
    do("back")
    assert told().startswith("Playing · 2 of 4 · ")
    until(view, f"element('call').textContent !== '{first_words}'")
    do("again")
    assert view.inner_text("#call") == first_words
    assert told().startswith("Playing · 2 of 4 · ")
    do("on")
    do("on")
    assert told() == "Playing · 4 of 4 · Push-ups"
    do("softer")
    do("softer")
    do("louder")
    assert view.evaluate("player.gain.gain.value") == pytest.approx(0.7)
    assert view.text_content("#loudness") == "loudness 7 of 10"
    until(view, "element('left').textContent.startsWith('work')")
    do("start")
    paused = view.inner_text("#drill")
    assert told().startswith("Paused · 4 of 4 · ")
    assert view.inner_text("#call") == "PAUSED"
    assert view.evaluate("player.placed.length") == 0
    view.wait_for_timeout(1200)
    assert view.inner_text("#drill") == paused  # the clock, too
    do("start")
    assert told().startswith("Playing · 4 of 4 · ")
    do("view")
    assert view.evaluate("player.gain.gain.value") == 0
    do("stop")
    assert view.inner_text("#call") == "STOP"
    do("start")
    do("start")
    assert told().startswith("Paused")
    do("stop")
    assert told().startswith("Stop")


def test_after_a_stop_nothing_is_announced_until_somebody_goes_on(view: Any) -> None:
    begun(view, next(cue["start"] for cue in cues(view) if cue["kind"] == "count"))
    until(view, "element('next').textContent.startsWith('then: ')")
    view.click("#stop")
    assert view.inner_text("#call") == "STOP"
    assert view.inner_text("#next") == ""
    view.click("#start")
    assert view.inner_text("#next").startswith("then: ")


def test_the_feeder_sees_the_next_feed_in_their_own_left_and_right(view: Any) -> None:
    feeds = [cue for cue in cues(view) if "feed" in cue]
    assert {cue["listener"] for cue in feeds} == {"student", "feeder"}
    for cue in feeds:
        if cue["hands"] and cue["listener"] == "student":
            own, other = cue["hands"].split(" ")[0], {"left": "right", "right": "left"}
            assert f"your {other[own]}" in cue["feed"]
    begun(view, feeds[0]["start"] + 0.2)
    view.click("#view")
    view.wait_for_timeout(200)
    assert view.inner_text("#call") == feeds[0]["feed"]


def test_the_student_is_not_told_what_only_the_feeder_may_know(view: Any) -> None:
    feed = next(cue for cue in cues(view) if cue.get("listener") == "feeder")
    begun(view, feed["start"] + 0.1)
    view.wait_for_timeout(300)
    assert view.inner_text("#call") == "Watch the stick"
    assert feed["text"] not in view.inner_text("main")
    random_call = next(cue for cue in cues(view) if cue.get("listener") == "student" and "feed" in cue)
    view.evaluate(f"play({random_call['start'] - 0.6})")
    view.wait_for_timeout(100)
    assert random_call["text"] not in view.inner_text("#next")


def test_each_draw_is_the_engines_own_and_can_be_named_and_chosen(view: Any, drill_page: Path) -> None:
    names = view.locator("#draw option").all_inner_texts()
    assert names == ["Draw A", "Draw B", "Draw C"]
    told = dict(re.findall(r"\b([A-Z]) has seed (\d+)", view.text_content("#instructor")))
    called = view.evaluate("data.draws.map(({cues}) => cues.filter((cue) => cue.feed).map((cue) => cue.text))")
    assert called[0] != called[1]
    for name, words in zip(names, called, strict=True):
        seed = told[name.removeprefix("Draw ")]
        script = str(drill_page.with_suffix(".yaml"))
        shown = CliRunner().invoke(commands, ["show", script, "--json", "--seed", seed, "--voice", "system"]).stdout
        assert [cue["text"] for cue in json.loads(shown)["cues"] if "due" in cue] == words
    view.click("#read")
    view.select_option("#draw", "Draw C")
    assert view.get_attribute("#draw", "title") == f"seed {told['C']}"
    heard = view.evaluate("player.draw.cues.filter((cue) => cue.feed).map((cue) => cue.text)")
    assert heard == called[2]


def test_no_request_leaves_the_page_and_its_policy_forbids_them(browser: Any, drill_page: Path) -> None:
    context = browser.new_context()
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(drill_page.as_uri())
    page.click("#read")
    page.evaluate("play(0)")
    page.wait_for_timeout(1000)
    assert asked == [drill_page.as_uri()]
    policy = page.get_attribute("meta[http-equiv=Content-Security-Policy]", "content")
    assert policy.startswith("default-src 'none'; script-src 'sha256-")
    assert page.evaluate("fetch('https://example.org/').then(() => 'sent', () => 'refused')") == "refused"
    context.close()


def test_texts_are_shown_as_texts_whatever_they_hold(browser: Any, tmp_path: Path) -> None:
    page = browser.new_context().new_page()
    page.on("dialog", lambda dialog: pytest.fail(f"a text ran: {dialog.message}"))
    page.on("pageerror", lambda error: pytest.fail(f"the page failed: {error}"))
    page.goto(made(tmp_path, HOSTILE).as_uri())
    title = "</script><script>document.title='owned'</script> & \"quotes\" 🥊 مرحبا"
    assert page.title() == title
    assert page.inner_text("h1") == title
    assert page.evaluate("document.querySelectorAll('img, b, i, main script').length") == 0
    page.evaluate("play(0)")
    page.evaluate("goTo(0)")
    said = page.evaluate("data.draws[0].cues.find((cue) => cue.text.includes('bold'))")
    page.evaluate(f"play({said['start'] + 0.05})")
    page.wait_for_timeout(300)
    assert page.inner_text("#call") == "<b>bold</b> & 'quoted' 🥊 שלום"
    page.evaluate("goTo(1)")
    page.wait_for_timeout(300)
    assert page.inner_text("#points").splitlines() == ["<script>alert(1)</script>", "one '\"--> ]]>"]


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [(320, 568), (1280, 800), (3840, 2160)])
def test_it_fits_every_screen_and_everyone_can_use_it(
    browser: Any, drill_page: Path, size: tuple[int, int], scheme: str, tmp_path: Path
) -> None:
    """axe-core finds no serious or critical fault, nothing lies outside the width, the call is large."""
    axe = pytest.importorskip("axe_core_python.sync_playwright", reason="axe-core-python is not installed")
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]}, color_scheme=scheme, reduced_motion="reduce", bypass_csp=True
    )
    page = context.new_page()
    page.goto(drill_page.as_uri())
    for shown in ("cautions", "call", "rest", "paused", "fold", "end", "no script"):
        if shown == "call":
            page.click("#read")
            page.evaluate("play(data.draws[0].cues.find((cue) => cue.kind === 'call').start)")
        if shown == "rest":
            page.evaluate("play(data.draws[0].spans.find((span) => span.kind === 'rest').start + 4)")
        if shown == "paused":
            page.keyboard.press(" ")
        if shown == "fold":
            page.click("#instructor summary")
        if shown == "end":
            page.click("#instructor summary")
            page.evaluate("play(player.draw.duration - 0.1)")
            until(page, "element('state').textContent === 'The end'")
        if shown == "no script":  # as the page is before its script runs: axe-core is a script itself
            page.evaluate("document.body.dataset.state = 'unscripted'")
            until(page, "document.querySelector('#unscripted').checkVisibility({visibilityProperty: true})")
        page.wait_for_timeout(300)
        page.screenshot(path=tmp_path / f"{shown}-{size[0]}-{scheme}.png")
        assert page.evaluate("document.scrollingElement.scrollWidth <= innerWidth")
        bad = [one["id"] for one in axe.Axe().run(page)["violations"] if one["impact"] in ("serious", "critical")]
        assert bad == [], shown
        if shown == "rest":
            assert page.evaluate("parseFloat(getComputedStyle(element('call')).fontSize) >= innerWidth / 14")
    context.close()


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_every_demo_drill_is_one_or_two_sheets_of_paper(view: Any, paper: str) -> None:
    for path in sorted((Path(__file__).parent.parent / "drills").glob("*.yaml")):
        drill = read_drill(path)
        whom = audience(drill)
        fed = feeds_of([expand(drill, Request(seed=5), estimated_seconds)], whom)
        on_paper = sheet(drill, drill.level, cautions(drill, phrasebook()), figures(whom, fed))
        view.evaluate("(html) => { element('paper').innerHTML = html; }", on_paper)
        assert 1 <= len(re.findall(rb"/Type /Page\b", view.pdf(format=paper))) <= 2, path.name


LONG = "Antidisestablishment" * 4
"""Wider than a small phone even in the smallest type."""


@pytest.mark.parametrize(
    "words", ["cover left", "STOP", "Three defences", "Straight poke from your left, slowly", LONG]
)
def test_on_a_small_phone_no_word_is_broken_that_could_be_shown_whole(words: str, view: Any) -> None:
    view.set_viewport_size({"width": 320, "height": 568})
    # The lines that each word lies on, by the browser's own layout.
    lines = view.evaluate(
        "(words) => { fitted('call', words); const text = element('call').firstChild; let at = 0;"
        " return words.split(' ').map((word) => { const range = document.createRange();"
        " range.setStart(text, at); range.setEnd(text, at + word.length); at += word.length + 1;"
        " const boxes = [...range.getClientRects()].filter((box) => box.width > 0);"
        " return new Set(boxes.map((box) => Math.round(box.top))).size; }); }",
        words,
    )
    assert lines == [2 if words == LONG else 1] * len(words.split())
    assert view.evaluate("document.scrollingElement.scrollWidth <= innerWidth")


def test_stop_is_within_reach_on_a_small_phone(view: Any) -> None:
    view.set_viewport_size({"width": 320, "height": 568})
    begun(view)
    for feeder in ("false", "true"):
        view.evaluate(f"setView({feeder})")
        for cue in [cue for cue in cues(view) if "feed" in cue][:4]:
            view.evaluate(f"player.held = {cue['start']}; play()")
            view.wait_for_timeout(150)
            box = view.locator("#stop").bounding_box()
            assert box["y"] + box["height"] <= 568


def test_on_paper_it_is_one_or_two_pages_with_doses_points_and_cautions(view: Any, drill_page: Path) -> None:
    pdf = view.pdf(format="A4")
    assert 1 <= len(re.findall(rb"/Type\s*/Page[^s]", pdf)) <= 2
    view.emulate_media(media="print")
    paper = view.inner_text("#paper")
    drill = read_drill(drill_page.with_suffix(".yaml"))
    for step in drill.steps:
        assert step.in_words(2) in paper
    assert "jab: straight out" in paper
    assert "body flat" in paper
    assert "Stop at once when anyone says" in paper
    assert not view.is_visible("main")


def test_a_page_needs_a_name_that_ends_in_html(tmp_path: Path) -> None:
    script = tmp_path / "drill.yaml"
    script.write_text(DRILL, encoding="utf-8")
    result = CliRunner().invoke(commands, ["page", str(script), "-o", str(tmp_path / "drill.pdf")])
    assert result.exit_code == 1
    assert ".html" in result.output
