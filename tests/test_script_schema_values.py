"""Each way to write a value, whole and damaged: the schema marks nothing that the reader takes, and nearly all else."""

from __future__ import annotations

import random
from collections.abc import Iterator
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from pydantic import TypeAdapter, ValidationError

from cornercue.script import doses, fields
from cornercue.script.schema import script_schema

DESCRIBED: dict[str, Any] = {
    "Duration": fields.Duration, "Seconds": doses.Seconds, "SecondsOfSets": doses.SecondsOfSets,
    "RestTime": doses.RestBetween, "Every": doses.Every, "Gap": fields.Gap, "Pace": fields.Pace, "Reps": doses.Reps,
    "RepsOfSets": doses.RepsOfSets, "Sets": doses.Sets, "Ages": fields.AgeBand, "YesNo": fields.YesNo,
    "Text": fields.Text, "Short": fields.Short,
}  # fmt: skip

WHOLE = (
    "90", "90 s", "1.5 min", "1 min 30 s", "1:30", "1.30", "2 h", "6 h", "6:00:00", "360:00", "360:01", "7 h", "0",
    "0 s", "0:00", "3 s down to 1.5 s", "2 s, 5 s", "10, 8, 6", "1 per level", "6 to 15", "60 per level", "500", "501",
    "21", "learning", "0.2", "0.1", "10", "11 s", "1.50 s", "YES", "no", "7-9", "9-7", "3-5", "18",
    "{left} foot", "{lead} foot", "...", "—", "つき", "30 secs", "2 Minutes", "1min30s", "30 s 1 min", "1,5 min",
    "2.9", "0:02", "1:60", "21600", "21601", "+5", "5.", ".5", "007", "3x10", "5 per side", "0.5 h", "",
)  # fmt: skip
BESIDE = ("Gap", "Pace", "Ages", "YesNo", "Text", "Short")
"""Without tables by level."""


def values(name: str) -> Iterator[Any]:
    """Each text, and thirty times with a sign cut out, put in, or its end doubled; alone, in a table and in a list."""
    draw = random.Random(name)
    for text in WHOLE:
        for _ in range(30):
            at = draw.randrange(len(text) + 1)
            put_in = text[:at] + draw.choice("0123456789 .:,sm") + text[at:]
            damaged = draw.choice([text, text[:at] + text[at + 1 :], put_in, text + text[at:]])
            yield damaged
            yield [damaged] if name in BESIDE else {"1": damaged}


@pytest.mark.parametrize("name", DESCRIBED)
def test_a_value_that_reads_is_never_marked_and_one_that_does_not_nearly_always(name: str) -> None:
    reader = TypeAdapter(DESCRIBED[name])
    schema = Draft202012Validator({"$ref": f"#/$defs/{name}", "$defs": script_schema()["$defs"]})
    judged = [(value, _reads(reader, value), schema.is_valid(value)) for value in values(name)]
    assert [value for value, reads, fits in judged if reads and not fits] == []
    refused = [fits for _, reads, fits in judged if not reads]
    assert any(reads for _, reads, _ in judged)
    assert sum(refused) <= 0.01 * len(refused)


def _reads(reader: TypeAdapter[Any], value: Any) -> bool:
    try:
        reader.validate_python(value)
    except ValidationError:
        return False
    return True
