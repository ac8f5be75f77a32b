"""Holds as an instructor writes them: techniques, stances, chambers, stretches; and what is not taken for a stretch."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coaching import reviewed
from cornercue.coaching.guard import review as guard
from cornercue.coaching.order import review as order
from cornercue.coaching.rest import review as rest
from cornercue.coaching.sides import review as sides
from cornercue.script.faults import ScriptFaults
from cornercue.script.hold import Hold
from cornercue.script.read import parse_drill
from cornercue.technique.vocabulary import USUAL
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.phrasebook import phrasebook
from cornercue.timing.safety import cautions
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Timeline
from cornercue.totals.effort import effort
from cornercue.totals.summary import summarised
from cornercue.totals.tally import tally
from strategies import FREE_POSITIONS


def script(steps: str, head: str = "") -> str:
    return f"drill: Test\n{head}steps:\n{steps}"


def lay(steps: str, head: str = "", brief: bool = False) -> Timeline:
    return expand(parse_drill(script(steps, head)), Request(1, brief=brief), estimated_seconds)


def said(steps: str, head: str = "") -> list[str]:
    """What is said about what is held, but for how long."""
    line = lay(f"{steps}\n  for: 5 s\n", head)
    return [text.partition(". Hold for five")[0] for cue in line.cues if ". Hold for five" in (text := cue.text)]


def on_paper(steps: str) -> str:
    return parse_drill(script(steps)).steps[0].in_words(1)


@pytest.mark.parametrize(
    ("written", "heard"),
    [
        ("side kick chamber", ["Side kick chamber, left leg", "Side kick chamber, right leg"]),
        ("rear side kick chamber", ["Rear side kick chamber, right leg"]),
        ("chamber of the lead roundhouse kick", ["Chamber of the lead roundhouse kick, left leg"]),
        ("chambered front kick right", ["Chambered front kick right"]),
        ("Side-kick chamber", ["Side kick chamber, left leg", "Side kick chamber, right leg"]),
        ("jab chamber", ["Jab chamber, left hand"]),
        ("low block chamber", ["Low block chamber, left side", "Low block chamber, right side"]),
        ("high knee", ["High knee, left leg", "High knee, right leg"]),
        ("right high knee", ["Right high knee"]),
        ("horse stance", ["Horse stance"]),
        ("walking stance", ["Walking stance, left", "Walking stance, right"]),
        ("walking stance right", ["Walking stance right"]),
        ("lead walking stance", ["Lead walking stance, left"]),
        ("parry left", ["Parry left"]),
        ("front stance left", ["Front stance left"]),
        ("sprawl", ["Sprawl"]),
        ("plank", ["Plank"]),
        ('"plank"', ["Plank"]),
        ("Child's pose", ["Child's pose"]),
        ("butterfly stretch", ["Butterfly stretch"]),
    ],
)
def test_it_is_called_as_written_with_the_side_where_it_has_sides(written: str, heard: list[str]) -> None:
    assert said(f"- hold: {written}") == heard


def test_free_words_have_sides_where_the_script_asks_for_them() -> None:
    step = "- hold: hamstring stretch\n  sides: "
    assert said(f"{step}both") == ["Hamstring stretch, left", "Hamstring stretch, right"]
    assert said(f"{step}right") == ["Hamstring stretch, right"]
    assert said(f"{step}both", "stance: southpaw\n") == ["Hamstring stretch, left", "Hamstring stretch, right"]
    assert on_paper(f"{step}both\n") == "Hold hamstring stretch: 10 s on each side."
    assert on_paper(f"{step}right\n") == "Hold hamstring stretch: 10 s on the right."
    assert on_paper("- hold: walking stance left\n") == "Hold walking stance left: 10 s."
    assert on_paper("- hold: rear side kick chamber\n") == "Hold rear side kick chamber: 10 s."
    assert on_paper("- hold: side kick chamber\n  sides: left\n") == "Hold side kick chamber: 10 s on the left."
    assert on_paper("- hold: hamstring stretch\n  for: 1 min\n") == "Hold hamstring stretch: 1 min."


def test_what_has_no_front_foot_is_held_once_where_a_drill_has_both_stances() -> None:
    both = "stance: both\n"
    assert said("- hold: horse stance", both) == ["Horse stance"]
    assert said("- hold: wall sit", both) == ["Wall sit"]
    assert said("- hold: lead knee", both) == ["Lead knee, left leg", "Lead knee, right leg"]
    assert said("- hold: walking stance left", both) == ["Walking stance left", "Walking stance right"]


WORDS = """\
words:
  tide kick: side kick
  heron: {kind: stance, sides: left/right}
  seal: {kind: ground}
  gate: {like: low block, seconds: 0.7}
"""


@pytest.mark.parametrize(
    ("written", "heard"),
    [
        ("tide kick", ["Tide kick, left leg", "Tide kick, right leg"]),
        ("rear tide kick chamber", ["Rear tide kick chamber, right leg"]),
        ("heron", ["Heron, left", "Heron, right"]),
        ("heron right", ["Heron right"]),
        ("seal", ["Seal"]),
        ("gate chamber", ["Gate chamber, left side", "Gate chamber, right side"]),
    ],
)
def test_words_of_the_club_are_held_whatever_kind_they_are_of(written: str, heard: list[str]) -> None:
    assert said(f"- hold: {written}", WORDS) == heard


def points_told(step: str, brief: bool = False) -> int:
    line = lay(f"- hold: side kick\n  for: 5 s\n  sets: 3\n  rest: 10 s\n  check: [knee high]\n{step}", brief=brief)
    return sum(cue.text.startswith("Knee high") or cue.text == "knee high" for cue in line.cues)


def test_points_are_told_once_or_before_each_set() -> None:
    assert points_told("") == points_told("  points: once\n") == 1
    assert points_told("  points: each set\n") == 3
    assert points_told("  points: each set\n", brief=True) == 0


@pytest.mark.parametrize(
    ("step", "told"),
    [
        (
            "hosre stance",
            "`hosre stance` is not a technique; did you mean `horse stance`? "
            "Else a stance of your own goes into `words`: `hosre stance: {kind: stance}`",
        ),
        ("side kik", "`side kik` is not a technique; did you mean `side kick`?"),
        ("hihg knee", "`hihg knee` is not a technique; did you mean `high knee`?"),
        (
            "side kick chamer",
            "`side kick chamer` is not a technique; did you mean a `chamber`, as in `side kick chamber`?",
        ),
        ("side kik chamber", "`side kik` is not a technique; did you mean `side kick`?"),
        (
            "crescent kick chamber",
            "`crescent kick` leaves open which one; write `inside crescent kick` or `outside crescent kick`",
        ),
        ("chamber", "`chamber` leaves open of what; write for example `side kick chamber`"),
        ("horse stance chamber", "`horse stance` has no chamber; hold it as it is"),
        (
            "breakfall",
            "`breakfall` leaves open which one; write `back breakfall` or `side breakfall` or `front breakfall`",
        ),
        (
            "tornado kick",
            "`tornado kick` is not a technique; a kick of your own goes into `words`: `tornado kick: {kind: kick}`",
        ),
        (
            "left hamstring stretch",
            "leave the side out of `left hamstring stretch`: "
            "write `hold: hamstring stretch` and `sides: left`, `right` or `both`",
        ),
        (
            "calf stretch rear",
            "leave the side out of `calf stretch rear`: "
            "write `hold: calf stretch` and `sides: left`, `right` or `both`",
        ),
        ("diagonal elbo", "`diagonal elbo` is not a technique; did you mean `diagonal elbow`?"),
        ("spear", "`spear` is not a technique; did you mean `spear hand`? Else say in more words what is held"),
        ("12", "`12` is not a technique; did you mean `2`?"),
        ("plank\n  points: each set", "`points` says when the points of `check` are told; add `check`"),
        ("plank\n  check: [flat]\n  points: never", "`never` is not known here; one of `once`, `each set`"),
        (
            "horse stance\n  sides: both",
            "there is only one side to hold here; leave out `sides`, or the word lead, rear, left or right",
        ),
    ],
)
def test_what_may_be_a_slip_of_the_pen_is_told_and_not_taken_for_a_stretch(step: str, told: str) -> None:
    with pytest.raises(ScriptFaults) as caught:
        parse_drill(script(f"- hold: {step}\n"))
    assert [fault.text for fault in caught.value.faults] == [told]


@given(st.sampled_from([name for name in USUAL.known if len(name) > 9]), st.data())
def test_a_known_name_with_one_letter_wrong_is_never_taken_for_free_words(name: str, data: st.DataObject) -> None:
    at = data.draw(st.integers(0, len(name) - 1))
    letter = data.draw(st.sampled_from("abcdefghijklmnopqrstuvwxyz"))
    written = f"{name[:at]}{letter}{name[at + data.draw(st.integers(0, 1)) :]}"
    try:
        (step,) = parse_drill(script(f"- hold: '{written}'\n")).steps
    except ScriptFaults:
        return
    assert isinstance(step, Hold)
    assert not step.free


@pytest.mark.parametrize(
    "words", [*FREE_POSITIONS, "side plank", "glute bridge", "cobra", "squat", "front splits", "side splits", "lunge",
              "downward dog", "hamstring stretch", "deep squat", "pigeon pose", "push-up position", "hollow body",
              "arms overhead", "toes up", "horse pose", "splits against the mat", "boat", "superman", "chin tuck"],
)  # fmt: skip
def test_the_stretches_and_strength_holds_of_a_class_are_free_words(words: str) -> None:
    (step,) = parse_drill(script(f'- hold: "{words}"\n')).steps
    assert isinstance(step, Hold)
    assert step.free == words


def test_sums_tell_what_is_held_by_its_side() -> None:
    line = lay("- hold: quad stretch\n  for: 20 s\n  sides: both\n- hold: plank\n  for: 30 s\n")
    found = summarised(line)
    assert found.by_side == {"left": 20, "right": 20, "both": 0, "neither": 30}
    assert found.called["positions"] == 3
    assert found.called["stances"] == 0
    assert dict(tally(line).combinations) == {"quad stretch left": 1, "quad stretch right": 1, "plank": 1}
    seconds = {share.name: share.seconds for share in effort(line)}
    assert seconds["stretching"] == pytest.approx(40)
    assert seconds["holds"] == pytest.approx(30)
    assert [part.title for part in line.parts] == ["Quad stretch", "Plank"]


def test_a_held_chamber_has_the_caution_of_a_held_kick_and_a_stretch_has_none() -> None:
    caution = phrasebook().safety["hold"]
    for held, warned in (("side kick chamber", True), ("side kick", True), ("plank", False), ("horse stance", False)):
        assert (caution in cautions(parse_drill(script(f"- hold: {held}\n")), phrasebook())) is warned, held


def test_the_review_knows_a_chamber_from_a_high_kick_and_a_stretch_from_a_set() -> None:
    def found(rule: object, steps: str, head: str = "level: 3\n") -> list[str]:
        drill = parse_drill(script(steps, head))
        line = expand(drill, Request(0), estimated_seconds)
        return [problem.text for problem in rule(drill, line)]  # type: ignore[operator]

    assert found(guard, "- hold: high side kick\n") == ["a high side kick is above the height for level 3"] * 2
    assert found(guard, "- hold: high side kick chamber\n") == []
    assert found(sides, "- hold: quad stretch\n  sides: left\n") == [
        "the quad stretch is held for 10 s on the left and 0 s on the right"
    ]
    assert found(sides, "- hold: quad stretch\n  sides: both\n- hold: plank\n- hold: horse stance\n") == []
    short = "  for: 30 s\n  sets: 3\n  rest: 5 s\n"
    assert found(rest, f"- hold: calf stretch\n{short}") == []
    assert len(found(rest, f"- hold: plank\n{short}")) == 1
    session = "- exercise: easy jogging\n  for: 6 min\n- exercise: sit-ups\n  for: 15 min\n"
    assert not [text for text in found(order, f"{session}- hold: calf stretch\n") if "cool-down" in text]
    assert [text for text in found(order, f"{session}- hold: plank\n") if "cool-down" in text]
    assert reviewed(script("- hold: butterfly stretch\n  for: 30 s\n")) == []
