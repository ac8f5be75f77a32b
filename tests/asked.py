"""What a written script asks for, worked out from its data alone: work and rest in order, for comparison."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from typing import Any

from cornercue.script.doses import reps_of
from cornercue.script.fields import angle_of, seconds_of
from cornercue.timing.setting import Request
from strategies import FREE_POSITIONS, NO_FRONT, OPEN_POSITIONS, Data, Script


@dataclass(frozen=True)
class Rest:
    seconds: float


@dataclass(frozen=True)
class Timed:
    """Work for so long: a timed exercise or a hold."""

    seconds: float


@dataclass(frozen=True)
class Counted:
    """Repetitions counted aloud."""

    reps: int
    set: int
    every: tuple[float, ...]
    """Seconds after each repetition; none where the script leaves it open."""


@dataclass(frozen=True)
class TaughtMove:
    """Slow repetitions, technique by technique."""

    calls: int


@dataclass(frozen=True)
class Called:
    """A combination at each angle (degrees, positive to the left)."""

    reps: int
    angles: tuple[int, ...]
    stance: str
    techniques: int
    pace: str | float
    every: tuple[float, ...]


@dataclass(frozen=True)
class Drawn:
    """Calls drawn at random: so many, or for so long."""

    reps: int | None
    seconds: float | None
    names: tuple[str, ...]


Item = Rest | Timed | Counted | TaughtMove | Called | Drawn


@dataclass(frozen=True)
class _Context:
    request: Request
    others: dict[str, Data]
    level: int
    stance: str = "orthodox"
    pace: str | float = "steady"
    rep_pace: str | float = "steady"


def asked(script: Script, request: Request) -> list[Item]:
    """Every stretch of work and of rest, in order."""
    level = request.level or script.data.get("level")
    context = _Context(request, script.others, level or 1, pace=_pace_of(level))
    return list(_drill(script.data, context))


def _pace_of(level: int | None) -> str:
    """Where a script names no pace: that of a level, where one is named."""
    return "steady" if level is None or 4 <= level <= 7 else "learning" if level < 4 else "sharp"


def pace_seconds(value: Any) -> str | float:
    return value if value in ("learning", "steady", "sharp") else seconds_of(value)


def _drill(data: Data, context: _Context) -> Iterator[Item]:
    named = context.request.pace or ("pace" in data and pace_seconds(data["pace"]))
    pace, rep_pace = named or context.pace, named or context.rep_pace
    stance = data.get("stance", "orthodox")
    yield from _steps(data["steps"], replace(context, stance=stance, pace=pace, rep_pace=rep_pace))


def _steps(steps: list[Data], context: _Context) -> Iterator[Item]:
    for step in steps:
        match next(iter(step)):
            case "rest":
                yield Rest(seconds_of(_at(context.level, step["rest"])))
            case "combination":
                yield from _combination(step, context)
            case "react" | "pads" as kind:
                yield from _drawn(step, step[kind], context)
            case "exercise":
                yield from _exercise(step, context)
            case "hold":
                yield from _hold(step, context)
            case "repeat":
                yield from _repeat(step, context)
            case "include":
                yield from _drill(context.others[step["include"]], context)
            case "say":
                pass
            case kind:
                raise NotImplementedError(f"say here what work and what rests a `{kind}` asks for")


def _repeat(step: Data, context: _Context) -> Iterator[Item]:
    for turn in range(step["repeat"]):
        if turn and "rest" in step:
            yield Rest(seconds_of(step["rest"]))
        yield from _steps(step["steps"], context)


def _stances(context: _Context) -> list[str]:
    if context.request.stance:
        return [context.request.stance]
    return ["orthodox", "southpaw"] if context.stance == "both" else [context.stance]


def _combination(step: Data, context: _Context) -> Iterator[Item]:
    written = step["combination"]
    if isinstance(written, str):
        written = written.replace("-", ",").split(",")
    pace = context.request.pace or pace_seconds(step.get("pace", context.pace))
    angles = step.get("angles", ["ahead"])
    degrees = [angle_of(angle) for angle in (angles.split(",") if isinstance(angles, str) else angles)]
    sets = _sets(step, step.get("reps", 6), context.level)
    for stance in _stances(context):
        if step.get("teach"):
            yield TaughtMove(step["teach"] * len(written))
        as_written = stance == ("southpaw" if context.stance == "southpaw" else "orthodox")
        turned = tuple(degrees if as_written else [angle if angle == 180 else -angle for angle in degrees])
        for number, reps in enumerate(sets):
            if number:
                yield Rest(seconds_of(step["rest"]))
            yield Called(reps, turned, stance, len(written), pace, _after_each(reps, step, context.level))


def _at(level: int, written: Any) -> Any:
    """The entry of a table with the highest level that is not above this one, else the lowest; or the value itself."""
    if not isinstance(written, dict):
        return written
    return written[max((one for one in written if one <= level), default=min(written))]


def _sets(step: Data, dose: Any, level: int) -> list[Any]:
    """The dose of each set."""
    dose = _at(level, dose)
    if isinstance(dose, list):
        return dose
    if isinstance(dose, str) and "level" in dose:
        dose = reps_of(dose).at(level)
    return [dose] * int(_at(level, step.get("sets", 1)))


def _after_each(reps: int, step: Data, level: int) -> tuple[float, ...]:
    if "every" not in step:
        return ()
    ends = re.split(" down to | up to ", str(_at(level, step["every"])))
    first, last = seconds_of(ends[0]), seconds_of(ends[-1])
    return tuple(first + (last - first) * n / max(1, reps - 1) for n in range(reps))


def _drawn(step: Data, what: Collection[Any], context: _Context) -> Iterator[Item]:
    reps = reps_of(step["reps"]).at(context.level) if "reps" in step else None
    seconds = seconds_of(step["for"]) if "for" in step else None
    yield from [Drawn(reps, seconds, tuple(map(str, what)))] * len(_stances(context))


def _exercise(step: Data, context: _Context) -> Iterator[Item]:
    rhythms = {"learning": 4.0, "steady": 3.0, "sharp": 2.0}
    rep = rhythms[context.rep_pace] if isinstance(context.rep_pace, str) else context.rep_pace
    before = 0.0
    for number, dose in enumerate(_sets(step, step["for"] if "for" in step else step["reps"], context.level), start=1):
        if number > 1:
            yield _between_sets(step, before, context)
        if "for" in step:
            before = seconds_of(dose)
            yield Timed(before)
        else:
            every = _after_each(dose, step, context.level)
            before = sum(every) if every else dose * rep
            yield Counted(dose, number, every)


def _between_sets(step: Data, work: float, context: _Context) -> Rest:
    """The rest asked for; where it is left open as long as the set, a minute at most, and less at higher levels."""
    most = 60 if context.level < 4 else 45 if context.level < 8 else 30
    asked = _at(context.level, step.get("rest"))
    return Rest(seconds_of(asked) if asked is not None else max(10.0, min(most, work)))


def _hold(step: Data, context: _Context) -> Iterator[Item]:
    held = step["hold"]
    if held in OPEN_POSITIONS or (held in FREE_POSITIONS and "sides" in step):
        times = 1 if step.get("sides") in ("left", "right") else 2
    else:
        times = 1 if held in (*NO_FRONT, *FREE_POSITIONS) else len(_stances(context))
    for number, dose in enumerate(_sets(step, step.get("for", 10), context.level)):
        if number:
            yield _between_sets(step, seconds_of(dose), context)
        yield from [Timed(seconds_of(dose))] * times
