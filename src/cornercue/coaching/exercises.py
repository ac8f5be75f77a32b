"""What an exercise is, by the words of its name: the script language leaves the name to the instructor.

The words are common practice, no source. A name with none of them is taken for neither.
"""

from __future__ import annotations

import re

from cornercue.script.exercise import Exercise
from cornercue.script.hold import Hold
from cornercue.script.step import StepNode

ADULTS = ", or write `junior: no` where only adults train"
"""What ends a remedy where a limit is for children and teenagers: a script is for them unless it says otherwise."""

AGES = ", or write how old the juniors are (`ages: 13-15`), or `junior: no` where only adults train"
"""The same where the limit goes by age."""

_GENTLE = re.compile(
    r"\b(?:easy|easily|gentle|gently|slow|slowly|light|lightly|loose|walk\w*|breath\w*|stretch\w*|sit|sitting|lie|lying"
    r"|rest\w*|march\w*|calf|calves|thigh|circles|swings|shake|cool\w*|roll down)\b",
    re.IGNORECASE,
)
_ROUND = re.compile(
    r"\b(?:rounds?|boxing|box|bag|spar|sparring|pads|skip\w*|rope|sprints?|shuttles?|burpees?|freestyle)\b",
    re.IGNORECASE,
)
_STRENGTH = re.compile(
    r"\b(?:push|press|pull|chin|sit|v)[- ]?ups?\b|\b(?:crunch\w*|squats?|lunges?|burpees?|dips|press\w*|leg raises?)\b",
    re.IGNORECASE,
)
_ALL_OUT = re.compile(
    r"\b(?:sprint\w*|shuttles?|burpees?|all[- ]out|flat out|full (?:power|speed|effort|force)|max(?:imum|imal)?"
    r"|as (?:fast|hard|many|high) as|tabata|plyo\w*|(?:box|depth|tuck|squat|broad|split|long) jumps?|jump squats?"
    r"|bounding)\b",
    re.IGNORECASE,
)
_STRETCH = re.compile(r"\bsplits\b|\bstretch\w*", re.IGNORECASE)
_MOVING = re.compile(r"\b(?:dynamic|moving|swing\w*|circl\w*|walk\w*)\b", re.IGNORECASE)

_JUMP = re.compile(r"\b(?:jump\w*|burpees?|hops?|hopping|bounds?|bounding)\b", re.IGNORECASE)
_SMALL_JUMP = re.compile(r"\b(?:jumping jacks?|rope|skip\w*)\b", re.IGNORECASE)


def name_of(step: StepNode) -> str:
    """The name that an instructor gave to an exercise, or to what is held in free words; empty for all else."""
    return step.exercise if isinstance(step, Exercise) else step.free if isinstance(step, Hold) else ""


def is_gentle(name: str) -> bool:
    """Whether it warms up or cools down: "easy shadow boxing", "calf stretch, left leg"."""
    return bool(_GENTLE.search(name)) and not _STRENGTH.search(name.replace("slow ", ""))


def is_round(name: str) -> bool:
    """Whether it is done in rounds, at full effort: "shadow boxing", "skipping"."""
    return bool(_ROUND.search(name)) and not is_gentle(name)


def is_all_out(name: str) -> bool:
    """Whether it is done as fast or as hard as can be: "sprints", "burpees", "tuck jumps", "heavy bag, all out"."""
    return bool(_ALL_OUT.search(name)) and not _GENTLE.search(name)


def is_hard(name: str) -> bool:
    """Whether it wants a warm-up: rounds and what is all-out. Skipping is the usual start of an evening."""
    return is_all_out(name) or (is_round(name) and not re.search(r"\bskip|\brope\b", name, re.IGNORECASE))


def is_stretch(name: str) -> bool:
    """Whether it is a stretch that is held: "splits", "hamstring stretch"; not a dynamic one."""
    return bool(_STRETCH.search(name)) and not _MOVING.search(name)


def warms_up(name: str) -> bool:
    """Whether it makes warm: anything but hard work and stretches that are held."""
    return not is_hard(name) and not is_stretch(name)


def is_strength(name: str) -> bool:
    """Whether it builds strength in repetitions: "push-ups", "slow squats"."""
    return bool(_STRENGTH.search(name))


def is_jump(name: str) -> bool:
    """Whether each repetition is a jump: "star jumps", "burpees"; not jumping jacks or a rope's small ones."""
    return bool(_JUMP.search(name)) and not _SMALL_JUMP.search(name)
