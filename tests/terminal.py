"""A terminal that a test can read like a person: the program runs in a pseudo-terminal, pyte draws what it sends."""

from __future__ import annotations

import contextlib
import fcntl
import os
import pty
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pyte

PATIENCE = 30.0
"""Seconds that anything may take before a test gives up: the machine may be busy."""


class Terminal:
    """`cornercue` with some arguments, on a terminal of `columns` by `rows`."""

    def __init__(self, *arguments: str, env: dict[str, str] | None = None, columns: int = 100, rows: int = 30) -> None:
        self.screen = pyte.Screen(columns, rows)
        self._stream = pyte.ByteStream(self.screen)
        self.sent = b""
        self._ours, theirs = pty.openpty()
        fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
        self.found = termios.tcgetattr(theirs)
        self.process = subprocess.Popen(
            [sys.executable, "-m", "cornercue", *arguments],
            stdin=theirs, stdout=theirs, stderr=theirs, start_new_session=True,
            env=(os.environ | {"TERM": "xterm-256color"} if env is None else env | {"TERM": "xterm-256color"}),
            preexec_fn=lambda: fcntl.ioctl(theirs, termios.TIOCSCTTY, 0),
        )  # fmt: skip
        self._theirs = theirs

    def text(self) -> str:
        """What a person reads now."""
        return "\n".join(line.rstrip() for line in self.screen.display)

    def press(self, keys: str) -> None:
        os.write(self._ours, keys.encode())

    def ctrl_c(self) -> None:
        self.press("\x03")

    def wait_for(self, seen: str | Callable[[], object]) -> None:
        """Until the terminal shows these words, or something holds."""
        until = time.monotonic() + PATIENCE
        while not (seen in self.text() if isinstance(seen, str) else seen()):
            assert time.monotonic() < until, f"never seen: {seen}\n{self.text()}"
            self._take(0.02)

    def follow(self, seconds: float) -> None:
        """Read along for a while."""
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            self._take(0.02)

    def end(self) -> int:
        """The exit code; everything sent before is on the screen."""
        until = time.monotonic() + PATIENCE
        while self.process.poll() is None:
            assert time.monotonic() < until, self.text()
            self._take(0.02)
        self._take(0.05)
        return self.process.returncode

    def left_as_found(self) -> bool:
        """Whether the terminal echoes and takes whole lines as before, shows its cursor and its first screen."""
        on_first_screen = self.sent.rfind(b"\x1b[?1049h") <= self.sent.rfind(b"\x1b[?1049l")
        return termios.tcgetattr(self._theirs) == self.found and on_first_screen and not self.screen.cursor.hidden

    def _take(self, wait: float) -> None:
        while select.select([self._ours], [], [], wait)[0]:
            data = os.read(self._ours, 65536)
            self.sent += data
            self._stream.feed(data)
            wait = 0

    def close(self) -> None:
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGKILL)
            self.process.wait()
        os.close(self._ours)
        os.close(self._theirs)


@contextlib.contextmanager
def terminal(*arguments: str, **options: object) -> Iterator[Terminal]:
    """The program in a terminal; killed at the end if it is still there."""
    opened = Terminal(*arguments, **options)  # type: ignore[arg-type]
    try:
        yield opened
    finally:
        opened.close()


class Loudspeaker:
    """A sound device in real time, as ALSA sees one: a pipe, emptied as fast as a loudspeaker would.

    Can be `unplugged` (nobody opens it any more), `stalled` (it takes nothing) and put back.
    """

    def __init__(self, folder: Path) -> None:
        from threading import Event, Thread

        self.setup = folder / "asound.conf"
        self.pipe = folder / "speaker"
        self.heard = bytearray()
        os.mkfifo(self.pipe)
        self._fd = os.open(self.pipe, os.O_RDWR | os.O_NONBLOCK)
        fcntl.fcntl(self._fd, 1031, 4096)  # F_SETPIPE_SZ: the smallest that there is
        self._over, self._stalled = Event(), Event()
        self._reader = Thread(target=self._empty, daemon=True)
        self._reader.start()
        self.plug_in()

    def plug_in(self) -> None:
        self.setup.write_text(
            "pcm.nothing { type null }\n"
            f'pcm.!default {{ type file slave.pcm nothing file "{self.pipe}" format raw }}\n'
        )
        self._stalled.clear()

    def unplug(self) -> None:
        """It takes nothing any more, and cannot be opened."""
        self.setup.write_text("pcm.!default { type hw card 9 }\n")
        self._stalled.set()

    def stall(self) -> None:
        self._stalled.set()

    def env(self) -> dict[str, str]:
        folder = self.setup.parent
        return os.environ | {
            "HOME": str(folder), "XDG_RUNTIME_DIR": str(folder), "ALSA_CONFIG_PATH": str(self.setup),
            "PULSE_SERVER": f"unix:{folder}/none", "JACK_NO_START_SERVER": "1",
        }  # fmt: skip

    def seconds(self) -> float:
        return len(self.heard) / 44100

    def _empty(self) -> None:
        due = time.monotonic()
        while not self._over.is_set():
            if self._stalled.is_set():
                time.sleep(0.01)
                due = time.monotonic()
                continue
            try:
                data = os.read(self._fd, 882)  # 20 ms
            except BlockingIOError:
                due = time.monotonic() + 0.002
            else:
                self.heard += data
                due += len(data) / 44100  # late once, it catches up: its clock is right in the long run
            time.sleep(max(due - time.monotonic(), 0))

    def close(self) -> None:
        self._over.set()
        self._reader.join()
        os.close(self._fd)
