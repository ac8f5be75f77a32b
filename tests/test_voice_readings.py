"""25 readings of a sheet, all unlike the reference voice: no line is halved or put under another one's words."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from cornercue.errors import InputFault
from cornercue.voice.pack_import import PackImport, import_recording
from cornercue.voice.reading_sheet import SheetLine
from cornercue.voice.recording import Recording
from cornercue.voice.speech import Speech
from cornercue.voice.voices import open_voice
from read_aloud import ENGLISH, KOREAN, Reader, Reading, read_aloud
from recorded import TEXTS

pytestmark = pytest.mark.skipif(shutil.which("espeak-ng") is None, reason="needs espeak-ng's command")

SCOT, AMERICAN, CARIBBEAN = Reader("en-gb-scotland+f2", 145), Reader("en-us+m3", 160, 40), Reader("en-029+m5", 150, 60)
NORTHERN, SEOUL = Reader("en-gb-x-gbclan+f4", 170, 65), Reader("ko+f2", 140)
ALL, ALLE = tuple(range(len(ENGLISH))), tuple(range(len(KOREAN)))
WITHOUT = {at: tuple(one for one in ALL if one != at) for at in ALL}
TWICE = {at: tuple(one for one in ALL for _ in range(1 + (one == at))) for at in ALL}

READINGS = {
    "clean, Scottish": Reading(SCOT, ALL),
    "clean, American": Reading(AMERICAN, ALL),
    "clean, Caribbean": Reading(CARIBBEAN, ALL),
    "clean, northern": Reading(NORTHERN, ALL),
    "clean, Korean": Reading(SEOUL, ALLE, KOREAN),
    "pauses of 0.3 s": Reading(SCOT, ALL, inside=0.3),
    "pauses of 0.5 s": Reading(AMERICAN, ALL, inside=0.5),
    "pauses of 0.7 s": Reading(SCOT, ALL, inside=0.7),
    "pauses of 0.8 s": Reading(CARIBBEAN, ALL, inside=0.8),
    "pauses of 1 s": Reading(AMERICAN, ALL, inside=1.0),
    "pauses of 1 s, northern": Reading(NORTHERN, ALL, inside=1.0),
    "pauses of 0.7 s, Korean": Reading(SEOUL, ALLE, KOREAN, inside=0.7),
    "pauses of 1 s, Korean": Reading(SEOUL, ALLE, KOREAN, inside=1.0),
    "slips": Reading(SCOT, ALL, slips=(4, 8)),
    "slips, and pauses": Reading(AMERICAN, ALL, slips=(6, 7), inside=0.7),
    "slips, Korean": Reading(SEOUL, ALLE, KOREAN, slips=(4, 6)),
    "without a call": Reading(CARIBBEAN, WITHOUT[4]),
    "without a sentence, and pauses": Reading(SCOT, WITHOUT[7], inside=0.8),
    "without the first": Reading(NORTHERN, WITHOUT[0]),
    "without a line, Korean": Reading(SEOUL, (0, 1, 2, 3, 5, 6, 7), KOREAN),
    "a line twice": Reading(AMERICAN, TWICE[5]),
    "a line twice, and pauses": Reading(CARIBBEAN, TWICE[9], inside=0.9),
    "a loud room": Reading(SCOT, ALL, noise=-40, inside=0.7),
    "a loud room, Korean": Reading(SEOUL, ALLE, KOREAN, noise=-42),
    "a cough, very quiet": Reading(AMERICAN, ALL, noise=-85, gain=0.01, cough=3),
}

LONGER = tuple(TEXTS)


def without(gone: int, twice: int) -> tuple[int, ...]:
    """The longer sheet with one line left out and one said twice."""
    return tuple(at for at in range(len(LONGER)) if at != gone for _ in range(1 + (at == twice)))


HELD_OUT = {
    "an American woman": Reading(Reader("en-us+f3", 155, 55), without(9, 4), LONGER, inside=0.6, cough=13, seed=11),
    "a southern man": Reading(
        Reader("en-gb-x-rp+m2", 140, 45), without(18, 12), LONGER, inside=0.9, noise=-50, seed=12
    ),
    "a Korean man": Reading(
        Reader("ko+m1", 155, 45), (0, 1, 1, 2, 3, 5, 6, 7), KOREAN, inside=0.6, slips=(6,), seed=13
    ),
}
"""Readings on which no constant was chosen: other voices, pauses and faults."""


@pytest.fixture(scope="module")
def reference(shared_clips: Path) -> Iterator[Speech]:
    with open_voice("british", shared_clips) as speech:
        yield speech


def imported(how: Reading, reference: Speech, sure: bool = False) -> tuple[PackImport, list[tuple[int, float, float]]]:
    samples, takes = read_aloud(how)
    lines = [SheetLine(number, text) for number, text in enumerate(how.texts, 1)]
    return import_recording(Recording(samples.astype(np.float32), np.zeros(0)), lines, reference.clip, sure), takes


def wrong(found: PackImport, how: Reading, takes: list[tuple[int, float, float]]) -> list[str]:
    """The lines of the pack that are not the whole of one take of that line; and those that nobody was told of."""
    places = {text: at for at, text in enumerate(how.texts)}
    got = {places[text]: piece for text, piece in found.takes}
    faults = []
    for at, text in enumerate(how.texts):
        ours = [(start, end) for one, start, end in takes if one == at]
        if at in got:
            piece = got[at]
            if not any(abs(piece.start - start) < 0.15 and abs(piece.end - end) < 0.25 for start, end in ours):
                faults.append(f"{text}: {piece.start:.2f} to {piece.end:.2f} s, said at {ours}")
        elif not any(told.startswith(f"Line {at + 1}, ") for told in found.report):
            faults.append(f"{text}: left out without a word")
    return faults


@pytest.mark.parametrize("name", [*READINGS, *HELD_OUT])
def test_no_line_is_halved_or_under_another_ones_words(name: str, reference: Speech) -> None:
    how = (READINGS | HELD_OUT)[name]
    try:
        found, takes = imported(how, reference)
    except InputFault as fault:
        pytest.fail(str(fault))
    assert wrong(found, how, takes) == []


def test_there_are_25_readings_in_two_languages() -> None:
    assert len(READINGS) == 25
    assert {how.reader.voice[:2] for how in READINGS.values()} == {"en", "ko"}


@pytest.mark.parametrize("texts", [ENGLISH, KOREAN])
def test_with_sure_as_many_sounds_as_lines_are_the_lines_in_order(texts: tuple[str, ...], reference: Speech) -> None:
    # Read in quite another language's accent, so that nothing is alike.
    how = Reading(Reader("de", 130), tuple(range(len(texts))), texts)
    found, takes = imported(replace(how), reference, sure=True)
    assert found.report == []
    assert [text for text, _ in found.takes] == list(texts)
    assert wrong(found, how, takes) == []


@pytest.mark.parametrize(
    "how",
    [
        Reading(SCOT, (0, 1, 2, 3, 6, 5, 4, 7, 8, 9)),
        Reading(CARIBBEAN, (0, 2, 1, 3, 4, 5, 6, 8, 7, 9), inside=0.7),
        Reading(NORTHERN, (0, 1, 2, 3, 5, 4, 6, 7, 8, 9)),
    ],
)
def test_lines_read_in_another_order_are_told(how: Reading, reference: Speech) -> None:
    found, takes = imported(how, reference)
    assert wrong(found, how, takes) == []
    assert len(found.report) >= 2
