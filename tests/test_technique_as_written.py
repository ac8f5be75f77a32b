"""What a script writes is what is spoken, shown and printed: another name for a technique is never replaced."""

from __future__ import annotations

import pytest

from cornercue.script.read import parse_drill
from cornercue.technique.lookup import resolve, resolve_base
from cornercue.technique.sides import STANCES, Stance
from cornercue.technique.vocabulary import KNOWN_NAMES
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request

# Another name, what it is (all names of the trade: common practice, no source), and what a mirrored student hears.
NAMES = [
    ("lead push kick", "lead front kick", "lead push kick"),
    ("straight right", "cross", "straight left"),
    ("left hook", "lead hook", "right hook"),
    ("overhand", "rear overhand", "overhand"),
    ("low kick", "rear low roundhouse kick", "low kick"),
    ("right roundhouse to the head", "rear high roundhouse kick", "left roundhouse to the head"),
    ("roll left", "weave", "roll right"),
    ("rising block right", "high block", "rising block left"),
    ("left parry", "parry", "right parry"),
    ("bob and weave right", "weave", "bob and weave left"),
    ("step in", "step forward", "step in"),
]


@pytest.mark.parametrize(("written", "technique", "mirrored"), NAMES)
def test_it_is_called_as_written_with_the_sides_of_the_stance(written: str, technique: str, mirrored: str) -> None:
    move = resolve(written)
    assert move.technique.name == technique
    assert move.words("orthodox") == move.name == written
    assert move.words("southpaw") == mirrored


@pytest.mark.parametrize("stance", STANCES)
def test_every_known_name_is_called_by_itself(stance: Stance) -> None:
    for name in KNOWN_NAMES:
        if not name[0].isdigit():
            assert resolve(name, stance).words(stance) == name


def test_the_usual_names_are_called_as_ever() -> None:
    for written, called in (("lead hook", "lead hook"), ("parry left", "parry left"), ("parry lead", "parry left")):
        assert resolve(written).words("orthodox") == called


def heard(steps: str, head: str = "") -> list[str]:
    drill = parse_drill(f"drill: Test\n{head}steps:\n{steps}")
    return [cue.text for cue in expand(drill, Request(1), estimated_seconds).cues if cue.text]


def test_every_step_says_it_as_written() -> None:
    calls = heard("- combination: [lead push kick, straight right]\n  teach: 1\n  reps: 1\n")
    assert {"lead push kick", "straight right", "lead push kick, straight right"} <= set(calls)
    assert not any("front kick" in text or "cross" in text for text in calls)
    held = heard("- hold: roundhouse\n  for: 5 s\n")
    assert any(text.startswith("Roundhouse, left leg") for text in held)
    assert not any("roundhouse kick" in text for text in held)
    fed = heard("- partner: [roll, catch]\n  reps: 8\n  teach: yes\n")
    assert {"roll left", "roll right", "catch left", "catch right"} <= set(fed)
    assert any(text.startswith("Roll: bend your knees") for text in fed)
    assert any(text.startswith("Feeder, for a catch: ") for text in fed)
    assert not any("weave" in text.lower() or "parry" in text.lower() for text in fed)


def test_an_open_side_keeps_its_name_on_both_sides() -> None:
    assert [move.words("orthodox") for move in resolve_base("round kick")] == ["round kick", "round kick"]
    assert [move.technique.limb for move in resolve_base("round kick")] == ["lead", "rear"]


def test_the_sheet_on_paper_has_it_as_written() -> None:
    steps = "- combination: [straight right, roll left]\n- partner: [catch]\n  reps: 4\n"
    drill = parse_drill(f"drill: Test\nsteps:\n{steps}")
    on_paper = [step.in_words(1) for step in drill.steps]
    assert on_paper == ["straight right, roll left: 6 times.", "Partner: catch, 4 calls."]
