"""Where a passage begins, and what is heard before it."""

from __future__ import annotations

from dataclasses import replace

from cornercue.player.passage import Lead, Place, count_in_lead, counted_in, first_cues, part_place
from cornercue.player.view import Moments
from cornercue.sound import SAMPLE_RATE
from cornercue.timing.timeline import Span
from lounge import COUNT_IN, COUNTED, LINE, TITLES

MOMENTS = Moments(LINE, TITLES)
LEAD = count_in_lead(COUNT_IN)


def test_a_place_knows_what_sounds_after_any_number_of_frames() -> None:
    caution = first_cues(MOMENTS, 1)
    place = Place(9000, (caution, LEAD))
    assert place.locate(0) == (caution, 0)
    assert place.locate(caution.frames) == (LEAD, 0)
    assert place.locate(caution.frames + LEAD.frames - 1) == (LEAD, LEAD.frames - 1)
    assert place.locate(caution.frames + LEAD.frames + 5) == (None, 9005)


def test_a_lead_that_is_broken_off_is_heard_again_and_a_whole_one_is_not() -> None:
    caution = first_cues(MOMENTS, 1)
    place = Place(9000, (caution, LEAD))
    assert place.after(100) == place
    assert place.after(caution.frames + 100) == Place(9000, (LEAD,))
    assert place.after(caution.frames + LEAD.frames + 100) == Place(9100)


def test_a_count_in_is_as_long_as_it_sounds_and_comes_once() -> None:
    assert LEAD.frames == len(COUNTED)
    once = counted_in(Place(0), MOMENTS, LEAD)
    assert counted_in(once, MOMENTS, LEAD) == once == Place(0, (LEAD,))


def test_cautions_are_kept_before_a_count_in() -> None:
    caution = first_cues(MOMENTS, 2)
    assert counted_in(Place(0, (caution,)), MOMENTS, LEAD).leads == (caution, LEAD)


def test_a_word_that_was_broken_off_is_taken_from_its_beginning_and_a_silence_where_it_was() -> None:
    call = next(cue for cue in LINE.cues if cue.kind == "call")
    within, after = round((call.start + 0.1) * SAMPLE_RATE), round((call.end + 0.2) * SAMPLE_RATE)
    assert counted_in(Place(within), MOMENTS, LEAD).frame == round(call.start * SAMPLE_RATE)
    assert counted_in(Place(after), MOMENTS, LEAD).frame == after


def test_a_part_that_starts_with_work_at_once_is_counted_in_and_one_that_starts_with_words_is_not() -> None:
    start = MOMENTS.starts[1]
    at_once = Moments(replace(LINE, spans=(Span(start, start + 5, "work", "", 1, 1),)), TITLES)
    assert part_place(at_once, 1, LEAD) == Place(round(start * SAMPLE_RATE), (LEAD,))
    assert part_place(MOMENTS, 1, LEAD) == Place(round(start * SAMPLE_RATE))


def test_within_the_drills_own_count_in_that_one_is_heard_again() -> None:
    work = next(span.start for span in LINE.spans if span.kind == "work")
    own = round(work * SAMPLE_RATE) - len(COUNTED)
    assert counted_in(Place(own + 30000), MOMENTS, LEAD) == Place(own)
    assert counted_in(Place(own - 10), MOMENTS, LEAD).leads == (LEAD,)
    assert [cue.text for cue in LINE.spoken() if own <= cue.start * SAMPLE_RATE < work * SAMPLE_RATE] == [
        cue.text for cue in COUNT_IN.spoken()
    ]


def test_all_cues_may_be_cautions() -> None:
    everything = first_cues(MOMENTS, len(LINE.cues))
    assert everything == Lead(MOMENTS, round(LINE.duration * SAMPLE_RATE), "playing")
