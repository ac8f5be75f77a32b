"""The vocabulary: names, numbers, synonyms, sides. Trade facts are common practice, no source."""

from __future__ import annotations

import pytest

from cornercue.technique.lookup import UnknownTechnique, WhichSide, resolve, resolve_base
from cornercue.technique.move import Move, in_stance, spoken_number
from cornercue.technique.sides import (
    SIDES,
    STANCES,
    Limb,
    Side,
    Stance,
    lead_side,
    limb_of,
    mirror,
    other_side,
    side_of,
)
from cornercue.technique.table import PACES, TECHNIQUES
from cornercue.technique.vocabulary import KNOWN_NAMES, normalise

LIMBS: tuple[Limb, ...] = ("lead", "rear")

# Common practice, no source: the usual six.
USUAL_SIX = {
    "1": "jab",
    "2": "cross",
    "3": "lead hook",
    "4": "rear hook",
    "5": "lead uppercut",
    "6": "rear uppercut",
}


def test_an_orthodox_fighter_leads_with_the_left_and_a_southpaw_with_the_right() -> None:
    # Common practice, no source.
    assert lead_side("orthodox") == "left"
    assert lead_side("southpaw") == "right"
    assert side_of("rear", "orthodox") == "right"
    assert side_of("rear", "southpaw") == "left"


@pytest.mark.parametrize("stance", STANCES)
def test_mirroring_twice_is_the_identity(stance: Stance) -> None:
    assert mirror(stance) != stance
    assert mirror(mirror(stance)) == stance
    for side in SIDES:
        assert other_side(other_side(side)) == side


@pytest.mark.parametrize("stance", STANCES)
def test_stance_turns_limbs_into_sides_and_back(stance: Stance) -> None:
    for limb in LIMBS:
        assert limb_of(side_of(limb, stance), stance) == limb
        assert side_of(limb, mirror(stance)) == other_side(side_of(limb, stance))


@pytest.mark.parametrize(("number", "name"), USUAL_SIX.items())
def test_the_usual_six_numbers(number: str, name: str) -> None:
    assert resolve(number).technique.name == name


@pytest.mark.parametrize("stance", STANCES)
def test_odd_numbers_lead_and_even_rear_whatever_the_stance(stance: Stance) -> None:
    # Common practice, no source. "b" is the same punch to the body.
    for technique in TECHNIQUES:
        if technique.number:
            move = resolve(technique.number, stance)
            odd = int(technique.number.rstrip("b")) % 2 == 1
            assert move.limb == ("lead" if odd else "rear")
            assert (move.side(stance) == lead_side(stance)) is odd
            assert (technique.height == "body") is technique.number.endswith("b")


@pytest.mark.parametrize(
    ("words", "stance", "name"),
    [
        # Common practice, no source.
        ("straight right", "orthodox", "cross"),
        ("straight right", "southpaw", "jab"),
        ("right straight", "orthodox", "cross"),
        ("left hook", "orthodox", "lead hook"),
        ("left hook", "southpaw", "rear hook"),
        ("right uppercut", "southpaw", "lead uppercut"),
        ("lead straight", "southpaw", "jab"),
        ("rear straight", "orthodox", "cross"),
        ("roll left", "orthodox", "weave"),
        ("roll", "orthodox", "weave"),
        ("hook lead", "orthodox", "lead hook"),
        ("right body hook", "orthodox", "rear body hook"),
        ("lead hook to the body", "orthodox", "lead body hook"),
        ("jab to the body", "orthodox", "body jab"),
        ("left roundhouse", "orthodox", "lead roundhouse kick"),
        ("rear round kick", "orthodox", "rear roundhouse kick"),
        ("rear push kick", "orthodox", "rear front kick"),
        ("right side kick", "southpaw", "lead side kick"),
        ("rear roundhouse kick to the head", "orthodox", "rear high roundhouse kick"),
        ("low kick", "orthodox", "rear low roundhouse kick"),
        ("block high left", "orthodox", "high block"),
        ("switch", "orthodox", "switch stance"),
        ("  Rear-Hook ", "orthodox", "rear hook"),
        ("LEAD_HOOK", "orthodox", "lead hook"),
    ],
)
def test_synonyms_that_the_trade_uses(words: str, stance: Stance, name: str) -> None:
    assert resolve(words, stance).technique.name == name


@pytest.mark.parametrize("stance", STANCES)
@pytest.mark.parametrize("side", SIDES)
def test_a_side_of_the_room_stays_that_side(side: Side, stance: Stance) -> None:
    for base in ("hook", "straight", "side kick", "weave", "slip", "elbow"):
        assert resolve(f"{side} {base}", stance).side(stance) == side


def test_every_word_of_the_vocabulary_resolves_and_names_are_unique() -> None:
    assert len({technique.name for technique in TECHNIQUES}) == len(TECHNIQUES)
    numbers = [technique.number for technique in TECHNIQUES if technique.number]
    assert len(set(numbers)) == len(numbers)
    for technique in TECHNIQUES:
        assert resolve(technique.name).technique is technique
        for other in technique.synonyms:
            assert resolve(other).technique is technique
    assert all(normalise(name) == name for name in KNOWN_NAMES)


@pytest.mark.parametrize("stance", STANCES)
def test_what_a_move_is_called_names_that_move_again(stance: Stance) -> None:
    for technique in TECHNIQUES:
        limbs = (technique.limb,) if technique.limb else (*LIMBS, None) if technique.sided else (None,)
        for limb in limbs:
            move = Move(technique, limb)
            again = resolve(move.words(stance), stance)
            assert (again.technique, again.limb, again.words(stance)) == (technique, limb, move.words(stance))


def test_paper_has_the_side_that_the_script_has() -> None:
    for written in ("parry left", "left parry", "parry lead", "walking stance right", "jab", "left hook"):
        assert resolve(written).name == written


def test_hyphens_stay_as_they_are_written() -> None:
    assert resolve("knife-hand block left").words("southpaw") == "knife-hand block right"
    assert resolve("Lead Spear-Hand").words("orthodox") == "lead spear-hand"
    assert resolve("left-hook").words("orthodox") == "left-hook"
    assert resolve("left-hook").words("southpaw") == "right-hook"
    assert resolve("lead_hook").words("orthodox") == "lead hook"


def test_numbers_are_called_as_words() -> None:
    assert [resolve(number).words("orthodox", numbers=True) for number in "123456"] == [
        "one", "two", "three", "four", "five", "six",
    ]  # fmt: skip
    assert spoken_number("3b") == "three body"
    assert resolve("slip left", "southpaw").words("southpaw", numbers=True) == "slip left"


def test_a_name_that_leaves_the_side_open_is_asked_for_or_taken_as_both() -> None:
    with pytest.raises(WhichSide, match="`hook` leaves the side open; write `lead hook` or `rear hook`"):
        resolve("hook")
    assert [move.technique.name for move in resolve_base("side kick")] == ["lead side kick", "rear side kick"]
    assert [move.technique.name for move in resolve_base("rear side kick")] == ["rear side kick"]


def test_an_unknown_word_gets_the_nearest_known_one() -> None:
    with pytest.raises(UnknownTechnique, match=r"`lead hok` is not a technique; did you mean `lead hook`\?"):
        resolve("lead hok")
    with pytest.raises(UnknownTechnique, match="`cornercue techniques` lists the known ones"):
        resolve("zzzzzz")


def test_a_switch_of_stance_turns_the_moves_after_it() -> None:
    moves = [resolve("jab"), resolve("switch stance"), resolve("jab")]
    assert [move.side(stance) for move, stance in in_stance(moves, "orthodox")] == ["left", None, "right"]


def test_a_sharper_pace_is_never_slower_and_a_number_is_taken_as_it_is() -> None:
    for technique in TECHNIQUES:
        move = Move(technique, technique.limb)
        learning, steady, sharp = (move.seconds(pace) for pace in PACES)
        assert learning > steady > sharp > 0
        assert move.seconds(1.5) == 1.5


def test_the_hip_that_drives_a_strike_or_kick_is_that_of_its_limb() -> None:
    # Common practice, no source: each blow is driven from its own side.
    for technique in TECHNIQUES:
        if technique.limb:
            assert technique.hip == technique.limb
        else:
            assert technique.hip in (None, "end")
