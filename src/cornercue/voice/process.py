"""One worker process, seen from this side: a phrase goes in, a recording comes out, or a reason why not."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import tempfile
from contextlib import suppress
from pathlib import Path
from threading import Event, Timer

from cornercue.voice.espeak import Library, environment
from cornercue.voice.voice import RawSound

PROGRAM = str(Path(__file__).with_name("worker.py"))


class NoSound(Exception):
    """The worker could not speak the phrase; `str()` says why."""


class NoLanguage(NoSound):
    """No voice of the language is installed."""


class Overtime(Exception):
    """The worker was ended because it did not answer in time."""


class VoiceProcess:
    """A running `worker.py`, with a folder of its own for the sound files."""

    def __init__(self, library: Library | None) -> None:
        """Start the process; it loads `library` and forks for each phrase, or without one speaks itself."""
        self._folder = tempfile.TemporaryDirectory(prefix="cornercue-voice-")
        # -P: what lies in the current folder is not imported. A session of its own: Ctrl-C in the terminal reaches
        # only the parent, which then ends the worker and its child together.
        self._process = subprocess.Popen(
            [sys.executable, "-P", PROGRAM, *([str(library.path)] if library else [])],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            encoding="utf-8",
            env=environment(library, Path(self._folder.name)) if library else None,
            start_new_session=True,
        )

    def say(self, text: str, wpm: int, language: str | None, patience: float) -> RawSound:
        """`text` at `wpm` words a minute, within `patience` seconds. Raises NoSound or Overtime.

        `language` is a code or the name of an espeak-ng voice; None is the usual one.
        """
        path = Path(self._folder.name, "phrase.wav")
        answer = self._ask({"text": text, "wpm": wpm, "path": str(path), "language": language}, patience)
        if "lacking" in answer:
            raise NoLanguage(answer["lacking"])
        if "error" in answer:
            raise NoSound(answer["error"])
        recording = _read(path)
        path.unlink()
        if not len(recording.samples):
            raise NoSound("the sound was empty")
        return recording

    def _ask(self, request: dict[str, object], patience: float) -> dict[str, str]:
        assert self._process.stdin
        assert self._process.stdout
        late = Event()

        def give_up() -> None:
            late.set()
            self.kill()

        timer = Timer(patience, give_up)
        timer.start()
        try:
            self._process.stdin.write(json.dumps(request) + "\n")
            self._process.stdin.flush()
            line = self._process.stdout.readline()
        except BrokenPipeError:
            line = ""
        finally:
            timer.cancel()
        if not line and late.is_set():
            raise Overtime
        answer: dict[str, str] = json.loads(line or '{"error": "the voice process ended early"}')
        return answer

    def kill(self) -> None:
        """End the process and the child that may be speaking in it."""
        if sys.platform == "win32":
            self._process.kill()
        elif self._process.returncode is None:
            with suppress(ProcessLookupError, PermissionError):  # it has just ended by itself
                os.killpg(self._process.pid, signal.SIGKILL)

    def close(self) -> None:
        """End the process and remove its folder."""
        self.kill()
        with suppress(BrokenPipeError), self._process:
            pass  # leaving the block closes the pipes and waits
        self._folder.cleanup()


def _read(path: Path) -> RawSound:
    """The sound file that a speech driver wrote, whatever its format. Raises NoSound."""
    import soundfile

    try:
        samples, rate = soundfile.read(path, dtype="float32", always_2d=True)
    except soundfile.LibsndfileError as fault:
        raise NoSound(f"its sound file cannot be read ({fault})") from fault
    return RawSound(samples.mean(axis=1), rate)
