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

import numpy as np
import pyte

from cornercue.sound import Samples
from loudspeaker import BYTES_A_SECOND
from lounge import with_devices_of

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
    """A sound device in real time, as ALSA sees one: a pipe, emptied by a process as fast as a loudspeaker would.

    Can be `unplug`ged (it takes nothing and cannot be opened), `stall` (it takes nothing) and be put back.
    """

    def __init__(self, folder: Path) -> None:
        self.setup = folder / "asound.conf"
        self._pipe, self._heard = folder / "speaker", folder / "heard.raw"
        os.mkfifo(self._pipe)
        program = Path(__file__).with_name("loudspeaker.py")
        self._process = subprocess.Popen(
            [sys.executable, "-I", str(program), str(self._pipe), str(self._heard)], stdout=subprocess.PIPE
        )
        assert self._process.stdout
        assert self._process.stdout.readline() == b"ready\n"
        self.plug_in()

    @property
    def heard(self) -> Samples:
        """All that came out of it: 16 bits, one channel, both of the device's being the same."""
        frames = np.fromfile(self._heard, "<i4").reshape(-1, 2)
        assert np.array_equal(frames[:, 0], frames[:, 1])
        assert not np.any(frames & 0xFFFF)
        return (frames[:, 0] >> 16).astype(np.int16)

    def silent_since(self, seconds: float) -> bool:
        """Whether nothing but silence came out after it had sounded for so long."""
        with self._heard.open("rb") as file:
            file.seek(round(seconds * BYTES_A_SECOND))
            return not any(file.read())

    def seconds(self) -> float:
        """How long it has sounded."""
        return self._heard.stat().st_size / BYTES_A_SECOND

    def plug_in(self) -> None:
        self.setup.write_text(
            "pcm.nothing { type null }\n"
            f'pcm.taken {{ type file slave.pcm nothing file "{self._pipe}" format raw }}\n'
            "pcm.!default { type plug route_policy duplicate\n"
            "  slave { pcm taken format S32_LE channels 2 rate 22050 } }\n"
        )
        self._process.send_signal(signal.SIGUSR2)

    def unplug(self) -> None:
        self.setup.write_text("pcm.!default { type hw card 9 }\n")
        self.stall()

    def stall(self) -> None:
        self._process.send_signal(signal.SIGUSR1)

    def env(self) -> dict[str, str]:
        return with_devices_of(self.setup)

    def close(self) -> None:
        self._process.kill()
        self._process.wait()
        assert self._process.stdout
        self._process.stdout.close()
