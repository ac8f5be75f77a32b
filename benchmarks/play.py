"""Live play through ALSA on a loudspeaker of our own, in real time: `python benchmarks/play.py`.

Prints medians; exits 1 where a limit is passed:
- from the command to the first sound, clips cached, for a 30-minute drill: under 0.7 s, or on a slower machine under
  `LOADING` times as long as Python takes, by turns with it, to load the libraries that this needs;
- the same with 60 phrases to be spoken, in the system voice: under 2 s, or `NEW_LOADING` times as long;
- the processor while playing, with the full screen on a terminal: under 10% of one core.

Needs Linux and ALSA's library; left out where there is none.
"""

from __future__ import annotations

import contextlib
import ctypes.util
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

ROUNDS = 3
SOUND_LIMIT, NEW_LIMIT, CORE_LIMIT = 0.7, 2.0, 0.10
LOADING, NEW_LOADING = 2.0, 4.5
LIBRARIES = "import click, miniaudio, numpy, yaml; from pydantic import BaseModel"
PLAYED = 10.0
"""Seconds of playing in which the processor's time is taken."""

sys.path.insert(0, str(Path(__file__).parent.parent / "tests"))
from terminal import Loudspeaker, terminal  # noqa: E402


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


def loaded() -> float:
    """Seconds that Python takes to load the libraries."""
    begun = time.perf_counter()
    subprocess.run([sys.executable, "-c", LIBRARIES], check=True)
    return time.perf_counter() - begun


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


def main() -> int:
    if sys.platform != "linux" or ctypes.util.find_library("asound") is None:
        print("left out: ALSA's library is not here")
        return 0
    with tempfile.TemporaryDirectory() as name, contextlib.closing(Loudspeaker(Path(name))) as speaker:
        folder = Path(name)
        (folder / "half-an-hour.yaml").write_text(thirty_minutes())
        (folder / "sixty.yaml").write_text(sixty_phrases())
        known = speaker.env() | {"XDG_CACHE_HOME": str(folder / "known")}
        first_sound(folder / "half-an-hour.yaml", speaker, known)  # makes the clips that are heard first
        subprocess.run(
            [sys.executable, "-m", "cornercue", "render", folder / "half-an-hour.yaml", "-o", folder / "all.wav",
             "--seed", "1", "--voice", "system"], env=known, check=True, stdout=subprocess.DEVNULL,
        )  # fmt: skip
        cached, new, loading = [], [], []
        for turn in range(ROUNDS):
            loading.append(loaded())
            cached.append(first_sound(folder / "half-an-hour.yaml", speaker, known))
            nothing_kept = speaker.env() | {"XDG_CACHE_HOME": str(folder / f"new {turn}")}
            new.append(first_sound(folder / "sixty.yaml", speaker, nothing_kept))
        core = core_while_playing(folder / "half-an-hour.yaml", known)
    yardstick = median(loading)
    rows = [
        ("first sound, half an hour, clips cached", median(cached), max(SOUND_LIMIT, LOADING * yardstick), "s"),
        ("first sound, 60 phrases to be spoken", median(new), max(NEW_LIMIT, NEW_LOADING * yardstick), "s"),
        ("one core, while playing", core, CORE_LIMIT, ""),
    ]
    print(f"{'loading the libraries':42} {yardstick:.3f} s")
    for label, found, limit, unit in rows:
        print(f"{label:42} {found:.3f} {unit} (limit {limit:.3f} {unit})")
    kept = all(found < limit for _, found, limit, _ in rows)
    print("the limits are kept" if kept else "A LIMIT IS PASSED")
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
