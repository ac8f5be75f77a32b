"""Each rule's own examples, the demo drills, and how a script silences a rule."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from jsonschema import Draft202012Validator

from coaching import reviewed, reviewed_file, timeline_of
from cornercue.coaching import plain_words
from cornercue.coaching.rules import PAGES, RULES, Rule, RulePage, page, review, rule_named
from cornercue.coaching.traversal import own
from cornercue.script import silence
from cornercue.script.faults import ScriptFaults
from cornercue.script.model import Drill
from cornercue.script.partner import Partner
from cornercue.script.read import parse_drill
from cornercue.script.schema import script_schema
from cornercue.session.folders import scripts_in
from strategies import Script, scripts

DRILLS = [*scripts_in([Path(__file__).parent.parent / "drills"])]
BROKEN = "drill: A\nsteps:\n- combination: [cross, rear hook]\n"

every_rule = pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.NAME)


@every_rule
def test_a_rule_finds_its_failing_example_at_the_line_marked_and_no_other_rule_does(rule: Rule) -> None:
    marked = [n for n, line in enumerate(rule.FAILING.splitlines(), start=1) if line.endswith("# here")]
    assert [(problem.rule, problem.line) for problem in reviewed(rule.FAILING)] == [(rule.NAME, n) for n in marked]
    assert marked


@every_rule
def test_no_rule_finds_anything_in_a_passing_example(rule: Rule) -> None:
    assert reviewed(rule.PASSING) == []


@every_rule
def test_a_rule_is_silenced_by_name_at_the_top_or_in_its_step(rule: Rule) -> None:
    reason = "this is how we want it"
    data = yaml.safe_load(rule.FAILING)
    top = {**data, "silence": {rule.NAME: reason}}
    assert reviewed(yaml.safe_dump(top, sort_keys=False)) == []


@pytest.mark.parametrize("rule", PAGES, ids=lambda rule: rule.NAME)
def test_a_rules_page_has_its_reason_its_source_both_examples_and_the_way_to_silence_it(rule: RulePage) -> None:
    told = page(rule)
    assert (rule.__doc__ or "").strip() in told
    assert f"Source: {rule.SOURCE}" in told
    for line in [*rule.PASSING.splitlines(), f"  {rule.NAME}: why"]:
        assert line in told


@pytest.mark.parametrize("path", DRILLS, ids=lambda path: path.stem)
def test_no_rule_finds_anything_in_a_demo_drill(path: Path) -> None:
    assert reviewed_file(path) == []


def test_every_rule_can_be_silenced_and_nothing_else() -> None:
    assert tuple(rule.NAME for rule in PAGES) == silence.RULES


def test_a_rule_is_found_however_its_words_are_joined() -> None:
    for name in ("plain words", "plain-words", "Plain_Words"):
        assert rule_named(name) is plain_words
    assert rule_named("flaw") is None


@pytest.mark.parametrize(
    ("script", "kept"),
    [
        (f"{BROKEN}", ["flow"]),
        (f"{BROKEN}  silence: {{flow: it is meant to be awkward}}\n", []),
        (f"silence: {{flow: it is meant to be awkward}}\n{BROKEN}", []),
        ("drill: A\nsteps:\n- repeat: 2\n  rest: 1 min\n  silence: {flow: it is meant so}\n  steps:\n"
         "  - combination: [cross, rear hook]\n", []),
        (f"{BROKEN}- say: Go.\n  silence: {{flow: it is meant to be awkward}}\n", ["flow", "silence"]),
    ],
)  # fmt: skip
def test_a_silence_holds_for_its_step_and_what_is_in_it(script: str, kept: list[str]) -> None:
    assert [problem.rule for problem in reviewed(script)] == kept


def test_a_silence_that_silences_nothing_is_a_hint_at_its_place() -> None:
    (problem,) = reviewed("drill: A\nsteps:\n- say: Go.\n  silence: {flow: it is meant so}\n")
    assert (problem.line, problem.column, problem.severity) == (3, 3, "hint")
    (problem,) = reviewed("# Mine.\ndrill: A\nsilence: {flow: it is meant so}\nsteps:\n- say: Go.\n")
    assert problem.told("a.yaml").startswith("a.yaml:2:1: hint: silence: `flow` is silenced here, but it finds nothing")


def test_an_include_silences_what_is_told_in_its_place(tmp_path: Path) -> None:
    (tmp_path / "fast.yaml").write_text("drill: Fast\nsteps:\n- combination: [jab, cross]\n  pace: sharp\n")
    whole = tmp_path / "whole.yaml"
    whole.write_text("drill: All\nsteps:\n- include: fast.yaml\n")
    assert [(problem.rule, problem.line) for problem in reviewed_file(whole)] == [("order", 3)]
    whole.write_text("drill: All\nsteps:\n- include: fast.yaml\n  silence: {order: they come here already warm}\n")
    assert reviewed_file(whole) == []


@pytest.mark.parametrize(
    ("written", "fault"),
    [
        ("flow", "a.yaml:2:10: a rule and the reason belong here, such as `silence: {flow: it is meant"),
        ("{}", "a.yaml:2:10: a rule and the reason belong here"),
        ("{flwo: it is meant so}", "a.yaml:2:17: `flwo` is not a rule; did you mean `flow`?"),
        ("{everything: it is meant so}", "a.yaml:2:23: `everything` is not a rule; one of `flow`, `sides`"),
        ("{flow: ''}", "a.yaml:2:17: `flow:` has no value; write one after the colon"),
        ("{flow: so}", "a.yaml:2:17: `so` is too short for a reason; say in a few words why"),
        ("{flow: [a, b, c]}", "a.yaml:2:17: text belongs here"),
    ],
)
def test_a_silence_needs_a_known_rule_and_a_reason(written: str, fault: str) -> None:
    script = f"drill: A\nsilence: {written}\nsteps:\n- say: Go.\n"
    with pytest.raises(ScriptFaults) as caught:
        parse_drill(script, "a.yaml")
    assert [str(one).startswith(fault) for one in caught.value.faults] == [True], caught.value


@given(scripts())
def test_whatever_reads_can_be_reviewed_and_is_told_at_a_step_of_the_file_or_at_a_word_in_it(script: Script) -> None:
    drill = script.read()
    timeline = timeline_of(drill)
    places = {drill.at, *(step.at for step in own(drill)), *words_of(drill)}
    problems = review(drill, timeline)
    assert {(problem.line, problem.column) for problem in problems} <= places
    assert list(problems) == sorted(problems)
    assert all(problem.text and problem.rule in {*silence.RULES, "silence"} for problem in problems)
    quiet = Script({**script.data, "silence": dict.fromkeys(silence.RULES, "all of it is meant")}, script.others).read()
    assert {problem.rule for problem in review(quiet, timeline_of(quiet))} <= {"silence"}


def words_of(drill: Drill) -> Iterator[tuple[int, int]]:
    """Where the techniques of a file stand."""
    for step in own(drill):
        yield from (one.at for one in step.partner if one.at) if isinstance(step, Partner) else ()
        practised = (move for one in step.practice(drill.level, "orthodox", "orthodox") for move in one.moves)
        yield from (move.at for move in practised if move.at)


def test_an_editor_knows_the_rules_from_the_schema() -> None:
    schema = json.loads(json.dumps(script_schema()))
    validator = Draft202012Validator(schema)
    good = yaml.safe_load(f"silence: {{plain words: it is a joke}}\n{BROKEN}  silence: {{flow: it is meant so}}\n")
    assert list(validator.iter_errors(good)) == []
    for bad in ({"flwo": "it is meant so"}, {}, "flow", {"flow": "so"}):
        assert list(validator.iter_errors({**good, "silence": bad}))
