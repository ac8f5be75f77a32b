"""Random calls are fair and cannot be guessed, and random gaps do not tell when they end."""

from __future__ import annotations

import math
import random
from collections import Counter, defaultdict
from collections.abc import Callable, Sequence
from itertools import groupby, islice, pairwise
from typing import Any

import numpy as np
import pytest
from scipy import stats

from cornercue.technique.sides import Side
from cornercue.timing.draws import MEAN_SHARE, Kind, draws, draws_with_odds, gap, in_turn

SEEDS, CALLS = 200, 120
NAMES = ("parry left", "parry right", "cover left", "cover right", "weave left", "weave right")
CHANCE, MARGIN = 1 / len(NAMES), 0.06
Session = list[str]


def side_of(name: str) -> Side:
    return "left" if name.endswith("left") else "right"


KINDS = [Kind(name, side=side_of(name), defence=name.split()[0]) for name in NAMES]


def drawn(seed: int) -> Session:
    return list(islice(draws(KINDS, random.Random(seed)), CALLS))


def bag(seed: int) -> Session:
    """Bags of the six, each shuffled and used up: the plain way that the draws do not take."""
    rng = random.Random(seed)
    return [name for _ in range(CALLS // len(NAMES)) for name in rng.sample(NAMES, len(NAMES))]


def alternating(seed: int) -> Session:
    return list(islice(in_turn(KINDS), CALLS))


@pytest.fixture(scope="module")
def sessions() -> list[Session]:
    return [drawn(seed) for seed in range(SEEDS)]


# Fair


def longest_run(session: Sequence[object]) -> int:
    return max(len(list(same)) for _, same in groupby(session))


def test_never_more_than_two_alike_in_a_row(sessions: list[Session]) -> None:
    assert max(map(longest_run, sessions)) == 2  # and two do come: a bar on them would give calls away


def test_every_call_comes_its_share_in_every_session(sessions: list[Session]) -> None:
    share = CALLS / len(NAMES)
    for session in sessions:
        counts = Counter(session)
        assert all(0.65 * share <= counts[name] <= 1.35 * share for name in NAMES), counts


def test_left_and_right_are_even_in_every_session(sessions: list[Session]) -> None:
    for session in sessions:
        assert 0.9 * CALLS / 2 <= sum(side_of(name) == "left" for name in session) <= 1.1 * CALLS / 2


def furthest_apart(session: Session) -> int:
    return int(np.abs(np.cumsum([1 if side_of(name) == "left" else -1 for name in session])).max())


def test_neither_side_is_ever_more_than_twelve_ahead_nor_eight_in_a_short_round(sessions: list[Session]) -> None:
    assert max(map(furthest_apart, sessions)) == 12
    assert max(furthest_apart(session[:20]) for session in sessions) == 8


def one_of(defence: str, session: Session) -> Session:
    return [name for name in session if name.startswith(defence)]


@pytest.mark.parametrize("defence", ["parry", "cover", "weave"])
def test_no_defence_has_one_side_more_than_six_ahead_nor_four_in_a_short_round(
    defence: str, sessions: list[Session]
) -> None:
    assert max(furthest_apart(one_of(defence, session)) for session in sessions) == 6
    assert max(furthest_apart(one_of(defence, session[:20])) for session in sessions) == 4


def test_no_defence_is_more_than_ten_ahead_of_another_nor_six_in_a_short_round(sessions: list[Session]) -> None:
    for calls, most in ((CALLS, 10), (20, 6)):
        for session in sessions:
            counts = Counter(name.split()[0] for name in session[:calls])
            assert max(counts.values()) - min(counts.values()) <= most


def test_plain_dice_are_less_fair() -> None:
    plain = [random.Random(seed).choices(NAMES, k=CALLS) for seed in range(SEEDS)]
    counts = [Counter(session)[name] for session in plain for name in NAMES]
    assert max(map(longest_run, plain)) > 2
    assert max(map(furthest_apart, plain)) > 20
    assert min(counts) < 15
    assert max(counts) > 25


# Not to be guessed


class ContextGuesser:
    """Guesses the call that has followed the last 0 to 4 calls most often, by the length that was right most often."""

    LENGTHS = range(5)

    def __init__(self) -> None:
        self._followed: defaultdict[tuple[str, ...], Counter[str]] = defaultdict(Counter)
        self._right: Counter[int] = Counter()

    def hits(self, session: Session) -> int:
        """How often it is right in a session; it learns as it goes, and keeps what it learnt."""
        hits = 0
        for now, call in enumerate(session):
            contexts = {length: tuple(session[now - length : now]) for length in self.LENGTHS if length <= now}
            guesses = {n: self._followed[past].most_common(1)[0][0] for n, past in contexts.items() if past in self}
            if guesses:
                hits += guesses[max(guesses, key=lambda length: self._right[length])] == call
            self._right.update(length for length, guess in guesses.items() if guess == call)
            for past in contexts.values():
                self._followed[past][call] += 1
        return hits

    def __contains__(self, past: tuple[str, ...]) -> bool:
        return bool(self._followed.get(past))


def guessed_by_context(sessions: list[Session]) -> float:
    """The share guessed right by one who has heard all sessions so far: the more able, and the harder to beat."""
    guesser = ContextGuesser()
    return sum(guesser.hits(session) for session in sessions) / (CALLS * len(sessions))


def guessed_afresh(sessions: list[Session]) -> float:
    """The share guessed right by one who knows nothing at the start of each session."""
    return sum(ContextGuesser().hits(session) for session in sessions) / (CALLS * len(sessions))


def guessed_by_count(sessions: list[Session]) -> float:
    """The share guessed right by one who bets on the call heard least so far, of these the one heard longest ago."""
    hits = 0
    for session in sessions:
        counts, heard = dict.fromkeys(NAMES, 0), dict.fromkeys(NAMES, -1)
        for now, call in enumerate(session):
            hits += min(NAMES, key=lambda name: (counts[name], heard[name])) == call
            counts[call] += 1
            heard[call] = now
    return hits / (CALLS * len(sessions))


GUESSERS = [guessed_by_context, guessed_afresh, guessed_by_count]


@pytest.mark.parametrize("guessed", GUESSERS)
def test_no_guesser_does_much_better_than_chance(
    guessed: Callable[[list[Session]], float], sessions: list[Session]
) -> None:
    assert guessed(sessions) < CHANCE + MARGIN


@pytest.mark.parametrize("guessed", [guessed_by_context, guessed_by_count])
def test_the_same_guessers_see_through_a_shuffled_bag(guessed: Callable[[list[Session]], float]) -> None:
    assert guessed([bag(seed) for seed in range(SEEDS)]) > CHANCE + MARGIN


@pytest.mark.parametrize("guessed", GUESSERS)
def test_the_same_guessers_see_through_calls_in_turn(guessed: Callable[[list[Session]], float]) -> None:
    assert guessed([alternating(seed) for seed in range(SEEDS)]) > 0.9


# The statistician's tests


@pytest.mark.parametrize(
    ("df", "critical"), [(1, 3.841), (2, 5.991), (3, 7.815), (5, 11.070), (7, 14.067), (9, 16.919)]
)
def test_chi_square_is_the_one_of_the_tables(df: int, critical: float) -> None:
    # The standard table of the 0.95 quantile, as every textbook of statistics prints it.
    assert stats.chi2.ppf(0.95, df) == pytest.approx(critical, abs=5e-4)


def chi_square(calls: Sequence[str]) -> float:
    expected = len(calls) / len(NAMES)
    counts = Counter(calls)
    return sum((counts[name] - expected) ** 2 / expected for name in NAMES)


@pytest.mark.parametrize("place", [0, 1, 2, 11, 59, 118, 119])
def test_no_place_in_a_session_favours_a_call(place: int) -> None:
    # 500 seeds; 15.086 is the 0.99 quantile for 5 degrees of freedom (standard table).
    calls = [list(islice(draws(KINDS, random.Random(seed)), place + 1))[place] for seed in range(500)]
    assert chi_square(calls) < 15.086
    assert stats.chisquare([Counter(calls)[name] for name in NAMES]).statistic == pytest.approx(chi_square(calls))


def test_a_session_that_always_opens_alike_would_be_seen() -> None:
    assert chi_square([alternating(seed)[0] for seed in range(SEEDS)]) > 15.086


def runs_of(bits: Sequence[int]) -> int:
    return 1 + sum(one != other for one, other in pairwise(bits))


def runs_p(bits: Sequence[int]) -> float:
    """P of the runs test, by the formula of NIST SP 800-22, section 2.3.4."""
    n, ones = len(bits), sum(bits) / len(bits)
    return math.erfc(abs(runs_of(bits) - 2 * n * ones * (1 - ones)) / (2 * math.sqrt(2 * n) * ones * (1 - ones)))


def wald_wolfowitz_z(bits: Sequence[int]) -> float:
    """How many standard deviations there are too many runs (Wald and Wolfowitz 1940; formula from memory)."""
    ones, zeros, n = sum(bits), len(bits) - sum(bits), len(bits)
    mean = 2 * ones * zeros / n + 1
    return (runs_of(bits) - mean) / math.sqrt((mean - 1) * (mean - 2) / (n - 1))


def bits_of_pi(count: int) -> list[int]:
    """The binary expansion of pi, 11.001001..., by Machin's formula in whole numbers."""

    def arctan_of_inverse(x: int, one: int) -> int:
        return sum((-1) ** k * (one // ((2 * k + 1) * x ** (2 * k + 1))) for k in range(60))

    one = 1 << (count + 30)
    pi = 4 * (4 * arctan_of_inverse(5, one) - arctan_of_inverse(239, one))
    return [int(bit) for bit in bin(pi)[2 : 2 + count]]


def test_the_runs_test_gives_the_figures_of_nist() -> None:
    # NIST SP 800-22 rev. 1a (secondary copy): the ten bits of 2.3.4, and the first 100 bits of pi of 2.3.8.
    assert runs_p([1, 0, 0, 1, 1, 0, 1, 0, 1, 1]) == pytest.approx(0.147232, abs=5e-7)
    bits = bits_of_pi(100)
    assert (sum(bits), runs_of(bits)) == (42, 52)
    assert runs_p(bits) == pytest.approx(0.500798, abs=5e-7)


@pytest.mark.parametrize(("alike", "lower", "upper"), [(5, 2, 10), (10, 6, 16), (15, 10, 22), (20, 14, 28)])
def test_runs_are_as_rare_as_the_published_table_says(alike: int, lower: int, upper: int) -> None:
    # Swed and Eisenhart (1943), critical numbers of runs, 2.5 % at each end, two kinds of so many each (from memory).
    runs, chance = runs_distribution(alike)
    assert sum(chance) == pytest.approx(1)
    assert sum(chance[runs <= lower]) <= 0.025 < sum(chance[runs <= lower + 1])
    assert sum(chance[runs >= upper]) <= 0.025 < sum(chance[runs >= upper - 1])
    # The deviate used below has the mean and the spread of that same distribution.
    z = np.array([wald_wolfowitz_z(with_runs(int(count), alike)) for count in runs])
    assert sum(chance * z) == pytest.approx(0)
    assert sum(chance * z**2) == pytest.approx(1)


def runs_distribution(alike: int) -> tuple[Any, Any]:
    """Numbers of runs and the chance of each, counted out: r runs split each kind into r/2 parts."""
    runs = np.arange(2, 2 * alike + 1)
    ways = [2 * math.comb(alike - 1, (r + 1) // 2 - 1) * math.comb(alike - 1, r // 2 - 1) for r in runs.tolist()]
    return runs, np.array(ways) / math.comb(2 * alike, alike)


def with_runs(count: int, alike: int) -> list[int]:
    """Two kinds, so many of each, in so many runs."""
    parts = [[run % 2] for run in range(count)]
    for kind in (0, 1):
        parts[kind] += [kind] * (alike - sum(part[0] == kind for part in parts))
    return [bit for part in parts for bit in part]


def sides(session: Session) -> list[int]:
    return [int(side_of(name) == "left") for name in session]


def test_the_sides_come_in_as_many_runs_as_chance_would_have(sessions: list[Session]) -> None:
    z = np.array([wald_wolfowitz_z(sides(session)) for session in sessions])
    outside = np.count_nonzero(abs(z) > stats.norm.ppf(0.975))
    assert outside <= stats.binom.ppf(0.99, SEEDS, 0.05), (outside, z.mean())
    assert wald_wolfowitz_z(sides(alternating(0))) > 5


# What the script asks for


def test_weights_are_kept() -> None:
    kinds = [Kind("parry", 2.0), Kind("cover", 1.0), Kind("weave", 1.0)]
    for seed in range(50):
        counts = Counter(islice(draws(kinds, random.Random(seed)), CALLS))
        assert counts["parry"] == pytest.approx(60, rel=0.15)
        assert counts["weave"] == pytest.approx(30, rel=0.25)


def test_a_weight_that_four_in_a_row_forbid_gets_what_is_left() -> None:
    # Of two calls four may come in a row: with two at most, every third call was known before.
    calls = list(islice(draws([Kind("parry", 100.0), Kind("weave", 1.0)], random.Random(1)), CALLS))
    assert longest_run(calls) == 4
    assert Counter(calls) == {"parry": 96, "weave": 24}


@pytest.mark.parametrize("before", [[4, 0], [0, 4], [9, 0]])
def test_a_round_goes_on_with_the_sides_as_the_last_one_left_them(before: list[int]) -> None:
    behind = "parry right" if before[0] else "parry left"
    firsts = {next(draws(KINDS[:2], random.Random(seed), before)) for seed in range(20)}
    assert firsts == {behind}
    assert len({next(draws(KINDS[:2], random.Random(seed), [4, 3])) for seed in range(20)}) == 2


def test_calls_without_a_side_stay_as_frequent_beside_calls_of_one_side_only() -> None:
    kinds = [Kind("parry left", side="left"), Kind("duck"), Kind("slip left", side="left")]
    for seed in range(50):
        calls = list(islice(draws(kinds, random.Random(seed)), CALLS))
        # From the 60th call on one side would have been ahead for long: the odds must still be even.
        assert Counter(calls[60:])["duck"] == pytest.approx(20, abs=6)
        assert longest_run([call == "duck" for call in calls]) > 3


def test_calls_without_a_side_keep_their_share_and_do_not_tip_the_balance_of_the_others() -> None:
    kinds = [*KINDS, Kind("duck", 2.0, defence="duck")]
    ducks = 0
    for seed in range(50):
        counts = Counter(islice(draws(kinds, random.Random(seed)), CALLS))
        left = sum(counts[name] for name in NAMES if side_of(name) == "left")
        assert abs(2 * left - (CALLS - counts["duck"])) <= 12
        ducks += counts["duck"]
    assert ducks / 50 == pytest.approx(CALLS / 4, rel=0.05)


def test_every_draw_tosses_a_fair_coin_for_the_side_where_nothing_is_far_ahead() -> None:
    kinds = [Kind("parry left", 3.0, "left", "parry"), Kind("parry right", 3.0, "right", "parry"),
             Kind("cover left", 1.0, "left", "cover"), Kind("cover right", 1.0, "right", "cover"),
             Kind("duck", 2.0)]  # fmt: skip
    _, odds = next(draws_with_odds(kinds, random.Random(0)))
    assert odds == pytest.approx([0.3, 0.3, 0.1, 0.1, 0.2])
    ahead = [4, 0, 0, 0, 0]  # Four parries to the left before: it waits, and the left is for cover alone.
    _, odds = next(draws_with_odds(kinds, random.Random(0), ahead))
    assert odds == pytest.approx([0, 0.3, 0.4, 0.1, 0.2])


def test_a_single_kind_comes_again_and_again() -> None:
    assert list(islice(draws([Kind("parry")], random.Random(0)), 5)) == ["parry"] * 5


def test_calls_in_turn_go_round() -> None:
    assert list(islice(in_turn([Kind("a"), Kind("b", 3.0), Kind("c")]), 7)) == list("abcabca")


def test_the_same_seed_draws_the_same_and_another_draws_others() -> None:
    assert drawn(5) == drawn(5)
    assert len({tuple(drawn(seed)) for seed in range(SEEDS)}) == SEEDS


# Gaps

GAPS, LEAST, MOST = 10_000, 2.0, 5.0


def truncated_exponential() -> Any:
    """scipy's, exponential above the floor with a third of the room as its mean, and cut at the maximum."""
    mean = (MOST - LEAST) * MEAN_SHARE
    return stats.truncexpon(b=(MOST - LEAST) / mean, loc=LEAST, scale=mean)


def test_gaps_are_exponential_above_the_floor_and_cut_at_the_maximum() -> None:
    rng = random.Random(20)
    gaps = [gap(LEAST, MOST, rng) for _ in range(GAPS)]
    assert min(gaps) >= LEAST
    assert max(gaps) <= MOST
    assert stats.kstest(gaps, truncated_exponential().cdf).pvalue > 0.05


def test_the_same_test_sees_uniform_gaps() -> None:
    uniform = [random.Random(seed).uniform(LEAST, MOST) for seed in range(GAPS)]
    assert stats.kstest(uniform, truncated_exponential().cdf).pvalue < 1e-9


def test_having_waited_tells_nothing() -> None:
    # Luce 1986 (from memory): exponential foreperiods do not age. Of those that still wait, as many end in the next
    # half second, early and later on; uniform gaps would end twice as often. The cut brings ageing near the maximum.
    rng = random.Random(21)
    gaps = np.array([gap(LEAST, MOST, rng) for _ in range(GAPS)])
    ending = [np.mean(gaps[gaps >= at] < at + 0.5) for at in (LEAST, LEAST + 0.5, LEAST + 1.0)]
    assert ending[2] / ending[0] < 1.15
    uniform = np.array([rng.uniform(LEAST, MOST) for _ in range(GAPS)])
    aged = [np.mean(uniform[uniform >= at] < at + 0.5) for at in (LEAST, LEAST + 1.0)]
    assert aged[1] / aged[0] > 1.4


def test_the_cut_makes_gaps_age_by_so_much_near_their_end() -> None:
    mean = 2.5 * MEAN_SHARE
    law = stats.truncexpon(b=2.5 / mean, scale=mean)
    hazard = [law.pdf(at) / law.sf(at) for at in (0.0, 1.25, 1.875)]
    assert hazard == pytest.approx([1.26, 1.54, 2.27], abs=0.01)
    assert law.sf(1.25) == pytest.approx(0.18, abs=0.005)
    rng = random.Random(22)
    longer = [gap(0.0, 2.5, rng) > 1.25 for _ in range(GAPS)]
    assert np.mean(longer) == pytest.approx(law.sf(1.25), abs=0.012)


def test_a_gap_without_room_is_the_floor() -> None:
    assert gap(3.0, 3.0, random.Random(0)) == 3.0
    assert gap(3.0, 2.0, random.Random(0)) == 3.0
