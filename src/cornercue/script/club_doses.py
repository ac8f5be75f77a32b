"""A club's doses: how much a step asks for where its script leaves that open.

A script's own dose wins over the club's, and the club's over the default of the step's model.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any

from pydantic import ValidationError

from cornercue.script.model import STEP_KINDS, kind_of
from cornercue.script.source import Path_
from cornercue.spelling import listed, offer

Doses = Mapping[str, Mapping[str, Any]]
"""By kind of step, the keys and values as they are written."""

NO_DOSES: Doses = MappingProxyType({})

KEYS: Mapping[str, tuple[str, ...]] = {
    "combination": ("reps", "sets", "rest", "every", "teach"),
    "exercise": ("sets", "rest"),
    "hold": ("for", "sets", "rest"),
}
"""What a club may settle. How often or how long an exercise is done only its script can say."""

_TRIAL: Mapping[str, Mapping[str, Any]] = {
    "combination": {"combination": ["jab"]},
    "exercise": {"exercise": "squats", "reps": "1"},
    "hold": {"hold": "knee"},
}
"""A step of each kind, to try a dose on."""


def doses_from(data: object) -> tuple[Doses, list[tuple[Path_, str]]]:
    """A table read, `{combination: {reps: 8}}`, and what is wrong, each with its path in the table."""
    if data is None:
        return NO_DOSES, []
    if not isinstance(data, dict):
        return NO_DOSES, [((), "doses belong here, such as `combination: {reps: 8}`")]
    faults = [fault for kind, dose in data.items() for fault in _faults(kind, dose)]
    return (NO_DOSES if faults else data), faults


def _faults(kind: str, dose: object) -> Iterator[tuple[Path_, str]]:
    if kind not in KEYS:
        known = tuple(KEYS)
        yield (kind,), f"a club has no dose for `{kind}`; {offer(kind, known, f'it may have {listed(known)}')}"
    elif not isinstance(dose, dict) or not dose:
        yield (kind,), f"the dose of `{kind}` is a table, such as `{{sets: 2}}`; it knows {listed(KEYS[kind])}"
    else:
        yield from (((kind, key), text) for key, value in dose.items() if (text := _fault(kind, key, value)))


def _fault(kind: str, key: str, value: object) -> str | None:
    if key not in KEYS[kind]:
        return f"the dose of `{kind}` has no `{key}`; {offer(key, KEYS[kind], f'it knows {listed(KEYS[kind])}')}"
    try:
        STEP_KINDS[kind].model_validate({**_TRIAL[kind], key: value})
    except ValidationError as fault:
        return fault.errors(include_url=False)[0]["msg"]
    return None


def with_doses(step: dict[str, Any], doses: Doses) -> dict[str, Any]:
    """A step as written, with the club's doses for what it leaves open."""
    dose = doses.get(kind_of(step) or "", {})
    settled = {*step, *(("sets",) if _in_sets(step.get("reps", step.get("for"))) else ())}
    return {**step, **{key: value for key, value in dose.items() if key not in settled}}


def _in_sets(dose: object) -> bool:
    """Whether a dose is told set by set."""
    if isinstance(dose, dict):
        return any(map(_in_sets, dose.values()))
    return isinstance(dose, list) or "," in str(dose)
