"""A loudspeaker as a process of its own, so that its clock is right however busy the tests are.

`python loudspeaker.py PIPE HEARD` empties the pipe at `BYTES_A_SECOND` into the file HEARD. SIGUSR1 makes it take
nothing, SIGUSR2 go on.
"""

from __future__ import annotations

import fcntl
import os
import signal
import sys
import time

BYTES_A_SECOND = 22_050 * 2 * 4
"""Two channels of 32 bits: a pipe then holds no more than 23 ms, which nobody is told of when a sound ends."""

F_SETPIPE_SZ = 1031
"""fcntl(2), Linux: the room in a pipe; a page is the least."""


def main(pipe: str, heard: str) -> None:
    taking = True

    def set_taking(number: int, frame: object) -> None:
        nonlocal taking
        taking = number == signal.SIGUSR2

    for number in (signal.SIGUSR1, signal.SIGUSR2):
        signal.signal(number, set_taking)
    fd = os.open(pipe, os.O_RDWR | os.O_NONBLOCK)
    fcntl.fcntl(fd, F_SETPIPE_SZ, 4096)
    out = os.open(heard, os.O_WRONLY | os.O_CREAT)
    print("ready", flush=True)
    due = time.monotonic()
    while True:
        time.sleep(max(due - time.monotonic(), 0))
        try:
            data = os.read(fd, BYTES_A_SECOND // 50) if taking else b""
        except BlockingIOError:
            data = b""
        if data:
            os.write(out, data)
            due += len(data) / BYTES_A_SECOND  # late once, it catches up: its clock is right in the long run
        else:
            due = time.monotonic() + 0.002


if __name__ == "__main__":
    main(*sys.argv[1:])
