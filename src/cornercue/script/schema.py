"""The script language as a JSON Schema (draft 2020-12), made from the same models that read scripts.

The models give its structure; a field names the description of its value, and the descriptions stand in the modules
`schema_*`. Names of techniques come on top: they hold unless the script has words of its own.
"""

from __future__ import annotations

from typing import Any

from cornercue.script.described import NAMED
from cornercue.script.model import Drill
from cornercue.script.schema_calls import PLACES, usual_names
from cornercue.script.schema_texts import TEXTS
from cornercue.script.schema_values import VALUES
from cornercue.technique.vocabulary import USUAL, Vocabulary

DIALECT = "https://json-schema.org/draft/2020-12/schema"

_OWN_WORDS = {"required": ["words"]}
_ADULTS = {"required": ["junior"], "properties": {"junior": {"enum": [False, "no", "No", "NO", "false"]}}}
_WHOLE: list[dict[str, object]] = [
    {"if": _ADULTS, "then": {"properties": {"ages": False}}},
    {"if": _OWN_WORDS, "else": {"properties": {"steps": {"$ref": "#/$defs/UsualSteps"}}}},
    {
        "if": {"anyOf": [_OWN_WORDS, _ADULTS]},
        "else": {"properties": {"steps": {"$ref": "#/$defs/JuniorSteps"}}},
    },
]
"""What holds for a script as a whole."""


def script_schema(known: Vocabulary = USUAL) -> dict[str, Any]:
    """The schema that an editor can complete and check drill scripts with, where these names hold."""
    schema = _referring(Drill.model_json_schema(by_alias=True))
    described = {**schema.pop("$defs"), **VALUES, **TEXTS, **PLACES, **usual_names(known)}
    return {
        "$schema": DIALECT, "title": "Cornercue drill script", **schema, "allOf": _WHOLE, "$defs": _referring(described)
    }  # fmt: skip


def _referring(node: Any) -> Any:
    """The schema with references where models name a description.

    Without nulls, since None stands for a key that is left out and a key without a value is a fault; and without the
    titles and defaults that pydantic adds, which tell an instructor nothing.
    """
    if isinstance(node, list):
        return [_referring(one) for one in node if one != {"type": "null"}]
    if not isinstance(node, dict):
        return node
    if set(node) >= {"anyOf"} and len(alternatives := _referring(node["anyOf"])) == 1:
        node = {**{key: value for key, value in node.items() if key != "anyOf"}, **alternatives[0]}
    kept = {key: _referring(value) for key, value in node.items() if not _added(key, value)}
    return {"$ref": f"#/$defs/{kept.pop(NAMED)}", **kept} if NAMED in kept else kept


def _added(key: str, value: object) -> bool:
    return (key == "default" and not isinstance(value, str)) or (key == "title" and isinstance(value, str))
