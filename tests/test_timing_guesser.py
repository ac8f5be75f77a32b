"""The draws are not to be guessed even by one who knows the rule and has heard every call so far."""

from __future__ import annotations

import random
from collections.abc import Callable
from itertools import groupby, islice

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornercue.timing.draws import MOST_APART, draws, draws_with_odds, lead, made_up
from optimal_guesser import Figures, figures, former, one_defence, sided, unsided


def guessed_from_memory(short: Figures, long: Figures) -> list[float]:
    return [100 * share for one in (short, long) for share in (one.defence, one.side, one.both)]


ROUNDS = 150
"""Seeds for each figure; over so many the figures lie within about half a per cent of those of the docstring."""


@pytest.mark.parametrize(
    ("defences", "short", "long"),
    [
        (2, (57.3, 51.2, 32.6), (58.9, 51.8, 34.3)),
        (3, (36.3, 50.6, 19.4), (38.3, 51.3, 21.2)),
        (4, (26.4, 50.6, 13.7), (28.0, 51.3, 15.1)),
    ],
)
def test_the_best_guesser_gets_right_what_the_docstring_says(
    defences: int, short: tuple[float, ...], long: tuple[float, ...]
) -> None:
    found = [figures(sided(defences), calls, ROUNDS) for calls in (20, 100)]
    assert guessed_from_memory(*found) == pytest.approx([*short, *long], abs=1.0)
    assert [one.sides_apart for one in found] == [4, 6]
    assert max(one.alike for one in found) == 2


@pytest.mark.parametrize("defences", [3, 4])
@pytest.mark.parametrize(("calls", "rounds"), [(20, 1), (100, 1), (20, 5)])
def test_he_guesses_the_side_by_52_the_defence_by_41_and_both_by_23_per_cent_at_most(
    calls: int, rounds: int, defences: int
) -> None:
    found = figures(sided(defences), calls, ROUNDS // rounds, rounds=rounds)
    assert found.side <= 0.52
    assert found.defence <= 0.41
    assert found.both <= 0.23


def test_he_saw_through_the_sides_of_the_law_before_by_56_per_cent() -> None:
    short, long = (figures(sided(3), calls, ROUNDS, former) for calls in (20, 100))
    assert guessed_from_memory(short, long) == pytest.approx([39.4, 56.0, 21.0, 39.7, 56.6, 21.3], abs=0.5)


def test_his_success_is_the_mean_of_the_largest_probability() -> None:
    # Not only on paper: betting on the likeliest side, call by call, wins as often.
    kinds, bets, won, promised = sided(1), 0, 0, 0.0
    for seed in range(300):
        for number, odds in islice(draws_with_odds(kinds, random.Random(seed)), 40):
            won += number == odds.index(max(odds))
            promised += max(odds)
            bets += 1
    assert won / bets == pytest.approx(promised / bets, abs=0.015)


def by_the_end(calls: int) -> Callable[[int], int]:
    """How far apart left and right may be after call n where they must be within three after the last."""
    return lambda n: MOST_APART + made_up(calls - n - 1)


def test_one_defence_alone_is_guessed_by_56_per_cent_with_four_alike_and_left_and_right_within_three() -> None:
    for calls, counted_out in ((9, 0.534), (20, 0.560), (21, 0.548), (100, 0.558)):
        assert one_defence(calls, by_the_end(calls), alike=4) == pytest.approx(counted_out, abs=5e-4)
        found = figures(sided(1), calls, ROUNDS)
        assert found.side == pytest.approx(counted_out, abs=0.01)
        assert found.alike == 4
        assert found.sides_apart_at_end == (3 if calls % 2 else 2)
    longest = max(range(1, 201), key=lambda calls: one_defence(calls, by_the_end(calls), alike=4))
    assert (longest, round(one_defence(longest, by_the_end(longest), alike=4), 3)) == (34, 0.561)


def test_hardly_any_law_could_do_better() -> None:
    for calls in range(5, 61, 5):
        ours, best = (one_defence(calls, by_the_end(calls), alike=4, best=which) for which in (False, True))
        assert best <= ours <= best + 0.002


@given(calls=st.integers(1, 150), seed=st.integers(0, 10_000), before=st.tuples(st.integers(0, 9), st.integers(0, 9)))
def test_whatever_the_seed_and_the_rounds_before_left_and_right_end_within_three(
    calls: int, seed: int, before: tuple[int, int]
) -> None:
    drawn = list(islice(draws(sided(1), random.Random(seed), before, calls), calls))
    left = sum(name.endswith("left") for name in drawn)
    assert abs(2 * left - calls) <= 3
    assert max(len(list(alike)) for _, alike in groupby(drawn)) <= 4


def test_where_nobody_knows_how_many_calls_there_will_be_a_stick_keeps_the_sides_together() -> None:
    for calls, counted_out in ((20, 0.554), (100, 0.558)):
        assert one_defence(calls, lead, alike=4) == pytest.approx(counted_out, abs=5e-4)


def test_no_law_at_all_could_keep_them_within_three_all_the_time_and_be_guessed_so_seldom() -> None:
    for calls, counted_out in ((9, 0.553), (10, 0.565), (20, 0.579), (100, 0.589)):
        best = one_defence(calls, lambda n: 3, alike=4, best=True)
        assert best == pytest.approx(counted_out, abs=5e-4)
        assert one_defence(calls, lambda n: 3, alike=4) == pytest.approx(best)  # a fair coin within is the best law
    # A walk between walls three steps off ends up standing at one of them at 1 draw in 6 (2 of 12 half steps), so that
    # without the bar on the fifth alike 1/6 + 5/6 * 1/2 = 7/12 are guessed in the long run.
    assert one_defence(200, lambda n: 3, alike=200) == pytest.approx(7 / 12, abs=0.005)


@pytest.mark.parametrize("combinations", [2, 3, 4, 6])
def test_calls_without_a_side_are_as_fair_and_as_hard_to_guess_as_before(combinations: int) -> None:
    for calls in (20, 100):
        now, before = (figures(unsided(combinations), calls, ROUNDS, law) for law in (draws_with_odds, former))
        assert now.both <= before.both + 0.005
        assert now.defences_apart <= before.defences_apart


def test_the_rounds_of_a_session_are_drawn_as_one() -> None:
    session = figures(sided(3), 20, 60, rounds=5)
    forgetful = figures(sided(3), 20, 60, lambda kinds, rng, before, calls: draws_with_odds(kinds, rng), rounds=5)
    assert session.sides_apart == 6
    assert session.to_level < 7
    assert forgetful.sides_apart > 10
    assert forgetful.to_level > 8
