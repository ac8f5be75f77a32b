"""Pads: somebody who has never held one is told what to hold and where, and nobody is hurt by it."""

from __future__ import annotations

import random
import re
from collections import Counter
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner

from coaching import found_by
from cornercue.cli.main import commands
from cornercue.coaching import alike, flow, guard, order, rest
from cornercue.feed.table import AUDIENCES
from cornercue.pads.table import ADULTS_ONLY, HELD, LEFT_OUT, not_held
from cornercue.page.build import helper_of, page_html
from cornercue.player.view import Moments
from cornercue.script.faults import ScriptFaults
from cornercue.script.model import Drill
from cornercue.script.read import parse_drill, read_drill
from cornercue.session.sheet_needs import needs
from cornercue.technique.lookup import resolve
from cornercue.technique.sides import STANCES, Stance, mirror
from cornercue.technique.table import TECHNIQUES
from cornercue.timing.draws import Kind, draws
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.faults import TimingFault
from cornercue.timing.holding import prompt, to_holder
from cornercue.timing.phrasebook import phrasebook
from cornercue.timing.safety import cautions, written_cautions
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Cue, Timeline
from cornercue.totals.summary import summarised
from cornercue.totals.tally import tally
from cornercue.track.captions import captions
from cornercue.voice.clip import Clip
from documents import HOME, text_of
from pads_tables import left_out, rows

BOOK = phrasebook()
FIRST = "- pads: [[jab, cross], [lead hook]]\n  reps: 12\n"


def drill_of(steps: str, head: str = "") -> Drill:
    return parse_drill(f"drill: First pads\n{head}steps:\n{steps}")


def lay(steps: str, head: str = "", seed: int = 1, stance: Stance | None = None) -> Timeline:
    return expand(drill_of(steps, head), Request(seed, stance=stance), estimated_seconds)


def calls(line: Timeline) -> list[Cue]:
    return [cue for cue in line.cues if cue.kind == "call" and cue.rep]


def words(line: Timeline) -> list[str]:
    return [cue.text for cue in line.spoken()]


def faults(steps: str, head: str = "") -> str:
    with pytest.raises(ScriptFaults) as found:
        drill_of(steps, head)
    return "\n".join(fault.text for fault in found.value.faults)


# What to hold and where


def test_who_has_never_held_a_pad_is_told_how_before_the_first_call() -> None:
    line = lay(FIRST)
    before = " ".join(cue.text for cue in line.spoken() if cue.start < calls(line)[0].start)
    for told in (
        "One holds the pads: the holder.", "Holder, stand, never kneel.", "so that a miss goes past you",
        "those of the smaller of you", "Meet each blow softly", "Then step back out of reach.",
        "Holder, for a jab: right pad in front, clear of your right side, at chest height, palm towards the student.",
        "Holder, for a cross: left pad in front, clear of your left side, at chest height, palm towards the student.",
        "Holder, for a lead hook: left pad in front, clear of your left side, at chest height, palm turned in.",
        "Holder, on the call show what it needs. Student, wait until you see it.",
    ):  # fmt: skip
        assert before.count(told) == 1


def test_partners_face_each_other_so_that_a_left_jab_comes_to_the_holders_right_pad() -> None:
    for stance, jab, hook in (("orthodox", "right", "left"), ("southpaw", "left", "right")):
        told = [to_holder(BOOK, resolve(name), stance) for name in ("jab", "lead hook")]  # type: ignore[arg-type]
        assert f": {jab} pad in front, clear of your {jab} side" in told[0]
        assert f": {hook} pad in front, clear of your {hook} side" in told[1]


@pytest.mark.parametrize("name", ["jab", "rear hook", "lead uppercut", "rear knee", "rear roundhouse kick"])
def test_the_mirrored_student_is_held_for_from_the_other_side(name: str) -> None:
    move = resolve(name)
    swap = {"left": "right", "right": "left"}
    for stance in STANCES:
        there = re.sub(r"\b(left|right)\b", lambda side: swap[side[0]], to_holder(BOOK, move, stance))
        assert there == to_holder(BOOK, move, mirror(stance))


def test_a_walk_through_comes_before_the_calls_once_for_each_combination() -> None:
    line = lay(f"- repeat: 2\n  steps:\n  {FIRST.strip().replace(chr(10), chr(10) + '  ')}\n    teach: yes\n")
    told = words(line)
    assert told.count("Student: jab to the pad opposite, and step back.") == 1
    assert told.count("Student: lead hook round to the pad that is turned in, and step back.") == 1
    at = told.index("Holder: right pad.")
    assert told[at : at + 8] == [
        "Holder: right pad.", "Student: jab to the pad opposite, and step back.", "jab",
        "Holder: left pad.", "Student: cross to the pad opposite, and step back.", "cross",
        "Now all together.", "jab, cross",
    ]  # fmt: skip
    assert at < told.index("Holder, on the call show what it needs. Student, wait until you see it.")


def test_what_was_explained_is_not_explained_again_and_brief_leaves_it_out_but_no_caution() -> None:
    twice = lay(f"{FIRST}- rest: 1 min\n{FIRST}")
    assert sum(text.startswith("Holder, for a jab") for text in words(twice)) == 1
    brief = lay(FIRST, "brief: yes\n")
    assert not any(text.startswith(("Holder, for a", "One holds")) for text in words(brief))
    assert words(brief)[: len(BOOK.safety["pads"]["full"])] == BOOK.safety["pads"]["full"]


# Safe


def test_every_technique_is_held_for_or_has_a_reason_or_needs_nothing() -> None:
    for whom in AUDIENCES:
        for technique in TECHNIQUES:
            reason = not_held(technique, whom)
            assert (reason is None) == (
                technique.kind in ("footwork", "stance")
                or (technique.base in HELD and not (whom == "junior" and technique.base in ADULTS_ONLY))
            ), technique.name
    assert not set(HELD) & set(LEFT_OUT)
    assert set(ADULTS_ONLY) <= set(HELD)


def test_nothing_is_held_above_the_chest_and_no_kick_above_the_belt_and_kicks_go_to_a_shield() -> None:
    assert {held.height for held in HELD.values()} == {"chest", "belly", "belt"}
    kinds = {technique.base: technique.kind for technique in TECHNIQUES}
    for base, held in HELD.items():
        assert (held.thing == "shield") == (kinds[base] == "kick")
        assert held.height == "belt" or held.thing == "pads"


def test_every_pad_is_held_clear_of_the_holders_own_body_and_nowhere_near_a_face() -> None:
    near = re.compile(r"\b(face|head|chin|ear|eye|cheek|temple|nose|neck|shoulder)s?\b")
    for base, held in HELD.items():
        for move in (technique for technique in TECHNIQUES if technique.base == base):
            told = to_holder(BOOK, resolve(move.name), "orthodox")
            assert not near.search(told)
            assert held.thing == "shield" or re.search(r"clear of your (left|right) (side|hip)", told)


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("rear roundhouse to the leg", "nobody holds pads for `rear roundhouse to the leg`: a low kick that misses"),
        ("rear high roundhouse kick", "nothing is held at head height"),
        ("overhand", "it comes down from above"),
        ("backfist", "nobody holds pads for `backfist`"),
        ("rear elbow", "`rear elbow` is not held for children and teenagers: an elbow brings the two"),
        ("rear back kick", "or write `junior: no` where only adults train"),
        ("slip left", "nobody holds pads for `slip left`: the table of pads has no row for it"),
    ],
)
def test_what_has_no_row_is_a_fault_that_says_so(name: str, told: str) -> None:
    assert told in faults(f"- pads: [[jab, {name}]]\n  reps: 3\n")


def test_adults_may_throw_elbows_at_pads_but_not_in_a_juniors_drill_that_includes_theirs() -> None:
    assert drill_of("- pads: [[jab, rear elbow]]\n  reps: 3\n", "junior: no\n")


def test_an_adults_step_within_a_juniors_drill_is_told(tmp_path: Path) -> None:
    theirs = "drill: Theirs\njunior: no\nsteps:\n- pads: [[rear elbow]]\n  reps: 3\n"
    (tmp_path / "theirs.yaml").write_text(theirs)
    (tmp_path / "ours.yaml").write_text("drill: Ours\nsteps:\n- include: theirs.yaml\n")
    with pytest.raises(TimingFault, match="`rear elbow` is not held for children and teenagers"):
        expand(read_drill(tmp_path / "ours.yaml"), Request(1), estimated_seconds)


@pytest.mark.parametrize("head", ["", "junior: no\n", "safety: short\n", "brief: yes\n"])
def test_the_cautions_are_said_and_printed_first_and_none_is_said_twice(head: str) -> None:
    drill = drill_of(FIRST + "- partner: parry\n  reps: 4\n", head)
    spoken = cautions(drill, BOOK)
    assert tuple(words(lay(FIRST + "- partner: parry\n  reps: 4\n", head)))[: len(spoken)] == spoken
    for told in (spoken, written_cautions(drill, BOOK)):
        text = " ".join(told).lower()
        assert len(set(told)) == len(told)
        for caution in ("firm and low", "beside anyone's face", "own body", "student's pace", "foam stick"):
            assert caution in text
        assert re.search(r"stop at once (when anyone says “?stop|at stop)", text)
    for told in (BOOK.safety["pads"]["full"], BOOK.safety["pads"]["written"]):
        text = " ".join(told)
        for caution in ("Fingers together, thumbs in", "fingers together, thumbs in", "meet each blow a little",
                        "step back", "your club", "instructor", "An adult holds"):  # fmt: skip
            assert caution.lower() in text.lower()


def test_without_pads_nothing_is_said_of_them() -> None:
    assert not any("pad" in text for text in written_cautions(drill_of("- partner: parry\n  reps: 4\n"), BOOK))


# When


def test_the_next_call_waits_until_the_pads_were_up_the_student_done_and_a_step_back_taken() -> None:
    line = lay("- pads: [[jab, cross], [lead hook]]\n  for: 2 min\n", "junior: no\n")
    for now, after in pairwise(calls(line)):
        assert now.due is not None
        assert now.done is not None
        # Hearing one of two calls: 0.25 + 0.155 s; 0.35 s more for who has never held, as for a feeder.
        assert now.due >= now.end + 0.405 + 0.35
        assert now.done >= now.due + 0.25 + 0.5  # the student starts when the pads are there, not at the call
        assert after.start >= now.done + 0.8 - 1e-6


def test_younger_children_and_a_learning_pace_get_more_time() -> None:
    def first(head: str) -> float:
        cue = calls(lay("- pads: [[jab, cross]]\n  reps: 1\n", head))[0]
        assert cue.done is not None
        return cue.done - cue.start

    assert first("ages: 7\n") > first("ages: 15\n")
    assert first("pace: learning\n") > first("pace: sharp\n")


def test_calls_are_drawn_by_the_law_of_random_calls_or_come_in_turn() -> None:
    rng = random.Random("1/0//orthodox")
    drawn = draws([Kind("jab, cross"), Kind("lead hook")], rng)
    for cue in calls(lay("- pads: [[jab, cross], [lead hook]]\n  reps: 30\n")):
        assert cue.text == next(drawn)
        rng.random()  # each gap takes a number, too
    in_turn = lay("- pads: [[jab, cross], [lead hook]]\n  reps: 6\n  order: alternate\n")
    assert [cue.text for cue in calls(in_turn)] == ["jab, cross", "lead hook"] * 3
    assert "The combinations come in turn." in words(in_turn)


def test_a_gap_too_short_is_told() -> None:
    with pytest.raises(TimingFault, match="is too short for «jab, cross»"):
        lay("- pads: [[jab, cross]]\n  for: 1 min\n  gap: [1 s, 2 s]\n")


def test_with_both_stances_all_comes_again_mirrored() -> None:
    shown = {(cue.stance, cue.text): cue.shows for cue in calls(lay(FIRST, "stance: both\n"))}
    assert shown["orthodox", "jab, cross"] == "Right pad, left pad"
    assert shown["southpaw", "jab, cross"] == "Left pad, right pad"


# For whom it is called


def test_the_holder_alone_may_be_told_what_to_show_and_the_student_has_to_read_it() -> None:
    line = lay(FIRST + "  listener: holder\n")
    assert {(cue.listener, cue.text) for cue in calls(line)} == {
        ("holder", "Right pad, left pad"), ("holder", "Left pad in"),
    }  # fmt: skip
    assert "Student, strike only what you are shown." in " ".join(words(line))
    moments, call = Moments(line, ("any",) * 9), calls(line)[0]
    assert moments.at(call.start + 0.1).call == "Watch what is held"
    assert moments.at(call.start + 0.1).hands == ""
    assert "Holder: Left pad in" in captions(line)


def test_a_step_needs_no_pad_and_low_and_lifted_blows_are_told_apart() -> None:
    moves = tuple(map(resolve, ("body jab", "rear uppercut", "rear body hook", "step back", "lead knee")))
    told = "Low right pad, left pad down, low right pad in, both pads at your right hip"
    assert prompt(BOOK, moves, "orthodox") == told


@pytest.mark.parametrize(
    ("step", "told"),
    [
        ("pads: [[jab]]", "pads need either `for: 1 min` or `reps: 20`"),
        ("pads: [[jab, rear front kick]]\n  reps: 3", "and nobody holds both; make two steps of it"),
        ("pads: [[jab], [rear front kick]]\n  reps: 3", "`jab` is struck at pads and `rear front kick` at a kick"),
        ("pads: [[step back]]\n  reps: 3", "nothing is struck in `step back`"),
        ("pads: [[jab], [jab]]\n  reps: 3", "`jab` stands there twice"),
        ("pads: [[jab], [lead palm heel]]\n  reps: 3\n  listener: holder", "are held for alike, and the student hears"),
        ("pads: [[jab]]\n  reps: 3\n  listener: feeder", "`feeder` is not known here; did you mean"),
        ("pads: [[jab]]\n  reps: 3\n  order: even", "`even` is not known here"),
    ],
)
def test_faults_say_what_to_write(step: str, told: str) -> None:
    assert told.removesuffix("did you mean") in faults(f"- {step}\n")


# Shown and counted


def test_the_totals_count_blows_by_limb_and_calls_by_name_whoever_hears_them() -> None:
    for listener in ("student", "holder"):
        line = lay(f"{FIRST}  listener: {listener}\n")
        counts = Counter(", ".join(move.words for move in cue.moves) for cue in calls(line))
        assert tally(line).combinations == counts
        assert not tally(line).defences
        assert summarised(line).limbs["left hand"] == counts["jab, cross"] + counts["lead hook"]
        assert summarised(line).repetitions == 12


def test_the_page_asks_to_read_the_cautions_and_has_what_is_held_and_the_holders_view() -> None:
    drill, line = drill_of(FIRST), lay(FIRST)
    sound = Clip("any", np.ones(9000, np.int16))
    html = page_html(drill, [line], lambda text, rate: sound, BOOK)
    assert helper_of(drill) == "Holder"
    assert "<h3>How it is held</h3>" in html
    assert html.count("Holder, for a jab: right pad in front") >= 2  # behind the gate and on paper
    assert 'aria-label="Holder\'s view"' in html
    assert '"gate":true' in html
    assert '"feed":"Right pad, left pad"' in html
    assert "<li>Pads: jab, cross; lead hook, 12 calls.</li>" in html


def test_the_json_tells_when_the_pads_are_up_and_what_is_shown() -> None:
    cue = calls(lay(FIRST))[0].as_data()
    assert cue["shows"] in ("Right pad, left pad", "Left pad in")
    assert cue["end"] < cue["due"] < cue["done"]


def test_a_reading_sheet_has_every_call_that_may_come_whoever_hears_it() -> None:
    for listener, wanted in (("student", {"jab", "cross"}), ("holder", {"Right pad", "Left pad"})):
        drill = drill_of(f"- pads: [[jab], [cross]]\n  reps: 1\n  listener: {listener}\n")
        assert wanted <= {need.text for need in needs("pads.yaml", drill) if need.kind == "call"}


def test_the_list_of_techniques_tells_what_is_held() -> None:
    told = CliRunner().invoke(commands, ["techniques", "rear hook"]).output
    assert "Holder, for a rear hook: right pad in front, clear of your right side, at chest height, palm turned" in told
    elbow = CliRunner().invoke(commands, ["techniques", "rear elbow"]).output
    assert "at what a helper holds, for adults only" in elbow
    assert "Holder" not in CliRunner().invoke(commands, ["techniques", "overhand"]).output


# The review


def test_the_review_looks_at_pads_as_at_other_work_opposite_somebody() -> None:
    head = "drill: Pads\nlevel: 1\nsteps:\n"
    (fast,) = found_by(guard.review, f"{head}- pads: [[jab]]\n  reps: 4\n  pace: sharp\n")
    assert "work at pads at a sharp pace is fast for level 1" in fast.text
    (clock,) = found_by(guard.review, f"{head}- pads: [[jab]]\n  reps: 4\n  pace: learning\n  gap: [4 s, 5.5 s]\n")
    assert "the calls come almost like a clock" in clock.text
    (early,) = found_by(order.review, f"{head}- pads: [[jab, cross]]\n  reps: 4\n- combination: [jab, cross]\n")
    assert "“jab, cross” comes with a partner before it is done alone" in early.text
    (mixed,) = found_by(order.review, f"{head}- pads: [[jab], [cross]]\n  reps: 4\n")
    assert "“jab” and “cross” each come mixed at random before it was held for alone" in mixed.text
    assert not found_by(order.review, f"{head}- pads: [[jab], [cross]]\n  reps: 4\n  teach: yes\n")
    (awkward,) = found_by(flow.review, f"{head}- pads: [[cross, rear hook]]\n  reps: 4\n")
    assert "the rear hook needs the hip" in awkward.text
    (long,) = found_by(rest.review, f"{head}- pads: [[jab]]\n  for: 2 min\n  pace: steady\n")
    assert "2 min of work without a rest" in long.text
    assert not found_by(rest.review, f"{head}- pads: [[jab]]\n  for: 2 min\n  pace: learning\n")
    shown = "- pads: [[jab, cross], [jab, lead hook, cross]]\n  reps: 4\n  listener: holder\n"
    assert not found_by(alike.review, head + shown)


# The page of pads, and the demo drills


def test_the_page_of_pads_has_every_row_of_the_table() -> None:
    page = text_of("docs/pads.md")
    for row in (*rows(), *left_out()):
        assert f"\n{row}\n" in page


@pytest.mark.parametrize("name", ["first-pads", "kicks-to-the-shield"])
def test_a_demo_drill_with_a_holder_names_what_it_needs_and_nobody_reads_of_heads(name: str) -> None:
    drill = read_drill(HOME / "drills" / f"{name}.yaml")
    assert {"two focus pads", "a kick shield"} & {*drill.gear}
    assert drill.junior
    allowed = {*BOOK.safety["pads"]["full"], *BOOK.safety["pads"]["written"]}
    said = [*words(expand(drill, Request(1), estimated_seconds)), *written_cautions(drill, BOOK), drill.about or ""]
    assert [text for text in said if re.search(r"\b(head|face|chin|nose)s?\b", text) and text not in allowed] == []


