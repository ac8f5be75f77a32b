"""Answers belong to a defence, and start from the side that it has loaded.

That a weave or a slip loads the side that it goes to: common practice, no source.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornercue.coaching import flow
from cornercue.script.faults import ScriptFaults
from cornercue.script.read import parse_drill
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Timeline

HEAD = "drill: Answers\n{top}steps:\n- partner: {fed}\n  reps: 40\n  answers: {answers}\n"


def laid_out(fed: str, answers: str, top: str = "", more: str = "", seed: int = 1) -> Timeline:
    text = HEAD.format(fed=fed, answers=answers, top=top) + more
    return expand(parse_drill(text), Request(seed), estimated_seconds)


def calls(timeline: Timeline) -> set[str]:
    return {cue.text or "" for cue in timeline.cues if cue.kind == "call" and cue.rep}


def test_each_defence_has_its_own_answers_and_one_without_has_none() -> None:
    answers = "{parry: [[cross], [jab]], duck: [[lead uppercut]]}"
    found = calls(laid_out("[parry, cover, duck]", answers, "junior: no\n"))
    assert found == {
        "parry left, cross", "parry left, jab", "parry right, cross", "parry right, jab", "cover left", "cover right",
        "duck, lead uppercut",
    }  # fmt: skip


def test_of_several_answers_only_those_come_that_start_from_the_loaded_side() -> None:
    found = calls(laid_out("weave", "[[rear hook, lead hook], [lead hook, cross], [jab, cross]]"))
    assert found == {
        "weave left, lead hook, cross", "weave left, jab, cross",
        "weave right, rear hook, lead hook", "weave right, jab, cross",
    }  # fmt: skip


def test_an_answer_for_the_other_side_is_thrown_the_other_way_round() -> None:
    assert calls(laid_out("slip", "{slip: [[rear hook, lead body hook]]}")) == {
        "slip right, rear hook, lead body hook", "slip left, lead hook, rear body hook",
    }  # fmt: skip
    assert calls(laid_out("weave", "rear elbow, pivot left")) == {
        "weave right, rear elbow, pivot left", "weave left, lead elbow, pivot right",
    }  # fmt: skip


def test_in_the_other_stance_the_other_hand_is_on_the_loaded_side() -> None:
    assert calls(laid_out("weave", "[[rear hook, lead hook]]", "stance: southpaw\n")) == {
        "weave left, rear hook, lead hook", "weave right, lead hook, rear hook",
    }  # fmt: skip


def test_a_clubs_own_word_goes_the_other_way_round_too() -> None:
    words = "words: {tide hook: {like: hook}, gull: {like: hook, seconds: 0.8}}\n"
    assert calls(laid_out("weave", "[[rear tide hook, lead gull]]", words)) == {
        "weave right, rear tide hook, lead gull", "weave left, lead tide hook, rear gull",
    }  # fmt: skip


def test_one_answer_that_always_fits_is_told_before_and_not_with_each_call() -> None:
    timeline = laid_out("weave", "jab, cross")
    assert calls(timeline) == {"weave left", "weave right"}
    assert "Student, after each one throw into the air: jab, cross." in {cue.text for cue in timeline.cues}


def test_the_feeder_steps_back_in_only_where_an_answer_came() -> None:
    timeline = laid_out("[parry, cover]", "{parry: [[cross]]}")
    punched = sum("cross" in (cue.text or "") for cue in timeline.cues if cue.kind == "call" and cue.rep)
    assert sum(cue.text == "Feeder, step in." for cue in timeline.cues) == punched > 0


def test_a_feeder_hears_the_feed_and_the_student_the_fitting_answer() -> None:
    timeline = laid_out("weave", "[[rear hook, lead hook]]", more="  listener: feeder\n")
    answers = {cue.text for cue in timeline.cues if cue.listener == "student" and cue.rep}
    assert answers == {"rear hook, lead hook", "lead hook, rear hook"}


def test_answers_to_what_is_not_fed_are_a_fault() -> None:
    with pytest.raises(ScriptFaults, match=r":3:3: `slip` has answers and is not fed in this step"):
        laid_out("[parry, weave]", "{slip: [[jab]]}")
    with pytest.raises(ScriptFaults, match=r":5:33: `rear hok` is not a technique; did you mean `rear hook`\?"):
        laid_out("[parry, weave]", "{weave: [[lead hook, rear hok]]}")


STRIKES = ("jab", "cross", "lead hook", "rear hook", "lead uppercut", "rear uppercut", "body jab", "rear elbow")
written = st.lists(st.lists(st.sampled_from(STRIKES), min_size=1, max_size=3), min_size=1, max_size=4)


@given(written, st.sampled_from(["weave", "slip"]), st.sampled_from(["orthodox", "southpaw", "both"]))
def test_nothing_is_ever_thrown_from_the_side_that_is_not_loaded(
    answers: list[list[str]], defence: str, stance: str
) -> None:
    drill = parse_drill(HEAD.format(top=f"stance: {stance}\n", fed=defence, answers=answers))
    timeline = expand(drill, Request(3), estimated_seconds)
    for cue in timeline.cues:
        if cue.kind == "call" and cue.rep and len(cue.moves) > 1:
            first, second = cue.moves[:2]
            assert second.technique in ("jab", "body jab") or second.hand == first.side
    assert not [problem for problem in flow.review(drill, timeline) if "wrong side" in problem.text]
