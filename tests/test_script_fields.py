"""How durations, repetitions, paces and angles are written."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic_core import PydanticCustomError

from cornercue.script.doses import reps_of
from cornercue.script.fields import angle_of, pace_of, rest_of, seconds_of, yes_no_of


@pytest.mark.parametrize(
    ("written", "seconds"),
    [
        ("90", 90.0),
        ("90 s", 90.0),
        ("90s", 90.0),
        ("90 seconds", 90.0),
        ("1 second", 1.0),
        ("0.5 s", 0.5),
        ("1.5 min", 90.0),
        ("1 min 30 s", 90.0),
        ("1min30s", 90.0),
        ("1 m 30 secs", 90.0),
        ("2 MIN", 120.0),
        ("  3 minutes  ", 180.0),
        ("1:30", 90.0),
        ("0:05", 5.0),
        ("90:00", 5400.0),
        ("1:00:00", 3600.0),
        ("1 h 2 min 3 s", 3723.0),
        ("6 h", 21600.0),
        (90, 90.0),
        (1.5, 1.5),
    ],
)
def test_a_duration_is_read(written: object, seconds: float) -> None:
    assert seconds_of(written) == pytest.approx(seconds)


@pytest.mark.parametrize(
    "written",
    [
        "", " ", "soon", "s", "min 3", "90 x", "90 s please", "90 s 5", "1 min 30", "1.5.2 s", "1,5 min",
        "1:5", "1:75", "1:30 s", ":30", "1:", "1:2:3:4", "1e3", "1_000", "inf", "nan", "+5 s", "--5",
        "30 s 1 min", "1 min 1 min", "½ min", "0x10", "9" * 400, "9" * 400 + " s", "1 min, 30 s",
    ],
)  # fmt: skip
def test_leftover_text_in_a_duration_is_a_fault_never_a_zero(written: str) -> None:
    with pytest.raises(PydanticCustomError, match=r"is not a duration; write (?:for example `90 s`|`1\.5 min|`30 s)"):
        seconds_of(written)


@pytest.mark.parametrize("written", ["0", "0 s", "0:00", "-1", "-5.5", "7 h", "21601", "999999999", "99:999:59"])
def test_a_duration_without_sense_is_out_of_range(written: str) -> None:
    with pytest.raises(PydanticCustomError, match="more than 0 and at most 6 hours"):
        seconds_of(written)


@given(st.integers(1, 6 * 3600))
def test_a_duration_written_in_any_way_is_read_back(seconds: int) -> None:
    hours, rest = divmod(seconds, 3600)
    minutes, left = divmod(rest, 60)
    parts = [f"{count} {unit}" for count, unit in ((hours, "h"), (minutes, "min"), (left, "s")) if count]
    ways = [f"{seconds}", f"{seconds} s", " ".join(parts), "".join(parts).replace(" ", "")]
    ways.append(f"{hours}:{minutes:02}:{left:02}")
    if seconds % 15 == 0:
        ways.append(f"{seconds / 60} min")
    if seconds < 1000 * 60:
        ways.append(f"{seconds // 60}:{left:02}")
    for way in ways:
        assert seconds_of(way) == pytest.approx(seconds), way


@given(st.text(max_size=20) | st.from_regex(r"\A-?[0-9]{1,3}( ?(s|secs|min|MINS|h|hours|x)){0,2} ?[0-9:]{0,3}\Z"))
def test_any_text_is_wholly_a_duration_or_a_fault(text: str) -> None:
    """Accepted text matches a grammar written here anew, so nothing in it was skipped."""
    try:
        seconds = seconds_of(text)
    except PydanticCustomError:
        return
    units = ("h(ours?)?", "m(in(s|utes?)?)?", "s(ec(s|onds?)?)?")
    hours, minutes, lasts = (rf"(\d+(\.\d+)?\s*{unit}\s*)?" for unit in units)
    assert re.fullmatch(rf"\s*(\d+(\.\d+)?|(\d+:)?\d+:\d\d|{hours}{minutes}{lasts})\s*", text, re.IGNORECASE)
    assert 0 < seconds <= 6 * 3600


def test_a_rest_has_room_for_its_announcement_and_a_count() -> None:
    assert rest_of("3 s") == 3.0
    with pytest.raises(PydanticCustomError, match="too short for a rest"):
        rest_of("2.9 s")


def test_repetitions_may_grow_with_the_level() -> None:
    # Arithmetic of the trade, five a level: common practice, no source.
    assert reps_of("6").at(10) == 6
    assert [reps_of("5 per level").at(level) for level in (1, 2, 4, 10)] == [5, 10, 20, 50]
    assert [reps_of("6 to 15").at(level) for level in (1, 2, 4, 7, 10)] == [6, 7, 9, 12, 15]
    assert [reps_of("8 to 12").at(level) for level in range(1, 11)] == [8, 8, 9, 9, 10, 10, 11, 11, 12, 12]


@pytest.mark.parametrize(
    ("written", "why"),
    [
        ("0", "out of range; from 1 to 500"),
        ("501", "out of range; from 1 to 500"),
        ("999999", "out of range"),
        ("51 per level", "from 1 to 50 repetitions per level"),
        ("6 to 501", "from 1 to 500 repetitions"),
        ("15 to 6", "gets less from level to level; write `6 to 15`, or one number"),
        ("0 per level", "out of range"),
        ("-3", "not a number of repetitions"),
        ("1000000000000", "not a number of repetitions"),
        ("3.5", "not a number of repetitions"),
        ("five", "not a number of repetitions"),
        ("2 per set", "not a number of repetitions"),
        ("2 per level more", "not a number of repetitions"),
        ("", "not a number of repetitions"),
    ],
)
def test_absurd_repetitions_are_refused(written: str, why: str) -> None:
    with pytest.raises(PydanticCustomError, match=why):
        reps_of(written)


def test_a_pace_is_a_name_or_seconds_per_technique() -> None:
    assert [pace_of(name) for name in ("learning", "steady", "sharp")] == ["learning", "steady", "sharp"]
    assert pace_of("1.5 s") == 1.5
    with pytest.raises(PydanticCustomError, match=r"`stedy` is not a pace; did you mean `steady`\?"):
        pace_of("stedy")
    for bad in ("0.1", "11 s", "-1"):
        with pytest.raises(PydanticCustomError, match="out of range"):
            pace_of(bad)


@pytest.mark.parametrize(
    ("written", "degrees"),
    [("ahead", 0), ("left 45", 45), ("Left  45", 45), ("right 90 degrees", -90), ("behind", 180), ("right 180", 180)],
)
def test_angles_are_positive_to_the_students_left(written: str, degrees: int) -> None:
    assert angle_of(written) == degrees


@pytest.mark.parametrize("written", ["45", "left", "left 0", "left 181", "up 45", "left 45 or so", "left -45", ""])
def test_other_angles_are_refused(written: str) -> None:
    with pytest.raises(PydanticCustomError, match=r"not an angle|out of range"):
        angle_of(written)


def test_yes_and_no() -> None:
    assert [yes_no_of(word) for word in ("yes", "Yes", "true", True)] == [True] * 4
    assert [yes_no_of(word) for word in ("no", "NO", "false", False)] == [False] * 4
    with pytest.raises(PydanticCustomError, match="one of `yes`, `no`"):
        yes_no_of("perhaps")
