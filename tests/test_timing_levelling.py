"""A round with `order: even` brings left and right of every defence out even, in turn, and says so."""

from __future__ import annotations

from collections import Counter
from itertools import islice, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornercue.script.faults import ScriptFaults
from cornercue.script.read import parse_drill
from cornercue.technique.sides import SIDES
from cornercue.timing.draws import Kind
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand, unfold
from cornercue.timing.levelling import evened, owed
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Cue, Timeline

SEEDS = 200
ANNOUNCED = "Now in turn, so that both sides come out even."
RANDOM = "- partner: [parry, cover, weave]\n  reps: 20\n- rest: 30 s\n"
EVEN = "- partner: [parry, cover, weave]\n  for: 5 s\n  order: even\n"
SESSION = RANDOM * 5 + EVEN


def lay(steps: str, head: str = "", seed: int = 0, level: int | None = None) -> Timeline:
    return expand(parse_drill(f"drill: Test\n{head}steps:\n{steps}"), Request(seed, level), estimated_seconds)


def calls(line: Timeline, part: int | None = None) -> list[Cue]:
    return [cue for cue in line.cues if cue.kind == "call" and part in (None, cue.part)]


def named(found: list[Cue]) -> list[str]:
    return [f"{cue.moves[0].technique} {cue.moves[0].side or ''}".strip() for cue in found]


def apart(line: Timeline) -> dict[str, int]:
    """How far left and right of each defence are apart over the whole session."""
    counts = Counter(named(calls(line)))
    defences = {cue.moves[0].technique for cue in calls(line)}
    return {defence: abs(counts[f"{defence} left"] - counts[f"{defence} right"]) for defence in defences}


# The session


def test_every_session_comes_out_even_after_a_handful_of_calls() -> None:
    made_up, before = [], []
    for seed in range(SEEDS):
        line = lay(SESSION, seed=seed)
        assert max(apart(line).values()) <= 1
        before.append(max(apart(lay(RANDOM * 5, seed=seed)).values()))
        made_up.append(len(calls(line, part=5)))
    assert max(before) == 6
    assert sum(made_up) / SEEDS == pytest.approx(6, abs=1)
    assert max(made_up) <= 15


@pytest.mark.parametrize("listener", ["student", "feeder"])
@pytest.mark.parametrize("head", ["stance: orthodox\n", "stance: southpaw\n", "stance: both\n"])
def test_it_comes_out_even_in_every_stance_for_either_listener_by_the_sides_of_the_room(
    head: str, listener: str
) -> None:
    for seed in range(20):
        heard = f"  listener: {listener}\n"
        line = lay(SESSION.replace("  reps", f"{heard}  reps").replace("  for", f"{heard}  for"), head, seed)
        assert max(apart(line).values()) <= 1


@given(
    st.lists(
        st.tuples(
            st.lists(st.sampled_from(["parry", "cover", "weave", "slip", "duck"]), min_size=1, max_size=4, unique=True),
            st.integers(1, 30),
            st.sampled_from(["random", "alternate", "even"]),
        ),
        min_size=1,
        max_size=4,
    ),
    st.sampled_from(["orthodox", "southpaw", "both"]),
    st.sampled_from(["reps: 1", "reps: 7", "for: 1 s", "for: 25 s"]),
    st.integers(0, 99),
)
def test_whatever_was_called_before_an_even_round_it_is_level_after_it(
    rounds: list[tuple[list[str], int, str]], stance: str, length: str, seed: int
) -> None:
    steps = "".join(f"- partner: [{', '.join(names)}]\n  reps: {reps}\n  order: {how}\n" for names, reps, how in rounds)
    every = sorted({name for names, _, _ in rounds for name in names})
    steps += f"- partner: [{', '.join(every)}]\n  {length}\n  order: even\n"
    line = lay(steps, f"stance: {stance}\n", seed)
    assert all(difference <= 1 for defence, difference in apart(line).items() if defence != "duck")


@given(
    st.sampled_from(["for: 30 s", "for: 2 min", "reps: 15", "reps: 20"]),
    st.sampled_from(["", "  answers: jab, cross\n", "  answers: [[jab, cross], [jab]]\n", "  listener: feeder\n"]),
    st.sampled_from(["orthodox", "both"]),
    st.integers(0, 999),
)
def test_a_round_of_one_defence_ends_with_left_and_right_within_three_by_time_as_by_number(
    length: str, more: str, stance: str, seed: int
) -> None:
    line = lay(f"- partner: parry\n  {length}\n{more}", f"stance: {stance}\n", seed)
    for round_stance in {cue.stance for cue in calls(line)}:
        sides = [cue.moves[0].side for cue in calls(line) if cue.stance == round_stance and cue.moves[0].side]
        assert abs(sides.count("left") - sides.count("right")) <= 3


def test_what_is_owed_comes_in_turn_and_then_whole_pairs() -> None:
    kinds = [Kind(f"{name} {side}", 1.0, side, name) for name in ("parry", "cover", "weave") for side in SIDES]
    before = [9, 5, 3, 6, 4, 4]  # Four parries too many to the left, three covers to the right.
    assert owed(kinds, before) == 5
    assert list(islice(evened(kinds, before), 13)) == [
        "parry right", "cover left", "parry right", "cover left", "parry right",
        "parry right", "parry left", "cover left", "cover right", "weave left", "weave right",
        "parry right", "parry left",
    ]  # fmt: skip


def test_a_round_that_owes_nothing_goes_by_pairs_and_a_duck_has_no_side() -> None:
    line = lay("- partner: [parry, duck, weave]\n  reps: 7\n  order: even\n")
    assert named(calls(line)) == [
        "parry left", "parry right", "duck", "weave left", "weave right", "parry left", "parry right",
    ]  # fmt: skip


def test_a_round_lasts_as_long_as_it_is_asked_to_and_longer_where_it_is_not_level_yet() -> None:
    for seed in range(20):
        steps = RANDOM + "- partner: [parry, cover, weave]\n  for: 90 s\n  order: even\n"
        line = lay(steps, seed=seed)
        assert line.spans[-1].end - line.spans[-1].start == pytest.approx(90)
        assert len(calls(line, part=1)) > 10
        short = lay(SESSION, seed=seed)
        found = calls(short, part=5)
        if found:
            assert short.spans[-1].end > found[-1].end
            assert all(one.end < other.start for one, other in pairwise(found))
    assert len(calls(lay("- partner: parry\n  reps: 2\n  order: even\n"))) == 2


def test_it_is_said_before_the_round_and_only_there() -> None:
    line = lay(SESSION)
    (said,) = [cue for cue in line.cues if cue.text == ANNOUNCED]
    assert (said.part, said.ahead) == (4, True)  # in the rest before the round
    assert calls(line)[99].end < said.start < calls(line, part=5)[0].start


def test_a_round_of_one_side_is_the_scripts_choice_and_not_made_up_for() -> None:
    steps = "- partner: parry\n  reps: 12\n  sides: left\n- partner: parry\n  reps: 4\n  order: even\n"
    assert named(calls(lay(steps), part=1)) == ["parry left", "parry right"] * 2
    # Nor do later draws wait until the other side has caught up.
    mixed = steps.replace("order: even", "order: random")
    firsts = {named(calls(lay(mixed, seed=seed), part=1))[0] for seed in range(20)}
    assert firsts == {"parry left", "parry right"}


def test_it_levels_what_the_rounds_of_a_repeat_called() -> None:
    rounds = "- repeat: 3\n  steps:\n  - partner: [parry, weave]\n    for: 60 s\n"
    for seed in range(50):
        steps = rounds + "- partner: [parry, weave]\n  for: 5 s\n  order: even\n"
        assert max(apart(lay(steps, seed=seed)).values()) <= 1


def test_a_drill_laid_out_twice_or_bit_by_bit_is_the_same() -> None:
    drill = parse_drill(f"drill: Test\nsteps:\n{SESSION}")
    first = expand(drill, Request(3), estimated_seconds)
    assert expand(drill, Request(3), estimated_seconds) == first
    one, other = (unfold(drill, Request(3), estimated_seconds) for _ in range(2))
    whole = [beginning for pair in zip(one, other, strict=True) for beginning in pair][-2:]  # Side by side.
    assert whole == [first, first]


# Bad input


@pytest.mark.parametrize(
    ("step", "sentence"),
    [
        ("partner: {parry: 2, cover: 1}", "`order: even` calls each defence in turn; leave out the weights"),
        ("partner: parry\n  sides: left", "`order: even` brings left and right out even; leave out `sides: left`"),
    ],
)
def test_what_cannot_come_out_even_is_told(step: str, sentence: str) -> None:
    with pytest.raises(ScriptFaults, match=sentence):
        lay(f"- {step}\n  reps: 4\n  order: even\n")
