"""Which side a defence loads, and which strikes start from there. Common practice, no source."""

from __future__ import annotations

from cornercue.technique.move import Move
from cornercue.technique.sides import Side, Stance

_JAB_BASES = ("straight", "body straight")


def is_jab(move: Move) -> bool:
    """Whether it is a jab, to the head or the body: it needs no hip."""
    return move.technique.base in _JAB_BASES and move.limb == "lead"


def needs_hip(move: Move) -> bool:
    """Whether it is a strike or a kick that is driven by the hip of its own side."""
    return move.technique.kind in ("strike", "kick") and not is_jab(move)


def loaded_side(move: Move, stance: Stance) -> Side | None:
    """The side of the room that holds the weight after a weave or a slip; None after anything else."""
    return move.side(stance) if move.technique.hip == "end" else None


def starts_from(loaded: Side | None, first: Move, stance: Stance) -> bool:
    """Whether a move can follow at once where the weight is on that side."""
    return not loaded or not needs_hip(first) or first.side(stance) == loaded
