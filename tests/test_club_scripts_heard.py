"""A script of each group of the club's library, by an outside ear: every call that it says is heard for what it is.

All 24 scripts, and other voices, are asked by hand: `python tests/club_ear.py`.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from club_ear import AS_READ, listened, phrases_of, pronounced, terms_of
from club_library import GROUPS, LIBRARY, SCRIPTS

SAMPLE = ("ground/entries", "japanese_punching/blocks-and-counters", "kicking/shield", "korean_kicking/blocks",
          "stances/cat-and-back", "striking/counters")  # fmt: skip


def test_a_script_of_each_group_is_asked() -> None:
    assert [name.split("/")[0] for name in SAMPLE] == GROUPS


@pytest.mark.parametrize("name", SAMPLE)
def test_every_call_and_hold_is_heard_right(name: str, tmp_path: Path) -> None:
    heard = listened(LIBRARY / f"{name}.yaml", "system", tmp_path)
    assert heard.asked >= 9
    assert heard.wrong == {}


def test_a_phrase_that_the_script_does_not_write_is_missed(tmp_path: Path) -> None:
    """Where each phrase is another one's in the recogniser's list, none is heard right: the check can fail."""
    phrases = list(phrases_of(script := LIBRARY / "korean_kicking/blocks.yaml").texts)
    heard = listened(script, "system", tmp_path, [one for one in phrases if "arae" not in one])
    assert len(heard.wrong) == sum("arae" in one for one in phrases) > 0


def test_every_script_has_its_phrases_for_the_ear() -> None:
    assert all(len(phrases_of(script).texts) >= 7 for script in SCRIPTS)


STYLES = [script for script in SCRIPTS if terms_of(script)]


def test_a_term_of_a_style_is_heard_as_it_is_said_and_not_as_english_reads_it(tmp_path: Path) -> None:
    asked = set()
    for script in STYLES:
        said = terms_of(script)
        asked |= {*said}
        assert pronounced(said, said, tmp_path / script.stem) == dict.fromkeys(said, True), script.stem
    assert asked == {*AS_READ}


def test_without_said_it_is_heard_as_english_reads_it(tmp_path: Path) -> None:
    assert pronounced(AS_READ, {}, tmp_path) == dict.fromkeys(AS_READ, False)
