"""The table of techniques: what a row may say, what the trade's words mean, what is asked back where one is open.

What the words mean is common practice, no source.
"""

from __future__ import annotations

import csv
from collections import Counter
from importlib.resources import files
from itertools import chain

import pytest

from cornercue.coaching.rules import review
from cornercue.feed.table import FED
from cornercue.script.faults import ScriptFaults
from cornercue.script.read import parse_drill
from cornercue.technique.lookup import UnknownTechnique, resolve, resolve_base
from cornercue.technique.move import Move
from cornercue.technique.sides import LIMBS, SIDES, STANCES, Side, Stance, limb_of, mirror, other_side
from cornercue.technique.table import COLUMNS, PACES, TECHNIQUES, Technique, techniques_of
from cornercue.technique.vocabulary import USUAL, normalise
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request

TEXT = files("cornercue.technique").joinpath("techniques.csv").read_text(encoding="utf-8")
ROWS = list(csv.DictReader(TEXT.splitlines(), strict=True))
BY_NAME = {technique.name: technique for technique in TECHNIQUES}

# Written by hand, so that a loss in the table is seen: what a club's instructor asks for, with the sides that it has.
LEAD_OR_REAR = [
    "knife-hand strike", "ridge hand", "hammer fist", "spear hand",
    "inside crescent kick", "outside crescent kick", "axe kick", "hook kick", "spinning back kick",
    "spinning hook kick", "jumping front kick", "flying side kick", "double front kick", "double side kick",
    "double roundhouse kick", "skipping front kick", "skipping side kick", "skipping roundhouse kick",
    "rising elbow", "horizontal elbow", "downward elbow", "diagonal elbow", "backward elbow", "spinning elbow",
    "rising knee", "straight knee", "round knee", "flying knee",
]  # fmt: skip
LEFT_OR_RIGHT = [
    "inner block", "outer block", "knife-hand block", "cross-body block", "low block", "high block", "double block",
    "walking stance", "long stance", "back stance", "cat stance", "fighting stance",
    "side breakfall", "shoulder roll", "technical stand-up", "step diagonally forward", "step diagonally back",
]  # fmt: skip
NO_SIDE = ["horse stance", "ready stance", "sprawl", "back breakfall", "front breakfall"]


def test_every_row_is_whole_with_its_source_and_times_that_fall_from_learning_to_sharp() -> None:
    assert tuple(next(csv.reader(TEXT.splitlines()))) == COLUMNS
    for row in ROWS:
        assert None not in row, row  # no cell more than the columns
        assert None not in row.values(), row
        assert row["source"].strip(), row
        learning, steady, sharp = (float(row[pace]) for pace in PACES)
        assert 0 < sharp < steady < learning <= 5, row
        limbed = row["sides"] == "lead/rear"
        assert limbed is (row["kind"] in ("strike", "kick")) is bool(row["height"]) is bool(row["with"]), row
        assert limbed or not (row["lead"] or row["rear"] or row["numbers"]), row
        assert row["loads"] in (("", "end") if row["kind"] == "defence" else ("",)), row
    assert list(techniques_of(ROWS)) == list(TECHNIQUES)


@pytest.mark.parametrize(
    ("column", "value"),
    [("kind", "punch"), ("sides", "both"), ("height", "high"), ("loads", "start"), ("with", "hands"),
     ("sharp", "quick"), ("numbers", "1")],
)  # fmt: skip
def test_a_row_that_says_what_the_table_does_not_know_is_refused(column: str, value: str) -> None:
    with pytest.raises(ValueError, match=r"."):
        list(techniques_of([{**ROWS[0], column: value}]))


def test_no_name_stands_for_two_things() -> None:
    names = Counter(chain.from_iterable((one.name, *one.synonyms, *filter(None, [one.number])) for one in TECHNIQUES))
    assert [name for name, count in names.items() if count > 1] == []
    for name, technique in USUAL.names.items():
        assert normalise(name) == name
        if name in USUAL.bases:  # "overhand" is the rear one, but "lead overhand" is there too
            assert technique in USUAL.bases[name].values()
    for base, limbs in USUAL.bases.items():
        for limb, technique in limbs.items():
            assert technique.limb == limb
        assert len({technique.base for technique in limbs.values()}) == 1, base


def test_kicks_to_the_head_are_called_high_and_have_one_to_the_body() -> None:
    # The review tells a beginner to aim lower by leaving out "high".
    for one in TECHNIQUES:
        if one.kind == "kick":
            assert one.name.startswith(f"{one.limb} high ") is (one.height == "head")
            assert BY_NAME[one.name.replace("high ", "").replace("low ", "")].height == "body"


def sides_of(technique: Technique) -> set[object]:
    return {technique.limb} if technique.limb else {"left or right"} if technique.sided else {None}


def test_the_words_that_a_club_asks_for_are_there_with_their_sides() -> None:
    for name in LEAD_OR_REAR:
        assert [move.technique.name for move in resolve_base(name)] == [f"{limb} {normalise(name)}" for limb in LIMBS]
    for name in LEFT_OR_RIGHT:
        assert sides_of(resolve(name).technique) == {"left or right"}, name
    for name in NO_SIDE:
        assert sides_of(resolve(name).technique) == {None}, name
        with pytest.raises(UnknownTechnique):
            resolve(f"{name} left")


@pytest.mark.parametrize("stance", STANCES)
def test_every_row_can_be_written_with_each_side_before_or_after_and_is_called_so(stance: Stance) -> None:
    for technique in TECHNIQUES:
        if technique.limb and technique.name == f"{technique.limb} {technique.base}":
            side: Side = next(side for side in SIDES if limb_of(side, stance) == technique.limb)
            for written in (f"{side} {technique.base}", f"{technique.base} {side}", technique.name):
                move = resolve(written, stance)
                assert (move.technique, move.side(stance), move.words(stance)) == (technique, side, written)
                turned = written if written == technique.name else written.replace(side, other_side(side))
                assert move.words(mirror(stance)) == turned
        elif technique.sided:
            for side in SIDES:
                for written in (f"{technique.name} {side}", f"{side} {technique.name}"):
                    move = resolve(written, stance)
                    assert (move.technique, move.side(stance), move.words(stance)) == (technique, side, written)
                    assert move.words(mirror(stance)) == written.replace(side, other_side(side))
                assert Move(technique, limb_of(side, stance)).words(stance) == f"{technique.name} {side}"


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("front stance left", "long stance"),
        ("forward stance", "long stance"),
        ("riding stance", "horse stance"),
        ("ready position", "ready stance"),
        ("inside block right", "inner block"),
        ("knife hand block left", "knife hand block"),
        ("lead knife hand strike", "lead knife hand strike"),
        ("rear ridge-hand strike", "rear ridge hand"),
        ("rear hook", "rear hook"),
        ("rear hook kick", "rear hook kick"),
        ("lead hook kick to the head", "lead high hook kick"),
        ("rear elbow", "rear elbow"),
        ("rear back elbow", "rear backward elbow"),
        ("lead elbow strike", "lead elbow"),
        ("right knee strike", "rear knee"),
        ("rear jumping side kick", "rear flying side kick"),
        ("roll left", "weave"),
        ("shoulder roll left", "shoulder roll"),
        ("breakfall back", "back breakfall"),
        ("diagonal step back left", "step diagonally back"),
        ("left diagonal step forward", "step diagonally forward"),
    ],
)
def test_what_sounds_alike_is_told_apart(written: str, name: str) -> None:
    assert resolve(written).technique.name == name


@pytest.mark.parametrize(
    ("written", "told"),
    [
        ("crescent kick", "leaves open which one; write `inside crescent kick` or `outside crescent kick`"),
        ("low crescent kick", "is not a technique; did you mean `outward crescent kick`?"),
        ("knife hand left", "leaves open which one; write `left knife hand strike` or `left knife hand block`"),
        ("breakfall", "leaves open which one; write `back breakfall` or `side breakfall` or `front breakfall`"),
        ("step diagonally", "leaves open which one; write `step diagonally forward` or `step diagonally back`"),
        ("axe", "is not a technique; did you mean `axe kick`?"),
        ("rear spear", "is not a technique; did you mean `rear spear hand`?"),
        ("hosre stance", "is not a technique; did you mean `horse stance`?"),
        ("cross block", "is not a technique; did you mean `cross body block`?"),
        ("hook kick", "leaves the side open; write `lead hook kick` or `rear hook kick`"),
    ],
)
def test_an_open_word_is_asked_back_with_what_it_may_be(written: str, told: str) -> None:
    with pytest.raises(ScriptFaults) as caught:
        parse_drill(f"drill: Test\nsteps:\n- combination: [{written}]\n")
    assert [fault.text for fault in caught.value.faults] == [f"`{written}` {told}"]


def test_what_a_partner_can_feed_are_defences_of_the_table() -> None:
    assert {BY_NAME[name].kind for name in FED} == {"defence"}


@pytest.mark.parametrize("stance", STANCES)
def test_every_technique_is_called_and_reviewed_by_its_name(stance: Stance) -> None:
    written = [f"{one.name} {side}" for one in TECHNIQUES if one.sided for side in SIDES]
    written += [one.name for one in TECHNIQUES if not one.sided]
    lines = [f"drill: All of it\nstance: {stance}\nlevel: 8\nsteps:\n- exercise: easy skipping\n  for: 2 min\n"]
    lines += [f"- combination: [{name}]\n  reps: 3\n" for name in written]
    lines += [f"- shadow: [{', '.join(f'[{name}]' for name in written[at : at + 10])}]\n  for: 1 min\n"
              for at in range(0, len(written), 10)]  # fmt: skip
    lines += [f"- hold: {name}\n  for: 5 s\n" for name in written]
    drill = parse_drill("".join(lines))
    timeline = expand(drill, Request(1), estimated_seconds)
    # One technique alone is never too high for level 8, and no strike has one before it that has used its hip.
    assert not {problem.rule for problem in review(drill, timeline)} & {"guard", "flow", "plain words"}
    assert set(written) <= {move.words for cue in timeline.cues for move in cue.moves}
