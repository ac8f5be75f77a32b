"""How much is asked for: by level, set by set, closer and closer together; by the script, else by the club."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import pytest
from pydantic_core import PydanticCustomError

from cornercue.script.doses import reps_of_sets_of, sets_of, spacing_of
from cornercue.script.faults import ScriptFaults
from cornercue.script.read import parse_drill, read_drill
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Timeline


def laid_out(steps: str, level: int = 1) -> Timeline:
    return expand(parse_drill(f"drill: Doses\nsteps:\n{steps}"), Request(1, level), estimated_seconds)


def counts(timeline: Timeline) -> list[list[int]]:
    """The numbers of the counted or called repetitions, set by set."""
    works = [span for span in timeline.spans if span.kind == "work"]
    cues = [cue for cue in timeline.cues if cue.rep and cue.kind in ("count", "call")]
    return [[cue.rep or 0 for cue in cues if span.start <= cue.start < span.end] for span in works]


def sentences(timeline: Timeline) -> list[str]:
    return [cue.text or "" for cue in timeline.cues if cue.kind == "say"]


def test_a_table_says_from_which_level_on() -> None:
    reps = "- exercise: squats\n  reps: {1: 6, 3: 10, 5: 15}\n"
    assert [len(counts(laid_out(reps, level))[0]) for level in (1, 2, 3, 4, 5, 10)] == [6, 6, 10, 10, 15, 15]


def test_below_the_first_level_of_a_table_its_first_value_holds() -> None:
    assert len(counts(laid_out("- exercise: squats\n  reps: {4: 7, 6: 9}\n", 2))[0]) == 7


def test_seconds_sets_rests_and_spacing_go_by_level_too() -> None:
    script = "- hold: rear knee\n  for: {1: 8 s, 4: 20 s}\n  sets: {1: 1, 4: 2}\n  rest: {1: 30 s, 4: 15 s}\n"
    for level, wanted in ((1, [8.0]), (5, [20.0, 15.0, 20.0])):
        assert [span.end - span.start for span in laid_out(script, level).spans] == pytest.approx(wanted)
    script = "- exercise: squats\n  reps: 3\n  every: {1: 4 s, 2: 2.5 s}\n"
    for level, wanted_seconds in ((1, 4.0), (2, 2.5)):
        beats = [cue.beat or 0.0 for cue in laid_out(script, level).cues if cue.kind == "count" and cue.rep]
        assert [two - one for one, two in pairwise(beats)] == pytest.approx([wanted_seconds] * 2)


@pytest.mark.parametrize("step", ["exercise: squats", "combination: [jab, cross]"])
def test_a_pyramid_has_a_set_for_each_number_and_says_it(step: str) -> None:
    timeline = laid_out(f"- {step}\n  reps: [5, 3, 1]\n  rest: 20 s\n")
    assert counts(timeline) == [[1, 2, 3, 4, 5], [1, 2, 3], [1]]
    said = sentences(timeline)
    assert [text for text in said if text.startswith("Set")] == [
        "Set one of three: five.", "Set two of three: three.", "Set three of three: one.",
    ]  # fmt: skip
    if "squats" in step:
        assert "Squats, three sets: five, three, one." in said


def test_a_timed_pyramid_is_told_set_by_set() -> None:
    timeline = laid_out("- exercise: plank\n  for: [30 s, 20 s, 10 s]\n  rest: 15 s\n")
    works = [span.end - span.start for span in timeline.spans if span.kind == "work"]
    assert works == pytest.approx([30, 20, 10])
    assert "Plank, three times: thirty seconds, twenty seconds, ten seconds." in sentences(timeline)


def test_repetitions_come_closer_together_down_a_ladder() -> None:
    timeline = laid_out("- exercise: knee lifts\n  reps: 7\n  every: 3 s down to 1.5 s\n")
    beats = [cue.beat or 0.0 for cue in timeline.cues if cue.kind == "count" and cue.rep]
    # Arithmetic: seven repetitions, from 3 s after the first to 1.5 s after the seventh, in steps of 0.25 s.
    assert [two - one for one, two in pairwise(beats)] == pytest.approx([3, 2.75, 2.5, 2.25, 2, 1.75])


def test_a_ladder_stops_where_the_words_and_the_way_to_guard_need_their_time() -> None:
    timeline = laid_out("- combination: [jab, cross]\n  reps: 6\n  every: 9 s down to 1 s\n")
    starts = [cue.start for cue in timeline.cues if cue.kind == "call"]
    spaced = [two - one for one, two in pairwise(starts)]
    assert spaced[0] == pytest.approx(9)
    assert spaced == sorted(spaced, reverse=True)
    assert spaced[-1] > 1.5
    (advice,) = timeline.advice
    assert "every 1 s is too short" in advice.told
    assert re.search(r"`every: 1[0-9.]+ s down to [0-9.]+ s`", advice.remedy)


def test_combinations_have_sets_with_a_rest_between_and_are_taught_once() -> None:
    timeline = laid_out("- combination: [jab, cross]\n  teach: 1\n  reps: 4\n  sets: 3\n  rest: 20 s\n")
    rests = [span.end - span.start for span in timeline.spans if span.kind == "rest"]
    assert rests == pytest.approx([20, 20])
    assert [len(one) for one in counts(timeline)] == [2, 4, 4, 4]
    assert sentences(timeline).count("Slowly, once.") == 1


@pytest.mark.parametrize(
    ("read", "written", "why"),
    [
        (reps_of_sets_of, {}, "the table is empty"),
        (reps_of_sets_of, {"0": 3}, "`0` is no level"),
        (reps_of_sets_of, {"2": [4, "x"]}, "at level 2: `x` is not a number of repetitions"),
        (reps_of_sets_of, list(range(1, 23)), "these are 22 sets; at most 20"),
        (reps_of_sets_of, [10, 501], "`501` is out of range"),
        (sets_of, "21", "sets go from 1 to 20"),
        (sets_of, "two", "is not a whole number"),
        (spacing_of, "1 s up to 0.5 s", "does not go up; write `1 s down to 0.5 s`"),
        (spacing_of, "2 s down to 2 s", "does not go down"),
        (spacing_of, "2 s down to never", "`never` is not a duration"),
    ],
)
def test_absurd_doses_are_refused(read, written, why) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(PydanticCustomError, match=why):
        read(written)


CLUB = """\
club: Saltmarsh Hall
doses:
  combination: {reps: {1: 4, 5: 8}, sets: 2, rest: 20 s}
  exercise: {sets: 2, rest: 15 s}
  hold: {for: 12 s}
"""


def in_a_club(folder: Path, steps: str, club: str = CLUB) -> Timeline:
    (folder / "club.yaml").write_text(club, encoding="utf-8")
    (folder / "a.yaml").write_text(f"drill: Doses\nsteps:\n{steps}", encoding="utf-8")
    return expand(read_drill(folder / "a.yaml"), Request(1, 1), estimated_seconds)


def test_a_clubs_dose_holds_where_the_script_leaves_it_open(tmp_path: Path) -> None:
    assert [len(one) for one in counts(in_a_club(tmp_path, "- combination: [jab, cross]\n"))] == [4, 4]
    held = in_a_club(tmp_path, "- repeat: 2\n  steps:\n  - hold: rear knee\n")
    assert [span.end - span.start for span in held.spans] == pytest.approx([12, 12])


def test_the_scripts_dose_wins_over_the_clubs(tmp_path: Path) -> None:
    timeline = in_a_club(tmp_path, "- combination: [jab, cross]\n  reps: 3\n  sets: 1\n")
    assert [len(one) for one in counts(timeline)] == [3]
    timeline = in_a_club(tmp_path, "- exercise: squats\n  reps: [5, 4, 3]\n")
    assert [len(one) for one in counts(timeline)] == [5, 4, 3]
    rests = [span.end - span.start for span in timeline.spans if span.kind == "rest"]
    assert rests == pytest.approx([15, 15])


@pytest.mark.parametrize(
    ("doses", "told"),
    [
        ("{combinaton: {reps: 4}}", "club.yaml:2:9: a club has no dose for `combinaton`; did you mean `combination`?"),
        ("{hold: {reps: 4}}", "club.yaml:2:16: the dose of `hold` has no `reps`"),
        ("{hold: {for: soon}}", "club.yaml:2:16: `soon` is not a duration"),
        ("{hold: 3}", "club.yaml:2:9: the dose of `hold` is a table"),
        ("10", "club.yaml:2:8: doses belong here, such as `combination: {reps: 8}`"),
    ],
)
def test_a_faulty_dose_of_a_club_is_told_at_its_place(tmp_path: Path, doses: str, told: str) -> None:
    with pytest.raises(ScriptFaults) as caught:
        in_a_club(tmp_path, "- hold: rear knee\n", f"club: Saltmarsh Hall\ndoses: {doses}\n")
    assert str(caught.value.faults[0]).endswith(told[told.index("club.yaml") :]) or told in str(caught.value.faults[0])
