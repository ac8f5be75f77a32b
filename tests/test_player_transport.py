"""A drill is paused, taken up again and survives what happens in a home; what is heard is known to the sample."""

from __future__ import annotations

from collections.abc import Generator
from threading import Event

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cornercue.errors import InputFault, MachineLacks
from cornercue.player.keys import Command
from cornercue.player.outputs import Output
from cornercue.player.timeline_thread import GrowingTimeline
from cornercue.player.transport import ASLEEP, LAST, LOST, MOMENT, PAUSED, Ending
from cornercue.player.view import Moments
from cornercue.sound import SAMPLE_RATE, Samples
from cornercue.timing.parts import finest
from cornercue.timing.timeline import Timeline
from cornercue.track.mix import blocks
from lounge import (
    COUNT_IN,
    COUNTED,
    LINE,
    OPENING,
    PARTS,
    TITLES,
    TRACK,
    Room,
    Speaker,
    beginnings,
    played,
    spoken,
    unplugged,
)

SECONDS = [leaf.part.start for leaf in finest(LINE.parts)]
STARTS = [round(start * SAMPLE_RATE) for start in SECONDS]
WORK = next(span for span in LINE.spans if span.kind == "work")
MOMENTS = Moments(LINE, TITLES)
PAUSE: Command = "pause"
SOFTER: Command = "softer"


def same(heard: Samples, *pieces: Samples) -> bool:
    return np.array_equal(heard, np.concatenate(pieces))


def test_undisturbed_the_whole_track_is_heard_and_the_end_is_shown() -> None:
    room = Room()
    assert played(room) == Ending(True, PARTS)
    assert same(room.track(), TRACK)
    assert room.states() == ["playing", "ended"]


def test_what_is_shown_is_what_is_heard_at_every_look() -> None:
    room, known = Room(), GrowingTimeline(beginnings())
    known.when(lambda line: False)
    played(room, coming=known)
    for view in room.views[:-1]:
        assert (view.call, view.part) == (MOMENTS.at(view.at).call, MOMENTS.at(view.at).part)
    # A look follows each block of 2048 frames; the last one lies at the end.
    ats = [view.at for view in room.views]
    assert np.allclose(np.diff(ats)[:-2], 2048 / SAMPLE_RATE)
    assert ats[-1] == pytest.approx(LINE.duration, abs=0.001)


pauses = st.lists(st.tuples(st.floats(0.1, LINE.duration - 1), st.floats(0.1, MOMENT - 0.2)), min_size=1, max_size=4)


@settings(max_examples=30)
@given(pauses)
def test_short_pauses_cost_no_sample_and_add_none(pauses: list[tuple[float, float]]) -> None:
    room, at = Room(), 0.0
    for gap, length in pauses:
        room.presses += [(at + gap, "pause"), (at + gap + length, "pause")]
        at += gap + length
    pressed = sum(when < LINE.duration for when, _ in room.presses)
    assert played(room).whole
    assert same(room.track(), TRACK)
    assert ("paused" in room.states()) == (pressed > 0)


def test_paused_it_says_so_and_how_to_go_on() -> None:
    room = Room([(3.0, "pause"), (4.0, "pause")])
    played(room)
    assert PAUSED in {view.message for view in room.views if view.state == "paused"}


def test_after_a_longer_pause_the_student_is_counted_in_and_hears_the_broken_call_again() -> None:
    call = next(cue for cue in LINE.cues if cue.kind == "call")
    inside = call.start + 0.2
    room = Room([(inside, "pause"), (inside + 60, "pause")])
    assert played(room).whole
    sound = room.track()
    start = round(call.start * SAMPLE_RATE)
    left = len(sound) - len(COUNTED) - (len(TRACK) - start)
    assert call.start <= left / SAMPLE_RATE <= call.end
    assert same(sound, TRACK[:left], COUNTED, TRACK[start:])
    assert room.states() == ["playing", "paused", "counting in", "playing", "ended"]


def test_while_it_counts_in_the_count_is_shown_and_the_part_to_come() -> None:
    room = Room([(WORK.start + 3, "pause"), (WORK.start + 60, "pause")])
    played(room)
    counting = [view for view in room.views if view.state == "counting in"]
    words = [cue.text for cue in COUNT_IN.spoken()]
    assert list(dict.fromkeys(view.call for view in counting))[-len(words) :] == words
    assert {view.part for view in counting} == {2}


def heard_first(part: int) -> Samples:
    """What is heard before a part (from 0) that starts with work: what the rest before says of it, and a count-in."""
    if LINE.cues[[cue.part for cue in LINE.cues].index(part)].tone != "start":
        return TRACK[:0]
    rest = next(span for span in LINE.spans if span.kind == "rest" and span.end == SECONDS[part])
    said = [cue for cue in LINE.cues if cue.kind == "say" and rest.start < cue.start < rest.end]
    first, last = said[0].start, said[-1].end + 0.3
    return np.concatenate([TRACK[round(first * SAMPLE_RATE) : round(last * SAMPLE_RATE)], COUNTED])


def test_the_push_ups_follow_a_rest_so_that_their_words_are_said_in_it() -> None:
    assert TITLES == ("Hands up.", "Jab, cross", "Push-ups", "Side kick")
    assert [len(heard_first(part)) > len(COUNTED) for part in range(PARTS)] == [False, False, True, False]


@pytest.mark.parametrize(("key", "to"), [("back", 1), ("again", 2), ("on", 3)])
def test_a_part_back_again_or_on_starts_at_its_first_frame_once_it_is_said_what_to_do(key: str, to: int) -> None:
    inside = SECONDS[2] + 3
    room = Room([(inside, key)])  # type: ignore[list-item]
    assert played(room).whole
    before = heard_first(to)
    left = len(room.track()) - len(before) - len(TRACK) + STARTS[to]
    assert inside <= left / SAMPLE_RATE < inside + 0.2
    assert same(room.track(), TRACK[:left], before, TRACK[STARTS[to] :])


def test_in_a_rest_on_leaves_out_what_is_left_of_it() -> None:
    rest = next(span for span in LINE.spans if span.kind == "rest")
    room = Room([(rest.end - 4, "on")])
    assert played(room).whole
    assert same(room.track()[-len(TRACK) + STARTS[2] :], TRACK[STARTS[2] :])


def test_every_part_is_reached_by_from_and_its_cautions_come_first() -> None:
    for part in range(2, PARTS + 1):
        room = Room()
        played(room, part=part, cautions=1)
        first = TRACK[: round(LINE.cues[1].start * SAMPLE_RATE)]
        assert same(room.sound(), first, heard_first(part - 1), TRACK[STARTS[part - 1] :])
        assert room.views[10].call == LINE.cues[0].text
        assert room.views[10].part == part


def test_back_from_the_first_part_is_its_beginning() -> None:
    room = Room([(1.0, "back")])
    played(room)
    assert same(room.track()[-len(TRACK) + OPENING :], TRACK[OPENING:])


def test_on_from_the_last_part_is_refused_without_losing_a_sample() -> None:
    room = Room([(SECONDS[-1] + 1, "on")])
    assert played(room).whole
    assert same(room.track(), TRACK)
    assert LAST in {view.message for view in room.views}


def test_moving_while_paused_stays_paused_and_goes_on_there() -> None:
    room = Room([(2.0, "pause"), (2.5, "on"), (2.8, "on"), (3.2, "pause")])
    assert played(room).whole
    assert same(room.track()[STARTS[2] - len(TRACK) :], TRACK[STARTS[2] :])
    assert room.states()[:2] == ["playing", "paused"]


@pytest.mark.parametrize("paused", [False, True])
def test_quitting_tells_the_part(paused: bool) -> None:
    inside = SECONDS[3] + 1
    room = Room([*[(inside - 0.2, PAUSE)] * paused, (inside, "quit")])
    assert played(room) == Ending(False, 4)


def test_softer_is_three_decibels_and_there_are_ten_steps() -> None:
    room = Room([(WORK.start + 1, "softer"), *[(WORK.start + 5, SOFTER)] * 20])
    played(room)
    sound, at = room.track().astype(float), round((WORK.start + 2.5) * SAMPLE_RATE)
    loud = TRACK.astype(float)[at : at + SAMPLE_RATE * 2]
    assert 20 * np.log10(np.std(sound[at : at + len(loud)]) / np.std(loud)) == pytest.approx(-3, abs=0.05)
    assert 20 * np.log10(np.std(sound[-SAMPLE_RATE:]) / np.std(TRACK[-SAMPLE_RATE:].astype(float))) == pytest.approx(
        -27, abs=0.1
    )
    assert (room.views[0].volume, room.views[-1].volume) == (10, 1)


def test_louder_than_the_track_is_not_to_be_had() -> None:
    room = Room([(1.0, "louder"), (2.0, "louder")])
    played(room)
    assert same(room.track(), TRACK)
    assert {view.volume for view in room.views} == {10}


def test_an_output_that_is_mixed_already_starts_again_softer_at_the_same_frame() -> None:
    class Premixed(Speaker):
        def play(self, track, channels=1, heard=None):  # type: ignore[no-untyped-def]
            whole = np.concatenate([*track])
            return super().play((whole[at : at + 2205] for at in range(0, len(whole), 2205)), channels, heard)

    room = Room([(3.0, "softer")])
    assert played(room, Premixed(room, premixed=True)).whole
    sound = room.track().astype(float)
    assert len(sound) == len(TRACK)
    assert np.array_equal(sound[: SAMPLE_RATE * 3], TRACK[: SAMPLE_RATE * 3])
    assert np.allclose(sound[SAMPLE_RATE * 4 :], TRACK[SAMPLE_RATE * 4 :] * 10 ** (-3 / 20), atol=0.5)


def test_a_computer_that_slept_counts_in_and_plays_no_burst() -> None:
    room = Room()
    slept: list[int] = []

    def lid_closed(frames: int) -> None:
        if frames > WORK.start * SAMPLE_RATE + 3 * SAMPLE_RATE and not slept:
            slept.append(OPENING + frames)
            room.now += 3600

    assert played(room, Speaker(room, lid_closed)).whole
    assert "counting in" in room.states()
    assert ASLEEP in {view.message for view in room.views}
    sound, tail = room.track(), len(TRACK) - slept[0]
    assert same(sound[-tail:], TRACK[-tail:])
    assert same(sound[slept[0] : slept[0] + len(COUNTED)], COUNTED)


def test_a_lost_device_is_waited_for_and_the_drill_goes_on_with_a_count_in() -> None:
    room = Room()
    tries: list[float] = []

    def reopened() -> Output:
        tries.append(room.now)
        if len(tries) < 4:
            raise MachineLacks("There is nothing to play the sound on.")
        return Speaker(room)

    lost = round((WORK.start + 4) * SAMPLE_RATE)
    assert played(room, Speaker(room, unplugged(lost)), reopened).whole
    assert room.states() == ["playing", "waiting", "counting in", "playing", "ended"]
    assert {view.message for view in room.views if view.state == "waiting"} == {LOST}
    assert np.allclose(np.diff(tries), 1.0, atol=0.11)
    assert same(room.track()[-SAMPLE_RATE * 5 :], TRACK[-SAMPLE_RATE * 5 :])
    heard_before = len(room.track()) - len(COUNTED)
    assert 0 <= heard_before - len(TRACK) < SAMPLE_RATE  # what was broken off is said again, nothing is left out


def test_waiting_for_a_device_can_be_quit() -> None:
    room = Room([(WORK.start + 6, "quit")])

    def nothing() -> Output:
        raise MachineLacks("There is nothing to play the sound on.")

    lost = round((WORK.start + 2) * SAMPLE_RATE)
    assert played(room, Speaker(room, unplugged(lost)), nothing) == Ending(False, 2)


def test_a_device_that_never_sounds_is_an_error() -> None:
    room = Room()
    with pytest.raises(MachineLacks):
        played(room, Speaker(room, unplugged(0)))


def test_it_sounds_before_the_end_of_the_drill_is_known() -> None:
    sounding = Event()

    def slowly() -> Generator[Timeline, None, None]:
        made = list(beginnings())
        yield made[0]
        assert sounding.wait(10)
        yield from made[1:]

    room = Room()
    assert played(room, Speaker(room, lambda frames: sounding.set()), coming=GrowingTimeline(slowly())).whole
    assert same(room.track(), TRACK)


def test_a_fault_that_only_time_shows_reaches_whoever_plays() -> None:
    def faulty() -> Generator[Timeline, None, None]:
        yield next(beginnings())
        raise InputFault("monday.yaml:4:1: this does not fit")

    with pytest.raises(InputFault, match="does not fit"):
        played(Room(), coming=GrowingTimeline(faulty()))


def test_the_count_in_is_the_drills_own() -> None:
    assert np.array_equal(np.concatenate([*blocks(COUNT_IN, spoken)]), COUNTED)
    first = next(cue for cue in LINE.cues if cue.tone == "start")
    assert [cue.text for cue in COUNT_IN.spoken()] == [
        cue.text for cue in LINE.spoken() if cue.start < first.start and cue.kind == "count"
    ]
