"""A timeline's cues laid into samples, block by block: memory does not grow with the length of the drill."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import chain, pairwise
from typing import Literal

import numpy as np

from cornercue.sound import SAMPLE_RATE, Samples
from cornercue.timing.timeline import Cue, Timeline
from cornercue.track.tone_samples import tone_samples
from cornercue.voice.clip import Clip

ClipOf = Callable[[str, float], Clip]
"""(words, rate) -> the clip of these words, spoken `rate` times as fast as normal."""

Channels = Literal["mono", "split"]
"""`mono`: everything in one. `split`: the helper's prompts left, the room's signals right."""

COLUMNS: dict[Channels, int] = {"mono": 1, "split": 2}

BLOCK = 65_536
"""Frames a block: large enough to cost nothing, small enough to stay in the processor's cache (measured)."""


@dataclass(frozen=True, slots=True, eq=False)
class _Sound:
    """Samples at their place: `start` is the first frame, `stop` the frame after the last."""

    start: int
    samples: Samples
    column: int

    @property
    def stop(self) -> int:
        return self.start + len(self.samples)


def total_frames(timeline: Timeline) -> int:
    """Frames of the whole track."""
    return round(timeline.duration * SAMPLE_RATE)


def blocks(
    timeline: Timeline,
    clip_of: ClipOf,
    frames: int = BLOCK,
    *,
    channels: Channels = "mono",
    start: int = 0,
    stop: int | None = None,
) -> Iterator[Samples]:
    """The track as int16 blocks of `frames` frames at `SAMPLE_RATE`, the last one maybe shorter; or its frames from
    `start` up to `stop`.

    A block's shape is (n,) for mono and (n, 2) for split. A cue's start in seconds becomes a frame by
    rounding, once. Clips are asked for as their block comes up. Sounds that overlap are added and held at
    full scale, never wrapped; where the drill ends, its sound ends.
    """
    end = total_frames(timeline) if stop is None else stop
    coming = _sounds(timeline, clip_of, channels)
    ahead = next(coming, None)
    sounding: list[_Sound] = []
    for lo, hi in pairwise(chain(range(start, end, frames), (end,))):
        while ahead is not None and ahead.start < hi:
            if ahead.stop > lo:
                sounding.append(ahead)
            ahead = next(coming, None)
        yield _mixed(sounding, lo, hi, COLUMNS[channels])
        sounding = [sound for sound in sounding if sound.stop > hi]


def _sounds(timeline: Timeline, clip_of: ClipOf, channels: Channels) -> Iterator[_Sound]:
    """Every cue that sounds, in order of start, at its frame."""
    for cue in timeline.cues:
        if cue.tone:
            samples = tone_samples(cue.tone)
        elif cue.text:
            samples = clip_of(cue.text, cue.rate).samples
        else:
            continue
        yield _Sound(round(cue.start * SAMPLE_RATE), samples, _column(cue, channels))


def _column(cue: Cue, channels: Channels) -> int:
    return 1 if channels == "split" and cue.listener not in ("feeder", "holder") else 0


def _mixed(sounding: list[_Sound], lo: int, hi: int, columns: int) -> Samples:
    """The frames from `lo` up to `hi` of these sounds."""
    block = np.zeros((hi - lo, columns), np.int16)
    filled = [lo] * columns
    for sound in sounding:
        first, stop = max(sound.start, lo), min(sound.stop, hi)
        piece = sound.samples[first - sound.start : stop - sound.start]
        place = block[first - lo : stop - lo, sound.column]
        # Nearly always the place is still silent: copying is several times quicker than adding.
        place[:] = piece if first >= filled[sound.column] else _sum_held(place, piece)
        filled[sound.column] = max(filled[sound.column], stop)
    return block[:, 0] if columns == 1 else block


def _sum_held(one: Samples, other: Samples) -> Samples:
    """The sum of two sounds, held at full scale where it would pass it."""
    held: Samples = np.clip(one.astype(np.int32) + other, -32768, 32767).astype(np.int16)
    return held
