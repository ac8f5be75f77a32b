"""Whatever a file holds, the reader answers with a drill or with faults at their places, and the timer too."""

from __future__ import annotations

from collections.abc import Callable
from importlib import resources
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from hypothesis import example, given
from hypothesis import strategies as st

from cornercue.script.faults import Fault, ScriptFaults
from cornercue.script.model import Drill
from cornercue.script.read import parse_drill, read_drill
from cornercue.session.folders import scripts_in
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.faults import TooLong
from cornercue.timing.setting import Request
from documents import blocks
from strategies import Data, as_yaml, drills, plain_steps

STARTER = resources.files("cornercue.cli").joinpath("starter.yaml").read_text(encoding="utf-8")
DRILLS = [path.read_text(encoding="utf-8") for path in scripts_in([Path(__file__).parent.parent / "drills"])]
CLUB_FILES = [text for text in blocks("docs/script-language.md", "yaml") if text.startswith("club:")]
DOCUMENTED = [text for text in blocks("docs/script-language.md", "yaml") if text.startswith("drill:")]
"""They use every key of the script language, and every way to write a value."""
FRAGMENTS = [
    "\t", "\n", "\r", ": ", "- ", "[", "]", "{", "}", "&a ", "*a", "!!python/object ", "? ", "|\n", ">", "'", '"', "#",
    "---\n", "...\n", "%YAML 1.1\n", "<<: ", "\0", "\ufeff", "\x85", "\u2028", "é", "-1", "1e999", "9" * 30, "null",
    "~", "yes", "(at): 3\n", "(at)", "steps:", "repeat: 100\n  steps:\n  - ", "say: ",
    "rest: ", "{{", "%s", "\\", "\\u0000",
    "include: ../x", "include: a.yaml", "for: 0", "reps: 1 per level", "٣", "²", "𝟗",
    "{left}", "{lead}", "{1: 6, 3: 10}", "{11: 3}", "[10, 8, 6]", "3 s down to 1.5 s", "like: ", "kind: strike",
    "said: x", "picture: a.png", "sides: left/right", "words:\n  ab: jab\n", "levels: {1: A}\n", "then: 3 s",
    "answers: {weave: [[jab]]}",
]  # fmt: skip


@st.composite
def mutated(draw: st.DrawFn) -> str:
    """A good script with a few pieces cut out, doubled, or put in."""
    text: str = draw(st.sampled_from([STARTER, *DRILLS, *DOCUMENTED]))
    return damaged(draw, text)


def damaged(draw: st.DrawFn, text: str) -> str:
    for _ in range(draw(st.integers(1, 5))):
        start = draw(st.integers(0, len(text)))
        end = min(len(text), start + draw(st.integers(0, 12)))
        piece = draw(st.sampled_from(["", text[start:end] * 2, *FRAGMENTS]) | st.text(max_size=4))
        text = text[:start] + piece + text[end:]
    return text


def faults_of(read: Callable[[], Drill]) -> tuple[Fault, ...]:
    """Reads and lays out; nothing but faults of the script and "too long" may be raised."""
    try:
        drill = read()
    except ScriptFaults as faults:
        return faults.faults
    try:
        assert expand(drill, Request(0), estimated_seconds).duration <= 6 * 3600
    except TooLong as fault:
        return (Fault("", fault.line, 1, str(fault)),)
    return ()


def answered(text: str) -> None:
    """A fault lies inside the text and has a sentence."""
    lines = text.count("\n") + text.count("\r") + sum(map(text.count, "\x85\u2028\u2029")) + 2
    for fault in faults_of(lambda: parse_drill(text, "a.yaml")):
        assert fault.file == "a.yaml" or "passes six hours" in fault.text
        assert 1 <= fault.line <= lines
        assert fault.column >= 1
        assert len(fault.text) > 10


@given(st.text(max_size=200))
@example("\ud800")
@example("a: \ufffe")
@example("drill: " + "{" * 500)
def test_any_text_is_answered(text: str) -> None:
    answered(text)


@given(mutated())
def test_a_damaged_script_is_answered(text: str) -> None:
    answered(text)


def _nested(inner: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.lists(inner) | st.dictionaries(st.text(max_size=3) | st.integers(-1, 11), inner, max_size=3)


@given(drills(plain_steps), st.data())
def test_a_script_with_one_value_of_another_kind_is_answered(script: Data, data: st.DataObject) -> None:
    step = data.draw(st.sampled_from(script["steps"]))
    key = data.draw(st.sampled_from(sorted(step)))
    step[key] = data.draw(st.recursive(st.none() | st.text(max_size=5) | st.integers(), _nested, max_leaves=5))
    answered(as_yaml(script))


@given(st.binary(max_size=200) | mutated().map(str.encode))
def test_any_bytes_in_a_file_are_answered(content: bytes) -> None:
    with TemporaryDirectory() as folder:
        path = Path(folder, "a.yaml")
        path.write_bytes(content)
        assert all(fault.file in (str(path), "") for fault in faults_of(lambda: read_drill(path)))


@st.composite
def club_files(draw: st.DrawFn) -> str:
    return damaged(draw, draw(st.sampled_from(CLUB_FILES)))


@given(club_files() | st.text(max_size=60).map(lambda text: f"club: A\nwords: {text}\n"))
@example("club: A\nwords: {ab: {like: ab}}\n")
@example("club: A\nwords: {ab: {kind: kick}, cd: {like: ab, height: head}}\n")
@example("club: A\ndoses: {hold: {for: {1: [3 s]}}}\n")
def test_a_damaged_club_file_is_answered(text: str) -> None:
    with TemporaryDirectory() as folder:
        script, club = Path(folder, "a.yaml"), Path(folder, "club.yaml")
        script.write_text("drill: A\nsteps:\n- combination: [lead tide kick, jab]\n- hold: knee\n", encoding="utf-8")
        club.write_text(text, encoding="utf-8")
        for fault in faults_of(lambda: read_drill(script)):
            assert fault.file in (str(script), str(club.resolve()), str(club), "")
            assert len(fault.text) > 10


@given(st.text(st.characters(exclude_categories=["Cs"]), max_size=40))
def test_any_name_of_an_include_is_answered(name: str) -> None:
    with TemporaryDirectory() as folder:
        path = Path(folder, "a.yaml")
        path.write_text(as_yaml({"drill": "A", "steps": [{"include": name}]}), encoding="utf-8")
        assert faults_of(lambda: read_drill(path))
