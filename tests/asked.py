"""What a written script asks for, worked out from its data alone: work and rest in order, for comparison."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from typing import Any

from cornercue.script.fields import amount_of, angle_of, seconds_of
from cornercue.timing.setting import Request
from strategies import OPEN_POSITIONS, Data, Script


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
    every: float | None


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
    every: float | None


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
                yield Rest(seconds_of(step["rest"]))
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
    reps = amount_of(step.get("reps", 6)).at(context.level)
    every = seconds_of(step["every"]) if "every" in step else None
    for stance in _stances(context):
        if step.get("teach"):
            yield TaughtMove(step["teach"] * len(written))
        as_written = stance == ("southpaw" if context.stance == "southpaw" else "orthodox")
        turned = tuple(degrees if as_written else [angle if angle == 180 else -angle for angle in degrees])
        yield Called(reps, turned, stance, len(written), pace, every)


def _drawn(step: Data, what: Collection[Any], context: _Context) -> Iterator[Item]:
    reps = amount_of(step["reps"]).at(context.level) if "reps" in step else None
    seconds = seconds_of(step["for"]) if "for" in step else None
    yield from [Drawn(reps, seconds, tuple(map(str, what)))] * len(_stances(context))


def _exercise(step: Data, context: _Context) -> Iterator[Item]:
    every = seconds_of(step["every"]) if "every" in step else None
    rhythms = {"learning": 4.0, "steady": 3.0, "sharp": 2.0}
    rep = every or (rhythms[context.rep_pace] if isinstance(context.rep_pace, str) else context.rep_pace)
    work = seconds_of(step["for"]) if "for" in step else amount_of(step["reps"]).at(context.level) * rep
    for number in range(1, step.get("sets", 1) + 1):
        if number > 1:
            yield _between_sets(step, work, context)
        if "for" in step:
            yield Timed(seconds_of(step["for"]))
        else:
            yield Counted(amount_of(step["reps"]).at(context.level), number, every)


def _between_sets(step: Data, work: float, context: _Context) -> Rest:
    """The rest asked for; where it is left open as long as the set, a minute at most, and less at higher levels."""
    most = 60 if context.level < 4 else 45 if context.level < 8 else 30
    return Rest(seconds_of(step["rest"]) if "rest" in step else max(10.0, min(most, work)))


def _hold(step: Data, context: _Context) -> Iterator[Item]:
    is_open = step["hold"] in OPEN_POSITIONS
    times = (1 if step.get("sides") in ("left", "right") else 2) if is_open else len(_stances(context))
    for number in range(step.get("sets", 1)):
        if number:
            yield _between_sets(step, seconds_of(step.get("for", 10)), context)
        yield from [Timed(seconds_of(step.get("for", 10)))] * times
