"""The system voice: the same phrase is the same sound, faults are sentences, and nothing hangs or is left running."""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import signal
import subprocess
import sys
import textwrap
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError
from pathlib import Path
from threading import Event

import numpy as np
import pytest
import soundfile

from cornercue.errors import InputFault, MachineLacks
from cornercue.sound import SAMPLE_RATE
from cornercue.voice import espeak, system
from cornercue.voice.espeak import Library, find_library
from cornercue.voice.level import clip_from, loudness, true_peak
from cornercue.voice.loudness import Sound
from cornercue.voice.process import NoSound, VoiceProcess
from cornercue.voice.system import Accent, SystemVoice
from cornercue.voice.voice import RawSound
from cornercue.voice.words import plain
from cornercue.voice.worker import InstalledVoice, voice_for

PHRASES = """jab; cross; lead hook; rear uppercut; jab, cross, lead hook; front kick; high block; parry left; cover;
weave; slip; half; eight; six; five; thirty; seventeen; rest; ten seconds; Hands up, chin down.; turn left; hold;
switch stance; set two of three; Sink at the knees, rise with the hand.""".replace("\n", " ").split("; ")

linux = pytest.mark.skipif(sys.platform != "linux", reason="the system voice is made of processes like this on Linux")


@pytest.fixture(scope="module")
def voice() -> Iterator[SystemVoice]:
    voice = SystemVoice()
    yield voice
    voice.close()


@pytest.fixture(scope="module")
def recordings(voice: SystemVoice) -> dict[str, RawSound]:
    with ThreadPoolExecutor(voice.at_once) as pool:
        return dict(zip(PHRASES, pool.map(lambda text: voice.say(text, 1.0), PHRASES), strict=True))


def digest(recording: RawSound) -> str:
    return hashlib.sha256(recording.samples.tobytes()).hexdigest()


def test_a_phrase_sounds_the_same_whatever_was_said_before(
    voice: SystemVoice, recordings: dict[str, RawSound]
) -> None:
    other = SystemVoice()
    for text in ["rest", "jab", "rest", "Hands up, chin down.", "jab"]:
        for each in (voice, other):
            assert digest(each.say(text, 1.0)) == digest(recordings[text])
    other.close()


def test_another_run_of_the_program_says_it_the_same(recordings: dict[str, RawSound]) -> None:
    program = """
        import hashlib
        from cornercue.voice.system import Accent, SystemVoice
        voice = SystemVoice()
        print(hashlib.sha256(voice.say("jab, cross, lead hook", 1.0).samples.tobytes()).hexdigest())
        voice.close()
    """
    heard = subprocess.run([sys.executable, "-c", textwrap.dedent(program)], capture_output=True, text=True)
    # Nothing but the digest: what pyttsx3 prints reaches neither stream.
    assert (heard.stdout, heard.stderr) == (digest(recordings["jab, cross, lead hook"]) + "\n", "")


def test_nothing_is_printed(voice: SystemVoice, capfd: pytest.CaptureFixture[str]) -> None:
    voice.say("quiet please", 1.0)
    assert capfd.readouterr() == ("", "")


def test_25_phrases_are_equally_loud_and_keep_below_the_peak_limit(recordings: dict[str, RawSound]) -> None:
    """Speech at -18 LUFS within 1 LU, true peak at most -1 dBTP: AES TD1008 (2021), secondary copy."""
    assert len(recordings) == 25
    for text, recording in recordings.items():
        sound = clip_from(text, recording).samples / 32768
        assert loudness(sound) == pytest.approx(-18, abs=0.5), text
        assert true_peak(sound) <= -1, text


@pytest.mark.skipif(not shutil.which("ffmpeg"), reason="ffmpeg, the second loudness meter, is not installed")
def test_another_meter_finds_them_equally_loud_too(recordings: dict[str, RawSound], tmp_path: Path) -> None:
    """ffmpeg's EBU R 128 meter, each clip repeated to at least 3 s as our own rule says."""
    readings = {}
    for text, recording in recordings.items():
        samples = clip_from(text, recording).samples
        soundfile.write(tmp_path / "clip.wav", np.tile(samples, -(-3 * SAMPLE_RATE // len(samples))), SAMPLE_RATE)
        command = ["ffmpeg", "-hide_banner", "-nostats", "-i", str(tmp_path / "clip.wav")]
        command += ["-af", "ebur128=peak=true", "-f", "null", "-"]
        report = subprocess.run(command, capture_output=True, text=True, check=True).stderr
        summary = report[report.index("Summary:") :]
        loud, peak = re.search(r"I:\s+(\S+) LUFS", summary), re.search(r"Peak:\s+(\S+) dBFS", summary)
        assert loud
        assert peak
        readings[text] = (float(loud[1]), float(peak[1]))
    assert {text: reading for text, reading in readings.items() if abs(reading[0] + 18) > 1 or reading[1] > -1} == {}


def onset(sound: Sound, dbfs: float) -> float:
    """Seconds until the mean power of 5 ms reaches a level: a plain energy detector."""
    frames = SAMPLE_RATE // 200
    power = np.convolve(sound**2, np.ones(frames) / frames)
    return float(np.argmax(power >= 10 ** (dbfs / 10))) / SAMPLE_RATE


@pytest.mark.parametrize("dbfs", [-50, -45])
def test_an_energy_detector_finds_the_beginning_of_each_clip_at_once(
    recordings: dict[str, RawSound], dbfs: float
) -> None:
    late = {text: onset(clip_from(text, each).samples / 32768, dbfs) for text, each in recordings.items()}
    assert max(late.values()) < 0.005, late


def test_the_rate_is_in_words_a_minute_and_holds(voice: SystemVoice) -> None:
    """Adults speak 150 to 200 words a minute (Dayton Metro Library, secondary copy)."""
    text = (
        "This evening we practise the body jab. Sink at the knees, send the hand forward along the level of the "
        "opponent's belt, and return it to its place immediately. Everybody needs plenty of room."
    )
    seconds = [clip_from(text, voice.say(text, rate)).seconds for rate in (1.0, 1.1, 1.2)]
    assert 150 <= len(text.split()) / seconds[0] * 60 <= 200
    assert seconds[0] / 1.05 > seconds[1] > seconds[2] * 1.05


def test_markup_is_not_obeyed(voice: SystemVoice) -> None:
    text = plain('<speak>jab <break time="9s"/> cross</speak> [[volm 0]]')
    assert len(voice.say(text, 1.0).samples) < 8 * SAMPLE_RATE


@pytest.mark.parametrize(
    "text", ["'; exit 1 #", "\"quoted\" 'and'", "%s {0} $HOME", "Hände hoch", "한 둘 셋", "-h", "9" * 80]
)
def test_strange_text_is_spoken_as_it_stands(voice: SystemVoice, text: str) -> None:
    assert clip_from(text, voice.say(plain(text), 1.0)).seconds > 0.1


def test_the_longest_phrase_is_spoken_to_its_end(voice: SystemVoice) -> None:
    """pyttsx3 stops waiting after 10 ms; a long phrase takes longer to make."""
    once, twice, often = (
        clip_from("up", voice.say("hands up, chin down. " * times, 1.0)).seconds for times in (1, 2, 19)
    )
    assert often > once + 17.5 * (twice - once)


@linux
def test_the_library_from_pypi_speaks_where_the_system_has_none() -> None:
    voice = SystemVoice(folders=[])
    assert "espeakng-loader" in voice.identity
    first, second = voice.say("jab, cross", 1.0), voice.say("jab, cross", 1.0)
    voice.close()
    assert digest(first) == digest(second)
    assert loudness(clip_from("jab, cross", first).samples / 32768) == pytest.approx(-18, abs=0.5)


@linux
def test_a_phrase_is_the_same_a_second_later() -> None:
    """espeak-ng 1.52 seeds the breath of a voice with the second of the day."""
    now = digest(_spoken_once())
    time.sleep(1.1)
    assert digest(_spoken_once()) == now


def _spoken_once() -> RawSound:
    voice = SystemVoice(folders=[])
    try:
        return voice.say("hands up, chin down", 1.0)
    finally:
        voice.close()


@linux
def test_the_library_works_from_a_very_deep_folder(tmp_path: Path) -> None:
    """espeak-ng 1.52 cuts its data folder's path at 160 characters."""
    shipped = find_library([])
    assert shipped.data
    deep = tmp_path / ("deep" * 40)
    shutil.copytree(shipped.data, deep / "espeak-ng-data")
    worker, plainly = VoiceProcess(Library(shipped.path, deep / "espeak-ng-data", "deep")), VoiceProcess(shipped)
    assert digest(worker.say("jab", 165, None, 20)) == digest(plainly.say("jab", 165, None, 20))
    worker.close()
    plainly.close()


@linux
def test_a_fresh_process_says_it_as_a_forked_child_does(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The way of macOS and Windows, one process a phrase, tried with the library at hand."""
    shipped = find_library([])
    (tmp_path / "libespeak-ng.so.1").symlink_to(shipped.path)
    forking = VoiceProcess(shipped)
    monkeypatch.setenv("LD_LIBRARY_PATH", str(tmp_path))
    monkeypatch.setenv("ESPEAK_DATA_PATH", str(shipped.data))
    single = VoiceProcess(None)
    assert digest(single.say("cover", 165, None, 20)) == digest(forking.say("cover", 165, None, 20))
    single.close()
    forking.close()


@linux
def test_the_systems_own_library_comes_first_and_its_identity_follows_the_file(tmp_path: Path) -> None:
    own = tmp_path / espeak.SONAME
    own.write_bytes(b"one")
    before = SystemVoice(folders=[tmp_path / "nowhere", tmp_path]).identity
    own.write_bytes(b"another")
    assert str(own) in before
    assert SystemVoice(folders=[tmp_path]).identity != before


@linux
def test_a_machine_without_a_voice_is_told_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(espeak, "find_spec", lambda name: None)
    with pytest.raises(MachineLacks, match="pip install espeakng-loader"):
        SystemVoice(folders=[])


def test_a_machine_without_pyttsx3_is_told_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    def gone(name: str) -> str:
        raise PackageNotFoundError(name)

    monkeypatch.setattr("importlib.metadata.version", gone)
    with pytest.raises(MachineLacks, match="pip install pyttsx3"):
        SystemVoice()


@linux
def test_a_broken_library_is_a_sentence(tmp_path: Path) -> None:
    (tmp_path / espeak.SONAME).write_bytes(b"this is no library")
    voice = SystemVoice(folders=[tmp_path])
    with pytest.raises(MachineLacks, match=r"cannot say “jab”: OSError.*pip install") as caught:
        voice.say("jab", 1.0)
    voice.close()
    assert caught.value.exit_code == 3


def test_a_phrase_that_takes_too_long_is_given_up() -> None:
    voice = SystemVoice(patience=0.001)
    with pytest.raises(MachineLacks, match=r"more than 0\.001 seconds over “jab”"):
        voice.say("jab", 1.0)
    voice.close()


class Stubborn:
    """Stands in for a worker that fails so many times before it speaks."""

    failures = 0

    def __init__(self, library: Library | None) -> None:
        self.closed = False

    def say(self, text: str, wpm: int, language: str | None, patience: float) -> RawSound:
        if Stubborn.failures:
            Stubborn.failures -= 1
            raise NoSound("the sound was empty")
        return RawSound(np.ones(9, np.float32), SAMPLE_RATE)

    def kill(self) -> None:
        self.close()

    def close(self) -> None:
        self.closed = True


@pytest.mark.parametrize(("failures", "spoken"), [(1, True), (2, False)])
def test_an_empty_sound_is_tried_once_more(failures: int, spoken: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(system, "VoiceProcess", Stubborn)
    monkeypatch.setattr(Stubborn, "failures", failures)
    voice = SystemVoice()
    if spoken:
        assert len(voice.say("jab", 1.0).samples) == 9
    else:
        with pytest.raises(MachineLacks, match="cannot say “jab”: the sound was empty"):
            voice.say("jab", 1.0)
    voice.close()


class Hanging(Stubborn):
    """Stands in for a worker that speaks until it is killed."""

    speaking, killed = Event(), Event()

    def say(self, text: str, wpm: int, language: str | None, patience: float) -> RawSound:
        Hanging.speaking.set()
        assert Hanging.killed.wait(10), "nobody killed it"
        raise NoSound("it was killed")

    def kill(self) -> None:
        Hanging.killed.set()


def test_closing_ends_a_voice_in_the_middle_of_a_phrase(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(system, "VoiceProcess", Hanging)
    voice = SystemVoice()
    with ThreadPoolExecutor(1) as pool:
        saying = pool.submit(voice.say, "jab", 1.0)
        assert Hanging.speaking.wait(10)
        voice.close()
        with pytest.raises(MachineLacks, match="closed"):
            saying.result(timeout=15)


def test_a_closed_voice_starts_nothing() -> None:
    voice = SystemVoice()
    voice.close()
    with pytest.raises(MachineLacks, match="closed"):
        voice.say("jab", 1.0)


def running(marker: str) -> list[int]:
    """Processes that carry the marker in their environment."""

    def carries(process: Path) -> bool:
        try:
            return marker.encode() in (process / "environ").read_bytes()
        except OSError:
            return False

    return [int(process.name) for process in Path("/proc").glob("[0-9]*") if carries(process)]


def soon(true: Callable[[], bool]) -> bool:
    """Whether it comes true within five seconds."""
    for _ in range(250):
        if true():
            return True
        time.sleep(0.02)
    return False


@linux
@pytest.mark.parametrize("blow", [signal.SIGINT, signal.SIGTERM])
def test_stopping_the_program_stops_the_voice(blow: signal.Signals, tmp_path: Path) -> None:
    program = """
        import pathlib, sys
        from cornercue.voice.voices import open_voice
        with open_voice(cache=pathlib.Path(sys.argv[1])) as speech:
            speech.warm([(f"set {n}", 1.0) for n in range(2000)], lambda done, of: print(done, flush=True))
    """
    marker = f"CORNERCUE_TEST={tmp_path.name}-{blow.name}"
    environment = {**os.environ, "CORNERCUE_TEST": marker.split("=")[1], "TMPDIR": str(tmp_path)}
    command = [sys.executable, "-c", textwrap.dedent(program), str(tmp_path / "clips")]
    with subprocess.Popen(command, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        assert process.stdout
        assert process.stdout.readline() == b"1\n"
        assert len(running(marker)) > 1
        process.send_signal(blow)
        _, complaint = process.communicate(timeout=10)
    assert process.returncode != 0
    assert soon(lambda: not running(marker))
    if blow == signal.SIGINT:
        assert b"KeyboardInterrupt" in complaint
        assert [path.name for path in tmp_path.iterdir()] == ["clips"]
    assert not list((tmp_path / "clips").glob("*.part"))


def test_silence_where_words_were_asked_for_is_the_scripts_fault() -> None:
    with pytest.raises(InputFault, match="write it in other words"):
        clip_from("hm", RawSound(np.zeros(9000, np.float32), SAMPLE_RATE))


@linux
def test_each_accent_sounds_its_own_way_under_its_own_key() -> None:
    """The key of the cache is made of the identity: a clip of one accent is never taken for the other's."""
    american, british, usual = SystemVoice("american"), SystemVoice("british"), SystemVoice()
    said = {voice: digest(voice.say("parry left", 1.0)) for voice in (american, british, usual)}
    assert said[american] != said[british]
    assert said[american] == said[usual]
    assert american.identity != british.identity
    assert american.identity == usual.identity
    assert "en-us+f2 at 158 wpm" in american.identity
    assert american.description.language.startswith("American English")
    assert british.description.language.startswith("British English")
    for voice in said:
        voice.close()


def test_an_accent_is_asked_for_by_its_language_where_the_system_speaks(monkeypatch: pytest.MonkeyPatch) -> None:
    """On macOS and Windows: as if it were one of them, with a process that only notes what it is asked."""
    asked: list[tuple[str, int, str | None]] = []

    class Noting:
        def __init__(self, library: Library | None) -> None:
            assert library is None

        def say(self, text: str, wpm: int, language: str | None, patience: float) -> RawSound:
            asked.append((text, wpm, language))
            return RawSound(np.ones(10, np.float32), 22050)

        def close(self) -> None: ...

    monkeypatch.setattr(system, "VoiceProcess", Noting)
    monkeypatch.setattr(sys, "platform", "darwin")
    accents: tuple[Accent | None, ...] = (None, "american", "british")
    for accent in accents:
        voice = SystemVoice(accent)
        voice.say("jab", 1.0)
        voice.say("하나", 1.0)
        voice.close()
    assert asked == [
        ("jab", 165, None), ("하나", 165, "ko"),
        ("jab", 158, "en-us"), ("하나", 165, "ko"),
        ("jab", 165, "en-gb"), ("하나", 165, "ko"),
    ]  # fmt: skip


def test_an_installed_voice_is_found_by_accent_however_its_language_is_written() -> None:
    @dataclass
    class Installed:
        id: str
        languages: list[str | bytes] | None

    voices: list[InstalledVoice] = [Installed("speech.one", ["en_GB"]), Installed("SPEECH_EN-US_TWO", [])]
    assert voice_for("en-gb", voices) == "speech.one"
    assert voice_for("en-us", voices)== "SPEECH_EN-US_TWO"
    with pytest.raises(LookupError, match="no voice for Japanese is installed"):
        voice_for("ja", voices)
