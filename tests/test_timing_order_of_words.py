"""What is said comes in an order that can be followed: rest, then what comes next; step back, then strike."""

from __future__ import annotations

from pathlib import Path

import pytest

from coaching import found_by
from cornercue.coaching.plain_words import review
from cornercue.script.faults import ScriptFaults
from cornercue.script.read import parse_drill
from cornercue.session.layout import laid_out as laid_out_of
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Timeline


def laid_out(steps: str) -> Timeline:
    return expand(parse_drill(f"drill: Order\nsteps:\n{steps}"), Request(1), estimated_seconds)


def heard(timeline: Timeline) -> list[str]:
    return [cue.text or "" for cue in timeline.spoken()]


HOLDS = "- hold: rear knee\n  for: 6 s\n  check: [stand tall]\n- rest: {rest}\n- hold: duck\n  for: 6 s\n"


def test_what_does_not_fit_into_a_rest_is_said_when_it_is_over() -> None:
    words = heard(laid_out(HOLDS.format(rest="5 s")))
    rest, hold = words.index("Rest."), words.index("Duck. Hold for six seconds.")
    assert words[rest + 1 : hold] == ["three", "two", "one"]
    assert words[hold + 1 : hold + 3] == ["two", "one"]


def test_what_fits_is_said_in_the_rest_before_its_count() -> None:
    words = heard(laid_out(HOLDS.format(rest="40 s")))
    rest = words.index("Rest, forty seconds.")
    assert words[rest + 1 : rest + 4] == ["Duck. Hold for six seconds.", "two", "one"]


@pytest.mark.parametrize("rest", [3, 4, 6, 9, 15, 40])
def test_a_rest_is_as_long_as_asked_whatever_is_said_after_it(rest: int) -> None:
    timeline = laid_out(HOLDS.format(rest=f"{rest} s"))
    (span,) = [span for span in timeline.spans if span.kind == "rest"]
    told = [advice for advice in timeline.advice if "too short for its words" in advice.told]
    assert span.end - span.start == pytest.approx(rest) or told


def test_a_feeder_is_told_to_step_back_before_anything_is_thrown_back() -> None:
    for step in ("answers: jab, cross", "answers: [[jab], [cross]]", "answers: jab\n  listener: feeder"):
        words = heard(laid_out(f"- partner: parry\n  reps: 3\n  {step}\n"))
        back = words.index("Feeder, one step back after each attack.")
        assert back < next(n for n, text in enumerate(words) if "throw" in text)
        assert words.index("Feeder, step in.") > back
    assert not [text for text in heard(laid_out("- partner: parry\n  reps: 3\n")) if "step back" in text]


def test_words_between_keep_the_stop_that_they_have() -> None:
    for between, said in (("run!", "Run! Feeder, step in."), ("breathe", "Breathe. Feeder, step in.")):
        assert said in heard(laid_out(f"- partner: parry\n  reps: 2\n  answers: jab\n  between: {between}\n"))


def test_a_ladder_that_is_too_fast_is_offered_as_a_slower_ladder() -> None:
    (advice,) = laid_out("- combination: [jab, cross]\n  reps: 4\n  every: 3 s down to 1 s\n").advice
    first, last = (float(words.split(" s")[0]) for words in advice.remedy.split("`every: ")[1].split(" down to "))
    assert first - last == pytest.approx(2.0)
    assert not laid_out(f"- combination: [jab, cross]\n  reps: 4\n  every: {first} s down to {last} s\n").advice


def test_a_fault_of_time_is_told_at_its_step(tmp_path: Path) -> None:
    shadow = "  - shadow: [[jab, cross]]\n    for: 1 min\n    gap: [1 s, 1.5 s]\n"
    text = f"drill: A\nsteps:\n- repeat: 2\n  steps:\n{shadow}"
    with pytest.raises(ScriptFaults) as caught:
        laid_out_of("a.yaml", parse_drill(text), Request(1), estimated_seconds)
    assert str(caught.value).startswith("a.yaml:5:5: a gap of at most 1.5 s is too short")


def test_cues_that_nobody_hears_are_told() -> None:
    cued = "drill: A\nsteps:\n- combination:\n  - jab: chin down\n  - cross\n{}"
    (found,) = found_by(review, cued.format(""))
    assert (found.line, found.column, found.remedy) == (3, 3, "add `teach: 1` to have them said")
    assert found_by(review, cued.format("  teach: 1\n")) == []


def test_a_clubs_word_is_known_without_its_accents_and_said_with_them() -> None:
    words = "words:\n  rolê: {kind: ground}\n  fouetté: {kind: kick}\n"
    drill = parse_drill(f"drill: A\n{words}steps:\n- combination: [role, lead fouette]\n")
    assert "rolê, lead fouetté" in heard(expand(drill, Request(1), estimated_seconds))
