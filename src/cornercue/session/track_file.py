"""The sound of an open drill: as samples, or as a file with its captions."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import nullcontext
from pathlib import Path

import numpy as np

from cornercue.session.opening import OpenDrill
from cornercue.session.progress import Progress, unheard
from cornercue.sound import Samples
from cornercue.track.captions import captioned
from cornercue.track.mix import COLUMNS, Channels, blocks, total_frames
from cornercue.track.sound_files import write


def sample_blocks(opened: OpenDrill, channels: Channels = "mono") -> Iterator[Samples]:
    """The track piece by piece, so that memory does not grow with its length; shapes as `samples` has them."""
    return blocks(opened.timeline, opened.speech.clip, channels=channels)


def samples(opened: OpenDrill, channels: Channels = "mono") -> Samples:
    """The whole track at `SAMPLE_RATE`: int16 of shape (frames,), or (frames, 2) for `split`. Two bytes a sample."""
    frames, columns = total_frames(opened.timeline), COLUMNS[channels]
    whole = np.empty((frames,) if columns == 1 else (frames, columns), np.int16)
    at = 0
    for block in sample_blocks(opened, channels):
        whole[at : at + len(block)] = block
        at += len(block)
    return whole


def write_track(
    opened: OpenDrill,
    path: Path,
    channels: Channels = "mono",
    captions: bool = False,
    progress: Progress = unheard,
) -> Path | None:
    """Writes the track as WAV, FLAC, Ogg or MP3, by the name's ending; gives the path of its captions, if asked for.

    `progress` hears how much of the track is written. Both are there whole or not at all. Raises `InputFault` for a
    name that cannot be one and `MachineLacks` for a full disk.
    """
    beside = captioned(path, opened.timeline) if captions else nullcontext()
    with beside as written:
        write(path, opened.timeline, opened.speech.clip, progress, channels)
    return written
