"""Mixing and writing a drill against writing the same bytes, side by side: `python benchmarks/render.py`.

A drill of 900 calls from 40 clips in 30 minutes, with made-up clips, so that it needs no voice. Prints medians and
ratios; exits 1 where a limit is passed:
- mixing and writing the WAV takes at most 3 times as long as writing the same bytes;
- its peak memory stays below 150 MB, and 3 hours need at most 5 % more than 30 minutes.
"""

from __future__ import annotations

import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median

import numpy as np
import soundfile

from cornercue.sound import SAMPLE_RATE
from cornercue.timing.timeline import Cue, Timeline
from cornercue.track.sound_files import write
from cornercue.voice.clip import Clip

ROUNDS = 9
CLIPS = 40
EVERY = 2.0
TIME_LIMIT, MEMORY_LIMIT, GROWTH_LIMIT = 3.0, 150.0, 1.05


def made_up_clips() -> dict[str, Clip]:
    """Noise from 0.3 to 1.2 s long; seeded, so every process makes the same."""
    random = np.random.default_rng(2026)
    names = [f"phrase {number}" for number in range(CLIPS)]
    lengths = random.integers(SAMPLE_RATE * 3 // 10, SAMPLE_RATE * 12 // 10, CLIPS)
    return {
        name: Clip(name, random.integers(-9000, 9000, length, np.int16))
        for name, length in zip(names, lengths.tolist(), strict=True)
    }


def made_up_drill(clips: dict[str, Clip], minutes: int) -> Timeline:
    """A call every two seconds."""
    names = [*clips]
    cues = [
        Cue(k * EVERY, k * EVERY + clips[name].seconds, "call", name, 1, 0)
        for k in range(round(minutes * 60 / EVERY))
        for name in (names[k % CLIPS],)
    ]
    return Timeline("Benchmark", 1, 0, "none", minutes * 60.0, tuple(cues), ())


def render(path: Path, minutes: int) -> None:
    clips = made_up_clips()
    write(path, made_up_drill(clips, minutes), lambda text, rate: clips[text])


def write_raw(path: Path, data: memoryview) -> None:
    """The floor: the same bytes in the same portions, already in memory."""
    with path.open("wb") as file:
        for at in range(0, len(data), 131_072):
            file.write(data[at : at + 131_072])


def sox_command(folder: Path, clips: dict[str, Clip], calls: int) -> list[str]:
    """sox joining the same clips, each with the silence that follows it; the files are made here, beforehand."""
    pairs: list[str] = []
    for number, clip in enumerate(clips.values()):
        sound, silence = folder / f"clip{number}.wav", folder / f"silence{number}.wav"
        soundfile.write(sound, clip.samples, SAMPLE_RATE)
        gap = round(EVERY * SAMPLE_RATE) - len(clip.samples)
        soundfile.write(silence, np.zeros(gap, np.int16), SAMPLE_RATE)
        pairs += [str(sound), str(silence)]
    inputs = [pairs[at % len(pairs)] for at in range(2 * calls)]
    return ["sox", *inputs, str(folder / "sox.wav")]


def run_sox(command: list[str]) -> None:
    def open_many() -> None:
        hard = resource.getrlimit(resource.RLIMIT_NOFILE)[1]
        resource.setrlimit(resource.RLIMIT_NOFILE, (hard, hard))  # sox opens all its inputs at once.

    subprocess.run(command, check=True, preexec_fn=open_many)


def seconds(work: Callable[[], object]) -> float:
    begun = time.perf_counter()
    work()
    return time.perf_counter() - begun


def side_by_side(ways: dict[str, Callable[[], object]]) -> dict[str, float]:
    """Median seconds of each way; they take turns, so that a busy moment of the machine meets them all."""
    for work in ways.values():
        work()
    taken: dict[str, list[float]] = {name: [] for name in ways}
    for _ in range(ROUNDS):
        for name, work in ways.items():
            taken[name].append(seconds(work))
    return {name: median(times) for name, times in taken.items()}


def peak_memory(path: Path, minutes: int) -> float:
    """Megabytes at the peak of a process that renders this long a drill and nothing else."""
    command = [sys.executable, __file__, "--render", str(path), str(minutes)]
    done = subprocess.run(command, check=True, capture_output=True, text=True)
    return float(done.stdout) / 1024


def measure(folder: Path) -> bool:
    """Print the figures; true where every limit is kept."""
    wav = folder / "track.wav"
    # Before this process has grown: on Linux a child's peak starts at its parent's.
    half_hour, three_hours = peak_memory(wav, 30), peak_memory(wav, 180)
    clips = made_up_clips()
    line = made_up_drill(clips, 30)
    render(wav, 30)
    data = memoryview(wav.read_bytes())
    ways: dict[str, Callable[[], object]] = {
        "writing the same bytes": lambda: write_raw(folder / "track.raw", data),
        "mixing and writing": lambda: write(wav, line, lambda text, rate: clips[text]),
    }
    if shutil.which("sox"):
        command = sox_command(folder, clips, len(line.cues))
        ways["sox joining the clips"] = lambda: run_sox(command)
    times = side_by_side(ways)
    floor = times["writing the same bytes"]
    for name, taken in times.items():
        print(f"{name:24} {taken:6.3f} s  {taken / floor:5.2f} x")
    print(f"peak memory: 30 minutes {half_hour:.1f} MB, 3 hours {three_hours:.1f} MB")
    return (
        times["mixing and writing"] <= TIME_LIMIT * floor
        and max(half_hour, three_hours) < MEMORY_LIMIT
        and three_hours <= GROWTH_LIMIT * half_hour
    )


def main() -> int:
    if sys.argv[1:2] == ["--render"]:
        render(Path(sys.argv[2]), int(sys.argv[3]))
        print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
        return 0
    with tempfile.TemporaryDirectory() as folder:
        kept = measure(Path(folder))
    print("every limit is kept" if kept else "A LIMIT IS PASSED")
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
