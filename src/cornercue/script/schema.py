"""The script language as a JSON Schema (draft 2020-12), made from the same models that read scripts."""

from __future__ import annotations

from typing import Any

from cornercue.script.model import Drill

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def script_schema() -> dict[str, Any]:
    """The schema that an editor can complete and check drill scripts with."""
    schema = Drill.model_json_schema(by_alias=True)
    return {"$schema": DIALECT, "title": "Cornercue drill script", **{k: v for k, v in schema.items() if k != "title"}}
