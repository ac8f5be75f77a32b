"""What a drill comes to: repetitions, limbs and effort, against sums done by hand and the published table."""

from __future__ import annotations

import json
from itertools import pairwise
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given, settings

from cornercue.ages import Ages
from cornercue.cli.main import commands
from cornercue.script.read import parse_drill
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Timeline
from cornercue.totals import activities
from cornercue.totals.effort import activity_of, effort, met_minutes
from cornercue.totals.stretches import Stretch, stretches
from cornercue.totals.summary import lines, short, summarised
from strategies import Script, scripts, speech

# Adult Compendium of Physical Activities 2024 (Herrmann et al., Journal of Sport and Health Science 13, 2024, 6-12),
# typed from a copy of its table; 07040 from a copy of that of 2011 (Ainsworth et al., Medicine & Science in Sports &
# Exercise 43, 2011, 1575-1581). The papers themselves were not at hand.
PUBLISHED = {
    ("15425", "2024"): 5.3,  # martial arts, different types, slower pace, novice performers, practice
    ("02020", "2024"): 7.5,  # calisthenics, vigorous effort
    ("02022", "2024"): 3.8,  # calisthenics, moderate effort
    ("02024", "2024"): 2.8,  # calisthenics, light effort
    ("02030", "2024"): 3.5,  # calisthenics, light or moderate effort, general
    ("02101", "2024"): 2.3,  # stretching, mild
    ("12025", "2024"): 4.8,  # jogging, in place
    ("15552", "2024"): 8.3,  # rope jumping, slow pace, < 100 skips/min
    ("07040", "2011"): 1.3,  # standing quietly
}

# Youth Compendium of Physical Activities (Butte et al., Medicine & Science in Sports & Exercise 50, 2018, 246-256),
# smoothed youth METs at 6-9, 10-12, 13-15 and 16-18 years: typed from copies of its table in others' public code. Three
# copies agree about the rope, two about jogging; of the other two rows there was one.
PUBLISHED_FOR_YOUTH = {
    "10260X": (6.9, 7.1, 7.2, 7.4),  # jump rope
    "60140X": (6.8, 7.4, 7.9, 8.4),  # jog, self-paced
    "30200X": (4.0, 4.1, 4.1, 4.2),  # calisthenics
    "30300X": (3.9, 4.0, 4.0, 4.1),  # body weight: a copy of the observed values has push-ups at 4.1 for 16-18 as well
}

DRILL = """\
drill: Sums
junior: {junior}
steps:
- combination: [jab, cross, lead roundhouse kick]
  teach: 2
  reps: 5
  angles: [ahead, right 90]
- exercise: skipping
  for: 2 min
- rest: 30 s
- exercise: push-ups
  reps: 10
  sets: 2
  rest: 1 min
- hold: side kick
  for: 10 s
- partner: [parry, duck]
  reps: 8
  order: alternate
  answers: [[jab, cross], [cross, lead knee]]
"""


def laid(text: str) -> Timeline:
    return expand(parse_drill(text), Request(seed=5), estimated_seconds)


ALL = [
    *(activity for _, activity in activities.BY_NAME),
    activities.HOLD,
    activities.STANDING,
    activities.OTHER,
    activities.TECHNIQUES,
]


def test_the_table_is_the_published_one() -> None:
    assert {(activity.code, activity.table): activity.met for activity in ALL} == PUBLISHED


def test_the_table_for_juniors_is_the_published_one() -> None:
    rows = {activity.youth.code: activity.youth.mets for activity in ALL}
    assert rows.pop(activities.NO_ROW) == (1.4, 1.4, 1.4, 1.4)
    assert rows == PUBLISHED_FOR_YOUTH


@pytest.mark.parametrize(
    ("ages", "rope"),
    [("4-5", 6.9), ("6-9", 6.9), ("9", 6.9), ("10-12", 7.1), ("13-15", 7.2), ("15-17", 7.2), ("16", 7.4)],
)
def test_each_age_group_has_its_own_value_and_the_youngest_decides(ages: str, rope: float) -> None:
    text = f"drill: Rope\nages: {ages}\nsteps:\n- exercise: skipping\n  for: 2 min\n"
    timeline = laid(text)
    still = timeline.duration / 60 - 2
    assert met_minutes(effort(timeline)) == pytest.approx(2 * rope + 1.4 * still)
    told = "\n".join(lines(summarised(timeline)))
    assert f"Effort, for juniors of {ages}: about {2 * rope + 1.4 * still:.0f} youth MET-minutes" in told
    assert "codes 10260X; an estimate, and no medical advice" in told


def test_repetitions_and_limbs_are_those_that_were_asked_for() -> None:
    summary = summarised(laid(DRILL.format(junior="yes")))
    # Two slow ones, five at each of two angles, two sets of ten, eight feeds; a hold is none.
    assert summary.repetitions == 2 + 5 * 2 + 2 * 10 + 8
    # Twelve combinations of jab, cross and left kick, and a hold a side; eight answers of two: each has a cross, and
    # four or so a jab, the others a left knee: a leg.
    assert summary.limbs["right hand"] == 12 + 8
    assert summary.limbs["left hand"] + summary.limbs["left leg"] == 12 + 12 + 1 + 8
    assert summary.limbs["right leg"] == 1
    # In turn: parry left, parry right, duck, and so on.
    assert summary.defences == {"left": 3, "right": 3}
    assert summary.called["defences"] == 8


def test_met_minutes_are_those_worked_out_by_hand() -> None:
    """Two rounds of skipping, a minute of stretching, and standing: METs times minutes, added up."""
    text = """\
drill: By hand
junior: no
steps:
- exercise: skipping
  for: 3 min
- rest: 1 min
- exercise: skipping
  for: 2 min
- exercise: stretch both arms
  for: 1 min
- shadow: [[jab, cross]]
  for: 4 min
"""
    timeline = laid(text)
    still = (timeline.duration - (3 + 2 + 1 + 4) * 60) / 60
    by_hand = 5 * 8.3 + 1 * 2.3 + 4 * 5.3 + still * 1.3
    assert met_minutes(effort(timeline)) == pytest.approx(by_hand)
    assert f"about {by_hand:.0f} MET-minutes" in "\n".join(lines(summarised(timeline)))


@pytest.mark.parametrize(
    ("name", "code"),
    [("Skipping, or jumping without a rope", "15552"), ("slow squats", "02022"), ("easy shadow boxing", "15425"),
     ("Jumping jacks", "02020"), ("sitting still, slow breathing", "02101"), ("hip circles", "02030")],
)  # fmt: skip
def test_an_exercise_is_known_by_its_name_as_far_as_that_goes(name: str, code: str) -> None:
    assert activity_of(Stretch(0, 60, "exercise", "neither", None, name)).code == code


def test_an_option_for_younger_juniors_changes_the_estimate() -> None:
    drill = parse_drill(DRILL.format(junior="yes"))
    young, usual = (
        summarised(expand(drill, Request(seed=5, ages=ages), estimated_seconds)) for ages in (Ages(6, 9), None)
    )
    assert "for juniors of 6-9" in short(young)
    assert "for juniors of 10-12" in short(usual)
    assert met_minutes(young.effort) / young.duration < met_minutes(usual.effort) / usual.duration


@settings(max_examples=25, deadline=None)
@given(scripts())
def test_stretches_are_all_the_work_and_effort_is_all_the_time_of_any_drill(script: Script) -> None:
    timeline = expand(script.read(), Request(seed=1), speech(1))
    work = stretches(timeline)
    assert sum(one.seconds for one in work) == pytest.approx(timeline.total("work"))
    assert sum(part.seconds for part in effort(timeline)) == pytest.approx(timeline.duration)
    assert all(one.seconds > 0 for one in work)
    spans = [span for span in timeline.spans if span.kind == "work"]
    assert all(any(span.start <= one.start and one.end <= span.end for span in spans) for one in work)
    assert all(one.end <= other.start for one, other in pairwise(work))


@pytest.mark.parametrize("junior", ["yes", "no"])
def test_check_and_show_tell_it(junior: str, tmp_path: Path) -> None:
    script = tmp_path / "sums.yaml"
    script.write_text(DRILL.format(junior=junior), encoding="utf-8")

    def run(*arguments: str) -> str:
        result = CliRunner().invoke(commands, [*arguments, str(script)])
        assert result.exit_code == 0, result.output
        return result.stdout

    checked = run("check").splitlines()
    fine = next(number for number, line in enumerate(checked) if ", about" in line)
    assert "40 repetitions; left hand" in checked[fine + 1]
    assert ("youth MET-minutes" in checked[fine + 1]) == (junior == "yes")
    assert "MET-minutes for " in checked[fine + 1]
    shown = run("show", "--voice", "none")
    assert "Repetitions: 40." in shown
    assert ("15425" in shown) == (junior == "no")
    data = json.loads(run("show", "--voice", "none", "--json"))["summary"]
    assert data["repetitions"] == 40
    parts = data["effort"]["parts"]
    by_hand = sum(part["met"] * part["seconds"] / 60 for part in parts)
    assert data["effort"]["met_minutes"] == pytest.approx(by_hand, abs=0.1)
    if junior == "yes":
        assert data["effort"]["ages"] == "10-12"
        found = {part["code"]: part["met"] for part in parts if part["code"] != activities.NO_ROW}
        assert found.items() <= {code: mets[1] for code, mets in PUBLISHED_FOR_YOUTH.items()}.items()
    else:
        assert data["effort"]["ages"] is None
        assert {(part["code"], part["table"]): part["met"] for part in parts}.items() <= PUBLISHED.items()
