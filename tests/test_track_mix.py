"""Cues become samples at their own frame, whatever the block size; overlaps hold at full scale."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cornercue.sound import SAMPLE_RATE, Samples
from cornercue.timing.timeline import Cue, Listener, Timeline
from cornercue.timing.tones import TONE_SECONDS
from cornercue.track.mix import Channels, blocks, total_frames
from cornercue.track.tone_samples import tone_samples
from cornercue.voice.clip import Clip


def clip(text: str, frames: int, level: int = 1000) -> Clip:
    return Clip(text, np.full(frames, level, np.int16))


def call(start: float, text: str, listener: Listener | None = None, rate: float = 1.0) -> Cue:
    return Cue(start, start, "call", text, line=1, part=0, listener=listener, rate=rate)


def timeline(cues: Iterable[Cue], duration: float) -> Timeline:
    return Timeline("Test", 1, 0, "none", duration, tuple(cues), ())


def voice(*clips: Clip) -> Callable[[str, float], Clip]:
    table = {clip.text: clip for clip in clips}
    return lambda text, rate: table[text]


def track(
    line: Timeline, clip_of: Callable[[str, float], Clip], frames: int = 65_536, channels: Channels = "mono"
) -> Samples:
    return np.concatenate([*blocks(line, clip_of, frames, channels=channels)])


def test_a_cue_starts_at_its_own_frame() -> None:
    jab = clip("jab", 5)
    sound = track(timeline([call(0.1, "jab"), call(0.2, "jab")], 0.3), voice(jab))
    assert [*np.flatnonzero(sound)] == [*range(2205, 2210), *range(4410, 4415)]
    assert sound.dtype == np.int16
    assert len(sound) == round(0.3 * SAMPLE_RATE)


def test_a_start_between_two_frames_goes_to_the_nearer_one() -> None:
    starts = [100.4 / SAMPLE_RATE, 200.6 / SAMPLE_RATE]
    sound = track(timeline([call(at, "jab") for at in starts], 0.1), voice(clip("jab", 1)))
    assert [*np.flatnonzero(sound)] == [100, 201]


def test_rounding_never_adds_up() -> None:
    """Every one of 3,000 calls a third of a second apart is within half a frame of its time."""
    starts = [k / 3 for k in range(3000)]
    sound = track(timeline([call(at, "jab") for at in starts], 1001.0), voice(clip("jab", 1)))
    off = np.flatnonzero(sound) - np.array(starts) * SAMPLE_RATE
    assert np.abs(off).max() <= 0.5


def test_a_tone_sounds_at_its_cue() -> None:
    warning = Cue(0.5, 0.5 + TONE_SECONDS["warning"], "tone", "", 1, 0, tone="warning")
    sound = track(timeline([warning], 1.0), voice())
    first = SAMPLE_RATE // 2
    beep = tone_samples("warning")
    assert np.array_equal(sound[first : first + len(beep)], beep)
    assert not sound[:first].any()
    assert not sound[first + len(beep) :].any()


def test_words_are_asked_for_at_the_rate_of_their_cue() -> None:
    asked: list[tuple[str, float]] = []

    def clip_of(text: str, rate: float) -> Clip:
        asked.append((text, rate))
        return clip(text, 10)

    track(timeline([call(0, "jab"), call(0.1, "cross", rate=1.25)], 0.2), clip_of)
    assert asked == [("jab", 1.0), ("cross", 1.25)]


def test_a_cue_without_words_or_tone_is_silent() -> None:
    silent = Cue(0, 1, "rest", "", line=1, part=0)
    assert not track(timeline([silent], 1.0), voice()).any()


def test_words_are_not_asked_for_before_their_block_comes_up() -> None:
    """So playing can begin while the voice still makes the later phrases."""
    asked: list[str] = []

    def clip_of(text: str, rate: float) -> Clip:
        asked.append(text)
        return clip(text, 10)

    coming = blocks(timeline([call(k, str(k)) for k in range(10)], 10.0), clip_of, frames=SAMPLE_RATE)
    [*itertools.islice(coming, 3)]
    assert asked == ["0", "1", "2", "3"]


@pytest.mark.parametrize(
    ("one", "other", "held"),
    [
        (20_000, 20_000, 32_767),
        (-20_000, -20_000, -32_768),
        (32_767, 1, 32_767),
        (-32_768, -1, -32_768),
        (32_767, -32_768, -1),
        (1_000, 2_000, 3_000),
    ],
)
def test_overlapping_sounds_add_and_hold_at_full_scale(one: int, other: int, held: int) -> None:
    line = timeline([call(0, "one"), call(50 / SAMPLE_RATE, "other")], 150 / SAMPLE_RATE)
    sound = track(line, voice(clip("one", 100, one), clip("other", 100, other)))
    assert set(sound[:50]) == {one}
    assert set(sound[50:100]) == {held}
    assert set(sound[100:]) == {other}


def test_where_the_drill_ends_its_sound_ends() -> None:
    sound = track(timeline([call(0, "jab")], 60 / SAMPLE_RATE), voice(clip("jab", 100)))
    assert len(sound) == 60
    assert sound.all()


def test_a_drill_without_any_length_makes_no_blocks() -> None:
    assert [*blocks(timeline([], 0.0), voice())] == []


sounds = st.lists(st.tuples(st.integers(0, 3000), st.integers(1, 900), st.integers(-32_768, 32_767)), max_size=12)


@settings(deadline=None)
@given(sounds, st.integers(1, 4000), st.sampled_from(["mono", "split"]))
def test_the_size_of_a_block_changes_nothing(
    drawn: list[tuple[int, int, int]], frames: int, channels: Channels
) -> None:
    clips = [clip(str(k), length, level) for k, (_, length, level) in enumerate(sorted(drawn))]
    cues = [
        call(start / SAMPLE_RATE, str(k), "feeder" if k % 2 else None) for k, (start, _, _) in enumerate(sorted(drawn))
    ]
    line = timeline(cues, 3500 / SAMPLE_RATE)
    whole = track(line, voice(*clips), 65_536, channels)
    assert len(whole) == total_frames(line) == 3500
    assert np.array_equal(whole, track(line, voice(*clips), frames, channels))


def test_every_block_but_the_last_is_full() -> None:
    line = timeline([], 2500 / SAMPLE_RATE)
    assert [len(block) for block in blocks(line, voice(), 1000)] == [1000, 1000, 500]
    assert [block.shape for block in blocks(line, voice(), 1000, channels="split")] == [(1000, 2), (1000, 2), (500, 2)]


def mixed_listeners() -> tuple[Timeline, Callable[[str, float], Clip]]:
    start = Cue(0, 0.6, "tone", "", 1, 0, tone="start")
    cues = [start, call(0.3, "swing", "feeder"), call(0.9, "weave", "student"), call(1.2, "time", None)]
    return timeline(cues, 2.0), voice(clip("swing", 9000), clip("weave", 9000), clip("time", 9000))


def test_a_feeders_prompts_go_left_and_the_rooms_signals_right() -> None:
    line, clip_of = mixed_listeners()
    split = track(line, clip_of, channels="split")
    feeder = [cue for cue in line.cues if cue.listener == "feeder"]
    room = [cue for cue in line.cues if cue.listener != "feeder"]
    only = [track(timeline(cues, line.duration), clip_of) for cues in (feeder, room)]
    assert np.array_equal(split[:, 0], only[0])
    assert np.array_equal(split[:, 1], only[1])


def test_neither_channel_carries_anything_of_the_other() -> None:
    """Below -60 dB is asked for; nothing at all is what there is."""
    line, clip_of = mixed_listeners()
    split = track(line, clip_of, channels="split")
    prompt = slice(round(0.3 * SAMPLE_RATE), round(0.3 * SAMPLE_RATE) + 9000)
    assert split[prompt, 0].all()
    outside = np.ones(len(split), bool)
    outside[prompt] = False
    assert not split[outside, 0].any()
    assert not split[round(0.6 * SAMPLE_RATE) + 1 : round(0.9 * SAMPLE_RATE), 1].any()


def test_mono_carries_both_listeners() -> None:
    line, clip_of = mixed_listeners()
    split = track(line, clip_of, channels="split").astype(int)
    assert np.array_equal(track(line, clip_of), np.clip(split.sum(axis=1), -32_768, 32_767))


@given(st.integers(0, 4000), st.integers(0, 4000), st.integers(1, 900))
def test_a_part_of_the_track_is_that_part_of_the_whole(one: int, other: int, frames: int) -> None:
    start, stop = sorted((one, other))
    cues = [call(at, text) for at, text in ((0.01, "jab"), (0.05, "long"), (0.06, "jab"), (0.15, "long"))]
    line = timeline(cues, 0.2)
    clip_of = voice(clip("jab", 300, 20_000), clip("long", 1500, 15_000))
    whole = track(line, clip_of)
    part = [*blocks(line, clip_of, frames, start=start, stop=stop)]
    assert np.array_equal(np.concatenate([np.zeros(0, np.int16), *part]), whole[start:stop])
