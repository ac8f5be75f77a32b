"""How a field is written, for the JSON Schema: a model names the description, `schema` fills it in."""

from __future__ import annotations

from typing import Annotated

from pydantic import WithJsonSchema
from pydantic.config import JsonDict

NAMED = "described"
"""The key under which a model names a description, until `schema` has put a reference there."""


def described(name: str) -> object:
    """A type for pydantic whose JSON Schema is that description."""
    return as_schema({NAMED: name})


def as_schema(schema: JsonDict) -> object:
    """A type for pydantic with this JSON Schema."""
    return Annotated[object, WithJsonSchema(schema)]


def asked_by(key: str, *without: str) -> JsonDict:
    """A JSON Schema of steps that have the one key and none of the others."""
    return {"required": [key], "properties": dict.fromkeys(without, False)}


def needs(key: str, other: str) -> JsonDict:
    """A JSON Schema of steps that have the other key wherever they have the one."""
    return {"if": {"required": [key]}, "then": {"required": [other]}}


def no_sets_beside(key: str) -> JsonDict:
    """A JSON Schema of steps that leave out `sets` where a dose is told set by set."""
    several: JsonDict = {"required": [key], "properties": {key: {NAMED: "SetBySet"}}}
    return {"if": several, "then": {"properties": {"sets": False}}}


def one_length(*more: JsonDict) -> JsonDict:
    """A JSON Schema of steps that have either `for` or `reps`, and whatever more holds for them."""
    return {"oneOf": [asked_by("for", "reps"), asked_by("reps", "for")], **({"allOf": [*more]} if more else {})}
