"""The harness of the benchmarks: what it prints, when it fails, and that a benchmark runs through it."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from benchmarks import harness
from benchmarks.harness import Figure, LeftOut, report, side_by_side

BENCHMARKS = Path(harness.__file__).parent


def test_a_figure_is_one_line_with_its_limit_and_whether_that_is_kept(capsys: pytest.CaptureFixture[str]) -> None:
    assert not report([Figure("loading", 0.1234, "s"), Figure("size", 1.5, "MB", 1.5), Figure("more", 3.01, "x", 3)])
    lines = [re.split(r" {2,}", line) for line in capsys.readouterr().out.splitlines()]
    assert lines == [
        ["loading", "0.123 s"],
        ["size", "1.50 MB", "limit 1.50 MB", "ok"],
        ["more", "3.01 x", "limit 3 x", "FAIL"],
    ]


def test_what_is_left_out_says_why_and_passes_no_limit(capsys: pytest.CaptureFixture[str]) -> None:
    assert report([LeftOut("sox joining", "there is no sox"), Figure("size", 1.0, "MB", 1.5)])
    assert re.match(r"sox joining +left out: there is no sox\n", capsys.readouterr().out)


def test_ways_take_turns_after_one_that_warms_up_and_the_median_counts() -> None:
    order: list[str] = []
    hours = iter([0.0, 5.0, 5.0, 6.0, 6.0, 7.0, 7.0, 9.0, 9.0, 10.0, 10.0, 13.0])
    ways = {name: lambda name=name: order.append(name) for name in ("one", "two")}
    assert side_by_side(ways, 3, lambda: next(hours)) == {"one": 1.0, "two": 2.0}
    assert order == ["one", "two"] * 4


def test_a_process_is_measured_without_whoever_started_it() -> None:
    ballast = bytearray(80_000_000)
    ran = harness.process(sys.executable, "-c", "import time; time.sleep(0.2); print('done')")
    big = harness.process(sys.executable, "-c", "bytearray(b'1') * 60_000_000")
    assert ran.output == "done\n"
    assert ran.seconds >= 0.2
    assert ran.megabytes < len(ballast) / 1e6 / 2
    assert big.megabytes - ran.megabytes == pytest.approx(57, abs=6)


def test_a_process_that_fails_ends_the_benchmark() -> None:
    with pytest.raises(SystemExit, match="ended with 3"):
        harness.process(sys.executable, "-c", "raise SystemExit(3)")


def ran(*arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, str(BENCHMARKS), *arguments]
    return subprocess.run(command, capture_output=True, text=True, check=False)


def test_the_quickest_benchmark_runs_and_its_code_says_what_its_line_says() -> None:
    done = ran("expand")
    assert done.stderr == ""
    assert re.fullmatch(r"10000 cues laid out +\S+ s +limit 0\.500 s +(ok|FAIL)\n", done.stdout)
    assert (done.returncode == 0) == done.stdout.endswith("ok\n")


def test_every_file_beside_the_harness_is_a_benchmark_and_an_unknown_name_is_refused() -> None:
    done = ran("nothing")
    assert done.returncode == 2
    assert "invalid choice: 'nothing'" in done.stderr
    names = {path.stem for path in BENCHMARKS.glob("[!_]*.py")} - {"harness"}
    assert names == set(re.findall(r"\w+", ran("--help").stdout.partition("NAME  ")[2].partition("options:")[0]))
