"""Butterworth filters of the second order, in numpy alone: to import a library for them takes longer than they do.

A filter that is run sample by sample is slow in Python, so blocks of samples are run at once, as matrices: what a block
becomes by itself, and what rings on in it of the blocks before. For a linear filter both add up, so nothing is lost.
Design: the analogue filter by the bilinear transform, its edges prewarped (any textbook of signal processing; from
memory). The tests hold it against scipy's.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import pi, sqrt, tan

import numpy as np
import numpy.typing as npt

from cornercue.sound import SAMPLE_RATE

States = npt.NDArray[np.float64]

BLOCK, STACK = 44, 100
"""Samples that are run at once, and blocks that are multiplied in one go: not so many that numpy's library shares the
work out among threads, which on a busy machine wait for each other (measured: up to ten times as long)."""

NOTHING = 1e-15
"""Share of a block's ringing that is too small to be carried on."""


@dataclass(frozen=True, eq=False)
class Filter:
    """What a filter does to a row of `BLOCK` samples. Its state, `order` numbers, is what still rings after a block."""

    heard: States
    """(BLOCK + order, BLOCK): samples, then the state before them → what becomes of the samples."""
    left: States
    """(BLOCK, order): samples → the state that they leave."""
    carried: States
    """(order, order): state → what is left of it a block later."""


@lru_cache(maxsize=8)
def high_pass(hertz: float) -> Filter:
    """Sounds below `hertz` turned down by 12 dB an octave."""
    return _filter(_warped(hertz), [0, 0, 1], [1, sqrt(2), 1])


@lru_cache(maxsize=8)
def band_pass(low: float, high: float) -> Filter:
    """Sounds below `low` and above `high` hertz turned down by 12 dB an octave."""
    middle = sqrt(_warped(low) * _warped(high))
    wide = (_warped(high) - _warped(low)) / middle
    return _filter(middle, [0, 0, wide**2, 0, 0], [1, sqrt(2) * wide, 2 + wide**2, sqrt(2) * wide, 1])


def filtered(sound: npt.NDArray[np.generic], by: Filter) -> States:
    """The sound, shape (frames,), from silence on through the filter; as long as it was."""
    order = len(by.carried)
    count = -(-len(sound) // (BLOCK * STACK)) * STACK
    rows = np.zeros((count, BLOCK + order))
    whole = len(sound) // BLOCK
    rows[:whole, :BLOCK] = sound[: whole * BLOCK].reshape(whole, BLOCK)
    rows[whole : whole + 1, : len(sound) % BLOCK] = sound[whole * BLOCK :]
    stacks = rows.reshape(-1, STACK, BLOCK + order)
    rows[1:, BLOCK:] = _states((stacks[..., :BLOCK] @ by.left).reshape(-1, order), by.carried)[:-1]
    heard: States = stacks @ by.heard
    return heard.reshape(-1)[: len(sound)]


def _states(states: States, carried: States) -> States:
    """The state after each block, from what each alone leaves: those of 2, 4, 8 … blocks added, until nothing rings."""
    reach = 1
    while reach < len(states) and np.abs(carried).max() > NOTHING:
        earlier = states[:-reach] @ carried.T
        states[reach:] += earlier
        carried, reach = carried @ carried, 2 * reach
    return states


def _warped(hertz: float) -> float:
    """The analogue frequency that the bilinear transform brings to `hertz`."""
    return tan(pi * hertz / SAMPLE_RATE)


def _filter(scale: float, above: Sequence[float], below: Sequence[float]) -> Filter:
    """From the analogue filter's polynomials in s / `scale`, lowest power first; the highest one below has 1."""
    step, taken, given, through = _sampled(scale, np.array(above, float), np.array(below, float))
    powers = [np.eye(len(step))]
    for _ in range(BLOCK):
        powers.append(powers[-1] @ step)
    ringing = np.array([given @ power for power in powers[:-1]]).T
    answer = np.concatenate([[through], taken @ ringing[:, :-1]])
    away = np.arange(BLOCK) - np.arange(BLOCK)[:, None]
    alone = np.where(away >= 0, answer[np.maximum(away, 0)], 0.0)
    left = np.array([power @ taken for power in powers[-2::-1]])
    return Filter(np.concatenate([alone, ringing]), left, powers[-1])


def _sampled(scale: float, above: States, below: States) -> tuple[States, States, States, float]:
    """One sample's step: state to state, sample to state, state to sample, sample to sample.

    The analogue filter in its controllable form, then the bilinear transform of its matrices (both from memory):
    transforming the polynomials themselves would cost half the digits.
    """
    order = len(below) - 1
    slope = scale * np.eye(order, k=1)
    slope[-1] = -scale * below[:-1]
    out = above[:-1] - below[:-1] * above[-1]
    half = np.asarray(np.linalg.inv(np.eye(order) - slope), np.float64)
    step = half @ (np.eye(order) + slope)
    taken: States = sqrt(2) * scale * half[:, -1]
    given: States = sqrt(2) * (out @ half)
    return step, taken, given, float(above[-1] + scale * out @ half[:, -1])
