"""Dose: sets of 6 to 15, one to three of them, and sessions no longer than attention.

The sets are those of Miller, Cheatham and Patel 2010, Pediatric Clinics of North America 57, 671-682 (the abstract;
co-authors from memory), for adolescents. Five a level is a rule of thumb of the trade: common practice, no source.
"""

from __future__ import annotations

import pytest

from coaching import found_by
from cornercue.coaching.dose import review


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
        ("5 per level", 3, "level: 3\njunior: no\n", None),  # common practice, no source
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


def test_a_step_from_level_to_level_that_leaves_the_dose_is_a_hint() -> None:
    (found,) = dose(push_ups("10 per level"), "level: 1\n")
    assert found == "4: hint: from level 1 to 2 a set of push-ups grows from 10 to 20, by 100%: a tenth is usual"
    assert dose(push_ups("4 per level"), "level: 2\n") == []
    (found,) = dose(push_ups("4 per level"), "level: 3\n")
    assert "from level 3 to 4 a set of push-ups grows from 12 to 16, by 33%" in found
    assert dose(push_ups(15), "level: 3\n") == []


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
