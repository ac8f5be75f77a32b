"""Live play through ALSA on a loudspeaker of our own, in real time.

- From the command to the first sound, clips cached, for a 30-minute drill: under 0.7 s, or on a slower machine under
  twice as long as Python takes, by turns with it, to load the libraries that this needs;
- the same with 60 phrases to be spoken, in the system voice: under 2 s, or 4.5 times as long;
- the processor while playing, with the full screen on a terminal: under 10% of one core.

Needs Linux and ALSA's library; left out where there is none.
"""

from __future__ import annotations

import contextlib
import ctypes.util
import os
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from statistics import median

from benchmarks.harness import Figure, LeftOut, Line, cornercue, loading
from terminal import Loudspeaker, terminal

ROUNDS = 3
CACHED, CACHED_LOADING = 0.7, 2.0
NEW, NEW_LOADING = 2.0, 4.5
CORE = 0.10
PLAYED = 10.0
"""Seconds of playing in which the processor's time is taken."""


def thirty_minutes() -> str:
    """Rounds of shadow boxing, half an hour in all."""
    calls = "[jab, cross], [jab, cross, lead hook], [cross, lead hook, cross]"
    return "drill: Half an hour\nsteps:\n" + f"- shadow: [{calls}]\n  for: 3 min\n- rest: 40 s\n" * 8


def sixty_phrases() -> str:
    """Sixty sentences to be spoken, each another."""
    return "drill: Sixty phrases\nsteps:\n" + "".join(
        f"- say: Point number {number} of this evening.\n" for number in range(1, 61)
    )


def first_sound(script: Path, speaker: Loudspeaker, env: dict[str, str]) -> float:
    """Seconds from the command to the first sample that is heard."""
    before = speaker.seconds()
    begun = time.perf_counter()
    with terminal("play", str(script), "--device", "miniaudio", "--seed", "1", "--voice", "system", env=env) as lounge:
        while speaker.silent_since(before):
            time.sleep(0.001)
        waited = time.perf_counter() - begun
        lounge.press("q")
        if lounge.end():
            sys.exit(lounge.text())
    return waited


def core_while_playing(script: Path, env: dict[str, str]) -> float:
    """The share of one core that playing takes, without its start."""
    options = ("--device", "miniaudio", "--voice", "system")
    with terminal("play", str(script), *options, env=env, columns=120, rows=40) as lounge:
        lounge.wait_for("part 1 of")
        lounge.follow(3)
        before, begun = cpu(lounge.process.pid), time.perf_counter()
        lounge.follow(PLAYED)
        return (cpu(lounge.process.pid) - before) / (time.perf_counter() - begun)


def cpu(pid: int) -> float:
    """Seconds of the processor that a process has used (proc(5), fields 14 and 15)."""
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def figures(folder: Path, rounds: int) -> Iterator[Line]:
    if sys.platform != "linux" or ctypes.util.find_library("asound") is None:
        yield LeftOut("live play", "ALSA's library is not here")
        return
    half_hour, sixty, clips = folder / "half-an-hour.yaml", folder / "sixty.yaml", folder / "known"
    half_hour.write_text(thirty_minutes())
    sixty.write_text(sixty_phrases())
    cornercue("render", str(half_hour), "-o", str(folder / "all.wav"), "--seed", "1", "--voice", "system", cache=clips)
    with contextlib.closing(Loudspeaker(folder)) as speaker:
        known = speaker.env() | {"XDG_CACHE_HOME": str(clips)}
        first_sound(half_hour, speaker, known)
        cached, new, libraries = [], [], []
        for turn in range(rounds):
            libraries.append(loading("miniaudio").seconds)
            cached.append(first_sound(half_hour, speaker, known))
            new.append(first_sound(sixty, speaker, known | {"XDG_CACHE_HOME": str(folder / f"new {turn}")}))
        core = core_while_playing(half_hour, known)
    loaded = median(libraries)
    yield Figure("loading the libraries", loaded, "s")
    limit = max(CACHED, CACHED_LOADING * loaded)
    yield Figure("to the first sound, half an hour, clips cached", median(cached), "s", limit=limit)
    limit = max(NEW, NEW_LOADING * loaded)
    yield Figure("to the first sound, 60 phrases to be spoken", median(new), "s", limit=limit)
    yield Figure("of one core, while playing", core, limit=CORE)
