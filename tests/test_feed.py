"""The geometry of feeding: no feed to a child or teenager comes near the head, whatever the student does."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import pytest

from cornercue.feed import body
from cornercue.feed.sweep import SUNK, Pair, clearance, deflected, heads, path, straight
from cornercue.feed.table import AUDIENCES, FED, FEEDS, LEFT_OUT, Audience
from cornercue.script.faults import ScriptFaults
from cornercue.script.read import parse_drill
from cornercue.technique.table import TECHNIQUES

HEIGHTS = (1.1, 1.3, 1.5, 1.7, 1.9)
PAIRS = [Pair(*three) for three in itertools.product(HEIGHTS, HEIGHTS, (0.4, 0.6, 1.0))]
ENOUGH = 0.15
"""Metres that the tip keeps from a junior's head: the project's own rule."""


def nearest(audience: Audience, defence: str, reactions: tuple[str, ...], pairs: list[Pair]) -> float:
    """The nearest that the tip of a feed to the left comes to the head, over all pairs, reactions and their sides."""
    feed = FEEDS[audience][defence]
    return min(
        clearance(path(feed, "left", pair), heads(reaction, side, pair.student))
        for pair in pairs
        for reaction in reactions
        for side in (("left", "right") if reaction in SUNK else ("left",))
    )


@pytest.mark.parametrize("defence", FEEDS["junior"])
def test_no_feed_to_a_junior_comes_within_15_cm_of_the_head_with_the_right_no_or_a_wrong_defence(defence: str) -> None:
    assert nearest("junior", defence, ("", *FED), PAIRS) >= ENOUGH


def test_a_poke_that_is_patted_aside_keeps_away_too() -> None:
    feeds = [deflected("left", pair) for pair in PAIRS]
    assert (
        min(clearance(way, heads("parry", "left", pair.student)) for way, pair in zip(feeds, PAIRS, strict=True))
        >= ENOUGH
    )


def test_not_even_an_arm_kept_straight_all_along_reaches_the_head() -> None:
    # The commonest mistake of a beginner with a stick. It may come a little nearer than the rule; it never touches.
    for defence, feed in FEEDS["junior"].items():
        for pair in PAIRS:
            near = min(
                clearance(straight(feed, "left", pair), heads(wrong, "left", pair.student)) for wrong in ("", *SUNK)
            )
            assert near > 0.14, (defence, pair)


@pytest.mark.parametrize("defence", FEEDS["adult"])
def test_a_feed_to_an_adult_stops_a_hands_breadth_short_of_a_head_that_stays(defence: str) -> None:
    grown = [replace(pair, audience="adult") for pair in PAIRS if pair.student >= 1.5 and pair.feeder >= 1.5]
    near = nearest("adult", defence, ("",), grown)
    assert near >= 0.04  # a hand's breadth where the head is at its nearest: the ball is rounder than a face
    if FEEDS["adult"][defence].stop == "short of the head":
        assert near <= 0.15


@pytest.mark.parametrize("audience", AUDIENCES)
def test_left_and_right_mirror_each_other(audience: Audience) -> None:
    pair = Pair(1.3, 1.8, audience=audience)
    for feed in FEEDS[audience].values():
        for left, right in zip(path(feed, "left", pair), path(feed, "right", pair), strict=True):
            assert (left.x, left.y, left.z) == pytest.approx((right.x, -right.y, right.z))


def test_the_place_of_the_feeder_is_where_a_straight_arm_just_reaches_the_palm() -> None:
    for pair in PAIRS:
        for side in ("left", "right"):
            assert math.dist(pair.palm(side), pair.shoulder(side)) == pytest.approx(pair.reach)
    # Among adults: where the tip stops a hand's breadth in front of the chin.
    grown = Pair(1.75, 1.75, audience="adult")
    chin = heads("", "left", grown.student)[0].x + body.HEAD_RADIUS
    assert grown.mark("left").x - chin == pytest.approx(body.HAND_BREADTH * grown.student)


def test_a_feeder_kneels_before_a_student_who_does_not_reach_up_to_the_shoulder() -> None:
    assert Pair(1.2, 1.75).kneels
    assert not Pair(1.6, 1.75).kneels


def test_what_is_fed_is_a_defence_and_has_a_row_for_juniors_or_a_reason() -> None:
    assert set(FED) <= {technique.name for technique in TECHNIQUES if technique.kind == "defence"}
    assert set(FEEDS["junior"]) | set(LEFT_OUT) == set(FED)
    assert not set(FEEDS["junior"]) & set(LEFT_OUT)


def test_a_defence_without_a_row_is_refused_by_name_and_what_can_be_fed_is_told() -> None:
    others = [technique for technique in TECHNIQUES if technique.kind == "defence" and technique.name not in FED]
    assert {"inner block", "outer block", "knife hand block", "cross body block", "double block"} == {
        technique.name for technique in others
    }
    for name in [name for technique in others for name in (technique.name, *technique.synonyms)]:
        with pytest.raises(ScriptFaults) as caught:
            parse_drill(f"drill: Test\nsteps:\n- partner: [parry, {name}]\n  reps: 4\n")
        (fault,) = caught.value.faults
        assert fault.text.startswith(f"`{name}` cannot be fed: no feed is described for it; a partner feeds `parry`, ")
        assert all(f"`{defence}`" in fault.text for defence in FED)
        alone = parse_drill(f"drill: Test\nsteps:\n- combination: [{name} left, {name} right]\n  reps: 4\n")
        assert alone.steps


def test_the_shares_of_height_agree_with_another_table() -> None:
    # Huston, Principles of Biomechanics (2009), as handed out in BME 207, University of Rhode Island, 2016 (secondary
    # copy): stature, mid shoulder height, upper arm, lower arm with hand of the median man and woman, in metres.
    for stature, shoulder, upper, lower in ((1.759, 1.444, 0.361, 0.483), (1.618, 1.314, 0.332, 0.428)):
        assert shoulder / stature == pytest.approx(body.SHOULDER, abs=0.01)
        assert upper / stature == pytest.approx(body.UPPER_ARM, abs=0.02)
        assert lower / stature == pytest.approx(body.FOREARM + body.HAND, abs=0.025)
