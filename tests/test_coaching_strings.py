"""Strings: how many techniques one call has, by level (common practice, no source)."""

from __future__ import annotations

import pytest

from coaching import found_by
from cornercue.coaching.strings import review

TEN = "jab, cross, lead hook, cross, lead uppercut, cross, lead hook, cross, lead hook, cross"


def strings(step: str, level: int) -> list[str]:
    found = found_by(review, f"drill: Strings\nlevel: {level}\njunior: no\nsteps:\n{step}")
    return [f"{problem.line}:{problem.column}: {problem.text}" for problem in found]


@pytest.mark.parametrize(("level", "most"), [(1, 4), (2, 5), (3, 6), (4, 7), (5, 8)])
def test_a_call_may_have_one_technique_more_with_each_level(level: int, most: int) -> None:
    names = TEN.split(", ")
    assert strings(f"- combination: [{', '.join(names[:most])}]\n", level) == []
    (found,) = strings(f"- combination: [{', '.join(names[: most + 1])}]\n", level)
    assert f"a call of {most + 1} techniques is long for level {level}: up to {most} can be kept in mind there" in found


def test_ten_strikes_are_told_at_level_1_at_the_first_that_is_too_many_and_not_at_level_6() -> None:
    string = f"- combination: [{TEN}]\n  teach: 1\n"
    (found,) = strings(string, 1)
    assert found.startswith(f"5:{string.index('lead uppercut') + 1}: a call of 10 techniques")
    assert strings(string, 6) == []


@pytest.mark.parametrize(
    "step",
    [
        f"- shadow: [[jab], [{TEN}]]\n  for: 1 min\n",
        f"- pads: [[jab], [{TEN}]]\n  reps: 4\n",
        f"- partner: parry\n  reps: 4\n  answers: [{TEN}]\n",
    ],
)
def test_calls_of_every_kind_are_counted(step: str) -> None:
    assert len(strings(step, 1)) == 1


def test_the_defence_that_a_partner_feeds_is_not_counted_and_a_box_step_passes() -> None:
    assert strings("- partner: parry\n  reps: 4\n  answers: [jab, cross, lead hook, cross]\n", 1) == []
    assert strings("- combination: [step forward, step left, step back, step right]\n", 1) == []
