"""Real playback, without a sound card: ALSA's `file` plugin writes down what a loudspeaker would have got."""

from __future__ import annotations

import ctypes.util
import importlib.util
import signal
import subprocess
import sys
import textwrap
from collections.abc import Iterable
from pathlib import Path

import numpy as np
import pytest
import soundfile

from cornercue.errors import MachineLacks
from cornercue.player.choose import OUTPUTS, choose, output_names
from cornercue.player.outputs import Heard
from cornercue.player.silent_output import SilentOutput
from cornercue.sound import SAMPLE_RATE, Samples
from cornercue.track.mix import Channels, blocks
from cornercue.track.sound_files import write
from lounge import with_devices_of
from test_track_sound_files import drill, spoken

alsa = pytest.mark.skipif(
    sys.platform != "linux" or ctypes.util.find_library("asound") is None,
    reason="ALSA's library (libasound2) is not installed",
)
simpleaudio = pytest.mark.skipif(
    sys.version_info >= (3, 12) or importlib.util.find_spec("simpleaudio") is None,
    reason="simpleaudio is not installed, or not safe with this Python",
)
BOTH = ["miniaudio", pytest.param("simpleaudio", marks=simpleaudio)]

CAPTURE = 'pcm.null {{ type null }}\npcm.!default {{ type file slave.pcm null file "{file}" format raw }}\n'


def home(folder: Path, alsa_setup: str) -> dict[str, str]:
    """The environment of a machine that has these sound devices and no others."""
    setup = folder / "asound.conf"
    setup.write_text(alsa_setup)
    return with_devices_of(setup)


def run(code: str, *arguments: str, env: dict[str, str]) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-c", textwrap.dedent(code), *arguments]
    return subprocess.run(command, cwd=Path(__file__).parent, env=env, capture_output=True, text=True, timeout=60)


PLAY = """
    import sys
    from cornercue.player.choose import choose
    from cornercue.track.mix import COLUMNS, blocks
    from test_track_sound_files import drill, spoken
    name, channels = sys.argv[1:]
    told = []
    choose(name).output.play(
        blocks(drill(), spoken, frames=8192, channels=channels), COLUMNS[channels], told.append
    )
    print(told[-1])
"""


@alsa
@pytest.mark.parametrize("channels", ["mono", "split"])
@pytest.mark.parametrize("name", BOTH)
def test_what_is_played_is_what_is_rendered(tmp_path: Path, name: str, channels: Channels) -> None:
    env = home(tmp_path, CAPTURE.format(file=tmp_path / "heard.raw"))
    done = run(PLAY, name, channels, env=env)
    assert (done.returncode, done.stderr) == (0, "")
    write(tmp_path / "drill.wav", drill(), spoken, channels=channels)
    rendered, _ = soundfile.read(tmp_path / "drill.wav", dtype="int16", always_2d=True)
    heard = np.fromfile(tmp_path / "heard.raw", "<i2").reshape(-1, rendered.shape[1])
    assert np.array_equal(heard[: len(rendered)], rendered)
    assert not heard[len(rendered) :].any()
    assert int(done.stdout) == len(rendered)


NOTHING = """
    import sys
    from cornercue.player.choose import choose
    choose(sys.argv[1]).output.play([], 1)
"""


@alsa
@pytest.mark.parametrize("name", BOTH)
def test_a_track_without_a_frame_plays_and_ends(tmp_path: Path, name: str) -> None:
    done = run(NOTHING, name, env=home(tmp_path, CAPTURE.format(file=tmp_path / "heard.raw")))
    assert (done.returncode, done.stderr) == (0, "")


LIVE_AGAIN = """
    import os, sys, threading, time
    from cornercue.player.choose import choose
    from lounge import Room, played
    def held():
        time.sleep(0.5)  # a device's own thread may still be ending
        return threading.active_count(), len(os.listdir("/proc/self/task")), len(os.listdir("/proc/self/fd"))
    output = choose(sys.argv[1]).output
    def start_pause_and_stop():
        ending = played(Room([(0, "pause"), (0, "pause"), (0, "on"), (0, "quit")]), output)
        assert (ending.whole, ending.part) == (False, 2), ending
    start_pause_and_stop()
    before = held()
    for _ in range(50):
        start_pause_and_stop()
    print(before == held(), before, held())
"""


@alsa
@pytest.mark.parametrize("name", BOTH)
def test_starting_pausing_and_stopping_fifty_times_leaves_no_thread_and_no_file_open(tmp_path: Path, name: str) -> None:
    done = run(LIVE_AGAIN, name, env=home(tmp_path, CAPTURE.format(file=tmp_path / "heard.raw")))
    assert (done.stdout[:4], done.stderr) == ("True", ""), done.stdout


WITHOUT_DEVICE = """
    import sys
    from cornercue.errors import MachineLacks
    from cornercue.player.choose import choose
    from cornercue.player.miniaudio_output import MiniaudioOutput
    from cornercue.player.simpleaudio_output import SimpleaudioOutput
    import numpy as np
    play = MiniaudioOutput().play if sys.argv[1] == "miniaudio" else SimpleaudioOutput().play
    for attempt in (lambda: choose("auto"), lambda: choose(sys.argv[1]), lambda: play([np.zeros(9, np.int16)])):
        try:
            attempt()
        except MachineLacks as fault:
            print(fault.exit_code, fault)
"""


@alsa
@pytest.mark.parametrize("name", BOTH)
def test_without_a_sound_device_one_plain_sentence_says_what_to_do(tmp_path: Path, name: str) -> None:
    done = run(WITHOUT_DEVICE, name, env=home(tmp_path, ""))
    assert (done.returncode, done.stderr) == (0, "")
    attempts = done.stdout.splitlines()
    assert len(attempts) == 3
    for said in attempts:
        assert said.startswith("3 There is nothing to play the sound on (")
        assert f"{name}: it finds no sound device" in said
        assert said.endswith("`cornercue render`.")


ENDLESS = """
    import sys, threading, time
    import numpy as np
    from cornercue.player.choose import choose
    def track():
        print("playing", flush=True)
        while True:
            yield np.full(2048, 7, np.int16)
            time.sleep(0.02)
    try:
        choose("miniaudio").output.play(track())
    except KeyboardInterrupt:
        print("stopped", threading.active_count())
"""


@alsa
def test_ctrl_c_stops_the_sound_and_passes_through(tmp_path: Path) -> None:
    env = home(tmp_path, CAPTURE.format(file=tmp_path / "heard.raw"))
    child = subprocess.Popen(
        [sys.executable, "-c", textwrap.dedent(ENDLESS)],
        env=env,
        text=True,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    assert child.stdout is not None
    assert child.stdout.readline() == "playing\n"
    child.send_signal(signal.SIGINT)
    out, err = child.communicate(timeout=30)
    assert (child.returncode, out, err) == (0, "stopped 1\n", "")


def test_the_silent_output_takes_real_time_and_never_drifts() -> None:
    """A minute in blocks, on a clock whose sleeps always last 3 ms too long: the end is late by one sleep at most."""
    now = [1000.0]

    def sleep(seconds: float) -> None:
        now[0] += seconds + 0.003

    told: list[int] = []
    line = drill(60)
    SilentOutput(clock=lambda: now[0], sleep=sleep).play(blocks(line, spoken, frames=5000), heard=told.append)
    assert now[0] - 1000 == pytest.approx(60, abs=0.003)
    assert told == sorted(told)
    assert told[-1] == 60 * SAMPLE_RATE


def test_every_output_goes_by_the_name_it_is_chosen_by() -> None:
    assert output_names() == ("auto", "miniaudio", "simpleaudio", "silent")
    assert [made().name for made in OUTPUTS.values()] == [*OUTPUTS]
    choice = choose("silent")
    assert (choice.output.name, choice.reason) == ("silent", "silent was asked for")


class Lame:
    """An output that cannot play."""

    name = "lame"
    premixed = False

    def lacks(self) -> str | None:
        return "it has gone to bed"

    def play(self, track: Iterable[Samples], channels: int = 1, heard: Heard | None = None) -> int:
        raise AssertionError("it was played all the same")


def test_automatic_choice_takes_the_first_that_works_and_says_why(monkeypatch: pytest.MonkeyPatch) -> None:
    outputs = {"miniaudio": Lame, "simpleaudio": SilentOutput}
    monkeypatch.setattr("cornercue.player.choose.OUTPUTS", outputs)
    choice = choose()
    assert isinstance(choice.output, SilentOutput)
    assert choice.reason == "simpleaudio is the first that works here (miniaudio: it has gone to bed)"


def test_where_nothing_works_every_reason_is_given(monkeypatch: pytest.MonkeyPatch) -> None:
    outputs = {"miniaudio": Lame, "simpleaudio": Lame}
    monkeypatch.setattr("cornercue.player.choose.OUTPUTS", outputs)
    with pytest.raises(MachineLacks, match=r"miniaudio: it has gone to bed; simpleaudio: it has gone to bed") as said:
        choose()
    assert said.value.exit_code == 3


def test_a_row_in_the_table_is_an_output_that_the_option_knows() -> None:
    program = """
        from cornercue.player import choose
        choose.OUTPUTS["lame"] = lambda: None
        from click.testing import CliRunner
        from cornercue.cli.main import commands
        print(CliRunner().invoke(commands, ["play", "--help"]).output)
    """
    done = subprocess.run([sys.executable, "-c", textwrap.dedent(program)], capture_output=True, text=True)
    assert "[auto|miniaudio|simpleaudio|silent|lame]" in "".join(done.stdout.split()), done.stderr
