"""A club's library of 24 home drills: each is checked fine, and what is called and said is what is written.

What is written is read with a plain YAML library (`club_library.py`). Calls are drawn at random, so each script is laid
out with several seeds.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from functools import cache
from pathlib import Path

import pytest

from club_library import GROUPS, LIBRARY, SCRIPTS, SHARED, written_in
from cornercue.coaching.rules import review
from cornercue.script.amount import MAX_LEVEL
from cornercue.script.read import read_drill
from cornercue.session.checking import check_script
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Cue

SEEDS = range(1, 7)
"""So many, that every call of the shortest random round comes at least once."""

HOLDING = "Hold."
"""What is called while something is held."""

COUNTED = {"korean": "HANGUL", "japanese": "HIRAGANA", "english": "LATIN"}


@pytest.fixture(scope="module", params=SCRIPTS, ids=lambda path: f"{path.parent.name}/{path.stem}")
def script(request: pytest.FixtureRequest) -> Path:
    """Each script in turn, with all tests of it."""
    path: Path = request.param
    return path


@cache
def cues_of(script: Path) -> tuple[Cue, ...]:
    """All that is said, with several seeds."""
    drill = read_drill(script)
    return tuple(cue for seed in SEEDS for cue in expand(drill, Request(seed=seed), estimated_seconds).spoken())


def calls(cues: Iterable[Cue]) -> set[str]:
    return {cue.text for cue in cues if cue.kind == "call" and cue.shows != cue.text} - {HOLDING}


def test_there_are_24_scripts_in_six_groups_with_a_shared_warm_up_and_cool_down() -> None:
    counts = {group: sum(path.parent.name == group for path in SCRIPTS) for group in GROUPS}
    assert counts == {
        "striking": 5, "kicking": 4, "ground": 5, "stances": 4, "korean_kicking": 3, "japanese_punching": 3,
    }  # fmt: skip
    for script in SCRIPTS:
        text = script.read_text(encoding="utf-8")
        assert all(f"- include: ../{name}\n" in text for name in SHARED)
        assert "\nabout: " in text


@pytest.mark.parametrize("name", SHARED)
def test_the_review_finds_nothing_in_what_is_shared(name: str) -> None:
    assert check_script(LIBRARY / name).problems == ()


def test_the_review_finds_nothing_at_the_level_of_the_script(script: Path) -> None:
    assert [problem.told(script.name) for problem in check_script(script).problems] == []


def test_the_review_finds_nothing_where_the_doses_are_largest(script: Path) -> None:
    drill = read_drill(script)
    line = expand(drill, Request(seed=1, level=MAX_LEVEL), estimated_seconds)
    assert [problem.told(script.name) for problem in review(drill, line)] == []


def test_all_that_is_written_is_called_and_nothing_else(script: Path) -> None:
    written = written_in(script)
    called = calls(cues_of(script))
    answered = {call for call in written.calls if "parry" in call or "slip" in call}
    assert called - written.calls == set()
    assert written.calls - called <= answered  # of a defence's answers those are drawn that fit its side


def test_what_a_holder_shows_is_asked_of_the_student_as_it_is_written(script: Path) -> None:
    shown = [cue for cue in cues_of(script) if cue.kind == "call" and cue.shows == cue.text]
    assert {", ".join(move.words for move in cue.moves) for cue in shown} == written_in(script).shown


def test_all_that_is_held_is_named_as_it_is_written(script: Path) -> None:
    held = {cue.text.partition(". Hold for ")[0] for cue in cues_of(script) if ". Hold for " in cue.text}
    written = written_in(script).held
    for name in written:
        assert any(one == name or one.startswith(f"{name},") for one in held), name
    assert {one for one in held if not any(one == name or one.startswith(f"{name},") for name in written)} == set()


def test_every_sentence_cue_and_point_is_said(script: Path) -> None:
    texts = {cue.text for cue in cues_of(script)}
    for text in written_in(script).texts:
        assert text in texts or any(one.startswith(f"{text},") for one in texts), text


def test_repetitions_are_counted_in_the_language_of_the_script(script: Path) -> None:
    drill = read_drill(script)
    letters = {unicodedata.name(cue.text[0]).split()[0] for cue in cues_of(script) if cue.kind == "count" and cue.rep}
    assert letters <= {COUNTED[drill.counting], "LATIN"}  # the warm-up counts in its own
    assert COUNTED[drill.counting] in letters


def test_the_same_check_fails_where_a_word_is_replaced(tmp_path: Path) -> None:
    club = tmp_path / "club.yaml"
    club.write_text("club: Test\n", encoding="utf-8")
    steps = "steps:\n- combination: [lead {0}, cross]\n- shadow: [[rear {0}]]\n  for: 30 s\n- say: {1}.\n"
    for name, word, text in (("written", "push kick", "Go"), ("spoken", "front kick", "Gone")):
        (tmp_path / f"{name}.yaml").write_text(f"drill: Test\n{steps.format(word, text)}", encoding="utf-8")
    written, spoken = written_in(tmp_path / "written.yaml"), cues_of(tmp_path / "spoken.yaml")
    assert calls(spoken) - written.calls == {"lead front kick, cross", "rear front kick"}
    assert written.calls - calls(spoken) == {"lead push kick, cross", "rear push kick"}
    assert "Go." not in {cue.text for cue in spoken}
