"""The drill on paper: what is done, how much of it, what to look for, and the cautions, as plain HTML."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from html import escape

from cornercue.durations import lasting
from cornercue.script.model import Drill, Include, Repeat, Step
from cornercue.script.random_calls import Partner, Shadow
from cornercue.script.solo import Combination, Exercise, Hold, Rest, Say
from cornercue.technique.move import Move


def sheet(drill: Drill, level: int, cautions: Iterable[str], pictures: str = "") -> str:
    """The printed sheet of a drill at a level; `pictures` of its feeds, as HTML, follow the cautions."""
    parts = [f"<h2>{escape(drill.drill)}</h2>", f"<p>Level {level}. {escape(drill.about or '')}</p>"]
    if drill.gear:
        parts.append(f"<p>You need: {escape(', '.join(drill.gear))}.</p>")
    if first := list(cautions):
        parts.append(f"<h3>Read this first</h3>{_listed(first, 'ul')}{pictures}")
    steps = [_item(step, level) for step in drill.steps]
    parts.append(f"<h3>The drill</h3><ol>{''.join(steps)}</ol>")
    parts.append("<p>Follow your instructor and your club. Stop at pain or dizziness.</p>")
    return "\n".join(parts)


def points_of(step: Step) -> Iterator[str]:
    """The coaching points of a step and of the steps in it, each once."""
    match step:
        case Combination():
            yield from (f"{one.move.technique.name}: {one.cue}" for one in step.combination if one.cue)
        case Exercise() | Hold():
            yield from step.check
        case Repeat():
            yield from dict.fromkeys(point for inner in step.steps for point in points_of(inner))
        case Include():
            yield from dict.fromkeys(point for inner in step.include.drill.steps for point in points_of(inner))


def _item(step: Step, level: int) -> str:
    inner = step.steps if isinstance(step, Repeat) else step.include.drill.steps if isinstance(step, Include) else ()
    below = f"<ol>{''.join(_item(one, level) for one in inner)}</ol>" if inner else _listed(list(points_of(step)), "ul")
    return f"<li>{escape(described(step, level))}{below}</li>"


def _listed(lines: list[str], tag: str) -> str:
    return f"<{tag}>{''.join(f'<li>{escape(line)}</li>' for line in lines)}</{tag}>" if lines else ""


def described(step: Step, level: int) -> str:
    """A step in one line of words."""
    match step:
        case Say():
            return f"“{step.say}”"
        case Rest():
            return f"Rest {lasting(step.rest)}."
        case Combination():
            slowly = f"{step.teach} times slowly, then " if step.teach else ""
            turned = f", at each of {len(step.angles)} angles" if len(step.angles) > 1 else ""
            return f"{named(step.moves)}: {slowly}{step.reps.at(level)} times{turned}."
        case Exercise():
            dose = lasting(step.for_) if step.for_ else f"{step.reps.at(level) if step.reps else 0} times"
            return f"{step.exercise}: {_sets(step.sets)}{dose}{_between(step.rest)}."
        case Hold():
            technique = step.hold[0].technique
            name = technique.base if len(step.hold) > 1 else technique.name
            both = " on each side" if len(step.hold) > 1 and step.sides in (None, "both") else ""
            return f"Hold {name}: {_sets(step.sets)}{lasting(step.for_)}{both}{_between(step.rest)}."
        case Shadow():
            return f"Shadow boxing, {lasting(step.for_)}: {'; '.join(named(moves) for moves in step.shadow)}."
        case Partner():
            dose = lasting(step.for_) if step.for_ else f"{step.reps.at(level) if step.reps else 0} calls"
            answers = f", answered with {'; or '.join(named(moves) for moves in step.answers)}" if step.answers else ""
            return f"Partner: {', '.join(one.technique.name for one in step.partner)}, {dose}{answers}."
        case Repeat():
            return f"{step.repeat} rounds{_between(step.rest)}:"
        case Include():
            return f"{step.include.drill.drill}:"


def named(moves: Iterable[Move]) -> str:
    """A combination in words, by lead and rear."""
    return ", ".join(
        f"{move.technique.name} {move.limb}" if move.technique.sided and move.limb else move.technique.name
        for move in moves
    )


def _sets(sets: int) -> str:
    return f"{sets} × " if sets > 1 else ""


def _between(rest: float | None) -> str:
    return f", rest {lasting(rest)} between" if rest else ""
