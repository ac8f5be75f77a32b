"""Where a single word is at fault, the problem points at it, however the script writes the list that it stands in."""

from __future__ import annotations

import pytest

from coaching import reviewed

BROKEN = {
    "- combination: [cross, rear hook]": "rear hook",
    "- combination: [cross, 'rear hook']": "rear hook",
    "- combination: cross,  rear hook": "rear hook",
    "- combination: 'cross, rear hook'": "rear hook",
    "- combination: 2-4": "4",
    "- combination:\n  - cross\n  - rear hook: no hip left": "rear hook",
    "- combination:\n  - cross\n  -   rear hook": "rear hook",
    "- shadow: [[jab], [cross, rear hook]]\n  for: 1 min": "rear hook",
    "- shadow: ['jab', 'cross, rear hook']\n  for: 1 min": "rear hook",
    "- pads: [cross, rear hook]\n  reps: 2": "rear hook",
    "- partner: parry\n  reps: 2\n  pace: learning\n  answers:\n    parry: [cross, rear hook]": "rear hook",
}
HEAD = "drill: Places\njunior: no\nlevel: 4\nsteps:\n"


def place(text: str, word: str) -> tuple[int, int]:
    """The line and column, from 1, of the last time that a word stands in a text."""
    before = text[: text.rindex(word)]
    return before.count("\n") + 1, len(before) - before.rfind("\n")


@pytest.mark.parametrize("steps", BROKEN)
def test_flow_points_at_the_strike_that_has_no_hip_left(steps: str) -> None:
    text = f"{HEAD}{steps}\n"
    (problem,) = (problem for problem in reviewed(text) if problem.rule == "flow")
    assert problem.at == place(text, BROKEN[steps])


def test_a_list_folded_over_lines_is_told_where_it_starts() -> None:
    text = f"{HEAD}- combination: cross,\n    rear hook\n"
    assert [problem.at for problem in reviewed(text)] == [place(text, "cross")]


@pytest.mark.parametrize(
    ("rule", "steps", "word"),
    [
        ("guard", "- combination: [jab, rear high front kick]\n  reps: 1", "rear high front kick"),
        ("guard", "- hold: high side kick\n  for: 5 s", "high side kick"),
        ("sides", "- combination: [jab, rear round knee]\n  reps: 10", "rear round knee"),
        ("order", "- partner: [parry, weave]\n  reps: 4\n  pace: learning\n- combination: [weave left]\n- combination: "
         "[weave right]", "weave]\n  reps"),
        ("alike", "- react: [duck left, hook left, freeze]\n  reps: 4", "hook left"),
        ("alike", "- shadow: [[step left, jab], [slip left, jab]]\n  for: 30 s", "slip left"),
    ],
)  # fmt: skip
def test_other_rules_point_at_the_word_too(rule: str, steps: str, word: str) -> None:
    text = f"{HEAD}{steps}\n"
    assert place(text, word) in [problem.at for problem in reviewed(text) if problem.rule == rule]


def test_a_silence_of_the_step_holds_for_its_words_and_for_no_other_step() -> None:
    silence = "  silence: {flow: it is meant to be awkward}\n"
    first, second = "- combination: [cross, rear hook]\n", "- combination: [jab, lead hook, lead uppercut]\n"
    assert [problem.line for problem in reviewed(HEAD + first + silence + second)] == [7]
    assert [problem.line for problem in reviewed(HEAD + first + second + silence)] == [5]
