"""The drill on paper: what is done, how much of it, what to look for, and the cautions, as plain HTML."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from cornercue.script.model import Drill
from cornercue.script.step import StepNode, points_of


def sheet(drill: Drill, level: int, cautions: Iterable[str], pictures: str = "", photos: str = "") -> str:
    """The printed sheet of a drill at a level; `pictures` of its feeds, as HTML, follow the cautions, and `photos` of
    its words the steps."""
    about = f"{_with_a_capital(drill.level_words(level))}. {drill.about or ''}"
    parts = [f"<h2>{escape(drill.drill)}</h2>", f"<p>{escape(about)}</p>"]
    if drill.gear:
        parts.append(f"<p>You need: {escape(', '.join(drill.gear))}.</p>")
    if first := list(cautions):
        parts.append(f"<h3>Read this first</h3>{_listed(first, 'ul')}{pictures}")
    steps = [_item(step, level) for step in drill.steps]
    parts.append(f"<h3>The drill</h3><ol>{''.join(steps)}</ol>{photos}")
    parts.append("<p>Follow your instructor and your club. Stop at pain or dizziness.</p>")
    return "\n".join(parts)


def _item(step: StepNode, level: int) -> str:
    if inner := step.inner():
        below = f"<ol>{''.join(_item(one, level) for one in inner.steps)}</ol>"
    else:
        below = _listed(list(points_of(step)), "ul")
    return f"<li>{escape(step.in_words(level))}{below}</li>"


def _listed(lines: list[str], tag: str) -> str:
    return f"<{tag}>{''.join(f'<li>{escape(line)}</li>' for line in lines)}</{tag}>" if lines else ""


def _with_a_capital(words: str) -> str:
    return words[:1].upper() + words[1:]
