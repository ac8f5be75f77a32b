"""A script can ask for anything; what it gets is bounded."""

from __future__ import annotations

from pathlib import Path

import pytest

from benchmarks.harness import python
from cornercue.script.read import parse_drill, read_drill
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.faults import TooLong
from cornercue.timing.setting import Request

SENTENCE = "here the drill passes six hours; ask for fewer repetitions or shorter rounds"


def nested(repeats: int) -> str:
    lines = ["drill: A", "steps:"]
    for depth in range(repeats):
        lines += ["  " * depth + "- repeat: 100", "  " * depth + "  steps:"]
    return "\n".join([*lines, "  " * repeats + "- say: hi"])


def test_a_drill_of_more_than_six_hours_is_refused_at_the_step_that_passes_them() -> None:
    text = "drill: A\nsteps:\n- exercise: skipping\n  for: 3 h\n- rest: 2 h\n- say: hi\n- exercise: rope\n  for: 1 h\n"
    with pytest.raises(TooLong, match=SENTENCE) as caught:
        expand(parse_drill(text), Request(0), estimated_seconds)
    assert caught.value.line == 7


def test_a_drill_just_below_six_hours_is_laid_out() -> None:
    drill = parse_drill("drill: A\nsteps:\n- exercise: skipping\n  for: 5 h 59 min\n")
    assert expand(drill, Request(0), estimated_seconds).duration < 6 * 3600


REFUSED = """\
import sys, time
from cornercue.script.read import parse_drill
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.faults import TooLong
from cornercue.timing.setting import Request
drill, begun = parse_drill(sys.argv[1]), time.process_time()
try:
    expand(drill, Request(0), estimated_seconds)
except TooLong as fault:
    print(time.process_time() - begun, fault.line, fault, sep="|", end="")
"""


@pytest.mark.parametrize("repeats", [2, 4, 10])
def test_repeats_within_repeats_are_refused_without_being_unfolded(repeats: int) -> None:
    """Ten repeats of a hundred would be 10^20 steps; ten seconds and 200 MB are far more than stopping takes.

    In a process of its own, whose memory can be measured without being traced: that would take three times as long.
    """
    run = python(REFUSED, nested(repeats))
    seconds, line, sentence = run.output.split("|")
    assert float(seconds) < 10
    assert run.megabytes < 200
    assert 3 <= int(line) <= 2 * repeats + 3
    assert SENTENCE in sentence


def test_the_deepest_script_that_reads_is_laid_out(tmp_path: Path) -> None:
    """Ten repeats in each of nine files, one in the other: no depth that reads may exhaust the stack."""
    for level in range(9):
        inner = f"{'  ' * 10}- include: s{level + 1}.yaml\n" if level < 8 else f"{'  ' * 10}- say: hi\n"
        repeats = "".join(f"{'  ' * depth}- repeat: 1\n{'  ' * depth}  steps:\n" for depth in range(10))
        (tmp_path / f"s{level}.yaml").write_text(f"drill: A\nsteps:\n{repeats}{inner}", encoding="utf-8")
    line = expand(read_drill(tmp_path / "s0.yaml"), Request(0), estimated_seconds)
    assert [cue.text for cue in line.cues].count("hi") == 1


def test_the_largest_doses_that_the_language_allows_end_in_six_hours_or_a_fault() -> None:
    steps = "- combination: [jab]\n  reps: 50 per level\n  teach: 20\n  angles: [ahead, right 90]\n  every: 0.001 s\n"
    drill = parse_drill(f"drill: A\nlevel: 10\nstance: both\npace: 0.2\nsteps:\n{steps}")
    line = expand(drill, Request(0), lambda text, rate: 0.1 / rate)
    assert sum(cue.kind == "call" and cue.rep is not None for cue in line.cues) == 2 * (2 * 500 + 20)
    assert line.duration < 6 * 3600


def test_includes_that_double_at_every_level_are_refused_without_being_unfolded(tmp_path: Path) -> None:
    """Eight levels of 200 includes each would be 2.56 × 10^18 steps."""
    for level in range(8):
        includes = f"- include: s{level + 1}.yaml\n" * 200
        (tmp_path / f"s{level}.yaml").write_text(f"drill: A\nsteps:\n{includes}", encoding="utf-8")
    (tmp_path / "s8.yaml").write_text("drill: A\nsteps:\n- say: hi\n", encoding="utf-8")
    drill = read_drill(tmp_path / "s0.yaml")
    with pytest.raises(TooLong, match=SENTENCE) as caught:
        expand(drill, Request(0), estimated_seconds)
    assert 3 <= caught.value.line <= 202
