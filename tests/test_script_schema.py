"""The JSON Schema of scripts: valid 2020-12, true of every demo drill, and no laxer than the reader in structure."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given
from jsonschema import Draft202012Validator

from cornercue.script.club import root_of, vocabulary_of
from cornercue.script.faults import ScriptFaults
from cornercue.script.model import STEP_KINDS
from cornercue.script.read import parse_drill, read_drill
from cornercue.script.schema import script_schema
from cornercue.session.folders import scripts_in
from strategies import Script, scripts

DRILLS = [*scripts_in([Path(__file__).parent.parent / "drills"])]
VALIDATOR = Draft202012Validator(script_schema())


def validator_in(folder: Path) -> Draft202012Validator:
    """That of `cornercue schema FOLDER` where a club's file holds, else the usual one."""
    return Draft202012Validator(script_schema(vocabulary_of(folder))) if root_of(folder) else VALIDATOR


def complaints(data: Any, validator: Draft202012Validator = VALIDATOR) -> list[str]:
    return [error.message for error in validator.iter_errors(data)]


def test_the_schema_is_valid_and_names_its_dialect() -> None:
    schema = script_schema()
    Draft202012Validator.check_schema(schema)
    # JSON Schema 2020-12, the meta-schema's own address (from memory, and in the jsonschema package).
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema["$schema"] == Draft202012Validator.META_SCHEMA["$id"]


@pytest.mark.parametrize("path", DRILLS, ids=lambda path: path.stem)
def test_every_demo_drill_reads_and_fits_the_schema(path: Path) -> None:
    assert read_drill(path).steps
    assert complaints(yaml.safe_load(path.read_text(encoding="utf-8")), validator_in(path.parent)) == []


def test_there_are_at_least_ten_demo_drills() -> None:
    assert len(DRILLS) >= 10


@given(scripts())
def test_whatever_reads_fits_the_schema(script: Script) -> None:
    for data in (script.data, *script.others.values()):
        assert complaints(data) == []


@pytest.mark.parametrize("kind", STEP_KINDS)
def test_every_step_kind_is_in_the_schema(kind: str) -> None:
    assert any(kind in definition.get("properties", {}) for definition in script_schema()["$defs"].values())


@pytest.mark.parametrize(
    "text",
    [
        "steps:\n- say: hi\n",
        "drill: A\n",
        "drill: A\nsteps: []\n",
        "drill: A\nsteps: hi\n",
        "drill: A\nlevle: 1\nsteps:\n- say: hi\n",
        "drill: A\nlevel: 0\nsteps:\n- say: hi\n",
        "drill: A\nstance: sideways\nsteps:\n- say: hi\n",
        "drill: A\ncalls: colours\nsteps:\n- say: hi\n",
        "drill: A\nabout: [a]\nsteps:\n- say: hi\n",
        "- drill: A\n",
        "drill: A\nsteps:\n- sai: hi\n",
        "drill: A\nsteps:\n- {}\n",
        "drill: A\nsteps:\n- jab\n",
        "drill: A\nsteps:\n- say: [a]\n",
        "drill: A\nsteps:\n- say: hi\n  loud: a\n",
        "drill: A\nsteps:\n- say: hi\n  rest: 30 s\n",
        "drill: A\nsteps:\n- rest: 30 s\n  say: hi\n",
        "drill: A\nsteps:\n- rest: -5\n",
        "drill: A\nsteps:\n- combination: [jab]\n  exercise: push-ups\n  reps: 3\n",
        "drill: A\nsteps:\n- combination: [jab]\n  reps: 0\n",
        "drill: A\nsteps:\n- combination: [jab]\n  sides: both\n",
        "drill: A\nsteps:\n- combination: [[jab]]\n",
        "drill: A\nsteps:\n- combination: [{jab: a, cross: b}]\n",
        "drill: A\nsteps:\n- combination: [jab]\n  teach: 21\n",
        "drill: A\nsteps:\n- exercise: push-ups\n",
        "drill: A\nsteps:\n- exercise: push-ups\n  reps: 3\n  for: 10 s\n",
        "drill: A\nsteps:\n- exercise: plank\n  for: 10 s\n  every: 2 s\n",
        "drill: A\nsteps:\n- hold: side kick\n  reps: 3\n",
        "drill: A\nsteps:\n- hold: side kick\n  sides: up\n",
        "drill: A\nsteps:\n- repeat: 3\n",
        "drill: A\nsteps:\n- repeat: 101\n  steps:\n  - say: hi\n",
        "drill: A\nsteps:\n- repeat: 3\n  steps: []\n",
        "drill: A\nsteps:\n- repeat: 3\n  steps:\n  - say: hi\n    ho: hi\n",
        "drill: A\nsteps:\n- include: [b.yaml]\n",
        "drill: A\nsteps:\n- combination: []\n",
        "drill: A\nsteps:\n- rest: 2\n",
        "drill: A\nabout:\nsteps:\n- say: hi\n",
        "drill: A\nsteps:\n- say:\n",
        "drill: A\nsteps:\n- combination: [jab]\n  every:\n",
        "drill: A\nsteps:\n- exercise: push-ups\n  reps: 3\n  for: 10 s\n  every: 2 s\n",
    ],
)
def test_structure_that_the_reader_refuses_the_schema_refuses_too(text: str) -> None:
    with pytest.raises(ScriptFaults):
        parse_drill(text)
    assert complaints(yaml.safe_load(text))


@pytest.mark.parametrize("word", ["side kick", {"like": "side kick", "said": "つき"}, {"kind": "ground", "seconds": 1}])
def test_words_of_a_club_fit_the_schema_and_others_keys_do_not(word: object) -> None:
    assert complaints({"drill": "A", "words": {"wheel": word}, "steps": [{"say": "hi"}]}) == []
    assert complaints({"drill": "A", "words": {"wheel": {"like": "jab", "sed": "a"}}, "steps": [{"say": "hi"}]})
