"""Partner work: the student is always back on guard, and the feeder is told in time, on the right side, and safely."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Callable, Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornercue.feed.table import FEEDS, LEFT_OUT
from cornercue.script.faults import ScriptFaults
from cornercue.script.read import parse_drill, read_drill
from cornercue.technique.sides import STANCES
from cornercue.technique.table import TECHNIQUES
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.faults import TimingFault
from cornercue.timing.pace import choice_reaction
from cornercue.timing.phrasebook import phrasebook
from cornercue.timing.safety import written_cautions
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Cue, Timeline
from cornercue.totals.tally import sentences, tally
from strategies import PACES, as_yaml, voices

SIDED = ("parry", "cover", "weave", "slip", "high block", "low block")
DEFENCES = (*SIDED, "duck")
ANSWERS = (
    ["jab", "cross"],
    ["cross", "lead hook", "cross"],
    ["rear body hook"],
    ["lead side kick", "slip left", "jab"],
)


def lay(steps: str, head: str = "", seed: int = 0, **asked: Any) -> Timeline:
    drill = parse_drill(f"drill: Test\n{head}steps:\n{steps}")
    return expand(drill, Request(seed, **asked), estimated_seconds)


def calls(line: Timeline) -> list[Cue]:
    return [cue for cue in line.cues if cue.kind == "call"]


def defences(line: Timeline) -> list[str]:
    """The defence and side of each call, such as `parry left`."""
    found = []
    for cue in calls(line):
        first = cue.moves[0]
        if first.technique in DEFENCES:
            found.append(f"{first.technique} {first.side}" if first.side else first.technique)
    return found


# Any partner step that can be written


@st.composite
def partner_drills(draw: st.DrawFn) -> dict[str, Any]:
    junior = draw(st.booleans())
    known = [name for name in DEFENCES if not (junior and name in LEFT_OUT)]
    names = draw(st.lists(st.sampled_from(known), min_size=1, max_size=4, unique=True))
    weights = draw(st.none() | st.lists(st.sampled_from([0.5, 1, 2, 10]), min_size=len(names), max_size=len(names)))
    step: dict[str, Any] = {"partner": dict(zip(names, weights, strict=True)) if weights else names}
    step |= draw(st.sampled_from([{"reps": 6}, {"reps": "2 per level"}, {"for": "30 s"}, {"for": "1 min"}]))
    choices: dict[str, list[Any]] = {
        "sides": ["left", "right", "both"],
        "order": ["random"] if weights and len(set(weights)) > 1 else ["alternate", "even", "random"],
        "listener": ["student", "feeder"],
        "pace": list(PACES),
        "between": ["circle left", "hands up"],
        "gap": ["1 s, 60 s", "30 s, 31 s"],
        "teach": [False, True],
    }
    for key, values in choices.items():
        value = draw(st.none() | st.sampled_from(values))
        if value is not None:
            step[key] = value
    if step.get("order") == "even":
        step.pop("sides", None)  # It calls both.
    answers = draw(st.lists(st.sampled_from(ANSWERS), max_size=3, unique_by=tuple))
    if answers:
        step["answers"] = answers
    head = {
        "stance": st.sampled_from(["orthodox", "southpaw", "both"]),
        "level": st.integers(1, 10),
        "junior": st.just(junior),
        "calls": st.sampled_from(["names", "numbers"]),
    }
    return {"drill": "Test", **{key: draw(values) for key, values in head.items()}, "steps": [step]}


requests = st.builds(
    Request,
    seed=st.integers(0, 99),
    level=st.none() | st.integers(1, 10),
    stance=st.none() | st.sampled_from(STANCES),
    pace=st.none() | st.sampled_from(["learning", "steady", "sharp", 0.2, 2.0]),
)

Voice = Callable[[str, float], float]


GUARD = {"learning": 1.0, "steady": 0.4, "sharp": 0.25}
TABLE = {technique.name: technique for technique in TECHNIQUES}


class Floor:
    """How long the student and the feeder need, reckoned here from the table of techniques and the figures below."""

    def __init__(self, data: dict[str, Any], request: Request, voice: Voice) -> None:
        self.step, self.voice = data["steps"][0], voice
        written = self.step.get("pace", "steady")
        self.pace = request.pace or (2.0 if written == "2 s" else written)
        one_side = self.step.get("sides", "both") != "both"
        kinds = sum(1 if one_side or name == "duck" else 2 for name in self.step["partner"])
        answers = len(self.step.get("answers", []))
        self.feeder = self.step.get("listener") == "feeder"
        self.reaction = self.hick(kinds if self.feeder else kinds * max(1, answers))

    @staticmethod
    def hick(kinds: int) -> float:
        # Hick 1952 (secondary copy), fitted to Merkel 1885 (from memory); 0.25 s for a call known beforehand.
        return max(0.25, 0.173 + 0.138 * math.log2(kinds))

    def moves(self, cue: Cue) -> float:
        if not isinstance(self.pace, str):
            return self.pace * len(cue.moves)
        return sum(float(getattr(TABLE[move.technique].seconds, self.pace)) for move in cue.moves)

    def guard(self) -> float:
        if isinstance(self.pace, str):
            return GUARD[self.pace]
        return min(1.0, max(0.25, self.pace))

    def of(self, exchange: list[Cue]) -> float:
        """Seconds from the start of the first cue until the student is back on guard."""
        call, *answer = exchange
        assert call.due is not None
        fed = max(call.due - call.start, self.voice(call.text, 1.0) + self.reaction)
        later = sum(self.voice(cue.text, 1.0) + 0.25 + self.moves(cue) for cue in answer)
        return fed + self.moves(call) + later + self.guard()


def exchanges(line: Timeline, span: Any) -> list[list[Cue]]:
    """The calls of one stretch of work; a feeder's prompt together with the answer called after it."""
    found: list[list[Cue]] = []
    for cue in calls(line):
        if cue.rep and span.start <= cue.start < span.end:
            if found and found[-1][0].rep == cue.rep:
                found[-1].append(cue)
            else:
                found.append([cue])
    return found


def work(line: Timeline) -> Iterator[Any]:
    return (span for span in line.spans if span.kind == "work")


@given(partner_drills(), requests, voices)
def test_no_call_comes_before_the_student_can_be_back_on_guard(
    data: dict[str, Any], request: Request, voice: Voice
) -> None:
    line = expand(parse_drill(as_yaml(data)), request, voice)
    floor = Floor(data, request, voice)
    for span in work(line):
        found = exchanges(line, span)
        starts = [exchange[0].start for exchange in found]
        for exchange, following in zip(found, [*starts[1:], span.end], strict=False):
            assert following - exchange[0].start >= floor.of(exchange) - 1e-6, exchange


@given(partner_drills(), requests, voices)
def test_every_prompt_is_mirrored_and_comes_in_time_for_the_feeder(
    data: dict[str, Any], request: Request, voice: Voice
) -> None:
    data["steps"][0]["listener"] = "feeder"
    line = expand(parse_drill(as_yaml(data)), request, voice)
    floor = Floor(data, request, voice)
    for cue, following in pairwise([*line.spoken(), None]):
        if cue is None or cue.listener != "feeder":
            continue
        (defence,) = cue.moves
        named = re.findall(r"\b(left|right)\b", cue.text)
        opposite = {"left": ["right"], "right": ["left"], None: []}[defence.side]
        assert named == opposite, cue
        assert cue.due is not None
        assert cue.due - cue.start >= voice(cue.text, 1.0) + floor.reaction
        if following is not None:
            assert following.start >= cue.due


@given(partner_drills(), requests, voices)
def test_the_student_hears_defence_and_side_and_does_them(data: dict[str, Any], request: Request, voice: Voice) -> None:
    data["steps"][0]["listener"] = "student"
    for cue in calls(expand(parse_drill(as_yaml(data)), request, voice)):
        first = cue.moves[0]
        named = f"{first.technique} {first.side}" if first.side else first.technique
        assert cue.listener == "student"
        assert cue.text.split(", ")[0] == named
        assert (first.side is None) == (first.technique == "duck")


@given(partner_drills(), requests, voices)
def test_speech_never_overlaps_speech(data: dict[str, Any], request: Request, voice: Voice) -> None:
    line = expand(parse_drill(as_yaml(data)), request, voice)
    for one, other in pairwise(line.spoken()):
        assert one.end <= other.start + 1e-6, (one, other)


def test_reaction_grows_with_the_kinds_of_call_as_was_measured() -> None:
    # Merkel 1885, after Woodworth 1938 (from memory): milliseconds for 2 to 10 kinds, of practised observers.
    merkel = [316, 364, 434, 487, 532, 570, 603, 619, 622]
    grown = [(choice_reaction(kinds) - choice_reaction(2)) * 1000 for kinds in range(2, 11)]
    assert grown == pytest.approx([milliseconds - merkel[0] for milliseconds in merkel], abs=70)
    # Hick 1952 (abstract): about five bits a second, so 200 ms a bit; the textbook slope lies between him and Merkel.
    a_bit = choice_reaction(8) - choice_reaction(4)
    assert (merkel[6] - merkel[2]) / 1000 / math.log2(8 / 4) - 0.07 <= a_bit <= 0.2
    # 186 ms to a known tone, 283 ms to one of two (Nihon Jibiinkoka Gakkai Kaiho 93, 1990, abstract): words are slower.
    assert choice_reaction(1) > 0.186
    assert choice_reaction(2) > 0.283


# What a step asks for


def test_in_turn_means_left_and_right_of_each_in_the_order_written() -> None:
    line = lay("- partner: parry, weave\n  reps: 6\n  order: alternate\n")
    assert defences(line) == ["parry left", "parry right", "weave left", "weave right", "parry left", "parry right"]


def test_a_number_of_calls_can_grow_with_the_level() -> None:
    assert len(calls(lay("- partner: parry\n  reps: 7\n"))) == 7
    assert len(calls(lay("- partner: parry\n  reps: 2 per level\n", level=3))) == 6


def test_a_time_is_work_for_so_long_and_filled() -> None:
    line = lay("- partner: parry, cover\n  for: 90 s\n")
    assert line.total("work") == pytest.approx(90)
    (span,) = work(line)
    last = calls(line)[-1]
    assert span.end - 12 < last.start < last.end < span.end


def test_a_time_too_short_for_one_call_is_told() -> None:
    line = lay("- partner: parry\n  for: 1 s\n")
    assert calls(line) == []
    (advice,) = line.advice
    missing = float(re.search(r"at least ([\d.]+) s longer", advice.told)[1])  # type: ignore[index]
    assert len(calls(lay(f"- partner: parry\n  for: {1 + missing:.1f} s\n"))) == 1


def test_weights_make_one_defence_come_more_often() -> None:
    counts = Counter(one.split()[0] for one in defences(lay("- partner: {parry: 2, weave: 1}\n  reps: 120\n")))
    assert counts["parry"] == pytest.approx(80, rel=0.15)
    assert counts["weave"] == pytest.approx(40, rel=0.25)


@pytest.mark.parametrize("listener", ["student", "feeder"])
@pytest.mark.parametrize("side", ["left", "right"])
def test_one_side_is_mirrored_with_the_stance(side: str, listener: str) -> None:
    steps = f"- partner: parry, cover, duck\n  reps: 20\n  sides: {side}\n  listener: {listener}\n"
    line = lay(steps, head="stance: both\n")
    other = {"left": "right", "right": "left"}[side]
    for stance, expected in zip(STANCES, (side, other), strict=True):
        found = {cue.moves[0].side for cue in calls(line) if cue.stance == stance}
        assert found == {expected, None}
    southpaw = lay(steps, head="stance: southpaw\n")
    assert {cue.moves[0].side for cue in calls(southpaw)} == {side, None}


def test_the_feeder_alone_hears_the_prompts_and_the_room_the_answers() -> None:
    line = lay("- partner: parry, weave\n  reps: 8\n  listener: feeder\n  answers: [[jab, cross], [lead hook]]\n")
    kinds = [(cue.listener, cue.moves[0].technique in DEFENCES) for cue in calls(line)]
    assert kinds == [("feeder", True), ("student", False)] * 8
    assert all(cue.text.startswith(("Slow poke", "Level swing")) for cue in calls(line)[::2])
    assert {cue.text for cue in calls(line)[1::2]} == {"jab, cross", "lead hook"}
    assert all(cue.listener is None for cue in line.cues if cue.kind != "call")


def test_several_answers_are_called_fairly_with_the_defence_and_one_is_told_beforehand() -> None:
    several = calls(lay("- partner: parry\n  reps: 40\n  answers: [[jab, cross], [lead hook, cross]]\n"))
    counts = Counter(cue.text.split(", ", 1)[1] for cue in several)
    assert set(counts) == {"jab, cross", "lead hook, cross"}
    assert min(counts.values()) >= 15
    one = lay("- partner: parry\n  reps: 4\n  answers: [[jab, cross]]\n")
    assert {cue.text for cue in one.cues if cue.rep and cue.kind == "say"} == {"Feeder, step in."}
    assert {cue.text for cue in calls(one)} == {"parry left", "parry right"}
    assert {tuple(move.technique for move in cue.moves) for cue in calls(one)} == {("parry", "jab", "cross")}
    assert "Student, after each one throw into the air: jab, cross." in [cue.text for cue in line_before_work(one)]


def line_before_work(line: Timeline) -> list[Cue]:
    return [cue for cue in line.cues if cue.start < line.spans[0].start]


def test_what_is_said_between_comes_after_each_exchange_and_leaves_time_to_do_it() -> None:
    line = lay("- partner: parry\n  reps: 5\n  between: circle left\n")
    kinds = [cue.text for cue in line.cues if cue.rep]
    assert [text == "circle left" for text in kinds] == [False, True] * 5
    for said, call in pairwise([cue for cue in line.cues if cue.rep]):
        if said.text == "circle left":
            assert call.start >= said.end + 0.8 - 1e-6  # The time of the engine to do what is said: no source.


def test_gaps_stay_between_what_the_script_asks_for() -> None:
    starts = [cue.start for cue in calls(lay("- partner: parry\n  reps: 60\n  pace: sharp\n  gap: 4 s, 6 s\n"))]
    gaps = [after - before for before, after in pairwise(starts)]
    assert 4 - 1e-6 <= min(gaps) < 4.3
    assert 5.5 < max(gaps) <= 6 + 1e-6


# Safety

WRAPPED = {
    "alone": "- partner: parry\n  reps: 2\n",
    "after other work": "- exercise: run\n  for: 20 s\n- partner: parry\n  reps: 2\n",
    "in a repeat in a repeat": (
        "- repeat: 2\n  steps:\n  - repeat: 1\n    steps:\n    - partner: parry\n      reps: 2\n"
    ),
    "for the feeder": "- partner: weave\n  reps: 2\n  listener: feeder\n",
    "included": "- say: Hello.\n- include: part.yaml\n",
    "included in a repeat": "- repeat: 2\n  steps:\n  - include: part.yaml\n",
}


def lay_file(folder: Path, steps: str, head: str = "", part_head: str = "") -> Timeline:
    part = "- partner: [parry, weave, duck]\n  reps: 8\n  listener: feeder\n"
    (folder / "part.yaml").write_text(f"drill: Part\n{part_head}steps:\n{part}")
    (folder / "main.yaml").write_text(f"drill: Main\n{head}steps:\n{steps}")
    return expand(read_drill(folder / "main.yaml"), Request(0), estimated_seconds)


@pytest.mark.parametrize("junior", ["yes", "no"])
@pytest.mark.parametrize("safety", ["full", "short"])
@pytest.mark.parametrize("where", WRAPPED)
def test_the_cautions_are_the_first_words_wherever_a_partner_feeds(
    where: str, safety: str, junior: str, tmp_path: Path
) -> None:
    head = f"safety: {safety}\njunior: {junior}\ngear: [soft stick]\n"
    cues = lay_file(tmp_path, WRAPPED[where], head, f"junior: {junior}\n").cues
    texts = [cue.text for cue in cues]
    expected = phrasebook().safety["junior" if junior == "yes" else "adult"][safety]
    assert texts[: len(expected)] == expected
    said = " ".join(expected).lower()
    wanted = ["soft foam", "slowly", "lightly", "knock to the head", "doctor", "stop"]
    wanted += ["an adult", "palm"] if junior == "yes" else ["short of the head"]
    assert all(word in said for word in wanted), wanted


def test_the_cautions_cannot_be_left_out() -> None:
    for value in ("none", "no", "off", "''", "[]"):
        with pytest.raises(ScriptFaults):
            lay("- partner: parry\n  reps: 2\n", head=f"safety: {value}\n")
    for whom in ("junior", "adult"):
        assert min(len(phrasebook().safety[whom][length]) for length in ("full", "short", "written")) >= 3


def test_a_drill_without_a_partner_has_no_cautions() -> None:
    assert lay("- exercise: run\n  for: 20 s\n").cues[0].text.startswith("Test.")


HEAD = re.compile(r"\b(head|face|brow|chin|jaw|nose|ear|ears|eye|eyes|temple|mouth|neck|throat)\b", re.IGNORECASE)


def words_for_the_feeder(line: Timeline) -> list[str]:
    explained = [cue.text for cue in line.cues if cue.text.startswith("Feeder, for a ")]
    return explained + [cue.text for cue in line.cues if cue.listener == "feeder"]


def test_no_feed_of_a_junior_drill_aims_at_the_head() -> None:
    names = ", ".join(FEEDS["junior"])
    line = lay(f"- partner: [{names}]\n  reps: 60\n  listener: feeder\n")
    words = words_for_the_feeder(line)
    assert len(words) == 60 + len(FEEDS["junior"])
    assert [text for text in words if HEAD.search(text)] == []
    swings = [text for text in words if text.startswith("Level swing") or "swing slowly and level" in text]
    assert swings
    assert all("elbow bent" in text for text in swings)
    by_defence = {cue.moves[0].technique: cue.text for cue in calls(line)}
    assert "palm" in by_defence["parry"]
    assert "elbow" in by_defence["cover"]


def test_the_check_on_aims_sees_the_level_swing_of_adults() -> None:
    line = lay("- partner: weave\n  reps: 4\n  listener: feeder\n", head="junior: no\n")
    assert len([text for text in words_for_the_feeder(line) if HEAD.search(text)]) == 5


ALLOWED = {
    "After a knock to the head, stop for the day and see a doctor.": "first aid is no aim",
    "With asthma or a heart condition, or after an injury, ask a doctor first. With one good eye, wear protection.": (
        "a caution for whoever has only one"
    ),
}
"""What may name the head or a part of it in a drill for juniors with partner work, whole, and why."""


@pytest.mark.parametrize("safety", ["full", "short"])
@pytest.mark.parametrize("name", FEEDS["junior"])
def test_nothing_that_is_said_or_printed_to_juniors_names_the_head(name: str, safety: str) -> None:
    step = f"- partner: {name}\n  reps: 4\n  teach: yes\n  answers: [[jab, cross], [jab]]\n"
    for listener in ("student", "feeder"):
        drill = parse_drill(f"drill: Test\nsafety: {safety}\nsteps:\n{step}  listener: {listener}\n")
        said = {cue.text for cue in expand(drill, Request(0), estimated_seconds).spoken()}
        written = set(written_cautions(drill, phrasebook()))
        assert {text for text in said | written if HEAD.search(text)} <= set(ALLOWED)


def test_a_high_block_is_not_fed_to_juniors_and_the_reason_is_said(tmp_path: Path) -> None:
    with pytest.raises(ScriptFaults, match=r":3:\d+: `high block` is not fed to children and teenagers: a chop from"):
        lay("- partner: [parry, high block]\n  reps: 2\n")
    assert calls(lay("- partner: high block\n  reps: 2\n", head="junior: no\n"))
    # A script of adults does not bring it into a session for juniors either.
    (tmp_path / "grown.yaml").write_text("drill: Grown\njunior: no\nsteps:\n- partner: high block\n  reps: 2\n")
    (tmp_path / "main.yaml").write_text("drill: Main\nsteps:\n- include: grown.yaml\n")
    with pytest.raises(TimingFault, match="`high block` is not fed to children"):
        expand(read_drill(tmp_path / "main.yaml"), Request(0), estimated_seconds)


# Teaching


def said(line: Timeline) -> list[str]:
    return [cue.text for cue in line.spoken()]


def test_before_a_defence_is_called_each_of_the_two_is_told_what_to_do_and_it_is_walked_through_slowly() -> None:
    line = lay("- partner: parry\n  reps: 4\n  teach: yes\n", head="pace: learning\n")
    texts = said(line)
    opening = texts[texts.index("Partner work: parry.") : texts.index("three")]
    assert any(text.startswith("Parry: ") and "palm" in text for text in opening)
    to_feeder = next(text for text in opening if text.startswith("Feeder, for a parry"))
    # What, where, how near, when, and back again.
    assert all(word in to_feeder for word in ("poke slowly", "palm", "no nearer", "on the word", "back at once"))
    slow, called = work(line)
    shown = [cue for cue in line.cues if slow.start <= cue.start < slow.end and cue.text]
    assert [cue.text.split(".")[0] for cue in shown] == [
        "Student, only look", "Again: slow poke from your left, to the palm", "Now defend it, just as slowly",
        "parry left", "parry right",
    ]  # fmt: skip
    # Twice as slowly as at learning pace: a feed takes two seconds, and the stick comes back before the next word.
    for before, after in pairwise(shown[:3]):
        assert after.start - before.end >= 3
    assert [cue.due - cue.end for cue in shown[3:] if cue.due] == pytest.approx([2.25, 2.25])
    assert called.start > slow.end


def test_what_was_taught_once_in_a_drill_is_not_taught_again() -> None:
    step = "- partner: parry\n  reps: 2\n  teach: yes\n"
    texts = said(lay(f"{step}- rest: 10 s\n{step}- rest: 10 s\n- partner: [parry, weave]\n  reps: 2\n  teach: yes\n"))
    assert sum(text.startswith("Student, only look") for text in texts) == 2
    assert sum(text.startswith("Parry: ") for text in texts) == 1


def test_a_brief_drill_leaves_the_teaching_out_but_never_the_cautions() -> None:
    step = "- partner: parry\n  reps: 2\n  teach: yes\n"
    texts = said(lay(step, head="brief: yes\n"))
    cautions = phrasebook().safety["junior"]["full"]
    assert texts[: len(cautions)] == cautions
    assert not any(text.startswith(("Parry: ", "Feeder, for", "Student, only look")) for text in texts)


def test_with_both_stances_the_walk_through_is_done_once() -> None:
    line = lay("- partner: parry\n  reps: 2\n  teach: yes\n", head="stance: both\n")
    assert sum(text.startswith("Student, only look") for text in said(line)) == 1


def test_no_word_of_the_trade_is_used_that_was_not_explained() -> None:
    texts = said(lay("- partner: parry\n  reps: 2\n  teach: yes\n  answers: [jab]\n"))
    words = " ".join(texts).lower()
    assert not re.search(r"\b(feed|feeds|feeding|guard|answer|answers)\b", words)
    assert words.index("one holds the stick: the feeder") < words.index("feeder, ")


def test_a_drill_of_adults_stays_junior_inside_a_junior_drill(tmp_path: Path) -> None:
    line = lay_file(tmp_path, "- include: part.yaml\n", "junior: yes\n", "junior: no\n")
    assert len(words_for_the_feeder(line)) == 8 + 3
    assert [text for text in words_for_the_feeder(line) if HEAD.search(text)] == []


def test_a_junior_drill_inside_one_of_adults_brings_the_cautions_for_juniors(tmp_path: Path) -> None:
    line = lay_file(tmp_path, "- include: part.yaml\n", "junior: no\n", "junior: yes\n")
    expected = phrasebook().safety["junior"]["full"]
    assert [cue.text for cue in line.cues[: len(expected)]] == expected
    assert [text for text in words_for_the_feeder(line) if HEAD.search(text)] == []


# Bad input


@pytest.mark.parametrize(
    ("step", "sentence"),
    [
        ("partner: [pary]\n  reps: 2", r":3:\d+: `pary` is not a defence; did you mean `parry`\?"),
        ("partner: [jab]\n  reps: 2", r":3:\d+: `jab` is not a defence; one of `parry`, `cover`"),
        ("partner: [parry left]\n  reps: 2", r"names a side; write `parry`, and `sides: left`"),
        ("partner: {parry: 0}\n  reps: 2", r"the weight of `parry` is `0`; weights are more than 0"),
        ("partner: {parry: -1}\n  reps: 2", r"the weight of `parry` is `-1`; weights are more than 0"),
        ("partner: {parry: often}\n  reps: 2", r"the weight of `parry` is not a number"),
        ("partner: {parry: .inf}\n  reps: 2", r"the weight of `parry` is not a number"),
        ("partner: [parry, catch]\n  reps: 2", r"`parry` stands there twice"),
        ("partner: []\n  reps: 2", r":3:"),
        ("partner: [parry]", r"either `for: 90 s` or `reps: 20`"),
        ("partner: [parry]\n  reps: 2\n  for: 30 s", r"either `for: 90 s` or `reps: 20`"),
        ("partner: [parry]\n  reps: 2\n  gap: 5 s, 2 s", r"has no room"),
        ("partner: [parry]\n  reps: 2\n  answers: [jab, corss]", r"did you mean `cross`"),
        ("partner: [parry]\n  reps: 2\n  listener: feedr", r"feeder"),
    ],
)
def test_a_fault_of_a_step_is_told_at_its_place(step: str, sentence: str) -> None:
    with pytest.raises(ScriptFaults) as found:
        lay(f"- {step}\n")
    assert re.search(sentence, str(found.value)), found.value


@pytest.mark.parametrize("listener", ["student", "feeder"])
@pytest.mark.parametrize(
    ("kind", "more"),
    [
        ("parry", ""),
        ("weave", "  pace: learning\n"),
        ("parry", "  answers: [[jab, cross, lead hook, cross, lead hook, cross, low kick]]\n"),
    ],
)
def test_a_gap_below_the_floor_is_a_fault_whose_figures_would_do(kind: str, more: str, listener: str) -> None:
    def step(gap: str) -> str:
        return f"- partner: {kind}\n  reps: 3\n  listener: {listener}\n{more}  gap: [{gap}]\n"

    with pytest.raises(TimingFault) as found:
        lay(step("0.2 s, 0.9 s"))
    assert found.value.line == 3
    text = str(found.value)
    (whole,) = re.findall(r"`gap: \[(.*?)\]`", text)
    (least,) = re.findall(r"([\d.]+) s as the least maximum", text)
    assert len(defences(lay(step(whole)))) == 3
    assert len(defences(lay(step(f"0.2 s, {least} s")))) == 3
    with pytest.raises(TimingFault):
        lay(step(f"0.2 s, {float(least) - 0.11:.2f} s"))


def test_an_answer_too_long_for_a_gap_that_was_long_enough_is_a_fault() -> None:
    step = "- partner: parry\n  reps: 3\n  gap: 2 s, 4 s\n"
    assert len(calls(lay(step))) == 3
    with pytest.raises(TimingFault, match=r"at most 4 s is too short for «parry .*jab, cross, lead hook"):
        lay(f"{step}  answers: [[jab], [jab, cross, lead hook, cross, jab, cross]]\n")


# Repeatable, and new each time


MIXED = "- partner: parry, cover, weave\n  reps: 30\n  answers: [[jab, cross], [lead hook]]\n"


def test_the_same_seed_repeats_the_session_and_another_does_not() -> None:
    assert lay(MIXED, seed=5) == lay(MIXED, seed=5)
    assert len({tuple(defences(lay(MIXED, seed=seed))) for seed in range(20)}) == 20


def test_every_step_round_and_stance_draws_its_own_calls(tmp_path: Path) -> None:
    indented = MIXED.replace("\n ", "\n   ")
    line = lay(f"{MIXED}{MIXED}- repeat: 2\n  steps:\n  {indented}", head="stance: both\n")
    found = defences(line)
    rounds = {tuple(found[at : at + 30]) for at in range(0, len(found), 30)}
    assert len(found) == 8 * 30
    assert len(rounds) == 8
    # Nor is the second stance the first one mirrored.
    swap = {"left": "right", "right": "left"}
    mirrored = [f"{name} {swap[side]}" for name, side in (one.split() for one in found[:30])]
    assert found[30:60] != mirrored


# Shadow rounds


def test_a_shadow_round_draws_its_combinations_fairly_and_leaves_room_to_do_them() -> None:
    line = lay("- shadow: [[jab, cross], [jab, cross, lead hook], [low kick]]\n  for: 5 min\n")
    found = calls(line)
    counts = Counter(cue.text for cue in found)
    assert len(counts) == 3
    assert max(counts.values()) - min(counts.values()) <= 5
    for before, after in pairwise(found):
        moves = sum(TABLE[move.technique].seconds.steady for move in before.moves)
        spoken = estimated_seconds(before.text)
        assert after.start - before.start >= spoken + Floor.hick(3) + moves + GUARD["steady"] - 1e-6
    assert line.total("work") == pytest.approx(300)
    assert found[-1].start > line.spans[0].end - 10


def test_a_shadow_round_whose_gap_is_too_short_is_a_fault() -> None:
    with pytest.raises(TimingFault, match=r"too short for «jab, cross, lead hook»"):
        lay("- shadow: [[jab], [jab, cross, lead hook]]\n  for: 1 min\n  gap: 0.5 s, 1 s\n")


# The tally


@pytest.mark.parametrize("listener", ["student", "feeder"])
@pytest.mark.parametrize("stance", ["orthodox", "both"])
def test_the_tally_counts_what_is_called(listener: str, stance: str) -> None:
    steps = (
        f"- partner: parry, duck, weave\n  for: 90 s\n  listener: {listener}\n"
        "  answers: [[jab, cross], [slip left, cross]]\n"
        "- rest: 30 s\n- shadow: [[jab, cross], [duck, cross]]\n  for: 60 s\n"
        "- combination: [jab, lead hook]\n  reps: 4\n  teach: 0\n"
    )
    line = lay(steps, head=f"stance: {stance}\n")
    counted = tally(line)
    listened = [cue for cue in calls(line) if cue.listener]
    assert counted.defences == Counter(defences_of(listened, listener))
    both = [cue for cue in listened if len(cue.moves) > 1]
    texts = [cue.text.split(", ", 1)[1] if listener == "student" else cue.text for cue in both]
    assert Counter(counted.answers) == Counter(text for text in texts)
    assert Counter(counted.combinations) == Counter(cue.text for cue in calls(line) if not cue.listener)
    stances = 2 if stance == "both" else 1
    assert counted.combinations["jab, lead hook"] == 4 * stances
    assert counted.rest == pytest.approx(30)
    assert counted.work == pytest.approx(sum(span.end - span.start for span in work(line)))


def defences_of(listened: list[Cue], listener: str) -> list[str]:
    """The defences by the words of the calls: as called, or from the feeder's own side."""
    if listener == "student":
        return [cue.text.split(", ")[0] for cue in listened]
    names = {"Slow poke": "parry", "Level swing": "weave"}
    found = []
    for cue in listened:
        if cue.listener == "feeder":
            side = re.search(r"your (left|right)", cue.text)
            swap = {"left": "right", "right": "left"}
            feed = " ".join(re.findall(r"\w+", cue.text)[:2])
            found.append(f"{names[feed]} {swap[side[1]]}" if side else "duck")
    return found


def test_the_tally_is_told_in_words() -> None:
    line = lay("- partner: parry\n  reps: 4\n  order: alternate\n  answers: [[jab, cross]]\n- rest: 75 s\n")
    first, second, last = sentences(tally(line))
    assert first == "Defences: parry left 2; parry right 2 (left 2, right 2)."
    assert second == "Answers: jab, cross 4."
    assert last.endswith("rest 1:15.")
