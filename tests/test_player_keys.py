"""Keys as a terminal sends them: ECMA-48 (1991), 8.3.18 CUB, 8.3.20 CUF, 8.3.22 CUU, 8.3.19 CUD; `ESC O` as in
"application mode" (DEC, VT100 User Guide, chapter 3: from memory)."""

from __future__ import annotations

import os
import pty
import sys
import termios
import time
from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornercue.player.keys import MEANING, NoKeys, keys, meaning


@pytest.mark.parametrize(
    ("typed", "command"),
    [(" ", "pause"), ("r", "again"), ("R", "again"), ("q", "quit"), ("Q", "quit")]
    + [(f"\x1b{opener}{final}", name) for opener in "[O"
       for final, name in (("A", "louder"), ("B", "softer"), ("C", "on"), ("D", "back"))],
)  # fmt: skip
def test_each_key_has_its_meaning(typed: str, command: str) -> None:
    assert meaning(typed) == (command, "")


@pytest.mark.parametrize("typed", ["x", "\x1b[5~", "\x1b[1;5C", "é", "\n", "\x1b[200~"])
def test_other_keys_mean_nothing_and_leave_nothing_behind(typed: str) -> None:
    assert meaning(typed) == (None, "")


@given(st.lists(st.sampled_from([*MEANING]), max_size=8), st.text(max_size=3))
def test_keys_typed_quickly_are_all_served(typed: list[str], rest: str) -> None:
    left, served = "".join(typed), []
    for _ in typed:
        command, left = meaning(left)
        served.append(command)
    assert served == [MEANING[key] for key in typed]
    assert left == ""
    while rest:  # whatever it is, it comes to an end
        before, (_, rest) = rest, meaning(rest)
        assert len(rest) < len(before)


@pytest.fixture
def terminal(monkeypatch: pytest.MonkeyPatch) -> Iterator[int]:
    ours, theirs = pty.openpty()
    monkeypatch.setattr(sys, "stdin", os.fdopen(theirs))
    yield ours
    sys.stdin.close()
    os.close(ours)


def test_a_key_comes_without_enter_and_unseen_and_the_terminal_is_left_as_it_was(terminal: int) -> None:
    before = termios.tcgetattr(sys.stdin)
    with keys() as pressed:
        os.write(terminal, b"q\x1b[C")
        assert [pressed.read(1), pressed.read(1), pressed.read(0)] == ["quit", "on", None]
    assert termios.tcgetattr(sys.stdin) == before


def test_the_terminal_is_left_as_it_was_also_after_a_fault(terminal: int) -> None:
    before = termios.tcgetattr(sys.stdin)
    with pytest.raises(KeyboardInterrupt), keys():
        raise KeyboardInterrupt
    assert termios.tcgetattr(sys.stdin) == before


def test_waiting_for_a_key_takes_as_long_as_it_was_asked(terminal: int) -> None:
    with keys() as pressed:
        begun = time.monotonic()
        assert pressed.read(0.2) is None
        assert time.monotonic() - begun >= 0.2


def test_without_a_terminal_there_are_no_keys(monkeypatch: pytest.MonkeyPatch, tmp_path: object) -> None:
    with open(os.devnull) as nothing:
        monkeypatch.setattr(sys, "stdin", nothing)
        with keys() as pressed:
            assert isinstance(pressed, NoKeys)
            assert pressed.read(0.01) is None
