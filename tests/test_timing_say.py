"""Words that ask for something, and the time to do it."""

from __future__ import annotations

import pytest

from cornercue.script.read import parse_drill
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Cue


def cues(steps: str) -> list[Cue]:
    line = expand(parse_drill(f"drill: Test\nsteps:\n{steps}"), Request(1), estimated_seconds)
    return [cue for cue in line.cues if cue.text]


@pytest.mark.parametrize(("then", "quiet"), [("5 s", 5.0), ("0.2 s", 0.3), ("1 min", 60.0)])
def test_it_is_quiet_for_so_long_afterwards(then: str, quiet: float) -> None:
    heard = cues(f"- say: Fetch your water.\n  then: {then}\n- say: Stand behind the line.\n")
    (first, second) = (cue for cue in heard if cue.text.startswith(("Fetch", "Stand")))
    assert second.start - first.end == pytest.approx(quiet)


def test_the_time_counts_before_work_and_at_the_end_of_a_rest() -> None:
    plain = "- rest: 30 s\n- say: Turn round.\n{}- exercise: squats\n  reps: 4\n"
    for step in ("", "  then: 6 s\n"):
        heard = cues(plain.format(step))
        said = next(cue for cue in heard if cue.text == "Turn round.")
        following = heard[heard.index(said) + 1]
        assert following.start - said.end == pytest.approx(6.0 if step else 0.3)


def test_the_sheet_on_paper_tells_it() -> None:
    (step,) = parse_drill("drill: Test\nsteps:\n- say: Fetch your water.\n  then: 10 s\n").steps
    assert step.in_words(1) == "“Fetch your water.”, then 10 s"
