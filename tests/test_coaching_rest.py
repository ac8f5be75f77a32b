"""Rest: the rounds of USA Boxing (rule book, secondary copy) pass, and what asks for more than they do is told.

8 to 12 years 1 min, 13 and 14 1.5 min, 15 and 16 2 min, 17 and over 3 min, each with 1 min of rest.
"""

from __future__ import annotations

import re

import pytest

from coaching import found_by, timeline_of
from cornercue.coaching.exercises import is_gentle, is_round, is_strength
from cornercue.coaching.rest import review
from cornercue.durations import lasting
from cornercue.script.read import parse_drill

ADULTS = "junior: no\n"


def rest(steps: str, head: str = "") -> list[str]:
    found = found_by(review, f"drill: Rest\n{head}steps:\n{steps}")
    return [f"{problem.line}: {problem.text}" for problem in found]


def rounds(work: str, rest: str, step: str = "exercise: shadow boxing") -> str:
    return f"- repeat: 3\n  rest: {rest}\n  steps:\n  - {step}\n    for: {work}\n"


@pytest.mark.parametrize(
    ("head", "work"),
    [("", "1 min"), ("ages: 13-14\n", "1.5 min"), ("ages: 15-16\n", "2 min"), ("ages: 17\n", "3 min"),
     (ADULTS, "3 min"), ("ages: 6\n", "1 min")],
)
def test_the_rounds_of_the_table_pass(head: str, work: str) -> None:
    assert rest(rounds(work, "1 min"), head) == []
    assert rest(rounds(work, "1 min", "shadow: [[jab, cross], [jab]]"), head) == []


def test_longer_rounds_are_told_with_the_published_figure() -> None:
    (found,) = rest(rounds("1.5 min", "75 s"))
    assert found == (
        "6: 1 min 30 s of work without a rest is long for juniors of 10-12: a round of USA Boxing lasts 1 min at most"
    )
    (found,) = rest(rounds("2.5 min", "75 s"), "ages: 15-17\n")
    assert "long for juniors of 15-17: a round of USA Boxing lasts 2 min at most" in found
    (found,) = rest(rounds("4 min", "90 s"), ADULTS)
    assert "long for adults: a round of USA Boxing lasts 3 min at most" in found


@pytest.mark.parametrize(
    ("head", "work", "short", "enough"),
    [("", "1 min", 59, 60), ("", "30 s", 29, 30), ("ages: 15\n", "1 min", 29, 30), ("ages: 15\n", "2 min", 59, 60),
     (ADULTS, "3 min", 59, 60)],
)
def test_a_rest_is_a_fair_share_of_the_work_before_it(head: str, work: str, short: int, enough: int) -> None:
    if head != ADULTS:
        (found,) = rest(rounds(work, f"{short} s"), head)
        assert f": {short} s of rest after {work} of work is short for juniors of 1" in found
    assert rest(rounds(work, f"{enough} s"), head) == []
    skipping = f"- exercise: skipping\n  for: {work}\n"
    apart = f"{skipping}- rest: {short} s\n- say: Again.\n{skipping}"
    (found,) = rest(apart, head)
    assert f": {short} s of rest after {work} of work is short" in found
    assert rest(apart.replace(f"rest: {short}", f"rest: {enough}"), head) == []


def test_rounds_without_any_rest_add_up() -> None:
    (found,) = rest("- repeat: 4\n  steps:\n  - exercise: skipping\n    for: 1 min\n")
    assert found.startswith("5: 4 min of work without a rest")
    (found,) = rest("- shadow: [[jab], [cross]]\n  for: 40 s\n- shadow: [[jab], [cross]]\n  for: 40 s\n")
    assert found.startswith("5: 1 min 20 s of work without a rest")
    (found,) = rest("- shadow: [[jab], [cross]]\n  for: 1 min\n", "stance: both\n")
    assert found.startswith("4: 2 min of work without a rest")


@pytest.mark.parametrize(
    "steps",
    [
        "- exercise: walking and slow breathing\n  for: 10 min\n",
        "- exercise: jogging\n  for: 5 min\n",
        "- exercise: hip circles\n  for: 90 s\n- exercise: arm circles\n  for: 90 s\n",
        "- exercise: skipping\n  for: 1 min\n- rest: 10 s\n- say: Drink something.\n",  # nothing hard comes after it
        "- exercise: skipping\n  for: 1 min\n- combination: [jab, cross]\n- exercise: skipping\n  for: 1 min\n",
        "- partner: parry\n  for: 90 s\n  pace: learning\n- rest: 15 s\n"
        "- partner: parry\n  for: 90 s\n  pace: learning\n",
        # A circuit: six stations of 20 s, then a minute.
        "- repeat: 3\n  rest: 1 min\n  steps:\n"
        + "".join(f"  - exercise: {name}\n    for: 20 s\n" for name in ("squats", "planks", "sprints", "dips", "run")),
    ],
)  # fmt: skip
def test_easy_work_and_work_with_pauses_of_its_own_is_left_alone(steps: str) -> None:
    assert rest(steps, "ages: 15-16\n") == []


@pytest.mark.parametrize(
    ("step", "found"),
    [
        ("exercise: push-ups\n  reps: 10\n  sets: 3\n", None),  # left open, it is long enough
        ("exercise: push-ups\n  reps: 10\n  sets: 3\n  rest: 20 s\n", "20 s of rest between sets of 30 s is short"),
        ("exercise: push-ups\n  reps: 10\n  sets: 3\n  rest: 30 s\n", None),
        ("exercise: push-ups\n  reps: 4\n  sets: 3\n  rest: 12 s\n", None),
        ("exercise: push-ups\n  reps: 10\n", None),
        ("exercise: burpees\n  for: 20 s\n  sets: 8\n  rest: 20 s\n", None),  # one to one, as in the rounds
        ("exercise: burpees\n  for: 20 s\n  sets: 8\n  rest: 10 s\n", "10 s of rest after 20 s of work is short"),
        ("exercise: burpees\n  for: 20 s\n  sets: 8\n", None),
        ("exercise: slow arm circles\n  reps: 10\n  sets: 2\n", None),
        ("hold: side kick\n  for: 10 s\n  sets: 2\n", None),
        ("hold: side kick\n  for: 10 s\n  sets: 2\n  rest: 20 s\n", None),
    ],
)
def test_sets_have_a_rest_between_them(step: str, found: str | None) -> None:
    lines = rest(f"- {step}")
    assert [line.startswith(f"3: {found}") for line in lines] == [True] * bool(found)


def test_names_tell_what_an_exercise_is() -> None:
    gentle = ["easy shadow boxing", "calf against the wall, left leg", "walking and slow breathing", "arm circles"]
    hard = ["shadow boxing", "skipping", "round one, straight punches", "heavy bag"]
    strength = ["push-ups", "sit-ups", "slow squats", "Press ups", "burpees"]
    assert [name for name in (*gentle, *hard, *strength) if is_gentle(name)] == gentle
    assert [name for name in (*gentle, *hard) if is_round(name)] == hard
    assert [name for name in (*gentle, *hard, *strength) if is_strength(name)] == strength


def test_durations_are_told_as_people_say_them() -> None:
    assert [lasting(seconds) for seconds in (45, 60, 90, 200)] == ["45 s", "1 min", "1 min 30 s", "3 min 20 s"]


def test_the_remedy_asks_for_nothing_that_the_script_has_said_already() -> None:
    shadow = "- shadow: [[jab], [cross]]\n  for: 1 min\n"

    def remedy(steps: str, head: str) -> str:
        (found,) = found_by(review, f"drill: Rest\nlevel: 4\n{head}steps:\n{steps}")
        return found.remedy

    assert remedy(shadow, "ages: 10-12\nstance: both\n") == "make it shorter, since it comes in both stances"
    assert "in both stances, or write how old the juniors are" in remedy(shadow, "stance: both\n")
    assert remedy(shadow * 2, "ages: 10-12\n") == "make it shorter, or put a rest of 1 min in between"


CALLS = "- combination: [jab, cross]\n  reps: 30\n- combination: [jab, cross, lead hook]\n  reps: 30\n"


def test_minutes_of_combinations_are_work_as_rounds_are() -> None:
    (found,) = rest(CALLS)
    assert re.match(r"5: \d min \d+ s of work without a rest is long for juniors of 10-12", found)
    assert rest(CALLS.replace("reps: 30", "reps: 6")) == []
    assert rest(CALLS.replace("\n- ", "\n- rest: 1 min\n- ").replace("reps: 30", "reps: 20")) == []


@pytest.mark.parametrize(
    "step",
    [
        "- pads: [[jab, cross], [jab, cross, lead hook]]\n  reps: 60\n",
        "- react: [sprawl, duck, freeze]\n  reps: 60\n",
        "- partner: parry\n  reps: 60\n",
    ],
)
def test_counted_calls_of_every_kind_are_work(step: str) -> None:
    assert len(rest(step)) == 1
    assert rest(step.replace("60", "10")) == []


def test_slow_and_taught_work_and_a_change_to_an_exercise_leave_time_to_breathe() -> None:
    assert rest(CALLS, "pace: learning\n") == []
    taught = CALLS.replace("reps: 30", "reps: 12\n  teach: 2")
    assert rest(taught) == []
    assert len(rest(taught.replace("  teach: 2\n", "") * 2)) == 1
    assert rest("- exercise: skipping\n  for: 3 min\n- combination: [jab, cross]\n  reps: 8\n", "ages: 17\n") == []


def test_work_is_told_as_long_as_the_timeline_has_it() -> None:
    drill = parse_drill("drill: A\nsteps:\n- combination: [jab, cross]\n  reps: 60\n")
    timeline = timeline_of(drill)
    (problem,) = review(drill, timeline)
    assert problem.text.startswith(f"{lasting(timeline.total('work'))} of work without a rest")


def test_ages_are_not_asked_for_where_the_script_has_them() -> None:
    (open_,) = found_by(review, "drill: A\nsteps:\n- shadow: [[jab], [cross]]\n  for: 3 min\n")
    (known,) = found_by(review, "drill: A\nages: 7-9\nsteps:\n- shadow: [[jab], [cross]]\n  for: 3 min\n")
    assert "write how old the juniors are" in open_.remedy
    assert "how old" not in known.remedy
