"""The script language as a JSON Schema (draft 2020-12), made from the same models that read scripts."""

from __future__ import annotations

from typing import Any

from cornercue.script.model import Drill

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def script_schema() -> dict[str, Any]:
    """The schema that an editor can complete and check drill scripts with."""
    schema = _without_null(Drill.model_json_schema(by_alias=True))
    return {"$schema": DIALECT, "title": "Cornercue drill script", **{k: v for k, v in schema.items() if k != "title"}}


def _without_null(node: Any) -> Any:
    """The schema without its nulls: None stands for a key that is left out, a key without a value is a fault."""
    if isinstance(node, list):
        return [_without_null(one) for one in node if one != {"type": "null"}]
    if isinstance(node, dict):
        return {key: _without_null(value) for key, value in node.items() if (key, value) != ("default", None)}
    return node
