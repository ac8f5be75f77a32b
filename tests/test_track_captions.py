"""Captions: WebVTT by the W3C's rules, with each text as it was written, at the time of its sound."""

from __future__ import annotations

import errno
import html
import re
from dataclasses import dataclass
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from cornercue.cli.main import commands
from cornercue.errors import InputFault, MachineLacks
from cornercue.timing.timeline import Cue, Timeline
from cornercue.track.captions import TONES, captioned, captions
from test_track_sound_files import drill


@dataclass(frozen=True)
class Caption:
    """A caption as a player understands it; times in milliseconds."""

    start: int
    end: int
    text: str


class NotWebVTT(Exception):
    """A file breaks one of the rules."""


# ---- A checker from the rules: W3C WebVTT, section 4, Syntax (github.com/w3c/webvtt, index.bs) ----

STAMP = r"(?:(\d{2,}):)?([0-5]\d):([0-5]\d)\.(\d{3})"
"""Hours of two digits or more, needed where they are not 0; minutes and seconds 00 to 59; three digits of a second."""
TIMING = re.compile(rf"{STAMP}[ \t]+-->[ \t]+{STAMP}", re.ASCII)
PLAIN = re.compile(r"(?:[^&<]|&(?:amp|lt|gt|lrm|rlm|nbsp);)*")
"""Cue text without tags: neither `<` nor an `&` that begins no escape."""


def read_webvtt(data: bytes) -> list[Caption]:
    """The captions of a file without regions, styles, comments, settings and tags; raises `NotWebVTT`."""
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as fault:
        raise NotWebVTT("it is not UTF-8") from fault
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    head, parted, body = text.partition("\n\n")
    if not re.fullmatch(r"WEBVTT(?:[ \t].*)?", head):
        raise NotWebVTT("it does not begin with WEBVTT on a line of its own")
    if not parted:
        raise NotWebVTT("two line ends belong after WEBVTT")
    if body and not body.endswith("\n"):
        raise NotWebVTT("the last caption has no line end")
    blocks = [block for block in re.split(r"\n{2,}", body.strip("\n")) if block]
    names = [first for block in blocks if "-->" not in (first := block.split("\n")[0])]
    if len(names) != len(set(names)):
        raise NotWebVTT("two captions share a name")
    found = [_caption(block.split("\n")) for block in blocks]
    if [caption.start for caption in found] != sorted(caption.start for caption in found):
        raise NotWebVTT("a caption starts before the one above it")
    return found


def _caption(lines: list[str]) -> Caption:
    timing, *payload = lines if "-->" in lines[0] else lines[1:] or [""]
    match = TIMING.fullmatch(timing)
    if match is None:
        raise NotWebVTT(f"this is no timing: {timing!r}")
    start, end = _milliseconds(match.groups()[:4]), _milliseconds(match.groups()[4:])
    if end <= start:
        raise NotWebVTT("a caption ends before it starts")
    text = "\n".join(payload)
    if "-->" in text or not PLAIN.fullmatch(text):
        raise NotWebVTT(f"this text is not escaped: {text!r}")
    return Caption(start, end, html.unescape(text))


def _milliseconds(parts: tuple[str | None, ...]) -> int:
    hours, minutes, seconds, thousandths = (int(part or 0) for part in parts)
    return ((hours * 60 + minutes) * 60 + seconds) * 1000 + thousandths


GOOD = "WEBVTT\n\n1\n00:01.000 --> 00:02.000\nJab\n\n2\n00:00:01.000\t-->  100:00:02.000\nFish &amp; chips &lt;b&gt;\n"


def test_the_checker_reads_a_file_that_follows_the_rules() -> None:
    expected = [Caption(1000, 2000, "Jab"), Caption(1000, 360_002_000, "Fish & chips <b>")]
    assert read_webvtt(GOOD.encode()) == expected
    assert read_webvtt(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode()) == expected
    assert read_webvtt(GOOD.replace("\n", "\r").replace("WEBVTT", "WEBVTT by hand").encode()) == expected
    assert read_webvtt(b"WEBVTT\n\n") == []


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("WEBVTT", "WEBVT"),
        ("WEBVTT", "WEBVTTX"),
        ("WEBVTT\n\n", "WEBVTT\n"),
        ("00:02.000\n", "00:01.000\n"),  # an end that is not after its start
        ("00:02.000\n", "00:00.999\n"),
        ("00:00:01.000\t", "00:00:00.999\t"),  # a start before the one above
        ("01.000 -->", "01.00 -->"),
        ("01.000 -->", "01,000 -->"),
        ("00:01.000 ", "0:01.000 "),
        ("00:01.000 ", "60:01.000 "),
        ("00:01.000 ", "00:60.000 "),
        ("100:00:02.000", "1:00:02.000"),
        (" --> 00:02.000", "--> 00:02.000"),
        ("-->", "->"),
        ("\n2\n", "\n1\n"),  # a name given twice
        ("1\n00:01.000", "1\n\n00:01.000"),  # a name alone
        ("&amp;", "&"),
        ("&lt;", "<"),
        ("Jab", "Jab --> Cross"),
        ("Jab", "Jab\n\nCross"),  # an empty line inside a text
        ("&lt;b&gt;\n", "&lt;b&gt;"),
    ],
)
def test_the_checker_refuses_a_file_that_breaks_one(right: str, wrong: str) -> None:
    assert right in GOOD
    with pytest.raises(NotWebVTT):
        read_webvtt(GOOD.replace(right, wrong, 1).encode())


def test_the_checker_refuses_what_is_not_utf_8() -> None:
    with pytest.raises(NotWebVTT):
        read_webvtt(GOOD.replace("Jab", "Jáb").encode("latin-1"))


# ---- The captions ----


def line(*cues: Cue, seconds: float = 30_000.0) -> Timeline:
    return Timeline("Rear hand first", 1, 7, "none", seconds, cues, ())


def say(start: float, text: str, end: float | None = None) -> Cue:
    return Cue(start, start + 0.4 if end is None else end, "say", text, 1, 0)


def read(timeline: Timeline) -> list[Caption]:
    return read_webvtt(captions(timeline).encode())


AWKWARD = [
    "<b>Hands</b> up & <i>chin</i> down", "say \"one\", 'two'", "</script><script>alert(1)</script>", "&amp;",
    "&lt;-->", "left --> right", "-->", "🥊 and 👩‍👧", "ידיים למעלה, then jab", "ارفع يديك", "\u202ejab\u202c", "NOTE",
    "WEBVTT", "STYLE", "00:01.000 --> 00:02.000", "a\n\nb", "a\r\rb", "a\u2028b", "a\x85b",
]  # fmt: skip
texts = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=40) | st.sampled_from(AWKWARD)
moments = st.floats(0, 7 * 3600, allow_nan=False)


@given(st.lists(st.tuples(moments, st.floats(0, 5), texts), max_size=8))
def test_any_text_at_any_time_makes_a_file_that_follows_the_rules(said: list[tuple[float, float, str]]) -> None:
    cues = [say(at, text, at + seconds) for at, seconds, text in sorted(said)]
    shown = read(line(*cues))
    told = [(cue, " ".join(cue.text.split())) for cue in cues if cue.text.strip()]
    assert [caption.text for caption in shown] == [text for _, text in told]
    for caption, (cue, _) in zip(shown, told, strict=True):
        assert caption.start == pytest.approx(cue.start * 1000, abs=0.5001)
        assert caption.end >= cue.end * 1000 - 0.5001


@pytest.mark.parametrize("text", AWKWARD)
def test_an_awkward_text_is_shown_as_it_was_written(text: str) -> None:
    (caption,) = read(line(say(1.0, text)))
    assert caption.text == " ".join(text.split())


def test_times_that_round_to_the_same_millisecond_keep_their_order_and_their_end() -> None:
    first, second = read(line(say(1.00049, "jab", 1.00049), say(1.0005001, "cross", 1.0005002)))
    assert (first.start, first.end, second.start) == (1000, 1001, 1001)
    assert second.end > second.start


def test_a_minute_never_rounds_to_sixty_seconds() -> None:
    (caption,) = read(line(say(3599.9996, "jab")))
    assert caption.start == 3_600_000


def test_a_short_call_stays_for_a_second_unless_the_next_one_comes() -> None:
    shown = read(line(say(1.0, "jab", 1.3), say(1.6, "cross", 1.9), say(5.0, "hook", 5.2)))
    assert [(caption.start, caption.end) for caption in shown] == [(1000, 1600), (1600, 2600), (5000, 6000)]


def test_no_caption_is_left_standing_after_the_drill() -> None:
    (caption,) = read(line(say(1.0, "jab", 1.3), seconds=1.3))
    assert caption.end == 1300


def test_each_tone_has_its_own_word_in_brackets() -> None:
    tones = [Cue(at, at + 0.6, "tone", "", 1, 0, tone=tone) for at, tone in enumerate(TONES)]
    assert [caption.text for caption in read(line(*tones))] == ["[start]", "[nearly over]", "[end]"]


def test_a_prompt_for_the_feeder_alone_says_so() -> None:
    prompt = Cue(1.0, 2.0, "call", "Wide swing from your left", 1, 0, listener="feeder")
    call = Cue(3.0, 4.0, "call", "cover right", 1, 0, listener="student")
    shown = [caption.text for caption in read(line(prompt, call))]
    assert shown == ["Feeder: Wide swing from your left", "cover right"]


# ---- The file ----


def test_captions_are_there_once_the_sound_is(tmp_path: Path) -> None:
    sound = tmp_path / "drill.mp3"
    with captioned(sound, drill()) as path:
        assert path == tmp_path / "drill.vtt"
        assert not path.exists()
    assert len(read_webvtt(path.read_bytes())) == len(drill().cues)
    assert [*tmp_path.iterdir()] == [path]


def test_a_render_that_stops_leaves_no_captions_and_older_ones_as_they_were(tmp_path: Path) -> None:
    (tmp_path / "drill.vtt").write_text("last week's")
    with pytest.raises(KeyboardInterrupt), captioned(tmp_path / "drill.mp3", drill()):
        raise KeyboardInterrupt
    assert [*tmp_path.iterdir()] == [tmp_path / "drill.vtt"]
    assert (tmp_path / "drill.vtt").read_text() == "last week's"


def test_a_folder_in_the_way_is_told_before_any_sound_is_made(tmp_path: Path) -> None:
    (tmp_path / "drill.vtt").mkdir()
    with pytest.raises(InputFault, match="that is not a file"), captioned(tmp_path / "drill.mp3", drill()):
        pytest.fail("it went on")


def test_a_full_disk_leaves_no_captions_and_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(path: Path, data: bytes) -> int:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(MachineLacks, match="the disk may be full"), captioned(tmp_path / "drill.mp3", drill()):
        pytest.fail("it went on")
    assert [*tmp_path.iterdir()] == []


SCRIPT = """\
drill: One & two
gear: [a clear floor]
steps:
- say: "Watch <this> --> “here” 🥊"
- combination: [jab, cross]
  reps: 2
"""


def test_render_writes_captions_beside_the_sound_when_asked(tmp_path: Path) -> None:
    (tmp_path / "one.yaml").write_text(SCRIPT, encoding="utf-8")
    arguments = ["render", str(tmp_path / "one.yaml"), "-o", str(tmp_path / "one.wav")]
    assert CliRunner().invoke(commands, arguments).exit_code == 0
    assert not (tmp_path / "one.vtt").exists()
    result = CliRunner().invoke(commands, [*arguments, "--captions"])
    assert result.exit_code == 0, result.output
    assert str(tmp_path / "one.vtt") in result.output
    shown = [caption.text for caption in read_webvtt((tmp_path / "one.vtt").read_bytes())]
    assert "One & two. Level one." in shown
    assert "Watch <this> --> “here” 🥊" in shown
    assert shown.count("jab, cross") == 2
