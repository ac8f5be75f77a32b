"""The body that feeds are measured by: heights and lengths as shares of body height, and the head.

Shares: Drillis and Contini (1966), "Body segment parameters", as printed in Winter, "Biomechanics and motor control of
human movement", figure 4.1 (numbers read in secondary copies). They are an average adult's; a child's arms are about as
long for its height, its head is larger, so the head is not a share.
"""

from __future__ import annotations

from typing import NamedTuple

BROW, CHIN, SHOULDER, ELBOW, HIP, KNEE = 0.936, 0.870, 0.818, 0.630, 0.530, 0.285
"""Heights above the floor of somebody who stands upright; the brow is the eye's height of the table."""

UPPER_ARM, FOREARM, HAND = 0.186, 0.146, 0.108
HALF_SHOULDERS = 0.129
FOOT = 0.152

ARM = UPPER_ARM + FOREARM + HAND / 2
"""Shoulder to the middle of the hand, where a stick is held."""

CHEST = 0.72
"""Height of the middle of the breastbone; common practice, no source."""

CHEST_FRONT = 0.06
"""How far the chest stands out in front of the body's axis; common practice, no source, and on the small side."""

HAND_BREADTH = 0.05
"""The breadth of a hand with the thumb laid beside it; common practice, no source."""

HEAD_RADIUS = 0.115
"""Metres: the head as a ball of 23 cm, crown to chin of a tall adult, for people of every height. A grown man's head is
18.9 cm long ("Anthropometric growth study of the head", Cleft Palate-Craniofacial Journal 29, 1992; abstract), so the
ball has room for the nose; a child's is smaller."""


class Point(NamedTuple):
    """A place in the room, in metres: `x` from the student to the feeder, `y` to the student's left, `z` up."""

    x: float
    y: float
    z: float
