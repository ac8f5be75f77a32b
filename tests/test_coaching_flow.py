"""Flow: what the trade teaches everywhere is left alone, and what cannot flow is named.

The combinations are common practice, no source: every boxing gym teaches them.
"""

from __future__ import annotations

import pytest

from coaching import found_by, timeline_of
from cornercue.coaching.flow import review
from cornercue.script.read import parse_drill

TAUGHT_EVERYWHERE = [
    "jab, cross",
    "jab, jab, cross",
    "jab, cross, lead hook",
    "jab, cross, lead hook, cross",
    "jab, rear body hook, lead hook",
    "cross, lead hook, cross",
    "lead hook, rear hook",
    "lead hook, cross, lead hook",
    "jab, lead hook, cross",
    "jab, cross, lead uppercut, cross",
    "jab, body cross, lead hook",
    "lead body hook, lead hook, cross",
    "jab, cross, lead hook, rear low roundhouse kick",
    "jab, cross, weave left, lead hook, cross",
    "slip right, cross, lead hook",
    "cross, step back, cross",
    "parry left, cross",
]
BROKEN = {
    "jab, cross, rear uppercut": "the rear uppercut needs the hip that the cross",
    "cross, rear hook": "the rear hook needs the hip that the cross",
    "rear body hook, lead hook, lead uppercut": "the lead uppercut needs the hip that the lead hook",
    "lead hook, lead overhand, cross": "the lead overhand needs the hip that the lead hook",
    "jab, cross, lead hook, lead body hook": "the lead body hook needs the hip that the lead hook",
}


def drill(steps: str, stance: str = "orthodox") -> str:
    return f"drill: Flow\nstance: {stance}\nsteps:\n{steps}"


def flow(text: str) -> list[str]:
    return [f"{problem.severity}: {problem.text}" for problem in found_by(review, text)]


@pytest.mark.parametrize("stance", ["orthodox", "southpaw", "both"])
@pytest.mark.parametrize("moves", TAUGHT_EVERYWHERE)
def test_what_is_taught_everywhere_flows_in_every_stance(moves: str, stance: str) -> None:
    if stance == "southpaw":  # left and right in a script are meant for its stance
        moves = moves.replace("left", "?").replace("right", "left").replace("?", "right")
    assert flow(drill(f"- combination: [{moves}]\n", stance)) == []
    assert flow(drill(f"- shadow: [[{moves}], [jab]]\n  for: 1 min\n", stance)) == []


@pytest.mark.parametrize("stance", ["orthodox", "southpaw", "both"])
@pytest.mark.parametrize("moves", BROKEN)
def test_the_strike_that_has_no_hip_left_is_named(moves: str, stance: str) -> None:
    (found,) = flow(drill(f"- combination: [{moves}]\n", stance))
    assert found.startswith(f"warning: {BROKEN[moves]}")
    (found,) = flow(drill(f"- shadow: [[jab], [{moves}]]\n  for: 1 min\n", stance))
    assert found.startswith(f"warning: {BROKEN[moves]}")


@pytest.mark.parametrize(
    ("stance", "moves", "side"),
    [
        ("orthodox", "weave left, cross", "left"),
        ("orthodox", "slip right, lead hook", "right"),
        ("southpaw", "weave right, cross", "right"),
        ("southpaw", "slip left, lead hook", "left"),
    ],
)
def test_an_answer_starts_where_the_weave_has_put_the_weight(stance: str, moves: str, side: str) -> None:
    (found,) = flow(drill(f"- combination: [{moves}]\n", stance))
    assert f"loads the {side} one" in found


def test_a_change_of_stance_changes_the_hands_but_not_the_hips() -> None:
    assert flow(drill("- combination: [lead hook, switch stance, lead hook]\n")) == []
    # A weave goes with the stance as a hand does: written left for orthodox, it is called right after the switch.
    assert flow(drill("- combination: [switch stance, weave left, lead hook]\n")) == []
    (found,) = flow(drill("- combination: [switch stance, weave left, cross]\n"))
    assert "weave right loads the right one" in found


def test_a_partners_answer_is_looked_at_from_every_side_that_may_come() -> None:
    fed = "- partner: weave\n  reps: 4\n  sides: {}\n  answers: [{}]\n"
    for side in ("left", "right", "both"):  # on the right it is thrown the other way round
        assert flow(drill(fed.format(side, "lead hook, cross"))) == []
    assert len(flow(drill(fed.format("left", "lead hook, lead uppercut")))) == 1
    assert len(flow(drill(fed.format("right", "rear hook, rear uppercut, jab")))) == 1
    assert flow(drill("- partner: [weave, slip]\n  reps: 4\n  answers: [[jab, cross], [jab, lead hook]]\n")) == []


def test_a_kick_from_the_same_hip_is_only_a_hint() -> None:
    (found,) = flow(drill("- combination: [jab, cross, rear low roundhouse kick]\n"))
    assert found.startswith("hint: ")


def test_a_broken_combination_in_a_repeat_is_told_at_its_own_word() -> None:
    text = drill("- repeat: 2\n  steps:\n  - say: Go.\n  - combination: [cross, rear hook]\n")
    assert [(problem.line, problem.column) for problem in found_by(review, text)] == [(7, 26)]


def test_the_review_needs_no_voice_and_no_clock() -> None:
    read = parse_drill(drill("- combination: [cross, rear hook]\n"))
    assert list(review(read, timeline_of(read))) == list(review(read, timeline_of(read)))


@pytest.mark.parametrize(
    "moves",
    [
        "jab, cross, rear knee",
        "lead hook, lead round knee",
        "rear roundhouse kick, rear roundhouse kick",
        "lead low side kick, lead side kick",
        "step forward, step left, step back, step right",
        "step left, cross, step right, cross",
    ],
)
def test_knees_after_a_hand_doubled_kicks_and_box_steps_are_left_alone(moves: str) -> None:
    assert flow(drill(f"- combination: [{moves}]\n")) == []


def test_a_knee_turns_the_hip_as_any_strike_does() -> None:
    (found,) = flow(drill("- combination: [rear knee, cross]\n"))
    assert "the cross needs the hip that the rear knee" in found
