"""A younger student hears slower words, and gets more time to react and to move."""

from __future__ import annotations

import pytest

from cornercue.ages import Ages, ages_in
from cornercue.script.faults import ScriptFaults
from cornercue.script.read import parse_drill
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.faults import TimingFault
from cornercue.timing.pace import REACTION, choice_reaction
from cornercue.timing.person import ADULT, SLOW_SPEECH, Trainee
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Timeline

JAB = "- combination: [jab]\n  reps: 4\n"
SYLLABLES = 4.1
"""A second, as the voices here speak at their usual rate; counted in their own sentences."""


def lay(steps: str, head: str = "", **asked: object) -> Timeline:
    request = Request(**{"seed": 1, **asked})  # type: ignore[arg-type]
    return expand(parse_drill(f"drill: Ages\npace: steady\n{head}steps:\n{steps}"), request, estimated_seconds)


def interval(head: str) -> float:
    """Seconds from call to call of a jab."""
    one, two, *_ = [cue.start for cue in lay(JAB, head).cues if cue.kind == "call"]
    return two - one


@pytest.mark.parametrize(("age", "times"), [(4, 3.0), (8, 2.0), (10, 1.8), (12, 1.5), (15, 1.0), (17, 1.0)])
def test_children_react_slower_than_adults_as_was_measured(age: int, times: float) -> None:
    # 4 and 8 years: Kail and Hall 1994 (introduction); 10, 12 and 15: Hale 1990 (abstract), four tasks.
    assert Trainee(Ages(age, 17)).reaction == pytest.approx(times)


def test_the_factor_falls_with_every_year_and_never_below_an_adults() -> None:
    found = [Trainee(Ages(age, age)).reaction for age in range(4, 18)]
    assert found == sorted(found, reverse=True)
    assert found[-1] == ADULT.reaction == 1.0
    # Kail 1991's curve, 1 + 5.16 e^(-0.21 age), parameters from memory: near it from 6 to 12 years.
    for age, factor in zip(range(4, 18), found, strict=True):
        if 6 <= age <= 12:
            assert factor == pytest.approx(1 + 5.16 * 2.718281828 ** (-0.21 * age), rel=0.12)


def test_a_known_call_is_answered_as_late_as_children_were_measured_to_react_to_sound() -> None:
    # Simple acoustic reaction of 4 to 14 year-olds (Dev Med Child Neurol 1984; 26:490-494, abstract): 465 ms at 5 and
    # 190 ms at 15 years, a straight line on logarithms between; computed from it 264 ms at 10. Ours may not be sooner.
    for age, milliseconds in ((5, 465), (6, 401), (8, 317), (10, 264), (12, 228), (15, 190)):
        assert REACTION * Trainee(Ages(age, age)).reaction * 1000 >= milliseconds
        assert choice_reaction(2) * Trainee(Ages(age, age)).reaction * 1000 > milliseconds


def test_up_to_seven_years_words_come_no_faster_than_they_were_understood() -> None:
    # Berry and Erickson 1973 (abstract): 5 to 7 year-olds, better at 2.6 and 3.4 syllables a second than at 4.7.
    assert pytest.approx(3.4, abs=0.05) == SYLLABLES * SLOW_SPEECH
    young, older = lay(JAB, "ages: 6-8\n"), lay(JAB, "ages: 8-9\n")
    assert {cue.rate for cue in young.spoken()} == {0.83}
    assert {cue.rate for cue in older.spoken()} == {1.0}
    assert [cue.text for cue in young.spoken()] == [cue.text for cue in older.spoken()]


def test_the_same_drill_leaves_a_child_more_time_between_calls() -> None:
    heads = ("ages: 5-6\n", "ages: 7-9\n", "", "ages: 13-15\n", "junior: no\n")
    found = [interval(head) for head in heads]
    assert found == sorted(found, reverse=True)
    assert found[0] > found[1] > found[2] > found[3] > found[4]
    assert interval("ages: 10-12\n") == interval("")  # who is told no more is that old
    assert interval("ages: 9-12\n") == interval("ages: 9\n")  # nobody is left behind


def test_feeds_and_random_gaps_leave_a_child_more_time_too() -> None:
    step = "- partner: [parry, cover]\n  reps: 12\n"
    for head, other in (("ages: 7-9\n", "ages: 15-17\n"), ("ages: 15-17\n", "junior: no\n")):
        young, older = (
            [cue for cue in lay(step, one).cues if cue.kind == "call" and cue.due] for one in (head, other)
        )
        slow, quick = ([(cue.due or 0) - cue.end for cue in cues] for cues in (young, older))
        assert min(slow) > max(quick) - (1e-6 if other == "junior: no\n" else 0.0)


def test_the_command_line_may_name_other_ages() -> None:
    def heard(line: Timeline) -> list[tuple[float, str, float]]:
        return [(cue.start, cue.text, cue.rate) for cue in line.cues]

    for head in ("", "ages: 13-15\n"):
        assert heard(lay(JAB, head, ages=Ages(7, 9))) == heard(lay(JAB, "ages: 7-9\n"))
    with pytest.raises(TimingFault, match="this drill is for adults"):
        lay(JAB, "junior: no\n", ages=Ages(7, 9))


@pytest.mark.parametrize("written", ["3-5", "16-18", "9-7", "old", "7-9-11", "-7", "7.5"])
def test_what_is_no_age_band_is_told_with_one_that_is(written: str) -> None:
    assert ages_in(written) is None
    with pytest.raises(ScriptFaults, match=r"(?s)is not an age band of juniors; write for example `7-9`"):
        lay(JAB, f"ages: '{written}'\n")


def test_adults_have_no_age_band() -> None:
    with pytest.raises(ScriptFaults, match="`ages` is for juniors"):
        lay(JAB, "junior: no\nages: 7-9\n")


@pytest.mark.parametrize(("level", "pace"), [(1, "learning"), (3, "learning"), (4, "steady"), (8, "sharp")])
def test_the_level_sets_the_pace_where_the_script_leaves_it_open(level: int, pace: str) -> None:
    def apart(head: str, level: int | None = None) -> float:
        """Seconds from one jab to the next."""
        drill = parse_drill(f"drill: Level\n{head}steps:\n{JAB}")
        one, two, *_ = [cue.start for cue in expand(drill, Request(1, level), estimated_seconds).cues if cue.rep]
        return two - one

    assert apart(f"level: {level}\n") == pytest.approx(apart(f"pace: {pace}\n"))
    assert apart("", level=level) == pytest.approx(apart(f"pace: {pace}\n"))
    assert apart("level: 1\n", level=level) == pytest.approx(apart(f"pace: {pace}\n"))
    assert apart("pace: sharp\n", level=level) == pytest.approx(apart("pace: sharp\n"))  # what is written stays
    assert apart("") == pytest.approx(apart("pace: steady\n"))


def test_exercises_keep_their_rhythm_at_every_level_and_rests_between_sets_grow_shorter() -> None:
    step = "- exercise: squats\n  reps: 15\n  sets: 2\n"
    rests = []
    for level in (1, 5, 9):
        line = expand(parse_drill(f"drill: Sets\nsteps:\n{step}"), Request(1, level), estimated_seconds)
        counts = [cue.start for cue in line.cues if cue.kind == "count" and cue.set == 1]
        assert counts[1] - counts[0] == pytest.approx(3.0)
        rests += [span.end - span.start for span in line.spans if span.kind == "rest"]
    assert rests == pytest.approx([45.0, 45.0, 30.0])  # as long as the set; a minute, 45 s and 30 s at most


def test_the_length_of_a_phrase_is_asked_for_at_the_very_rate_at_which_it_sounds() -> None:
    # Otherwise a voice would make each phrase twice: once to measure it, once to play it.
    asked: set[float] = set()

    def seconds(text: str, rate: float) -> float:
        asked.add(rate)
        return estimated_seconds(text, rate)

    step = "- combination: [jab, cross, lead hook]\n  reps: 2\n  every: 3.8 s\n"
    drill = parse_drill(f"drill: Ages\npace: sharp\nages: 6\nsteps:\n{step}")
    line = expand(drill, Request(1), seconds)
    assert {cue.rate for cue in line.spoken()} <= asked
    assert asked <= {0.83, 0.913, 0.996}
    assert {cue.rate for cue in line.spoken()} == {0.83, 0.996}
