"""`cornercue play` as a person meets it: on a terminal, with a loudspeaker that can be pulled out."""

from __future__ import annotations

import contextlib
import os
import re
import shlex
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import soundfile

from cornercue.player.transport import ASLEEP, LOST, PAUSED
from cornercue.sound import Samples
from terminal import Loudspeaker, Terminal, terminal
from test_player_outputs import BOTH, alsa

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="there are no pseudo-terminals here")

SCRIPT = """\
drill: Saltmarsh Monday
voice: system
steps:
- say: Hands up, chin down.
- exercise: push-ups
  reps: 4
  every: 2 s
- hold: side kick
  for: 4 s
  sides: left
- say: Shake it out.
"""


@pytest.fixture
def script(tmp_path: Path) -> str:
    path = tmp_path / "monday.yaml"
    path.write_text(SCRIPT)
    return str(path)


@pytest.fixture
def speaker(tmp_path: Path) -> Iterator[Loudspeaker]:
    with contextlib.closing(Loudspeaker(tmp_path)) as opened:
        yield opened


def without_pauses(heard: Samples, track: Samples) -> tuple[bool, int]:
    """Whether `heard` is the track but for zeros put in, and how many of these there are before the track's end."""
    at = extra = 0
    wanted = track.tolist()
    for sample in heard.tolist():
        if at < len(track) and sample == wanted[at]:
            at += 1
        elif sample:
            return False, extra
        else:
            extra += at < len(track)
    return at == len(track), extra


SHORT = """\
drill: Saltmarsh Monday
voice: system
steps:
- hold: side kick
  for: 3 s
  sides: left
"""


@alsa
@pytest.mark.parametrize("output", BOTH)
def test_with_the_pauses_cut_out_what_was_heard_is_the_rendered_file(
    script: str, speaker: Loudspeaker, output: str, tmp_path: Path
) -> None:
    Path(script).write_text(SHORT)
    with terminal("play", script, "--device", output, "--plain", env=speaker.env()) as lounge:
        for word in ("Side kick", "two", "Hold."):
            lounge.wait_for(word)
            lounge.press(" ")
            lounge.wait_for(lambda: lounge.text().count(PAUSED) > lounge.text().count("Goes on."))
            time.sleep(0.3)
            lounge.press(" ")
            lounge.wait_for(lambda: lounge.text().count(PAUSED) == lounge.text().count("Goes on."))
        assert lounge.end() == 0, lounge.text()
    rendered = tmp_path / "monday.wav"
    subprocess.run([sys.executable, "-m", "cornercue", "render", script, "-o", rendered], check=True, env=speaker.env())
    track, _ = soundfile.read(rendered, dtype="int16")
    # Live, nobody waits for the silence before the first word.
    same, extra = without_pauses(np.trim_zeros(speaker.heard, "f"), np.trim_zeros(track, "f"))
    assert same
    assert extra <= 3 * 22050 * 0.5


def test_every_key_does_what_it_says(script: str) -> None:
    with terminal("play", script, "--device", "silent") as lounge:
        lounge.wait_for("part 1 of 4")
        lounge.press("\x1b[C")
        lounge.wait_for("part 2 of 4")
        lounge.press("\x1b[C")
        lounge.wait_for("part 3 of 4")
        lounge.press("\x1b[D")
        lounge.wait_for("part 2 of 4")
        lounge.press(" ")
        lounge.wait_for(PAUSED)
        shown = lounge.text()
        time.sleep(0.5)
        lounge.wait_for(lambda: lounge.text() == shown)
        lounge.press("\x1b[B\x1b[B\x1b[A")
        lounge.wait_for("9 of 10")
        lounge.press(" ")
        lounge.wait_for(lambda: PAUSED not in lounge.text())
        lounge.press("r")
        lounge.wait_for("part 2 of 4")
        lounge.press("\x1b[C\x1b[C\x1b[C")
        lounge.wait_for("This is the last part.")
        lounge.press("q")
        assert lounge.end() == 0
        assert "Left at part 4 of 4." in lounge.text()
        assert lounge.left_as_found()


def test_quitting_tells_a_command_that_goes_on_at_the_same_place_of_the_same_session(script: str) -> None:
    with terminal("play", script, "--device", "silent", "--plain", "--level", "3", columns=300) as lounge:
        lounge.wait_for("Part 1 of 4")
        lounge.press("\x1b[C")
        lounge.wait_for("Part 2 of 4")
        seed = re.search(r"seed (\d+)", lounge.text())
        lounge.press("q")
        assert lounge.end() == 0
        command = shlex.split(lounge.text().rstrip().splitlines()[-1])
    assert seed
    assert command == [
        "cornercue", "play", script, "--device", "silent", "--plain", "--level", "3", "--from", "2", "--seed", seed[1],
    ]  # fmt: skip
    with terminal(*command[1:]) as lounge:
        lounge.wait_for("Part 2 of 4")
        assert f"seed {seed[1]}" in lounge.text()
        assert "Part 1 of 4" not in lounge.text()


def test_a_long_pause_ends_with_a_count_in(script: str) -> None:
    with terminal("play", script, "--device", "silent", "--plain", "--from", "2") as lounge:
        lounge.wait_for("  two")
        lounge.press(" ")
        lounge.wait_for(PAUSED)
        before = lounge.text()
        time.sleep(2.2)
        lounge.press(" ")
        lounge.wait_for(lambda: re.findall(r"  (\w+)$", lounge.text()[len(before.rstrip()) :], re.M)[:3] == COUNT_IN)


COUNT_IN = ["three", "two", "one"]


@alsa
@pytest.mark.parametrize("fault", ["unplug", "stall"])
def test_a_device_that_is_lost_is_told_and_waited_for(script: str, speaker: Loudspeaker, fault: str) -> None:
    with terminal("play", script, "--from", "2", "--device", "miniaudio", env=speaker.env()) as lounge:
        lounge.wait_for(lambda: speaker.seconds() > 3)
        getattr(speaker, fault)()
        lounge.wait_for(LOST[:30])
        heard = speaker.seconds()
        time.sleep(1.5)
        assert speaker.seconds() - heard < 0.1
        speaker.plug_in()
        lounge.wait_for(lambda: LOST[:30] not in lounge.text() and speaker.seconds() > heard + 1)
        assert "counting in" not in lounge.text()
        lounge.press("q")
        assert lounge.end() == 0, lounge.text()
        assert lounge.left_as_found()


def test_a_computer_that_slept_goes_on_with_a_count_in(script: str) -> None:
    with terminal("play", script, "--device", "silent", "--plain", "--from", "2") as lounge:
        lounge.wait_for("  two")
        lounge.process.send_signal(signal.SIGSTOP)
        time.sleep(4)
        lounge.process.send_signal(signal.SIGCONT)
        lounge.wait_for(ASLEEP)
        before = lounge.text().index(ASLEEP)
        lounge.wait_for(lambda: "  one\n" in lounge.text()[before:])
        shown = lounge.text()[lounge.text().index("two") :]
        assert re.findall(r"  (\w+)$", shown, re.M)[:3] == COUNT_IN


def pressed_at(lounge: Terminal, moment: str) -> None:
    """Bring it to a moment of an evening."""
    if moment == "at once":
        time.sleep(0.2)
        return
    lounge.wait_for("part 1 of 4")
    if moment == "paused":
        lounge.press(" ")
        lounge.wait_for(PAUSED)
    elif moment == "in the middle":
        lounge.press("\x1b[C")
        lounge.wait_for("part 2 of 4")


@pytest.mark.parametrize("moment", ["at once", "as it starts", "paused", "in the middle"])
def test_ctrl_c_at_any_moment_leaves_the_terminal_as_it_was(script: str, moment: str) -> None:
    with terminal("play", script, "--device", "silent") as lounge:
        pressed_at(lounge, moment)
        lounge.ctrl_c()
        # Where Python is interrupted inside `exec` it ends itself by the signal at last; a shell calls both 130.
        assert lounge.end() in (130, -signal.SIGINT), lounge.text()
        assert lounge.left_as_found()
        assert "Traceback" not in lounge.text()
        assert "Stopped." in lounge.text()
        if moment != "at once":
            assert "To go on there:" in lounge.text()


@alsa
def test_ctrl_c_while_it_waits_for_a_device(script: str, speaker: Loudspeaker) -> None:
    with terminal("play", script, "--device", "miniaudio", env=speaker.env()) as lounge:
        lounge.wait_for(lambda: speaker.seconds() > 1)
        speaker.unplug()
        lounge.wait_for(LOST[:30])
        lounge.ctrl_c()
        assert lounge.end() == 130
        assert lounge.left_as_found()


def test_a_request_to_end_restores_the_terminal_too(script: str) -> None:
    with terminal("play", script, "--device", "silent") as lounge:
        lounge.wait_for("part 1 of 4")
        lounge.process.send_signal(signal.SIGTERM)
        assert lounge.end() == 128 + signal.SIGTERM
        assert lounge.left_as_found()
        assert "Traceback" not in lounge.text()


@alsa
def test_without_a_device_one_sentence_says_what_to_do_and_no_screen_is_opened(
    script: str, speaker: Loudspeaker
) -> None:
    speaker.unplug()
    with terminal("play", script, env=speaker.env()) as lounge:
        assert lounge.end() == 3
        assert "There is nothing to play the sound on" in lounge.text()
        assert "\x1b[?1049h" not in lounge.sent.decode()


def test_the_reason_for_a_device_is_told_when_asked(script: str) -> None:
    with terminal("play", script, "--device", "silent", "--plain", "-v") as lounge:
        lounge.wait_for("Device: silent was asked for.")


def test_in_a_pipe_it_prints_one_line_a_cue_and_ends_quietly_with_its_reader(script: str) -> None:
    play = f"{shlex.quote(sys.executable)} -m cornercue play {shlex.quote(script)} --device silent"
    done = subprocess.run(["bash", "-c", f"{play} | head -6"], capture_output=True, text=True, timeout=60, check=True)
    assert done.stderr == ""
    caution, heading, part, *words = done.stdout.splitlines()
    assert caution.startswith("Holding a kick: beside a chair that cannot slide")
    assert heading.startswith("Saltmarsh Monday · level 1 · seed ")
    assert part == "Part 1 of 4 · Hands up, chin down."
    assert [line[4:] for line in words] == [f"  {caution}", "  Saltmarsh Monday. Level one.", "  Hands up, chin down."]


def test_a_part_that_is_not_there_is_refused(script: str) -> None:
    with terminal("play", script, "--from", "9") as lounge:
        assert lounge.end() == 2
        assert "the last part of this drill is 4" in lounge.text()


def test_the_screen_option_opens_the_page_in_the_browser(script: str, tmp_path: Path) -> None:
    browser = tmp_path / "browser"
    browser.write_text(f'#!/bin/sh\nprintf %s "$1" > {tmp_path}/opened\n')
    browser.chmod(0o755)
    env = os.environ | {"BROWSER": f"{browser} %s", "XDG_CACHE_HOME": str(tmp_path / "cache")}
    with terminal("play", script, "--screen", env=env) as lounge:
        assert lounge.end() == 0, lounge.text()
        assert "Its Start button fills the screen." in lounge.text()
    page = Path((tmp_path / "opened").read_text().removeprefix("file://"))
    assert page.is_relative_to(tmp_path / "cache")
    assert '"fullScreen":true' in page.read_text()


def test_where_there_is_no_browser_it_says_where_the_page_is(script: str, tmp_path: Path) -> None:
    env = {"PATH": "/nowhere", "HOME": str(tmp_path), "XDG_CACHE_HOME": str(tmp_path / "cache")}
    with terminal("play", script, "--screen", env=env) as lounge:
        assert lounge.end() == 3, lounge.text()
        assert "No browser could be opened." in lounge.text()


@pytest.mark.parametrize("other", [["--from", "2"], ["--plain"], ["--device", "silent"]])
def test_the_page_has_buttons_for_what_other_options_do(script: str, other: list[str]) -> None:
    with terminal("play", script, "--screen", *other) as lounge:
        assert lounge.end() == 2
        assert f"`{other[0]}` has no meaning beside `--screen`" in lounge.text()
