"""docs/partner.md says what the table of feeds, the engine's words and the sweep say."""

from __future__ import annotations

from pathlib import Path

import pytest

from cornercue.feed.table import AUDIENCES, LEFT_OUT, Audience
from feeding_tables import sweep_table, words_table

PAGE = (Path(__file__).parent.parent / "docs" / "partner.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("audience", AUDIENCES)
def test_its_tables_are_those_of_the_program(audience: Audience) -> None:
    for table in (words_table, sweep_table):
        lines = list(table(audience))
        assert "\n".join(lines) in PAGE, "\n".join(lines)


def test_it_gives_the_reason_for_what_is_left_out() -> None:
    (reason,) = LEFT_OUT.values()
    assert reason in " ".join(PAGE.split())
