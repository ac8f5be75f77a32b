"""Captions for a sound file: the timeline as WebVTT, for whoever cannot hear it.

W3C WebVTT, section 4 (syntax): https://www.w3.org/TR/webvtt1/
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from itertools import pairwise
from pathlib import Path
from types import MappingProxyType

from cornercue.errors import MachineLacks
from cornercue.timing.timeline import Cue, Listener, Timeline, Tone
from cornercue.whole_files import written_whole

SUFFIX = ".vtt"

TONES: Mapping[Tone, str] = MappingProxyType({"start": "[start]", "warning": "[nearly over]", "end": "[end]"})
"""What a tone tells, for those who do not hear it, in brackets: common practice, no source."""

ALONE: Mapping[Listener | None, str] = MappingProxyType({"feeder": "Feeder: ", "holder": "Holder: "})
"""Before a prompt that is the feeder's or the holder's alone."""

LEAST = 1.0
"""Seconds that a caption stays where the next one leaves it the time: a short call flashes by otherwise. Own choice."""


def captions(timeline: Timeline) -> str:
    """The timeline as the text of a WebVTT file, one caption a cue, numbered from 1; times to the millisecond.

    A caption starts with its sound. It ends with it, or `LEAST` seconds after its start but not after the
    next cue's start. Texts are escaped, so that a script's `<`, `&` and `-->` are shown as written.
    """
    shown = [(cue, text) for cue in timeline.cues if (text := _payload(cue))]
    starts = [cue.start for cue, _ in shown]
    blocks = [
        f"{number}\n{_timing(cue.start, max(cue.end, min(cue.start + LEAST, after)))}\n{text}\n"
        for number, ((cue, text), (_, after)) in enumerate(
            zip(shown, pairwise([*starts, timeline.duration]), strict=True), start=1
        )
    ]
    return "WEBVTT\n\n" + "\n".join(blocks)


@contextmanager
def captioned(sound: Path, timeline: Timeline) -> Iterator[Path]:
    """Writes captions beside a sound file: they are there, whole, once the block that makes the sound ends well.

    Gives their path. A file that has their name is replaced, as the sound file is. Raises what
    `written_whole` raises.
    """
    path = sound.with_suffix(SUFFIX)
    with written_whole(path) as part:
        try:
            part.write_bytes(captions(timeline).encode())
        except OSError as fault:
            raise MachineLacks(f"{path}: it could not be written whole; the disk may be full.") from fault
        yield path


def _payload(cue: Cue) -> str:
    """The caption's one line; empty where there is nothing to read."""
    if cue.tone:
        return TONES[cue.tone]
    words = " ".join(cue.text.split())  # No line end may stand in it, of any alphabet.
    if not words:
        return ""
    words = words.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return ALONE.get(cue.listener, "") + words


def _timing(start: float, end: float) -> str:
    """Rounds once, here: order survives rounding, and an end is made to come after its start."""
    first = round(start * 1000)
    return f"{_stamp(first)} --> {_stamp(max(round(end * 1000), first + 1))}"


def _stamp(milliseconds: int) -> str:
    seconds, thousandths = divmod(milliseconds, 1000)
    minutes, seconds = divmod(seconds, 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours:02}:{minutes:02}:{seconds:02}.{thousandths:03}"
