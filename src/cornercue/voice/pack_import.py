"""A recording and its sheet → the clips of a pack, and what there is to say about each line."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from cornercue.durations import clock_with_tenths
from cornercue.errors import InputFault
from cornercue.voice.clip import Clip
from cornercue.voice.costs import costs, repeats
from cornercue.voice.likeness import features, is_voiced, power
from cornercue.voice.match import Matching, match
from cornercue.voice.reading_sheet import SheetLine
from cornercue.voice.recording import Piece, Recording, background, joined, pieces

TOO_MANY = 0.34
"""Share of lines not found above which the recording is taken for one of something else."""

LONGEST_PAUSE, MOST_PARTS = 1.3, 4
"""Seconds of the longest pause inside a line, and the most sounds that a line is made of."""

UNMARKED = 0.5
"""What a pause inside a line costs more where no comma or full stop calls for it."""

_PART = re.compile(r"[^\s,.;:!?…、。，！？；：][^,.;:!?…、。，！？；：]*")
"""What is said between two signs that call for a pause."""

ADVICE = {
    "clipped": "clipped, for the recorder was set too loud or the mouth was too near",
    "too quiet": "too quiet beside the others",
    "too noisy": "too noisy: the room is nearly as loud as the words",
}


@dataclass(frozen=True, eq=False)
class PackImport:
    """What was found: lines with what was said of them, and sentences in the order of the sheet; `faults` is how many
    lines are lacking or flawed."""

    takes: list[tuple[str, Piece]]
    report: list[str]
    faults: int

    @property
    def clips(self) -> Iterator[tuple[Clip, tuple[str, ...]]]:
        """The clips, each with its flaws, made one after the other: all of an evening would fill the memory."""
        from cornercue.voice.level import clip_from

        for text, take in self.takes:
            yield clip_from(text, take.recording()), take.flaws

    def only(self, wanted: Callable[[str], bool]) -> PackImport:
        """The same with the clips of some lines only."""
        return replace(self, takes=[(text, take) for text, take in self.takes if wanted(text)])


def import_recording(
    sound: Recording, lines: Sequence[SheetLine], reference: Callable[[str], Clip], sure: bool = False
) -> PackImport:
    """Splits, matches and levels a recording; `reference` speaks a line, as it is said, in another voice.

    Raises InputFault. With `sure` nothing is left out for doubt, and where there are as many sounds as lines, each is
    its line.
    """
    said = pieces(sound)
    if sure and len(said) == len(lines):
        found = Matching([*range(len(lines))])
    else:
        found = matched(sound, said, (reference(line.aloud) for line in lines), sure)
    told = sum(piece is not None for piece in found.piece_of)
    if len(lines) - told > TOO_MANY * len(lines):
        raise InputFault(
            f"Only {told} of {len(lines)} lines were found with confidence among {len(said)} sounds: is this a "
            "recording of that sheet, in its order, with a pause after every line? If every line was read once, and "
            "nothing else, `--sure` takes them in order; `--voice` compares with a voice of your language."
        )
    takes = [
        (line.text, _take(said, piece, found))
        for line, piece in zip(lines, found.piece_of, strict=True)
        if piece is not None
    ]
    faults = len(lines) - sum(not take.flaws for _, take in takes)
    return PackImport(takes, list(_report(lines, said, found)), faults)


def _take(said: Sequence[Piece], piece: int, found: Matching) -> Piece:
    """All that was said of a line, whose first piece this is."""
    last = found.last.get(piece, piece)
    return said[piece] if last == piece else joined(said[piece : last + 1])


def matched(sound: Recording, said: Sequence[Piece], references: Iterable[Clip], sure: bool = False) -> Matching:
    """Which piece is which phrase, or which pieces."""
    room = background(sound, list(said))
    noise = np.median(power(room), axis=0) if len(room) else 0.0
    heard = [power(one.core) for one in said]
    mine = [features([one], noise) for one in heard]
    others, parts = [], []
    for clip in references:
        others.append(features([power(clip.samples / 32768)]))
        parts.append(len(_PART.findall(clip.text)))
    groups = {
        (first, last): features(heard[first : last + 1], noise)
        for first, last in _together(said, max(map(len, others), default=0))
    }
    cost = costs(mine, others, groups)
    for (first, last), row in cost.joined.items():
        row += UNMARKED * np.maximum(0, last + 1 - first - np.array(parts))
    voiced = [is_voiced(one.core) for one in said]
    return match(cost, repeats(mine), repeats(others), voiced, sure)


def _together(said: Sequence[Piece], longest: int) -> Iterator[tuple[int, int]]:
    """First and last of the pieces that may be one line: pauses between them up to `LONGEST_PAUSE`."""
    for first in range(len(said)):
        seconds = said[first].seconds
        for last in range(first + 1, min(first + MOST_PARTS, len(said))):
            seconds += said[last].seconds
            if said[last].start - said[last - 1].end > LONGEST_PAUSE or seconds > 0.02 * longest + 0.3:
                break
            yield first, last


def _report(lines: Sequence[SheetLine], said: Sequence[Piece], found: Matching) -> Iterator[str]:
    """A sentence for everything that is not as it should be, in the order of the sheet, then the noises."""
    unsure, again = dict(found.unsure), dict(found.again)
    run = {line: piece for first, piece in found.run for line in (first, first + 1)}
    for at, line in enumerate(lines):
        name, piece = f"Line {line.number}, “{line.text}”", found.piece_of[at]
        if at in run:
            yield (
                f"{name}, is run together with the line beside it, at {clock_with_tenths(said[run[at]].start)}: "
                "say it again, with a pause before and after it."
            )
        elif piece is None and at in unsure:
            where = unsure[at]
            yield f"{name}, cannot be told with confidence ({_heard(where, said)}): say it again."
        elif piece is None:
            yield f"{name}, is missing."
        else:
            if at in again:
                first, last = clock_with_tenths(said[again[at]].start), clock_with_tenths(said[piece].start)
                yield f"{name}, is double, at {first} and {last}: the later one is taken."
            for flaw in _take(said, piece, found).flaws:
                yield f"{name}, at {clock_with_tenths(said[piece].start)}, is {ADVICE[flaw]}."
    for noise in found.noises:
        yield f"The sound at {clock_with_tenths(said[noise].start)} is no line of the sheet and is left out."


def _heard(piece: int | None, said: Sequence[Piece]) -> str:
    """What may have been the line, and what is wrong with it."""
    if piece is None:
        return "this line or its neighbour"
    return ", ".join([f"what is said at {clock_with_tenths(said[piece].start)}", *said[piece].flaws])
