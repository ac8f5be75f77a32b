"""Dose: sets of 6 to 15, one to three of them, and sessions no longer than attention.

The sets are those of Miller, Cheatham and Patel 2010, Pediatric Clinics of North America 57, 671-682 (the abstract;
co-authors from memory), for adolescents; a repetition in 3 s that of FitnessGram (secondary copy); 50 to 60 jumps a
session at first those of Johnson, Salzberg and Stevenson 2011, Journal of Strength and Conditioning Research 25,
2623-2633 (the abstract).
"""

from __future__ import annotations

from pathlib import Path

import pytest

from coaching import found_by
from cornercue.coaching.dose import review
from cornercue.script.amount import MAX_LEVEL
from cornercue.script.doses import reps_of
from cornercue.script.read import read_drill
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request


def dose(steps: str, head: str = "level: 2\n") -> list[str]:
    found = found_by(review, f"drill: Dose\n{head}steps:\n{steps}")
    return [f"{problem.line}: {problem.severity}: {problem.text}" for problem in found]


def push_ups(reps: object, sets: int = 1) -> str:
    return f"- exercise: push-ups\n  reps: {reps}\n  sets: {sets}\n  rest: 1 min\n"


@pytest.mark.parametrize(
    ("reps", "sets", "head", "found"),
    [
        (15, 3, "level: 1\n", None),
        (16, 1, "level: 1\n", "warning: 16 push-ups in a set are many for juniors: up to 15 are usual"),
        (15, 3, "level: 10\n", None),
        (16, 1, "level: 10\n", "warning: 16 push-ups in a set are many for juniors"),
        ("3 per level", 3, "level: 3\njunior: no\n", None),
        ("6 to 15", 3, "level: 1\n", None),
        ("6 to 35", 3, "level: 1\njunior: no\n", None),
        ("5 per level", 1, "level: 4\n", "warning: 20 push-ups in a set are many for juniors"),
        ("1 per level", 3, "level: 10\n", None),
        (35, 3, "level: 1\njunior: no\n", None),
        (36, 1, "level: 10\njunior: no\n", "hint: 36 push-ups in a set are many for adults: up to 35 are usual"),
        (15, 4, "level: 1\n", "hint: 60 push-ups are more than three sets of 15, the dose of juniors"),
        (6, 5, "level: 1\n", None),
    ],
)
def test_a_set_keeps_to_the_dose_whatever_the_level(reps: object, sets: int, head: str, found: str | None) -> None:
    told = dose(push_ups(reps, sets), head)
    assert [found is not None and found in line for line in told] == [True] * bool(found)


def test_twice_the_dose_is_a_warning_for_adults_too() -> None:
    adults = "junior: no\n"
    assert "hint" in dose(push_ups(70), adults)[0]
    assert "warning" in dose(push_ups(71), adults)[0]
    assert "warning" in dose(push_ups(15, 7))[0]


def test_the_same_exercise_adds_up_over_the_drill_and_is_told_once_where_it_is_too_much() -> None:
    round_ = f"- repeat: 2\n  rest: 1 min\n  steps:\n{push_ups(12).replace('- ', '  - ', 1).replace('  r', '    r')}"
    round_ = round_.replace("  sets", "    sets")
    assert dose(round_) == []
    (found,) = dose(push_ups(15) + push_ups(15) + push_ups(15) + push_ups(10) + push_ups(10))
    assert found.startswith("16: hint: 55 push-ups are more than three sets of 15")


@pytest.mark.parametrize("exercise", ["jumping jacks", "straight punches", "skips"])
def test_what_is_not_strength_may_be_counted_to_any_number(exercise: str) -> None:
    assert dose(f"- exercise: {exercise}\n  reps: 100\n  every: 1 s\n") == []


@pytest.mark.parametrize(
    ("reps", "level", "first", "asked"),
    [
        ("10 per level", 1, 2, 20),
        ("4 per level", 1, 4, 16),
        ("3 per level", 4, 6, 18),
        ("2 per level", 1, 8, 16),
        ("6 to 24", 1, 6, 16),
    ],
)
def test_a_higher_level_that_leaves_the_dose_is_told_with_the_first_such_level(
    reps: str, level: int, first: int, asked: int
) -> None:
    (found,) = dose(push_ups(reps), f"level: {level}\n")
    assert found == (
        f"4: warning: {asked} push-ups in a set are many for juniors at level {first}: up to 15 are usual"
    )


def test_no_level_from_the_lowest_to_the_last_asks_more_than_the_dose_where_nothing_is_told() -> None:
    for reps in ("1 per level", "6 to 15", "10 to 15", 15):
        assert dose(push_ups(reps, 3), "level: 1\n") == []
        assert max(reps_of(reps).at(level) for level in range(1, MAX_LEVEL + 1)) <= 15


def test_three_sets_that_pass_the_dose_together_at_a_higher_level_are_told_once() -> None:
    (found,) = dose(push_ups("6 to 15", 4), "level: 1\n")
    assert found == "4: hint: 48 push-ups at level 7 are more than three sets of 15, the dose of juniors"


@pytest.mark.parametrize(("seconds", "head", "found"), [(45, "", False), (50, "", True), (105, "junior: no\n", False)])
def test_a_timed_set_counts_as_one_in_three_seconds(seconds: int, head: str, found: bool) -> None:
    told = dose(f"- exercise: push-ups\n  for: {seconds} s\n", head)
    assert bool(told) == found
    assert all("50 s of push-ups, some 16, in a set are many for juniors" in line for line in told)


def test_many_jumps_are_a_hint_for_juniors_only() -> None:
    jumps = "- exercise: {}\n  reps: 31\n  sets: 2\n  rest: 1 min\n"
    (found,) = dose(jumps.format("star jumps"))
    assert found == "4: hint: 62 jumps are many for juniors in a session: programmes for children began with 60"
    assert dose(jumps.format("star jumps"), "junior: no\n") == []
    assert dose(jumps.format("jumping jacks")) == []


@pytest.mark.parametrize(
    ("minutes", "head", "found"),
    [
        (29, "level: 1\n", None),
        (32, "level: 1\n", "hint: 32 min"),
        (59, "level: 3\n", None),
        (61, "level: 3\n", "warning: 61 min"),
        (61, "junior: no\n", None),
        (91, "junior: no\n", "warning: 91 min"),
    ],
)
def test_a_session_is_no_longer_than_its_age_group_can_attend(minutes: int, head: str, found: str | None) -> None:
    five = "  - exercise: walking\n    for: {} s\n"
    told = dose(f"- repeat: 10\n  steps:\n{five.format(minutes * 6 - 8)}", head)
    assert [line.startswith(f"1: {found}") for line in told] == [True] * bool(found), told


def test_ten_minutes_of_one_thing_are_long_for_juniors() -> None:
    (found,) = dose("- say: Go.\n- combination: [jab, cross]\n  reps: 250\n", "level: 3\n")
    assert found.startswith("5: hint: this goes on for ")
    assert dose("- combination: [jab, cross]\n  reps: 250\n", "junior: no\n") == []


@pytest.mark.parametrize(
    ("inner", "outer", "found"),
    [
        ("ages: 15-17", "", "5: warning: «Inner» is for juniors of 15-17, and this drill for juniors of 10-12"),
        ("junior: no", "ages: 13-15", "5: warning: «Inner» is for adults, and this drill for juniors of 13-15"),
        ("ages: 15-17", "ages: 15-17", None),
        ("ages: 7-9", "", None),
        ("", "ages: 7-9", None),
        ("ages: 15-17", "junior: no", None),
    ],
)
def test_what_is_included_is_for_the_same_people(tmp_path: Path, inner: str, outer: str, found: str | None) -> None:
    (tmp_path / "inner.yaml").write_text(f"drill: Inner\n{inner}\nsteps:\n- say: Go.\n", encoding="utf-8")
    script = tmp_path / "outer.yaml"
    script.write_text(f"drill: Outer\n{outer}\n\nsteps:\n- include: inner.yaml\n- say: Done.\n", encoding="utf-8")
    drill = read_drill(script)
    timeline = expand(drill, Request(seed=1), estimated_seconds)
    told = [f"{problem.line}: {problem.severity}: {problem.text}" for problem in review(drill, timeline)]
    assert told == [found] * bool(found)
