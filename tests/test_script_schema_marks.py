"""The schema marks what `check` marks, wherever JSON Schema can say it; and it never marks what `check` lets pass."""

from __future__ import annotations

import json
import re
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
import yaml
from hypothesis import given
from jsonschema import Draft202012Validator

from cornercue.errors import InputFault
from cornercue.script.club import vocabulary_of
from cornercue.script.faults import ScriptFaults
from cornercue.script.schema import script_schema
from cornercue.script.schema_names import technique
from cornercue.technique import lookup
from cornercue.technique.lookup import resolve
from cornercue.technique.sides import LIMBS, SIDES, STANCES
from cornercue.technique.vocabulary import USUAL
from test_script_fuzz import mutated
from written_scripts import as_edited, everywhere, faults_of

if TYPE_CHECKING:
    from playwright.sync_api import Browser

VALIDATOR = Draft202012Validator(script_schema())
HEAD = "drill: A\nsteps:\n"

AGREEMENT = 0.95
"""The least share of faulty scripts that the schema marks, too. The rest is of the kinds below."""

CANNOT_SAY = {
    "- hold: plank\n  for: 1.30\n": "to YAML this is the number 1.3; only in quotes is it seen as it is written",
    "- rest: 1e1\n": "to YAML this is the number 10",
    "- hold: side kik\n": "any words may be held; that these are near a name takes a comparison",
    "- react: [pary]\n  reps: 4\n": "any words may be called; that these are near a name takes a comparison",
    "- combination: jab\n  every: 2 s down to 4 s\n": "which of two times is the longer one",
    "- shadow: [[jab]]\n  for: 1 min\n  gap: [5 s, 2 s]\n": "which of two times is the longer one",
    "- exercise: squats\n  reps: 15 to 6\n": "which of two numbers is the larger one",
    "- rest: 5 h 90 min\n": "the sum of two times",
    "- combination: [right jab]\n": "which sides a name has where it depends on the stance",
    "- react: left, left\n  reps: 4\n": "that two ways to write it may be the same call",
    "- partner: [parry, {parry: 2}]\n  reps: 4\n": "that two ways to write it may be the same defence",
    "- partner: {parry: 2, cover: 1}\n  reps: 3\n  order: alternate\n": "that weights differ",
    "- partner: parry\n  reps: 3\n  answers: {weave: [[cross]]}\n": "that a key is among the values of another key",
    "- react: left\n  reps: 3\n  seconds: {freeze: 2 s}\n": "that a key is among the values of another key",
    "- pads: [[jab], [jab]]\n  reps: 3\n": "that two ways to write it may be the same combination",
    "- pads: [[step left]]\n  reps: 3\n": "that one of the techniques is struck, in text as well as in lists",
    "- say: one\n  say: two\n": "of a key that is written twice, only one is there",
    "- say: Do 5 of #1, then rest\n": "a remark is not there",
    "- include: ../../a.yaml\n": "what stands in other files",
    "words: {ebb: jbb}\n- combination: [corss]\n": "names, where a script has words of its own, also what these mean",
}
"""Faulty steps that the schema lets pass, each with what it would have to say; `words` stand above the steps."""


def complaints(data: Any) -> list[str]:
    return [f"{list(error.absolute_path)}: {error.message}" for error in VALIDATOR.iter_errors(data)]


@cache
def judged() -> tuple[list[tuple[str, list[str], list[str]]], int]:
    """Each script of the project with what `check` and the schema mark, and how many are no YAML at all."""
    found, no_yaml = [], 0
    for text in everywhere():
        try:
            data = as_edited(text)
        except yaml.YAMLError:
            assert faults_of(text)
            no_yaml += 1
        else:
            found.append((text, faults_of(text), complaints(data)))
    return found, no_yaml


def test_there_are_many_scripts_good_and_bad() -> None:
    scripts, no_yaml = judged()
    assert sum(not faults for _, faults, _ in scripts) > 300
    assert sum(bool(faults) for _, faults, _ in scripts) > 200
    assert no_yaml > 30


def test_no_good_script_of_the_project_is_marked() -> None:
    assert [(text, marks) for text, faults, marks in judged()[0] if marks and not faults] == []


def test_faulty_scripts_of_the_project_are_marked() -> None:
    faulty = [(text, faults, marks) for text, faults, marks in judged()[0] if faults]
    missed = [(text, faults) for text, faults, marks in faulty if not marks]
    share = 1 - len(missed) / len(faulty)
    print(f"{len(faulty)} faulty scripts, {share:.1%} marked by the schema; not marked:", *missed, sep="\n")
    assert share >= AGREEMENT


@given(mutated())
def test_no_damaged_script_that_still_reads_is_marked(text: str) -> None:
    if not faults_of(text):
        data = as_edited(text)
        assert _has_null(data) or complaints(data) == []


def _has_null(data: Any) -> bool:
    """Whether a word stands there that YAML takes for nothing: to the reader it is a word, to editors a gap."""
    inner = [*data, *data.values()] if isinstance(data, dict) else data if isinstance(data, list) else []
    return data is None or any(map(_has_null, inner))


@pytest.mark.parametrize("steps", CANNOT_SAY)
def test_what_json_schema_cannot_say_is_not_marked(steps: str) -> None:
    words = re.match(r"words: .*\n", steps)
    text = (words[0] if words else "") + HEAD + steps[len(words[0]) if words else 0 :]
    assert faults_of(text) or "include" in text
    assert complaints(as_edited(text)) == []


@pytest.mark.parametrize(
    "steps",
    [
        "- combination: [bananas]\n",
        "- combination: [jab, hook]\n",
        "- combination: jab, bananas\n",
        "- combination: [left lead hook]\n",
        "- combination: [bananas: over the top]\n",
        "- combination: [jab]\n  angles: [up]\n",
        "- combination: [jab]\n  pace: fast\n",
        "- combination: [jab]\n  pace: 11 s\n",
        "- combination: [jab]\n  reps: [3, 2]\n  sets: 2\n",
        "- combination: [jab]\n  reps: {1: 3, 4: [3, 2]}\n  sets: 2\n",
        "- combination: [jab]\n  between: circle {lead}\n",
        "- rest: '1.30'\n",
        "- rest: 2 s\n",
        "- rest: 7 h\n",
        "- rest: {0: 1 min}\n",
        "- hold: breakfall\n",
        "- hold: left plank\n",
        "- hold: tide kick\n",
        "- hold: lead horse stance chamber\n",
        "- hold: duck\n  sides: both\n",
        "- hold: knee\n  points: once\n",
        "- react: [hook]\n  reps: 3\n",
        "- react: [left, left]\n  reps: 3\n",
        "- react: {left: 0}\n  reps: 3\n",
        "- react: left\n  reps: 3\n  for: 1 min\n",
        "- partner: [bananas]\n  reps: 3\n",
        "- partner: [high block]\n  reps: 3\n",
        "- partner: [parry left]\n  reps: 3\n",
        "- partner: parry\n  reps: 3\n  order: even\n  sides: left\n",
        "- partner: parry\n  reps: 3\n  answers: [[bananas]]\n",
        "- partner: parry\n  reps: 3\n  answers: {bananas: [[jab]]}\n",
        "- pads: [[jab], [lead front kick]]\n  reps: 3\n",
        "- pads: [[rear elbow]]\n  reps: 3\n",
        "- repeat: 2\n  steps:\n  - repeat: 2\n    steps:\n    - combination: [bananas]\n",
    ],
)
def test_these_are_marked_as_check_does(steps: str) -> None:
    assert faults_of(HEAD + steps)
    assert complaints(as_edited(HEAD + steps))


SIDED = (*SIDES, *LIMBS)


def test_every_name_fits_with_its_sides_and_with_no_others(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each name of the vocabulary alone, and with each side before and after: as the lookup has it in either stance."""
    monkeypatch.setattr(lookup, "offer", lambda *_: "")  # thousands of offers would take a minute
    pattern = re.compile(f"^{technique(USUAL)}$")
    written = [*USUAL.known, *(f"{side} {name}" for name in USUAL.known for side in SIDED),
               *(f"{name} {side}" for name in USUAL.known for side in SIDED)]  # fmt: skip
    wrong = [text for text in dict.fromkeys(written) if bool(pattern.match(text)) != _resolves(text)]
    assert wrong == []


def _resolves(text: str) -> bool:
    for stance in STANCES:
        try:
            return bool(resolve(text, stance))
        except InputFault:
            continue
    return False


@pytest.mark.parametrize("text", ["Jab", "LEAD HOOK", "lead_hook", " spinning-hook-kick  Left ", "2b"])
def test_case_hyphens_and_spaces_do_not_matter(text: str) -> None:
    assert resolve(text)
    assert re.match(f"^{technique(USUAL)}$", text)


@pytest.mark.parametrize("own", ["", "words: {shore walk: step}\n"])
def test_words_of_a_script_or_of_its_club_are_not_marked(own: str, tmp_path: Path) -> None:
    (tmp_path / "club.yaml").write_text("club: A\nwords:\n  tide kick: side kick\n  shell: cover\n  e.b (x): jab\n")
    with pytest.raises(ScriptFaults):
        vocabulary_of(tmp_path)
    (tmp_path / "club.yaml").write_text("club: A\nwords:\n  tide kick: side kick\n  shell: cover\n  l'ebb: jab\n")
    steps = "- combination: [lead tide kick, l'ebb]\n- partner: shell\n  reps: 3\n"
    club = Draft202012Validator(script_schema(vocabulary_of(tmp_path)))
    assert list(club.iter_errors(as_edited(own + HEAD + steps))) == []
    assert bool(complaints(as_edited(own + HEAD + steps))) == (own == "")
    assert bool(list(club.iter_errors(as_edited(own + HEAD + "- combination: [bananas]\n")))) == (own == "")


LARGEST = 200_000
"""Bytes as printed; as much as a large photograph on a page. Own choice."""


def test_the_schema_stays_small() -> None:
    assert len(json.dumps(script_schema(), indent=2)) < LARGEST


def test_an_editor_written_in_javascript_reads_every_pattern(browser: Browser) -> None:
    """Each pattern compiles in JavaScript's strict mode, and finds there what it finds in Python."""
    texts = ["jab", "LEAD_hook ", "bananas", "1:30", "1.30", "3 s down to 1 s", "circle {left}", "{lead}", "つき"]
    patterns = sorted(_patterns(script_schema()))
    found = browser.new_page().evaluate(
        "([patterns, texts]) => patterns.map(one => texts.map(text => new RegExp(one, 'u').test(text)))",
        [patterns, texts],
    )
    assert found == [[bool(re.search(one, text)) for text in texts] for one in patterns]


def _patterns(node: Any) -> set[str]:
    if isinstance(node, list):
        return set().union(*map(_patterns, node))
    if not isinstance(node, dict):
        return set()
    own = {node["pattern"]} if isinstance(node.get("pattern"), str) else set()
    return own.union(*map(_patterns, node.values()))
