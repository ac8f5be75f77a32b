"""What holds for any script and any voice."""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Any

import pytest
import yaml
from hypothesis import given, reject
from hypothesis import strategies as st

from asked import Called, Counted, Drawn, Item, Rest, TaughtMove, Timed, asked
from cornercue.errors import InputFault
from cornercue.script.read import parse_drill
from cornercue.technique.table import TECHNIQUES
from cornercue.timing.expand import counted_in, expand, outline, unfold
from cornercue.timing.pace import REACTION, to_guard
from cornercue.timing.parts import finest
from cornercue.timing.person import Trainee
from cornercue.timing.phrasebook import phrasebook
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Cue, Part, Span, Timeline
from strategies import Script, beats, scripts, speech, voice_seeds

CLOSE = 1e-6
GAP = 0.15
"""Least silence between two phrases (s); own choice."""

_DEGREES = {phrasebook().number(n): n for n in range(1, 181)}
_TECHNIQUES = {technique.name: technique for technique in TECHNIQUES}


@dataclass(frozen=True)
class Layout:
    """A script with the timeline made of it."""

    script: Script
    request: Request
    timeline: Timeline
    again: Callable[[], Timeline]

    @cached_property
    def person(self) -> Trainee:
        """Whom it is laid out for."""
        return Trainee(self.script.read().whom)

    @property
    def items(self) -> list[tuple[Span, Item]]:
        """Each span with what was asked for there."""
        return list(zip(self.timeline.spans, asked(self.script, self.request), strict=True))

    def within(self, span: Span, *kinds: str) -> list[Cue]:
        return [cue for cue in self.timeline.cues if span.start <= cue.start < span.end and cue.kind in kinds]

    def advised(self, line: int, words: str) -> bool:
        return any(advice.line == line and words in advice.told for advice in self.timeline.advice)


requests = st.builds(
    Request,
    seed=st.integers(0, 9),
    level=st.none() | st.integers(1, 4),
    stance=st.sampled_from([None, None, "orthodox", "southpaw"]),
    pace=st.sampled_from([None, None, "learning", "sharp", 0.7]),
)


@st.composite
def laid_out(draw: st.DrawFn) -> Layout:
    script, request, seed = draw(scripts()), draw(requests), draw(voice_seeds)
    drill, voice, beat = script.read(), speech(seed), beats(seed)
    try:
        timeline = expand(drill, request, voice, beat)
        return Layout(script, request, timeline, lambda: expand(script.read(), request, voice, beat))
    except InputFault as fault:
        assert "passes six hours" in str(fault)  # noqa: PT017
        reject()


@given(laid_out())
def test_speech_never_overlaps_speech_and_starts_never_decrease(laid: Layout) -> None:
    assert all(one.start <= two.start for one, two in pairwise(laid.timeline.cues))
    for one, two in pairwise(laid.timeline.spoken()):
        assert two.start - one.end >= GAP - CLOSE, (one, two)


@given(laid_out())
def test_start_and_end_tones_cover_no_words(laid: Layout) -> None:
    for tone in laid.timeline.cues:
        if tone.tone in ("start", "end"):
            for cue in laid.timeline.spoken():
                assert cue.end <= tone.start + CLOSE or cue.start >= tone.end - CLOSE


@given(laid_out())
def test_the_end_of_the_last_cue_is_the_duration(laid: Layout) -> None:
    timeline = laid.timeline
    assert timeline.duration == timeline.cues[-1].end == max(cue.end for cue in timeline.cues)
    assert all(cue.start >= 0 and cue.end > cue.start for cue in timeline.cues)
    assert all(span.end <= timeline.duration for span in timeline.spans)
    assert all(one.end <= two.start + CLOSE for one, two in pairwise(timeline.spans))


@given(laid_out())
def test_every_work_and_every_rest_asked_for_is_there(laid: Layout) -> None:
    for span, item in laid.items:
        assert span.kind == ("rest" if isinstance(item, Rest) else "work")
        if isinstance(item, Rest) and not laid.advised(span.line, "too short for its words"):
            assert span.end - span.start == pytest.approx(item.seconds)
        elif isinstance(item, Rest):
            assert span.end - span.start >= item.seconds - CLOSE
        elif isinstance(item, Timed) or (isinstance(item, Drawn) and item.seconds):
            assert span.end - span.start == pytest.approx(item.seconds)


@given(laid_out())
def test_every_repetition_asked_for_is_called_or_counted(laid: Layout) -> None:
    for span, item in laid.items:
        calls, counts = laid.within(span, "call"), laid.within(span, "count")
        if isinstance(item, Called):
            wanted = [(angle, rep) for angle in item.angles for rep in range(1, item.reps + 1)]
            assert [(cue.angle, cue.rep) for cue in calls] == wanted
            assert {cue.stance for cue in calls} == {item.stance}
            assert {len(cue.moves) for cue in calls} == {item.techniques}
        elif isinstance(item, TaughtMove):
            assert len(calls) == item.calls
        elif isinstance(item, Counted):
            assert [(cue.set, cue.rep) for cue in counts] == [(item.set, n) for n in range(1, item.reps + 1)]
            assert [cue.text for cue in counts] == [phrasebook().number(n) for n in range(1, item.reps + 1)]
        elif isinstance(item, Drawn):
            assert [cue.rep for cue in calls] == list(range(1, (item.reps or len(calls)) + 1))
            assert all(cue.text in item.names for cue in calls if not cue.moves)  # free words: as they are written
        elif isinstance(item, Timed):
            assert len(calls) <= 1
        if span.kind == "work" and not isinstance(item, Counted):
            assert not counts


def heard(cue: Cue) -> float:
    """When a cue is heard to fall: its beat where it has one."""
    return cue.start if cue.beat is None else cue.beat


@given(laid_out())
def test_counts_and_one_word_calls_have_a_beat_within_their_sound(laid: Layout) -> None:
    for cue in laid.timeline.cues:
        if cue.kind == "count":
            assert cue.beat is not None
        if cue.beat is not None:
            assert cue.start - CLOSE <= cue.beat < cue.end
    for span, item in laid.items:
        if isinstance(item, Called):
            assert all((cue.beat is not None) == cue.text.isalpha() for cue in laid.within(span, "call"))


@given(laid_out())
def test_repetitions_are_evenly_spaced_as_asked_unless_told_otherwise(laid: Layout) -> None:
    for span, item in laid.items:
        cues = laid.within(span, "call", "count")
        if isinstance(item, Called | Counted):
            pairs = [(one, two) for one, two in pairwise(cues) if one.angle == two.angle]
            intervals = [heard(two) - heard(one) for one, two in pairs]
            least = min(intervals, default=0.0)
            asked_for = [item.every[(one.rep or 1) - 1] if item.every else least for one, _ in pairs]
            if laid.advised(span.line, "is too short for"):
                asked_for = [max(seconds, least) for seconds in asked_for]
            later = [more for one, two in zip(intervals, asked_for, strict=True) if (more := one - two) > CLOSE]
            assert all(one >= two - CLOSE for one, two in zip(intervals, asked_for, strict=True))
            assert len(later) <= isinstance(item, Called)  # one call may wait for the warning
            assert all(more <= 1 + CLOSE for more in later)
            assert all(1.0 - CLOSE <= cue.rate / laid.person.speech <= 1.2 + 0.01 for cue in cues)


@given(laid_out())
def test_every_rest_ends_with_a_count_in(laid: Layout) -> None:
    for span in laid.timeline.spans:
        if span.kind == "rest":
            counts = laid.within(span, "count")
            assert [cue.text for cue in counts] == ["three", "two", "one"][-len(counts) :]
            assert counts
            assert counts[-1] == laid.within(span, "say", "call", "count", "rest")[-1]
            falls = [*(heard(cue) for cue in counts), span.end]
            assert all(two - one >= 1.0 - CLOSE for one, two in pairwise(falls))
            between = [two - one for one, two in pairwise(falls)]
            assert between == pytest.approx([between[0]] * len(between))


@given(laid_out())
def test_work_is_counted_in_and_starts_with_a_tone(laid: Layout) -> None:
    for span in laid.timeline.spans:
        if span.kind == "work":
            assert [cue.tone for cue in laid.timeline.cues if cue.start == span.start and cue.tone] == ["start"]
            before = [cue for cue in laid.timeline.spoken() if cue.start < span.start]
            assert (before[-1].kind, before[-1].text) == ("count", "one")


@given(laid_out())
def test_work_ends_with_a_warning_and_a_tone(laid: Layout) -> None:
    tones = [cue for cue in laid.timeline.cues if cue.kind == "tone"]
    for span in laid.timeline.spans:
        if span.kind == "work":
            assert [cue.tone for cue in tones if abs(cue.start - span.end) < CLOSE] == ["end"]
            warnings = [cue for cue in tones if cue.tone == "warning" and span.start <= cue.start <= span.end]
            assert len(warnings) <= 1
            assert not warnings or span.end - span.start >= 20
            for warning in warnings:
                assert 2 - CLOSE <= span.end - warning.start <= 18 + CLOSE
                if abs(span.end - warning.start - 10) > 3 + CLOSE:
                    assert longest_silence(laid, span, span.end - 13, span.end - 7) < 0.32 + 2 * 0.05
            if not warnings and span.end - span.start >= 20:
                assert longest_silence(laid, span, span.end - 18, span.end - 2) < 0.32 + 2 * 0.05


def longest_silence(laid: Layout, span: Span, since: float, until: float) -> float:
    """Seconds in which nothing is said and nobody is busy, that begin within two moments of work."""
    longest = 0.0
    for cue in [*laid.within(span, "say", "call", "count"), None]:
        if since <= until:
            longest = max(longest, (min(cue.start, span.end) if cue else span.end) - since)
        if cue:
            since = max(since, cue.end, cue.done or 0.0)
    return longest


@given(laid_out())
def test_the_warning_sounds_in_no_exchange_and_over_no_count(laid: Layout) -> None:
    for tone in laid.timeline.cues:
        if tone.tone == "warning":
            for cue in laid.timeline.spoken():
                assert max(cue.end, cue.done or 0.0) <= tone.start + CLOSE or cue.start >= tone.end - CLOSE


@given(laid_out())
def test_no_two_sounds_overlap_so_that_their_sum_cannot_clip(laid: Layout) -> None:
    for one, two in pairwise(laid.timeline.cues):
        assert one.end <= two.start + CLOSE


@given(laid_out())
def test_the_next_call_never_comes_before_the_student_is_back_on_guard(laid: Layout) -> None:
    for span, item in laid.items:
        if isinstance(item, Called | TaughtMove):
            pace: Any = item.pace if isinstance(item, Called) else "learning"
            calls = laid.within(span, "call")
            for call, following in pairwise([*(calls), None]):
                assert call is not None
                slower = laid.person.movement
                needed = call.end + REACTION * laid.person.reaction + seconds_to_do(call, pace) * slower
                assert (following.start if following else span.end) >= needed + to_guard(pace) * slower - CLOSE
                if isinstance(item, Called):
                    said = [cue for cue in laid.within(span, "say") if cue.start > call.start]
                    assert not said or said[0].start >= needed - CLOSE


@given(laid_out())
def test_the_next_random_call_never_comes_before_the_one_before_is_done(laid: Layout) -> None:
    for span, item in laid.items:
        if isinstance(item, Drawn):
            choose = (REACTION + 0.155 * math.log2(len(item.names))) * laid.person.reaction
            for call, following in pairwise([*laid.within(span, "call"), None]):
                assert call is not None
                assert call.done is not None
                assert call.end + choose < call.done < (following.start if following else span.end)


def seconds_to_do(call: Cue, pace: Any) -> float:
    if not isinstance(pace, str):
        return float(pace) * len(call.moves)
    return float(sum(getattr(_TECHNIQUES[move.technique].seconds, pace) for move in call.moves))


@given(laid_out())
def test_the_turns_lead_where_the_calls_say_and_back_to_the_front(laid: Layout) -> None:
    """Follows the spoken turns alone, as a student does."""
    facing = 0
    for cue, following in pairwise([*laid.timeline.cues, None]):
        assert cue is not None
        if cue.kind == "say" and cue.angle is not None and cue.rep is None:
            facing = turned(facing, cue.text)
        if cue.angle is not None:
            assert (cue.angle - facing) % 360 == 0, cue
        if cue.tone or following is None or following.part != cue.part:
            assert facing == 0 or cue.tone == "warning", "the student does not face the front"


def turned(facing: int, text: str) -> int:
    if text == "Face the front.":
        return 0
    if text == "Turn around.":
        return facing + 180
    side, degrees = text.removeprefix("Turn ").removesuffix(".").split(", ")
    return facing + {"left": 1, "right": -1}[side] * _DEGREES[degrees]


@given(laid_out())
def test_every_cue_points_to_its_step_of_the_script(laid: Layout) -> None:
    tops = [number for number, top in enumerate(laid.timeline.parts) for _ in finest((top,))]
    steps = {step.start_mark.line + 1: set(lines_of(step)) for step in step_nodes(laid.script)}
    level = phrasebook().say("level", level=phrasebook().number(laid.timeline.level))
    opening_words = phrasebook().say("opening", title=laid.timeline.drill, level=level)
    said_first = [cue.text for cue in laid.timeline.cues].index(opening_words)
    opening = said_first + 1 + bool(laid.script.data.get("gear"))
    *cues, finish = laid.timeline.cues
    assert finish.text == phrasebook().say("finish")
    assert finish.line in steps[max(steps)]
    for number, cue in enumerate(cues):
        step = steps[laid.timeline.parts[tops[cue.part]].line]
        assert cue.line == 1 if number < opening else cue.line in step or after_a_rest(laid, cue), cue
    for span in laid.timeline.spans:
        assert span.line in steps[laid.timeline.parts[tops[span.part]].line] or span.kind == "rest"


def after_a_rest(laid: Layout, cue: Cue) -> bool:
    """Whether a cue lies in a rest, which belongs to the part before, with all that is said in it."""
    rests = [span for span in laid.timeline.spans if span.kind == "rest"]
    return cue.ahead or any(rest.start <= cue.start <= rest.end for rest in rests)


@given(laid_out())
def test_the_parts_cover_the_whole_time_in_order_without_gaps_or_overlaps(laid: Layout) -> None:
    def covered(parts: tuple[Part, ...], start: float, end: float) -> None:
        assert [parts[0].start, parts[-1].end] == [start, end]
        assert all(one.end == two.start for one, two in pairwise(parts))
        for part in parts:
            assert part.start < part.end
            if part.parts:
                covered(part.parts, part.start, part.end)

    covered(laid.timeline.parts, 0.0, laid.timeline.duration)


@given(laid_out())
def test_every_cue_and_every_span_lies_in_its_part(laid: Layout) -> None:
    parts = [leaf.part for leaf in finest(laid.timeline.parts)]
    every: list[Cue | Span] = [*laid.timeline.cues, *laid.timeline.spans]
    for one in every:
        part = parts[one.part]
        assert part.start <= one.start + CLOSE
        assert one.end <= part.end + CLOSE or one.end == laid.timeline.duration, (one, part)
    assert {cue.part for cue in laid.timeline.cues} == set(range(len(parts)))


@given(laid_out())
def test_a_rest_belongs_to_the_part_before_it(laid: Layout) -> None:
    """Also with all that is said in it: the next part starts no sooner than the rest is over."""
    parts = [leaf.part for leaf in finest(laid.timeline.parts)]
    for before, span in pairwise(laid.timeline.spans):
        said_between = [
            cue for cue in laid.timeline.cues if before.end < cue.start < span.start and cue.text and not cue.ahead
        ]
        if span.kind == "rest" and not said_between:
            assert span.part == before.part
        if span.kind == "work" and before.kind == "rest":
            assert parts[span.part].start >= before.end - CLOSE
            assert span.part > before.part


@given(laid_out())
def test_each_round_and_each_set_is_a_part_that_knows_which_of_how_many_it_is(laid: Layout) -> None:
    def look(parts: tuple[Part, ...]) -> None:
        for part in parts:
            inner = [(one.number, one.count) for one in part.parts if one.kind in ("round", "set", "stance")]
            told = len(part.parts) - len(inner)  # what a combination is comes before its sets, in a part of its own
            if inner:
                assert inner == [(n, len(inner)) for n in range(1, len(inner) + 1)]
                assert told <= (part.parts[0].kind == "combination")
            look(part.parts)

    look(laid.timeline.parts)
    sets = [(cue.part, cue.set) for cue in laid.timeline.cues if cue.kind == "count" and cue.set]
    parts = [leaf.part for leaf in finest(laid.timeline.parts)]
    for part, number in sets:
        assert (parts[part].number if parts[part].kind == "set" else 1) == number


@given(scripts(), requests, voice_seeds)
def test_what_the_parts_will_be_is_known_before_any_voice(script: Script, request: Request, seed: int) -> None:
    try:
        line = expand(script.read(), request, speech(seed), beats(seed))
    except InputFault:
        reject()
    before = finest(outline(script.read(), request))
    assert [leaf.told for leaf in before] == [leaf.told for leaf in finest(line.parts)]


def step_nodes(script: Script) -> list[yaml.Node]:
    """The top-level steps as PyYAML sees them."""
    root = yaml.compose(script.text())
    assert isinstance(root, yaml.MappingNode)
    return next(list(value.value) for key, value in root.value if key.value == "steps")


def lines_of(step: yaml.Node) -> Iterator[int]:
    """The line of a step and of the steps inside it."""
    yield step.start_mark.line + 1
    for key, value in step.value:
        if key.value == "steps":
            for inner in value.value:
                yield from lines_of(inner)


@given(laid_out())
def test_the_same_inputs_give_the_same_timeline(laid: Layout) -> None:
    assert laid.again() == laid.timeline
    data = laid.timeline.as_data()
    assert json.loads(json.dumps(data)) == data
    assert len(data["cues"]) == len(laid.timeline.cues)


@given(scripts(), requests, voice_seeds)
def test_the_beginnings_known_sooner_are_beginnings_of_the_whole(script: Script, request: Request, seed: int) -> None:
    try:
        *beginnings, whole = unfold(script.read(), request, speech(seed), beats(seed))
    except InputFault:
        reject()
    assert whole == expand(script.read(), request, speech(seed), beats(seed))
    known = [beginning.duration for beginning in beginnings]
    assert known == sorted(known)
    for beginning in beginnings:
        settled = [cue for cue in whole.cues if cue.start < beginning.duration - CLOSE]
        assert list(beginning.cues[: len(settled)]) == settled
        assert set(beginning.spans) <= set(whole.spans)
        known_parts, parts = finest(beginning.parts), finest(whole.parts)
        assert [one.part.start for one in known_parts] == [one.part.start for one in parts[: len(known_parts)]]
        assert [one.told for one in known_parts] == [one.told for one in parts[: len(known_parts)]]


def test_the_first_words_are_known_before_later_ones_are_asked_for() -> None:
    script = "drill: Late\nsteps:\n" + "".join(f"- say: sentence {n}\n" for n in range(20))
    asked_for: list[str] = []

    def seconds(text: str, rate: float) -> float:
        asked_for.append(text)
        return 1.0

    first = next(unfold(parse_drill(script, "late.yaml"), Request(seed=1), seconds))
    assert first.cues
    assert "sentence 2" not in asked_for


@given(voice_seeds)
def test_a_count_in_that_stands_alone_is_even_and_ends_a_beat_after_its_last_count(seed: int) -> None:
    drill = parse_drill("drill: Any\nsteps:\n- say: hello\n", "any.yaml")
    line = counted_in(drill, Request(seed=1), speech(seed), beats(seed))
    three, two, one = (cue.beat for cue in line.cues if cue.beat is not None)
    assert [cue.text for cue in line.cues] == ["three", "two", "one"]
    assert two - three == pytest.approx(one - two)
    assert line.duration - one == pytest.approx(one - two)
    assert line.cues[0].start == pytest.approx(0)
