"""Sides: what only one side gets is told, and what chance makes of random calls is not."""

from __future__ import annotations

import pytest

from coaching import found_by
from cornercue.coaching.sides import review


def sides(steps: str, head: str = "") -> list[str]:
    text = f"drill: Sides\n{head}steps:\n{steps}"
    return [f"{problem.line}: {problem.severity}: {problem.text}" for problem in found_by(review, text)]


@pytest.mark.parametrize(
    ("steps", "found"),
    [
        ("- combination: [jab, rear front kick]\n  reps: 8\n", "the front kick comes about 8 times on the right and 0"),
        ("- combination: [weave left, lead hook]\n  reps: 8\n", "the weave comes about 8 times on the left and 0"),
        ("- partner: parry\n  reps: 8\n  sides: left\n", "the parry comes about 8 times on the left and 0"),
        ("- shadow: [jab, rear front kick]\n  for: 1 min\n", "the front kick comes about 10 times on the right and 0"),
        ("- hold: side kick\n  sides: left\n", "the side kick is held for 10 s on the left and 0 s on the right"),
        ("- hold: rear side kick\n  sets: 2\n", "the side kick is held for 20 s on the right and 0 s on the left"),
        ("- exercise: calf stretch, left leg\n  for: 20 s\n", "this exercise is for the left side, and nothing like"),
    ],
)
def test_work_that_only_one_side_gets_is_told(steps: str, found: str) -> None:
    (told,) = sides(steps)
    severity = "hint" if found.startswith(("the weave", "the parry")) else "warning"
    assert told.startswith(f"3: {severity}: {found}")


def test_much_more_on_one_side_is_a_hint() -> None:
    kicks = "- combination: [jab, rear front kick]\n  reps: 12\n- combination: [cross, lead front kick]\n  reps: {}\n"
    assert sides(kicks.format(3))[0].startswith("3: hint: the front kick comes about 12 times on the right and 3")
    assert sides(kicks.format(6)) == []  # twice as often is not more than twice


@pytest.mark.parametrize(
    "steps",
    [
        "- combination: [jab, cross]\n  reps: 20\n",
        "- combination: [weave left, lead hook]\n  reps: 6\n- combination: [weave right, cross]\n  reps: 6\n",
        "- partner: {parry: 4, weave: 1}\n  for: 1 min\n",
        "- partner: parry\n  reps: 6\n  sides: left\n- partner: parry\n  reps: 6\n  sides: right\n",
        "- shadow: [[jab, rear front kick], [cross, lead front kick]]\n  for: 2 min\n",
        "- hold: side kick\n",
        "- hold: lead side kick\n- hold: rear side kick\n",
        "- exercise: stand on your left leg\n  for: 20 s\n- exercise: now on the right one\n  for: 20 s\n",
        "- exercise: look left and right\n  for: 20 s\n",
        "- combination: [jab, rear front kick]\n  reps: 3\n",
    ],
)
def test_even_work_and_small_differences_are_left_alone(steps: str) -> None:
    assert sides(steps) == []


def test_a_drill_in_both_stances_is_even() -> None:
    for steps in ("- combination: [weave left, lead hook]\n  reps: 8\n", "- hold: rear side kick\n",
                  "- partner: parry\n  reps: 8\n  sides: left\n"):  # fmt: skip
        assert sides(steps, "stance: both\n") == []


@pytest.mark.parametrize("seed", range(5))
def test_chance_is_not_the_scripts_doing(seed: int) -> None:
    assert sides("- partner: [parry, cover, weave]\n  for: 1 min\n", f"seed: {seed}\n") == []


def test_a_repeat_counts_as_often_as_it_is_done() -> None:
    (told,) = sides("- repeat: 4\n  steps:\n  - combination: [jab, rear front kick]\n    reps: 2\n")
    assert told.startswith("5: warning: the front kick comes about 8 times on the right")


def test_a_word_of_the_clubs_own_is_told_as_the_script_has_it() -> None:
    head = "drill: Own\nwords: {tide kick: {like: side kick, said: tied kick}, low sweep: low block}\nsteps:\n"
    steps = "- combination: [rear tide kick, low sweep left]\n  reps: 9\n"
    texts = [problem.text for problem in found_by(review, head + steps)]
    assert texts == [
        "the tide kick comes about 9 times on the right and 0 on the left",
        "the low sweep comes about 9 times on the left and 0 on the right",
    ]


@pytest.mark.parametrize("move", ["rear knee", "rear round knee", "rear elbow", "rear rising elbow"])
def test_knees_and_elbows_count_as_kicks_do(move: str) -> None:
    (told,) = sides(f"- combination: [jab, {move}]\n  reps: 10\n")
    assert told.startswith(f"3: warning: the {move.removeprefix('rear ')} comes about 10 times on the right and 0 on")
    assert sides(f"- combination: [jab, {move}]\n  reps: 10\n", "stance: both\n") == []
    other = move.replace("rear", "lead")
    assert sides(f"- combination: [jab, {move}, cross, {other}]\n  reps: 10\n") == []


@pytest.mark.parametrize("steps", ["[step forward, step left, step back, step right]", "[palm heel, jab]"])
def test_steps_and_punches_do_not(steps: str) -> None:
    assert sides(f"- combination: {steps.replace('palm heel', 'rear palm heel')}\n  reps: 10\n") == []
