"""A recording and its sheet → the clips of a pack, and what there is to say about each line."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from cornercue.durations import clock_with_tenths
from cornercue.errors import InputFault
from cornercue.voice.clip import Clip
from cornercue.voice.likeness import costs, features, is_voiced, power, repeats
from cornercue.voice.match import Matching, match
from cornercue.voice.reading_sheet import SheetLine
from cornercue.voice.recording import Piece, Recording, background, pieces

TOO_MANY = 0.34
"""Share of lines not found above which the recording is taken for one of something else."""

ADVICE = {
    "clipped": "clipped, for the recorder was set too loud or the mouth was too near",
    "too quiet": "too quiet beside the others",
    "too noisy": "too noisy: the room is nearly as loud as the words",
}


@dataclass(frozen=True, eq=False)
class PackImport:
    """What was found: clips, each with its flaws, and sentences in the order of the sheet; `faults` is how many lines
    are lacking or flawed."""

    clips: list[tuple[Clip, tuple[str, ...]]]
    report: list[str]
    faults: int


def import_recording(
    sound: Recording, lines: Sequence[SheetLine], reference: Callable[[str], Clip], sure: bool = False
) -> PackImport:
    """Splits, matches and levels a recording; `reference` speaks a line in another voice. Raises InputFault.

    With `sure` nothing is left out for doubt.
    """
    from cornercue.voice.level import clip_from

    said = pieces(sound)
    found = matched(sound, said, [reference(line.text) for line in lines], sure)
    told = sum(piece is not None for piece in found.piece_of)
    if len(lines) - told > TOO_MANY * len(lines):
        raise InputFault(
            f"Only {told} of {len(lines)} lines were found with confidence among {len(said)} sounds: is this a "
            "recording of that sheet, in its order, with a pause after every line?"
        )
    clips = [
        (clip_from(line.text, said[piece].recording()), said[piece].flaws)
        for line, piece in zip(lines, found.piece_of, strict=True)
        if piece is not None
    ]
    faults = len(lines) - sum(not flaws for _, flaws in clips)
    return PackImport(clips, list(_report(lines, said, found)), faults)


def matched(sound: Recording, said: Sequence[Piece], references: Sequence[Clip], sure: bool = False) -> Matching:
    """Which piece is which phrase."""
    room = background(sound, list(said))
    noise = np.median(power(room), axis=0) if len(room) else 0.0
    mine = [features(one.core, noise) for one in said]
    others = [features(clip.samples / 32768) for clip in references]
    lengths = np.array([one.seconds for one in said])
    wanted = np.array([clip.seconds for clip in references])
    cost = costs(mine, others, lengths, wanted)
    voiced = [is_voiced(one.core) for one in said]
    return match(cost, repeats(mine, lengths), repeats(others, wanted), voiced, sure)


def _report(lines: Sequence[SheetLine], said: Sequence[Piece], found: Matching) -> Iterator[str]:
    """A sentence for everything that is not as it should be, in the order of the sheet, then the noises."""
    unsure, again = dict(found.unsure), dict(found.again)
    for at, line in enumerate(lines):
        name, piece = f"Line {line.number}, “{line.text}”", found.piece_of[at]
        if piece is None and at in unsure:
            where = unsure[at]
            yield f"{name}, cannot be told with confidence ({_heard(where, said)}): say it again."
        elif piece is None:
            yield f"{name}, is missing."
        else:
            if at in again:
                first, last = clock_with_tenths(said[again[at]].start), clock_with_tenths(said[piece].start)
                yield f"{name}, is double, at {first} and {last}: the later one is taken."
            for flaw in said[piece].flaws:
                yield f"{name}, at {clock_with_tenths(said[piece].start)}, is {ADVICE[flaw]}."
    for noise in found.noises:
        yield f"The sound at {clock_with_tenths(said[noise].start)} is no line of the sheet and is left out."


def _heard(piece: int | None, said: Sequence[Piece]) -> str:
    """What may have been the line, and what is wrong with it."""
    if piece is None:
        return "this line or its neighbour"
    return ", ".join([f"what is said at {clock_with_tenths(said[piece].start)}", *said[piece].flaws])
