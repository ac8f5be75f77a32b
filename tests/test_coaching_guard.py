"""Guard: time to come back on guard, a pace for the level, and nothing above the height that level and age allow."""

from __future__ import annotations

import pytest

from coaching import found_by, timeline_of
from cornercue.coaching.guard import review
from cornercue.script.read import parse_drill


def guard(steps: str, head: str = "level: 7\n") -> list[str]:
    found = found_by(review, f"drill: Guard\n{head}steps:\n{steps}")
    return [f"{problem.severity}: {problem.text}; {problem.remedy}" for problem in found]


@pytest.mark.parametrize(
    "step",
    [
        "- shadow: [[jab, cross], [jab]]\n  for: 1 min\n  gap: [2 s, {longest} s]\n",
        "- partner: [parry, cover]\n  for: 1 min\n  gap: [2 s, {longest} s]\n",
        "- partner: [parry, cover]\n  reps: 10\n  listener: feeder\n  gap: [2 s, {longest} s]\n",
        "- partner: parry\n  reps: 10\n  listener: feeder\n  answers: jab, cross\n  gap: [2 s, {longest} s]\n",
        "- partner: parry\n  reps: 10\n  answers: [[jab, cross], [jab]]\n  gap: [2 s, {longest} s]\n"
        "  between: step away\n",
    ],
)
def test_a_gap_hardly_longer_than_what_a_call_needs_is_told_with_one_that_would_do(step: str) -> None:
    """The least that timing accepts (found by trying) leaves no room at all; the gap that is offered passes."""
    least = next(tenth / 10 for tenth in range(21, 200) if accepted(step.format(longest=tenth / 10)))
    (found,) = guard(step.format(longest=least))
    assert found.startswith("warning: the calls come almost like a clock: ")
    offered = float(found.partition("ask for `gap: [2 s, ")[2].partition(" s]")[0])
    assert least + 1.5 < offered < least + 2.5
    assert guard(step.format(longest=offered)) == []
    assert guard(step.format(longest=round(least + 1.2, 1))) == []
    assert guard(step.format(longest=round(least + 0.7, 1)))


def accepted(steps: str) -> bool:
    from cornercue.timing.faults import TimingFault

    try:
        timeline_of(parse_drill(f"drill: Guard\nlevel: 7\nsteps:\n{steps}"))
    except TimingFault:
        return False
    return True


def test_a_shortest_gap_as_long_as_the_longest_is_a_clock_too() -> None:
    (found,) = guard("- shadow: [[jab, cross], [jab]]\n  for: 1 min\n  gap: [8 s, 8.5 s]\n")
    assert "at most 0.5 s later than it could" in found


@pytest.mark.parametrize(
    ("level", "pace", "found"),
    [
        (1, "sharp", "warning: partner work at a sharp pace is fast for level 1; begin with `pace: learning`"),
        (1, "0.3 s", "warning: partner work at a sharp pace is fast for level 1"),
        (2, "steady", "hint: partner work at a steady pace is fast for level 2; begin with `pace: learning`"),
        (5, "sharp", "hint: partner work at a sharp pace is fast for level 5; begin with `pace: steady`"),
        (1, "learning", None),
        (1, "1.5 s", None),
        (5, "steady", None),
        (8, "sharp", None),
    ],
)
def test_partner_work_is_no_faster_than_the_level(level: int, pace: str, found: str | None) -> None:
    told = guard("- partner: parry\n  reps: 6\n", f"level: {level}\npace: {pace}\n")
    assert [line.startswith(found or "?") for line in told] == [True] * bool(found)


@pytest.mark.parametrize(
    "step",
    [
        "- combination: [jab, rear high roundhouse kick]\n",
        "- shadow: [[jab, rear high roundhouse kick], [jab]]\n  for: 1 min\n",
        "- hold: high roundhouse kick\n",
    ],
)
def test_a_kick_to_head_height_waits_for_its_level(step: str) -> None:
    found = guard(step, "level: 5\n")
    assert found[0].startswith("warning: a high roundhouse kick is above the height for level 5; aim lower: `")
    assert guard(step, "level: 6\n") == []
    assert guard(step.replace("high ", ""), "level: 1\n") == []


def test_no_junior_kicks_to_the_head_opposite_a_partner() -> None:
    step = "- partner: parry\n  reps: 6\n  answers: jab, rear high roundhouse kick\n"
    (found,) = guard(step)
    assert found.startswith("warning: a high roundhouse kick opposite a partner is too high for juniors; aim")
    assert guard(step, "level: 7\njunior: no\n") == []
