"""Doses, rounds, stances and counts as the trade reckons them, on the timeline."""

from __future__ import annotations

import pytest

from cornercue.script.read import parse_drill
from cornercue.technique.sides import STANCES, Stance, mirror
from cornercue.timing.combination import mirrored
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Cue, Timeline


def timeline(steps: str, head: str = "", level: int | None = None, stance: Stance | None = None) -> Timeline:
    return expand(
        parse_drill(f"drill: Test\n{head}steps:\n{steps}"), Request(0, level=level, stance=stance), estimated_seconds
    )


def calls(line: Timeline) -> list[Cue]:
    return [cue for cue in line.cues if cue.kind == "call"]


@pytest.mark.parametrize(("level", "reps"), [(1, 5), (2, 10), (10, 50)])
def test_five_a_level_in_three_sets(level: int, reps: int) -> None:
    # Arithmetic of the trade: common practice, no source. Level 1 does 3×5, 2 does 3×10, 10 does 3×50.
    line = timeline("- exercise: push-ups\n  reps: 5 per level\n  sets: 3\n  rest: 45 s\n", level=level)
    counted = [(cue.set, cue.rep) for cue in line.cues if cue.kind == "count" and cue.rep]
    assert counted == [(one, rep) for one in (1, 2, 3) for rep in range(1, reps + 1)]
    assert [span.kind for span in line.spans] == ["work", "rest", "work", "rest", "work"]
    assert line.total("rest") == pytest.approx(90)


def test_the_scripts_own_level_scales_where_none_is_asked_for() -> None:
    line = timeline("- exercise: sit-ups\n  reps: 2 per level\n", head="level: 4\n")
    assert [cue.rep for cue in line.cues if cue.rep] == list(range(1, 9))
    assert line.level == 4


def test_the_elite_rounds_of_usa_boxing_are_eleven_minutes() -> None:
    # USA Boxing rulebook, elite: three rounds of three minutes with one-minute rests (secondary copy).
    # 3 × 3 min + 2 × 1 min = 660 s.
    line = timeline("- repeat: 3\n  rest: 1 min\n  steps:\n  - exercise: shadow boxing\n    for: 3 min\n")
    assert line.total("work") == pytest.approx(540, abs=1e-6)
    assert line.total("rest") == pytest.approx(120, abs=1e-6)
    assert [span.kind for span in line.spans] == ["work", "rest", "work", "rest", "work"]
    # Nothing between the first bell and the last: the rounds and rests are the whole eleven minutes.
    assert line.spans[-1].end - line.spans[0].start == pytest.approx(660, abs=1e-6)
    assert not line.advice


def test_the_warning_comes_ten_seconds_before_the_end_of_each_round() -> None:
    # WAC 36-12-280: a signal ten seconds before the end of a round.
    line = timeline("- repeat: 2\n  rest: 1 min\n  steps:\n  - exercise: shadow boxing\n    for: 2 min\n")
    ends = [span.end for span in line.spans if span.kind == "work"]
    assert [cue.start for cue in line.cues if cue.tone == "warning"] == pytest.approx([end - 10 for end in ends])


@pytest.mark.parametrize("stance", STANCES)
def test_odd_numbers_are_the_lead_hand_and_even_the_rear_on_the_timeline(stance: Stance) -> None:
    # Common practice, no source: the numbers stay, the hands change with the stance.
    line = timeline("- combination: 1-2-3-4-5-6\n  reps: 1\n", head="calls: numbers\n", stance=stance)
    (call,) = calls(line)
    assert call.text == "one, two, three, four, five, six"
    lead, rear = ("left", "right") if stance == "orthodox" else ("right", "left")
    assert [move.hand for move in call.moves] == [lead, rear, lead, rear, lead, rear]


def test_straight_right_is_a_cross_for_orthodox_and_a_jab_for_southpaw() -> None:
    # Common practice, no source. Left and right are read in the stance that the script is written for, and called as
    # written; mirrored, they change over.
    (orthodox,) = calls(timeline("- combination: straight right\n  reps: 1\n"))
    (southpaw,) = calls(timeline("- combination: straight right\n  reps: 1\n", head="stance: southpaw\n"))
    assert [cue.moves[0].technique for cue in (orthodox, southpaw)] == ["cross", "jab"]
    assert (orthodox.text, southpaw.text) == ("straight right", "straight right")
    both = calls(timeline("- combination: straight right\n  reps: 1\n", head="stance: both\n"))
    assert [(cue.text, cue.moves[0].technique, cue.moves[0].hand) for cue in both] == [
        ("straight right", "cross", "right"),
        ("straight left", "cross", "left"),
    ]


def test_stance_both_runs_everything_again_mirrored() -> None:
    steps = "- combination: [body cross, slip left, lead side kick]\n  reps: 2\n  angles: [ahead, left 30, behind]\n"
    both = calls(timeline(steps, head="stance: both\n"))
    first, second = both[:6], both[6:]
    assert [cue.stance for cue in both] == ["orthodox"] * 6 + ["southpaw"] * 6
    other = {"left": "right", "right": "left", None: None}
    for one, two in zip(first, second, strict=True):
        assert [(other[move.hand], other[move.side]) for move in one.moves] == [
            (move.hand, move.side) for move in two.moves
        ]
        assert one.rep == two.rep
    assert [cue.angle for cue in first] == [0, 0, 30, 30, 180, 180]
    assert [cue.angle for cue in second] == [0, 0, -30, -30, 180, 180]


@pytest.mark.parametrize("stance", STANCES)
def test_mirroring_a_drill_twice_gives_the_drill_again(stance: Stance) -> None:
    steps = "- combination: [jab, right hook, weave left]\n  angles: [right 90, left 1, behind]\n  teach: 1\n"
    head = f"stance: {stance}\n"
    once = timeline(steps, head, stance=mirror(stance))
    twice = timeline(steps, head, stance=mirror(mirror(stance)))
    assert once.cues != twice.cues
    assert twice == timeline(steps, head)
    assert all(mirrored(mirrored(angle)) == angle for angle in range(-179, 181))


def test_a_switch_of_stance_changes_the_hand_within_the_combination() -> None:
    (call,) = calls(timeline("- combination: [jab, switch stance, jab]\n  reps: 1\n"))
    assert [move.hand for move in call.moves] == ["left", None, "right"]


def test_teaching_says_each_technique_with_its_coaching_cue_before_the_whole_is_called() -> None:
    steps = "- combination:\n  - jab: straight out\n  - cross\n  teach: 2\n  reps: 1\n"
    spoken = [cue.text for cue in timeline(steps).cues if cue.text and cue.kind in ("say", "call")]
    assert spoken[2:] == [
        "Slowly, twice.", "jab", "straight out", "cross", "jab", "straight out", "cross", "Now all together.",
        "jab, cross", "Well done. That is the end.",
    ]  # fmt: skip


def test_between_is_spoken_after_every_repetition() -> None:
    cues = [cue for cue in timeline("- combination: jab\n  reps: 3\n  between: circle left\n").cues if cue.rep]
    assert [cue.text for cue in cues] == ["jab", "circle left"] * 3


def test_check_points_are_read_before_the_first_set_only() -> None:
    line = timeline("- exercise: push-ups\n  reps: 2\n  sets: 2\n  check: [body flat, elbows bend fully]\n")
    first = line.spans[0].start
    assert [cue.text for cue in line.cues if cue.text in ("body flat", "elbows bend fully")] == [
        "body flat",
        "elbows bend fully",
    ]
    assert all(cue.end < first for cue in line.cues if cue.text == "elbows bend fully")


@pytest.mark.parametrize(
    ("sides", "moves"),
    [
        ("", [("lead side kick", "left"), ("rear side kick", "right")]),
        ("  sides: both\n", [("lead side kick", "left"), ("rear side kick", "right")]),
        ("  sides: right\n", [("rear side kick", "right")]),
    ],
)
def test_a_hold_is_held_on_the_sides_asked_for(sides: str, moves: list[tuple[str, str]]) -> None:
    line = timeline(f"- hold: side kick\n  for: 12 s\n{sides}")
    assert [(cue.moves[0].technique, cue.moves[0].side) for cue in calls(line)] == moves
    assert [span.end - span.start for span in line.spans] == pytest.approx([12] * len(moves))


def test_a_sided_defence_is_held_on_both_sides() -> None:
    assert [cue.moves[0].side for cue in calls(timeline("- hold: low block\n"))] == ["left", "right"]


def test_an_interval_that_the_words_do_not_fit_is_spoken_faster_and_then_grows_with_advice() -> None:
    """A voice that takes exactly 2 s: at 1.1 times the rate it needs 1.82 s, at 1.2 times 1.67 s."""

    def two_seconds(text: str, rate: float) -> float:
        return 2.0 / rate

    def laid(every: float) -> Timeline:
        drill = parse_drill(f"drill: Test\nsteps:\n- exercise: sit-ups\n  reps: 4\n  every: {every}\n")
        return expand(drill, Request(0), two_seconds)

    def starts(line: Timeline) -> list[float]:
        return [cue.start for cue in line.cues if cue.rep]

    for every, rate in ((2.5, 1.0), (2.0, 1.1), (1.85, 1.2)):
        line = laid(every)
        assert [two - one for one, two in zip(starts(line), starts(line)[1:], strict=False)] == pytest.approx(
            [every] * 3
        )
        assert {cue.rate for cue in line.cues if cue.rep} == {rate}
        assert not line.advice
    grown = laid(1.5)
    (advice,) = grown.advice
    assert advice.line == 3
    assert starts(grown)[1] - starts(grown)[0] == pytest.approx(2.15)
    assert "every 1.5 s is too short for" in advice.told
    assert "0.65 s were added; ask for `every: 2.2 s` or more" in advice.told


def test_a_rest_too_short_for_its_words_grows_with_advice() -> None:
    def slow(text: str, rate: float) -> float:
        return 3.0

    line = expand(parse_drill("drill: A\nsteps:\n- rest: 3 s\n- exercise: x\n  for: 5 s\n"), Request(0), slow)
    (rest,) = [span for span in line.spans if span.kind == "rest"]
    (advice,) = line.advice
    assert rest.end - rest.start > 3
    assert advice.told == f"the rest of 3 s is too short for its words; it lasts {rest.end - rest.start:.1f} s"


def test_a_level_below_the_drills_own_is_advised_against() -> None:
    line = timeline("- say: hi\n", head="level: 5\n", level=2)
    assert [advice.told for advice in line.advice] == [
        "this drill is for level 5 and above; it is played at level 2",
    ]
    assert not timeline("- say: hi\n", head="level: 5\n", level=6).advice
