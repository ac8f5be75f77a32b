"""The partner session for a parent without a script: as long as asked, taught, warm first and calm last, both sides."""

from __future__ import annotations

import itertools
from functools import partial
from typing import Any

import pytest

from cornercue.coaching.exercises import is_gentle
from cornercue.coaching.rules import review
from cornercue.ladder.fitting import fitted
from cornercue.ladder.rounds import Ladder
from cornercue.script.exercise import Exercise
from cornercue.script.model import Drill
from cornercue.script.partner import Partner
from cornercue.script.read import parse_drill
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.phrasebook import phrasebook
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Timeline
from cornercue.totals.tally import tally

MINUTES = (3, 5, 8, 10, 20, 45)
WAYS: dict[str, dict[str, Any]] = {
    "as it comes": {},
    "adults": {"junior": False},
    "feeder": {"listener": "feeder"},
    "no answer": {"answers": ()},
    "brief": {"brief": True},
}


def lay(drill: Drill, seed: int = 3, slower: float = 1.0) -> Timeline:
    return expand(drill, Request(seed), lambda text, rate: slower * estimated_seconds(text, rate))


def session(slower: float = 1.0, seed: int = 3, **asked: Any) -> tuple[Drill, Timeline]:
    """The session asked for, in a voice that speaks so many times slower than the estimate."""
    drill = parse_drill(fitted(Ladder(**asked), lay, partial(lay, seed=seed, slower=slower)))
    return drill, lay(drill, seed, slower)


def rounds(drill: Drill) -> list[Partner]:
    return [step for step in drill.steps if isinstance(step, Partner)]


def told(drill: Drill, line: Timeline) -> list[str]:
    return [problem.told("ladder") for problem in review(drill, line)]


def test_ten_minutes_always_have_time_for_answers_whatever_the_seed_draws() -> None:
    for seed in range(12):
        drill, line = session(seed=seed, minutes=10)
        assert any(step.answers for step in rounds(drill)), seed
        assert line.duration <= 600


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("minutes", MINUTES)
def test_it_keeps_the_time_asked_for_and_a_head_coach_finds_nothing(minutes: float, way: str) -> None:
    for level in (1, 5, 10):
        drill, line = session(minutes=minutes, level=level, **WAYS[way])
        assert line.duration / 60 == pytest.approx(minutes, rel=0.1), (level, line.duration)
        if minutes >= 8:
            assert line.total("work") >= line.duration / 2
        first, *_, last = drill.steps
        assert isinstance(first, Exercise)
        assert isinstance(last, Exercise)
        assert is_gentle(last.exercise)
        found = told(drill, line)
        if minutes > 30 and level <= 2 and WAYS[way].get("junior", True):
            assert len(found) == 1
            assert "hint: dose:" in found[0]
        else:
            assert found == []


@pytest.mark.parametrize("slower", [0.8, 1.2])
@pytest.mark.parametrize("minutes", MINUTES)
def test_the_voice_that_speaks_decides_not_the_estimate(minutes: float, slower: float) -> None:
    _, line = session(slower, minutes=minutes)
    assert line.duration / 60 == pytest.approx(minutes, rel=0.1)


@pytest.mark.parametrize("minutes", [3, 4, 5, 7.5, 12, 60])
def test_with_two_children_the_roles_change_and_each_has_every_round(minutes: float) -> None:
    drill, line = session(slower=0.95, minutes=minutes, swap=True)  # The system voice is quicker than the estimate.
    assert line.duration / 60 == pytest.approx(minutes, rel=0.1)
    steps = rounds(drill)
    for one, other in zip(steps[::2], steps[1::2], strict=True):
        assert (one.partner, one.for_, one.answers) == (other.partner, other.for_, other.answers)
    said = [cue.text for cue in line.spoken()]
    assert sum(text.startswith("Change over.") for text in said) == len(steps) // 2


def test_three_minutes_teach_the_first_defence_and_name_the_others_for_another_day() -> None:
    drill, line = session(minutes=3)
    assert [[one.technique.name for one in step.partner] for step in rounds(drill)] == [["parry"]]
    assert rounds(drill)[0].teach
    assert "For another day, cover and weave." in [cue.text for cue in line.spoken()]


def test_a_brief_session_has_everything_at_once_and_still_its_cautions() -> None:
    drill, line = session(minutes=3, brief=True)
    assert {one.technique.name for step in rounds(drill) for one in step.partner} == {"parry", "cover", "weave"}
    said = [cue.text for cue in line.spoken()]
    assert said[0].startswith("Safety first")
    assert not any(text.startswith(("Parry: ", "Student, only look")) for text in said)


def test_ten_minutes_go_from_one_defence_to_all_of_them_and_end_in_turn() -> None:
    drill, _ = session(minutes=12)
    everything = ["parry", "cover", "weave"]
    found = [([one.technique.name for one in step.partner], step.order, step.teach) for step in rounds(drill)]
    assert found[:3] == [([name], "alternate", True) for name in everything]
    assert found[3] == (everything, "random", False)
    assert found[-1] == (everything, "even", False)
    assert any(step.answers for step in rounds(drill))


def test_a_warm_up_is_longer_in_a_long_session_and_nothing_is_sharp_after_a_short_one() -> None:
    def warm(drill: Drill) -> float:
        easy = itertools.takewhile(lambda step: isinstance(step, Exercise), drill.steps)
        return sum(sum(step.seconds_at(1)) for step in easy if isinstance(step, Exercise))

    for minutes in MINUTES:
        drill, _ = session(minutes=minutes, level=10)
        assert warm(drill) >= 60 or drill.pace == "steady"
        assert warm(drill) >= (180 if minutes >= 20 else 15)
    assert session(minutes=10, level=10)[0].pace == "sharp"
    assert session(minutes=10, level=10, pace="learning")[0].pace == "learning"


@pytest.mark.parametrize("minutes", [8, 10, 20, 45])
def test_left_and_right_of_every_defence_come_out_even(minutes: float) -> None:
    for seed in range(12):
        _, line = session(minutes=minutes, level=5, seed=seed)
        counts = tally(line).defences
        for name in ("parry", "cover", "weave"):
            assert abs(counts[f"{name} left"] - counts[f"{name} right"]) <= 1, (seed, counts)


def test_the_cautions_come_first_in_full_where_there_is_time() -> None:
    for minutes, length in ((3, "short"), (10, "full")):
        _, line = session(minutes=minutes)
        expected = phrasebook().safety["junior"][length]
        assert [cue.text for cue in line.cues[: len(expected)]] == expected
