"""What is said between two repetitions can be done before the next call, on the side that the stance asks for."""

from __future__ import annotations

import json
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coaching import found_by
from cornercue.coaching.sides import review
from cornercue.script.faults import ScriptFaults
from cornercue.script.read import parse_drill, read_drill
from cornercue.technique.sides import STANCES
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Cue, Timeline

ADULTS = "drill: Between\njunior: no\npace: steady\n"


def laid_out(steps: str, top: str = "", request: Request = Request(1)) -> Timeline:  # noqa: B008
    return expand(parse_drill(f"{ADULTS}{top}steps:\n{steps}"), request, estimated_seconds)


def left_for(between: str, top: str = "", more: str = "") -> float:
    """Seconds from the end of the words to the next call."""
    steps = f"- combination: [jab, cross]\n  reps: 4\n  between: {between}\n{more}"
    cues = [cue for cue in laid_out(steps, top).cues if cue.rep]
    waits = [two.start - one.end for one, two in pairwise(cues) if one.kind == "say" and two.kind == "call"]
    return min(waits)


@pytest.mark.parametrize(
    ("between", "seconds"),
    [
        # Times at a steady pace, from the table of techniques and the 3 s of a counted repetition, added up by hand.
        ("breathe", 0.8),
        ("stand up", 3.0),
        ("touch the floor and stand up", 5.5),
        ("circle left", 1.2),
        ("circle left twice", 2.4),
        ("step back, step forward, circle right", 2.2),
        ("five squats", 15.0),
        ("2 push-ups and back to guard", 6.0),
        ("rest ten seconds", 10.0),
        ("shake it out for 1 minute", 60.0),
        ("three jabs", 1.5),
        ("jab three times", 1.5),
        ("1000 squats", 0.8),
        ("a hundred squats", 0.8),
        ("999 squats", 60.0),
    ],
)
def test_there_is_time_for_what_the_words_ask_for(between: str, seconds: float) -> None:
    assert seconds <= left_for(between) + 1e-6 <= seconds + 0.051  # the rhythm is rounded up to 0.05 s


def test_a_clubs_own_words_take_their_own_time() -> None:
    words = "words: {gull turn: {kind: footwork, seconds: 3.5}}\n"
    assert left_for("gull turn", words) == pytest.approx(3.5, abs=0.051)


def test_then_says_how_long_it_takes() -> None:
    assert left_for("touch the wall", more="  then: 7 s\n") == pytest.approx(7.0, abs=0.051)
    assert left_for("five squats", more="  then: 9 s\n") == pytest.approx(9.0, abs=0.051)


@pytest.mark.parametrize("step", ["shadow: [[jab], [cross]]\n  for: 60 s", "partner: parry\n  reps: 12"])
def test_random_calls_wait_for_it_too(step: str) -> None:
    cues = [cue for cue in laid_out(f"- {step}\n  between: two squats\n").cues if cue.rep]
    assert cues
    for one, two in pairwise(cues):
        if one.kind == "say":
            assert two.start - one.end >= 6.0 - 1e-6


texts = st.text(st.sampled_from("ab {}left ring 019'-,."), max_size=40)


@given(texts)
def test_any_text_between_is_read_or_refused_with_a_sentence(text: str) -> None:
    try:
        laid_out(f"- combination: [jab]\n  reps: 2\n  between: {json.dumps(text)}\n")
    except ScriptFaults as fault:
        assert ":7:" in str(fault)  # noqa: PT017


MIRRORED = """\
- say: "{left} foot over the line."
- combination:
  - jab: over the {left} foot
  - cross
  teach: 1
  reps: 2
  between: circle {left}, eyes right
- hold: rear knee
  check: ["the {right} hand up"]
- partner: weave
  reps: 2
  between: slide {right}
"""


def sentences(stance: str, request: Request = Request(1)) -> set[str]:  # noqa: B008
    timeline = laid_out(MIRRORED, f"stance: {stance}\n", request)
    return {cue.text for cue in timeline.cues if cue.kind == "say" and cue.text}


def test_braces_change_sides_with_the_stance_and_plain_words_never_do() -> None:
    written = {"left foot over the line.", "over the left foot", "circle left, eyes right", "the right hand up"}
    mirrored = {"right foot over the line.", "over the right foot", "circle right, eyes right", "the left hand up"}
    assert written | {"slide right"} <= sentences("orthodox")
    assert written | {"slide right"} <= sentences("southpaw")  # that is what it is written for
    assert mirrored | {"slide left"} <= sentences("orthodox", Request(1, stance="southpaw"))
    both = sentences("both")
    assert {*written, *mirrored} - {"right foot over the line.", "the left hand up"} <= both
    assert not [text for text in both if "{" in text]


def test_a_brace_that_is_no_side_is_told() -> None:
    for wrong in ("{lead}", "{lefft}", "{Left}"):
        with pytest.raises(ScriptFaults, match=r"is not filled in; write `\{left\}` or `\{right\}`"):
            laid_out(f"- say: foot {wrong} now\n")


def asked_about(text: str, stance: str = "both") -> list[str]:
    steps = f"- combination: [jab, cross]\n  between: {text}\n"
    problems = found_by(review, f"{ADULTS}stance: {stance}\nsteps:\n{steps}")
    return [problem.remedy for problem in problems if "other stance" in problem.text]


def test_the_review_asks_where_a_mirrored_step_says_a_plain_side() -> None:
    assert asked_about("circle left") == ["write `{left}` if it should change with them"]
    assert asked_about("eyes Right") == ["write `{right}` if it should change with them"]
    for fine in ("circle {left}", "look left and right", "all right, right away", "two seconds left", "bright lights"):
        assert asked_about(fine) == []
    assert asked_about("circle left", "orthodox") == []


def test_footwork_says_the_foot_that_moves_in_either_stance(shown: dict[str, list[Cue]]) -> None:
    for stance, cues in shown.items():
        pairs = [(one.text or "", two.text or "") for one, two in pairwise(cues)]
        stepped = [(call, cue) for call, cue in pairs if cue.startswith("the ") and cue.endswith(" foot first")]
        assert stepped, stance
        for call, cue in stepped:
            assert call.removeprefix("step ") == cue.split()[1]


@pytest.fixture
def shown() -> dict[str, list[Cue]]:
    """The spoken cues of the footwork drill in each stance alone."""
    drill = read_drill(Path(__file__).parent.parent / "drills" / "footwork.yaml")
    return {one: list(expand(drill, Request(1, stance=one), estimated_seconds).spoken()) for one in STANCES}
