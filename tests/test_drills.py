"""The demo drills of Saltmarsh Hall: what two people need, what is never said to juniors, and doses that stay small."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest

from cornercue.coaching.exercises import is_strength
from cornercue.coaching.traversal import done
from cornercue.script.exercise import Exercise
from cornercue.script.model import Drill, Include
from cornercue.script.partner import Partner
from cornercue.script.read import read_drill
from cornercue.script.step import StepNode
from cornercue.session.folders import scripts_in
from cornercue.technique.table import TECHNIQUES
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.phrasebook import phrasebook
from cornercue.timing.safety import partner_drills, written_cautions
from cornercue.timing.setting import Request

FOLDER = Path(__file__).parent.parent / "drills"
PATHS = {path.relative_to(FOLDER).with_suffix("").as_posix(): path for path in scripts_in([FOLDER])}
ALL = {name: read_drill(path) for name, path in PATHS.items()}
FOR_TWO = {name: drill for name, drill in ALL.items() if next(partner_drills(drill), None)}
JUNIORS_FOR_TWO = {name: drill for name, drill in FOR_TWO.items() if drill.junior}

HEAD = re.compile(
    r"\b(heads?|faces?|brows?|eyebrows?|eyes?|ears?|nose|mouth|lips?|chins?|jaws?|cheeks?|foreheads?|temples?|skull|hair"
    r"|necks?|throats?|teeth)\b",
    re.IGNORECASE,
)
"""Words for the head and its parts: what opposite a child must not be put into anybody's mind."""

ALLOWED = {
    "After a knock to the head, stop for the day and see a doctor.": "first aid is no aim",
    "With asthma or a heart condition, or after an injury, ask a doctor first. With one good eye, wear protection.": (
        "a caution for whoever has only one"
    ),
}
"""Whole sentences with such a word that juniors may hear or read in partner work, each with its reason."""

NOT_SOFT = re.compile(r"\b(?:rolled|paper|broom|pole|wooden|bamboo|plastic)\b", re.IGNORECASE)


def written(drill: Drill) -> Iterator[str]:
    """All words of a script, and of those that it includes, that are said or printed."""
    yield from (drill.drill, drill.about or "", *drill.gear)
    yield from _of(drill.steps)


def _of(steps: Iterable[StepNode]) -> Iterator[str]:
    for step in steps:
        yield from (said.text for said in step.said())
        if isinstance(step, Include):
            yield from written(step.include.drill)
        elif inner := step.inner():
            yield from _of(inner.steps)


def spoken(drill: Drill) -> list[str]:
    """All that the voice says, in order."""
    return [cue.text for cue in expand(drill, Request(seed=1), estimated_seconds).spoken()]


@pytest.mark.parametrize("name", JUNIORS_FOR_TWO)
def test_no_word_for_the_head_stands_in_a_junior_drill_for_two(name: str) -> None:
    drill = JUNIORS_FOR_TWO[name]
    texts = [*written(drill), *spoken(drill), *written_cautions(drill, phrasebook())]
    assert [text for text in texts if HEAD.search(text) and text not in ALLOWED] == []


def test_most_drills_for_two_are_for_juniors_and_one_includes_another_file() -> None:
    """So that the test above looks at something, includes too."""
    assert len(JUNIORS_FOR_TWO) >= 7
    assert any(isinstance(step, Include) for drill in JUNIORS_FOR_TWO.values() for step in drill.steps)
    assert "slow squats" in list(written(JUNIORS_FOR_TWO["three-defences"]))


@pytest.mark.parametrize("name", FOR_TWO)
def test_a_drill_for_two_asks_for_a_soft_foam_stick_and_for_gloves_or_open_hands(name: str) -> None:
    drill = FOR_TWO[name]
    assert {"a soft foam stick", "gloves or open hands"} <= set(drill.gear)
    assert not [text for text in written(drill) if NOT_SOFT.search(text)]


@pytest.mark.parametrize("name", JUNIORS_FOR_TWO)
def test_nothing_comes_down_from_above_at_juniors(name: str) -> None:
    fed = {weighted.technique.name for one in done(JUNIORS_FOR_TWO[name]) if isinstance(one.step, Partner)
           for weighted in one.step.partner}  # fmt: skip
    assert fed
    assert "high block" not in fed


@pytest.mark.parametrize("name", JUNIORS_FOR_TWO)
def test_what_juniors_are_told_before_the_first_round_says_where_the_palms_are(name: str) -> None:
    line = expand(JUNIORS_FOR_TWO[name], Request(seed=1), estimated_seconds)
    first = next(cue.start for cue in line.cues if cue.due)
    before = " ".join(cue.text for cue in line.spoken() if cue.start < first).lower()
    assert "palms out in front of your chest" in before
    assert "tip just touch the student's open palm" in before or JUNIORS_FOR_TWO[name].brief


@pytest.mark.parametrize("name", JUNIORS_FOR_TWO)
def test_the_feeder_is_told_to_step_in_again_where_punches_come_back(name: str) -> None:
    cues = [cue for cue in expand(JUNIORS_FOR_TWO[name], Request(seed=1), estimated_seconds).spoken() if cue.rep]
    asked = [one.step for one in done(JUNIORS_FOR_TWO[name]) if isinstance(one.step, Partner) and one.step.answers]
    if not asked:
        return
    assert any("step back" in text for text in written(JUNIORS_FOR_TWO[name]))
    punched = [cue for cue in cues if cue.kind == "call" and cue.moves[-1].hand]
    assert punched
    assert sum(cue.text.endswith("Feeder, step in.") for cue in cues) == len(punched)


@pytest.mark.parametrize("name", [name for name, drill in ALL.items() if drill.junior])
def test_strength_sets_stay_within_fifteen_at_every_level(name: str) -> None:
    """Sets of 6 to 15: Miller, Cheatham and Patel 2010, Pediatric Clinics of North America 57 (abstract)."""
    for one in done(ALL[name]):
        if isinstance(one.step, Exercise) and one.step.reps and is_strength(one.step.exercise):
            assert all(max(one.step.reps_at(level)) <= 15 for level in range(1, 11)), one.step.exercise


@pytest.mark.parametrize("name", ["heron-holds", "kicks", "warm-up", "cool-down"])
def test_who_stands_on_one_leg_has_a_chair_that_cannot_slide(name: str) -> None:
    assert "a chair that cannot slide" in ALL[name].gear


@pytest.mark.parametrize("name", [name for name, drill in ALL.items() if re.search(r"\bbag\b", " ".join(drill.gear))])
def test_a_bag_is_hung_firmly_with_room_to_swing_and_gloves_and_wraps_are_on(name: str) -> None:
    text = " ".join(written(ALL[name])).lower()
    for word in ("firmly", "room to swing", "gloves", "wraps"):
        assert word in text


def test_nobody_strikes_or_stands_against_a_wall() -> None:
    assert [text for drill in ALL.values() for text in written(drill) if re.search(r"\bwalls?\b", text)] == []


def test_a_high_knee_is_held_by_the_leg() -> None:
    said = spoken(ALL["heron-holds"])
    assert "Knee, left leg. Hold for twelve seconds." in said
    assert "Knee, right leg. Hold for twelve seconds." in said
    for technique in TECHNIQUES:
        assert technique.with_the_leg is bool(re.search(r"\b(knee|kick)$", technique.name)), technique.name


def test_the_minutes_of_the_index_are_about_right() -> None:
    index = (FOLDER / "README.md").read_text(encoding="utf-8")
    for name in PATHS:
        told = re.search(rf"^\| \[{re.escape(name)}\.yaml\].*?\| \d+ \| (\d+) \|", index, re.MULTILINE)
        assert told, name
        seconds = expand(ALL[name], Request(seed=1), estimated_seconds).duration
        assert abs(seconds / 60 - int(told[1])) <= 1.0, (name, seconds / 60)
