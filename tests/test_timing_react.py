"""Reactions: words of any kind, called at random; each with its time, fair, and not to be guessed."""

from __future__ import annotations

import random
from collections import Counter
from functools import partial
from itertools import groupby, pairwise

import numpy as np
import pytest

from coaching import found_by
from cornercue.coaching import alike, guard, sides
from cornercue.page.data import page_data
from cornercue.page.paper import sheet
from cornercue.player.view import Moments
from cornercue.script.faults import ScriptFaults
from cornercue.script.read import parse_drill
from cornercue.session.sheet_needs import needs
from cornercue.technique.sides import STANCES, Stance
from cornercue.timing.draws import Kind, draws, draws_with_odds
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.faults import TimingFault
from cornercue.timing.phrasebook import phrasebook
from cornercue.timing.react import APART
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Cue, Timeline
from cornercue.totals.stretches import stretches
from cornercue.totals.summary import summarised
from cornercue.totals.tally import sentences, tally
from cornercue.voice.clip import Clip
from optimal_guesser import figures


def script(steps: str, head: str = "") -> str:
    return f"drill: Quick feet\n{head}steps:\n{steps}"


def lay(steps: str, head: str = "", seed: int = 1, stance: Stance | None = None) -> Timeline:
    return expand(parse_drill(script(steps, head)), Request(seed, stance=stance), estimated_seconds)


def calls(line: Timeline) -> list[Cue]:
    return [cue for cue in line.cues if cue.kind == "call"]


def faults(steps: str, head: str = "") -> str:
    with pytest.raises(ScriptFaults) as found:
        parse_drill(script(steps, head))
    return "\n".join(fault.text for fault in found.value.faults)


WORDS = "words:\n  burrow: {kind: ground, seconds: 1.4}\n"
FIRST = "- react: [left, right, burrow, {freeze: 1}]\n  for: 2 min\n  seconds: {freeze: 3 s}\n"


def test_words_of_any_kind_are_called_and_what_may_come_is_said_first() -> None:
    line = lay(FIRST, WORDS)
    assert {cue.text for cue in calls(line)} == {"left", "right", "burrow", "freeze"}
    assert "Reactions, two minutes. You may hear: left, right, burrow and freeze." in [cue.text for cue in line.cues]
    (work,) = line.spans
    assert work.end - work.start == pytest.approx(120)


def test_so_many_calls_as_asked_for() -> None:
    assert len(calls(lay("- react: [left, right]\n  reps: 15\n"))) == 15
    assert "Reactions, one call." in lay("- react: [left, right]\n  reps: 1\n").cues[1].text


@pytest.mark.parametrize("written", ["{left: 2, right: 2, freeze: 1}", "[{left: 2}, {right: 2}, freeze]"])
def test_weights_stand_as_elsewhere_in_a_table_or_beside_a_word(written: str) -> None:
    counts = Counter(cue.text for cue in calls(lay(f"- react: {written}\n  reps: 100\n")))
    assert counts["left"] + counts["right"] == pytest.approx(80, abs=8)
    assert counts["left"] == pytest.approx(40, abs=6)


# As written


@pytest.mark.parametrize("stance", STANCES)
def test_a_free_word_is_spoken_as_written_and_a_technique_for_the_stance(stance: Stance) -> None:
    line = lay("- react: [left, touch the Floor, straight left, slip right]\n  reps: 20\n", stance=stance)
    techniques = {"orthodox": ("straight left", "slip right"), "southpaw": ("straight right", "slip left")}
    assert {cue.text for cue in calls(line)} == {"left", "touch the Floor", *techniques[stance]}
    assert all(not cue.moves for cue in calls(line) if cue.text in ("left", "touch the Floor"))


def test_with_both_stances_all_comes_again_mirrored() -> None:
    line = lay("- react: [left, parry left]\n  reps: 12\n", head="stance: both\n")
    assert {(cue.stance, cue.text) for cue in calls(line)} == {
        ("orthodox", "left"), ("orthodox", "parry left"), ("southpaw", "left"), ("southpaw", "parry right"),
    }  # fmt: skip


def test_techniques_and_the_clubs_own_words_count_as_such() -> None:
    line = lay("- react: [jab, freeze, burrow, slip left]\n  reps: 40\n", WORDS)
    counts, summary = Counter(cue.text for cue in calls(line)), summarised(line)
    assert summary.limbs["left hand"] == summary.called["strikes"] == counts["jab"] > 0
    assert summary.called["on the ground"] == counts["burrow"] > 0
    assert summary.defences["left"] == counts["slip left"] > 0
    assert summary.repetitions == 40
    assert tally(line).combinations == counts  # free words, too
    assert any(f"freeze {counts['freeze']}; jab {counts['jab']}" in text for text in sentences(tally(line)))


def test_in_the_picture_a_free_word_is_the_work_of_neither_side() -> None:
    line = lay("- react: [jab, freeze]\n  reps: 12\n")
    parts = {(one.start, one.side) for one in stretches(line)}
    for before, now in pairwise(calls(line)):
        if before.text != now.text:
            assert (now.start, "left" if now.text == "jab" else "neither") in parts


def test_numbers_are_called_where_the_script_calls_numbers() -> None:
    assert {cue.text for cue in calls(lay("- react: [1, 2, freeze]\n  reps: 12\n", "calls: numbers\n"))} == {
        "one", "two", "freeze",
    }  # fmt: skip


# A time for each


def busy(cue: Cue) -> float:
    assert cue.done is not None
    return cue.done - cue.end


def test_each_word_takes_its_own_time_that_of_its_technique_or_that_of_a_free_word() -> None:
    # An adult chooses one of four in 0.25 + 0.155 × 2 = 0.56 s (Hick's law, as in docs/script-language.md).
    line = lay("- react: [left, jab, burrow, freeze]\n  reps: 40\n  seconds: {freeze: 3 s}\n", f"junior: no\n{WORDS}")
    taken = {cue.text: busy(cue) - 0.56 for cue in calls(line)}
    assert taken == pytest.approx({"left": 1.5, "jab": 0.5, "burrow": 1.4, "freeze": 3.0})


@pytest.mark.parametrize(("pace", "seconds"), [("learning", 2.0), ("steady", 1.5), ("sharp", 1.0), ("0.8 s", 0.8)])
def test_a_free_word_goes_by_the_pace(pace: str, seconds: float) -> None:
    (call,) = calls(lay(f"- react: left\n  reps: 1\n  pace: {pace}\n", "junior: no\n"))
    assert busy(call) == pytest.approx(0.25 + seconds)


def test_one_time_may_stand_for_all_free_words() -> None:
    line = lay("- react: [left, jab]\n  reps: 12\n  seconds: 4 s\n", "junior: no\n")
    assert {cue.text: round(busy(cue) - 0.405, 6) for cue in calls(line)} == {"left": 4.0, "jab": 0.5}


def test_younger_children_get_more_time_but_for_what_the_script_says() -> None:
    young, grown = (
        {cue.text: busy(cue) for cue in calls(lay("- react: [left, hop]\n  reps: 12\n  seconds: {hop: 2 s}\n", head))}
        for head in ("ages: 8\n", "junior: no\n")
    )
    assert young["left"] > grown["left"]
    assert young["hop"] - grown["hop"] == pytest.approx(0.405)  # twice the time to choose at 8 years, and no more


def test_the_next_call_waits_until_all_is_done_and_the_gaps_are_not_alike() -> None:
    line = lay("- react: [left, right, down]\n  reps: 40\n  seconds: {down: 3 s}\n  between: feet awake\n")
    for now, after in pairwise(calls(line)):
        said = next(cue for cue in line.cues if cue.text == "feet awake" and cue.start > now.start)
        assert now.done == pytest.approx(said.start)
        assert after.start >= said.end + 0.8
    gaps = {round(after.start - now.start - busy(now), 3) for now, after in pairwise(calls(line))}
    assert len(gaps) > 35


def test_a_gap_too_short_for_the_longest_word_is_told_with_one_that_would_do() -> None:
    with pytest.raises(TimingFault, match="a gap of at most 4 s is too short for «freeze»"):
        lay("- react: [left, freeze]\n  for: 1 min\n  gap: [2 s, 4 s]\n  seconds: {freeze: 5 s}\n")


# Fair, and not to be guessed


def test_the_same_seed_repeats_the_calls_and_another_one_does_not() -> None:
    once, again, other = (lay(FIRST, WORDS, seed) for seed in (1, 1, 2))
    assert once == again
    assert [cue.text for cue in calls(once)] != [cue.text for cue in calls(other)]


def test_no_word_comes_more_than_twice_in_a_row_or_four_times_where_there_are_two() -> None:
    for words, most in (("left, right, freeze", 2), ("left, right", 4)):
        runs = [
            len(list(same))
            for seed in range(20)
            for _, same in groupby(cue.text for cue in calls(lay(f"- react: [{words}]\n  reps: 60\n", seed=seed)))
        ]
        assert max(runs) == most


def test_the_calls_are_those_of_the_law_of_random_calls() -> None:
    """Drawn again from the same stream of numbers, of which each gap takes one, too."""
    kinds = [Kind("left", 2), Kind("right", 2), Kind("freeze", 1)]
    for seed in range(3):
        line = lay("- react: {left: 2, right: 2, freeze: 1}\n  reps: 40\n", seed=seed)
        rng = random.Random(f"{seed}/0//orthodox")
        drawn = draws(kinds, rng, apart=APART)
        for cue in calls(line):
            assert cue.text == next(drawn)
            rng.random()


@pytest.mark.parametrize(
    "weights", [(1, 1, 1), (2, 2, 1), (2, 1, 1), (1, 1, 1, 1), (2, 2, 1, 1), (3, 1, 1, 1), (4, 2, 1, 1)]
)
def test_the_best_guesser_gets_no_more_than_the_largest_share_and_a_small_margin(weights: tuple[float, ...]) -> None:
    """He knows the law and has heard every call. Of two defences he gets 9 points more than half right, of three 5
    points more than a third (draws.py); here no more than 7, and half a point for chance."""
    kinds = [Kind(f"word {n}", weight, defence=f"word {n}") for n, weight in enumerate(weights)]
    for length in (20, 100):
        found = figures(kinds, length, 60, partial(draws_with_odds, apart=APART))
        assert found.both <= max(weights) / sum(weights) + 0.075
        assert found.alike == 2


@pytest.mark.parametrize("step", ["react: [left, right]", "shadow: [[jab], [cross]]"])
def test_no_screen_shows_a_random_call_before_it_is_heard(step: str) -> None:
    line = lay(f"- {step}\n  for: 30 s\n")
    moments = Moments(line, ("any",) * 9)
    for before, now in pairwise(calls(line)):
        assert moments.at(before.start + 0.1).following == "wait for it"
        assert moments.at(now.start).call == now.text
    drill, sound = parse_drill(script(f"- {step}\n  for: 30 s\n")), Clip("any", np.ones(9000, np.int16))
    page = page_data(drill, [line], lambda text, rate: sound, book=phrasebook(), whom="junior", helper=None)
    told = page["draws"][0]["cues"]  # of which page.js foretells those only that are not drawn
    assert [cue["text"] for cue in told if cue.get("drawn")] == [cue.text for cue in calls(line)]


def test_a_reading_sheet_has_every_word_that_may_come() -> None:
    drill = parse_drill(script("- react: [left, jab, freeze]\n  reps: 1\n"))
    assert {"left", "jab", "freeze"} <= {need.text for need in needs("feet.yaml", drill) if need.kind == "call"}


# Faults and the review


def test_a_misspelt_technique_does_not_become_a_free_word_in_silence() -> None:
    told = faults("- react: [left, burorw]\n  for: 1 min\n", WORDS)
    assert "`burorw` is not a technique; did you mean `burrow`?" in told
    assert "If it is a word of its own, give it its time: `seconds: {burorw: 2 s}`" in told
    assert "did you mean `hook`?" in faults("- react: [left hok]\n  for: 1 min\n")
    assert parse_drill(script("- react: [left, burorw]\n  for: 1 min\n  seconds: {burorw: 2 s}\n", WORDS))


@pytest.mark.parametrize("word", ["stop", "skip", "over", "tuck", "party", "kneel", "step over", "left foot", "down"])
def test_everyday_words_that_look_a_little_like_a_technique_are_free_words(word: str) -> None:
    (call,) = calls(lay(f"- react: {word}\n  reps: 1\n"))
    assert (call.text, call.moves) == (word, ())


@pytest.mark.parametrize(
    ("step", "told"),
    [
        ("react: [left]", "reactions need either `for: 1 min` or `reps: 20`"),
        ("react: [left]\n  for: 1 min\n  reps: 3", "and not both"),
        ("react: [left, Left]\n  reps: 3", "`left` stands there twice; give it a weight instead"),
        ("react: [left]\n  reps: 3\n  seconds: {lift: 2 s}", "`lift`, which is not called; did you mean `left`?"),
        ("react: [hook]\n  reps: 3", "`hook` leaves the side open; write `lead hook` or `rear hook`"),
        ("react: [[jab, cross]]\n  reps: 3", "combinations drawn at random are `shadow: [[jab, cross], [lead hook]]`"),
        ("react: [1-2]\n  reps: 3", "one call belongs here"),
        ("react: {left: 0}\n  reps: 3", "weights are more than 0"),
        ("react: {left: often}\n  reps: 3", "the weight of `left` is not a number"),
        ("react: [left]\n  reps: 3\n  seconds: soon", "`soon` is not a duration"),
    ],
)
def test_faults_say_what_to_write(step: str, told: str) -> None:
    assert told in faults(f"- {step}\n")


def test_the_review_hears_words_that_are_alike_and_sees_gaps_like_a_clock_and_one_sided_kicks() -> None:
    (near,) = found_by(alike.review, script("- react: [step back, slip back]\n  for: 1 min\n"))
    assert "“slip” and “step” differ in 2 sounds only" in near.text
    (clock,) = found_by(guard.review, script("- react: [left, right]\n  for: 1 min\n  gap: [3 s, 3.5 s]\n"))
    assert "the calls come almost like a clock" in clock.text
    (uneven,) = found_by(sides.review, script("- react: [rear front kick, freeze]\n  for: 2 min\n"))
    assert "front kick" in uneven.text
    assert not found_by(alike.review, script("- react: [left, right, freeze]\n  for: 1 min\n"))


def test_the_sheet_on_paper_has_the_words_and_the_dose() -> None:
    drill = parse_drill(script(FIRST, WORDS))
    assert "<li>Reactions: left, right, burrow, freeze, 2 min.</li>" in sheet(drill, 1, [])
