"""Chapters in an MP3 file: somebody else's readers find each part, in order, at its time."""

from __future__ import annotations

import json
import shutil
import struct
import subprocess
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
import soundfile
from mutagen.id3 import ID3, CTOCFlags
from mutagen.mp3 import MP3

from cornercue.script.exercise import Exercise
from cornercue.script.model import Drill
from cornercue.script.read import parse_drill, read_drill
from cornercue.sound import SAMPLE_RATE
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.parts import finest
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Cue, Part, Timeline
from cornercue.track.chapters import add_chapters, spans
from cornercue.track.sound_files import write
from test_track_sound_files import spoken

DRILLS = Path(__file__).parent.parent / "drills"

SCRIPT = """\
drill: Two <hands> & a 🥊
gear: [a clear floor]
stance: both
steps:
- say: Hands up, chin down. Breathe.
- combination: [jab, cross]
  reps: 2
- rest: 30 s
- exercise: push-ups
  reps: 3
  sets: 2
- hold: side kick
  for: 5 s
- shadow: [[jab], [cross]]
  for: 20 s
- partner: [parry, cover]
  for: 20 s
- repeat: 2
  steps:
  - exercise: skipping
    for: 5 s
  - exercise: squats
    for: 5 s
- exercise: "‏כפיפות בטן"
  for: 5 s
"""

TITLES = (
    "Hands up, chin down. Breathe.", "Orthodox · Jab, cross", "Southpaw · Jab, cross",
    "Set 1 of 2 · Push-ups", "Set 2 of 2 · Push-ups", "Side kick",
    "Orthodox · Shadow boxing", "Southpaw · Shadow boxing", "Orthodox · Parry and cover", "Southpaw · Parry and cover",
    "Round 1 of 2 · Skipping", "Round 1 of 2 · Squats", "Round 2 of 2 · Skipping", "Round 2 of 2 · Squats",
    "‏כפיפות בטן",
)  # fmt: skip


def laid_out(drill: Drill) -> Timeline:
    return expand(drill, Request(seed=7), estimated_seconds)


@pytest.fixture(scope="module")
def timeline() -> Timeline:
    return laid_out(parse_drill(SCRIPT, "two.yaml"))


@pytest.fixture(scope="module")
def sound(timeline: Timeline, tmp_path_factory: pytest.TempPathFactory) -> Path:
    target = tmp_path_factory.mktemp("chapters") / "two.mp3"
    write(target, timeline, spoken)
    return target


def tag_of(path: Path) -> Any:
    reader: Any = ID3  # mutagen's types stop short of its frames.
    return reader(path)


def milliseconds(timeline: Timeline) -> list[int]:
    """The start of each part and the end of the last one, from the cues alone: 0, then each part's first."""
    firsts = [min(cue.start for cue in timeline.cues if cue.part == part) for part in range(1, len(TITLES))]
    return [0, *(round(first * 1000) for first in firsts), round(timeline.duration * 1000)]


# ---- What a reader finds (ID3v2 Chapter Frame Addendum 1.0, 2005; github.com/quodlibet/mutagen-specs) ----


def test_mutagen_reads_one_chapter_a_part_with_its_time_and_title(sound: Path, timeline: Timeline) -> None:
    tag = tag_of(sound)
    (contents,) = tag.getall("CTOC")
    assert contents.flags == CTOCFlags.TOP_LEVEL | CTOCFlags.ORDERED
    chapters = [tag[f"CHAP:{name}"] for name in contents.child_element_ids]
    assert len(chapters) == len(tag.getall("CHAP"))
    assert tuple(str(chapter.sub_frames["TIT2"]) for chapter in chapters) == TITLES
    times = milliseconds(timeline)
    assert [(chapter.start_time, chapter.end_time) for chapter in chapters] == [*pairwise(times)]
    assert str(tag["TIT2"]) == "Two <hands> & a 🥊"


def test_every_name_in_the_tag_is_used_once(sound: Path) -> None:
    tag = tag_of(sound)
    names = [frame.element_id for frame in tag.getall("CHAP") + tag.getall("CTOC")]
    assert len(names) == len(set(names))


def test_readers_go_by_the_time_and_not_by_an_offset(sound: Path) -> None:
    for chapter in tag_of(sound).getall("CHAP"):
        assert (chapter.start_offset, chapter.end_offset) == (0xFFFFFFFF, 0xFFFFFFFF)


def test_the_frames_stand_in_order_of_time(sound: Path, timeline: Timeline) -> None:
    """For readers that take chapters as they come; frame headers as in ID3v2.3.0, section 3.3, read here by hand."""
    data = sound.read_bytes()
    assert data[:5] == b"ID3\x03\x00"
    end = 10 + sum(byte << shift for byte, shift in zip(data[6:10], (21, 14, 7, 0), strict=True))
    kinds, starts, at = [], [], 10
    while at < end:
        kind, size = struct.unpack(">4sI", data[at : at + 8])
        body = data[at + 10 : at + 10 + size]
        if kind == b"CHAP":
            starts.append(struct.unpack(">I", body.partition(b"\0")[2][:4])[0])
        kinds.append(kind)
        at += 10 + size
    assert at == end
    assert kinds == [b"TIT2", b"CTOC"] + [b"CHAP"] * len(TITLES)
    assert starts == milliseconds(timeline)[:-1]
    assert data[end] == 0xFF  # There the first audio frame's sync begins (MPEG audio, from memory).


@pytest.mark.skipif(not shutil.which("ffprobe"), reason="needs ffprobe, of ffmpeg")
def test_ffprobe_reads_the_same_chapters(sound: Path, timeline: Timeline) -> None:
    command = ["ffprobe", "-v", "error", "-show_chapters", "-of", "json", str(sound)]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stderr == ""
    chapters = json.loads(done.stdout)["chapters"]
    times = milliseconds(timeline)
    assert [(round(float(one["start_time"]) * 1000), round(float(one["end_time"]) * 1000)) for one in chapters] == [
        *pairwise(times)
    ]
    assert tuple(one["tags"]["title"] for one in chapters) == TITLES


def test_the_sound_is_still_there_to_the_frame(sound: Path, timeline: Timeline) -> None:
    assert soundfile.info(sound).frames == round(timeline.duration * SAMPLE_RATE)
    # mutagen counts whole MPEG frames: the encoder's padding is in them, less than 0.2 s.
    reader: Any = MP3
    assert reader(sound).info.length == pytest.approx(timeline.duration, abs=0.2)


def test_the_same_drill_gives_the_same_bytes(sound: Path, timeline: Timeline, tmp_path: Path) -> None:
    write(tmp_path / "again.mp3", timeline, spoken)
    assert (tmp_path / "again.mp3").read_bytes() == sound.read_bytes()


def test_a_table_of_contents_holds_no_more_than_its_one_byte_can_count(tmp_path: Path) -> None:
    cues = tuple(Cue(float(n), n + 0.5, "say", f"Step {n}.", n + 1, n) for n in range(300))
    parts = tuple(Part(f"Step {n}", "say", n + 1, float(n), n + 1.0) for n in range(300))
    long = Timeline("Long", 1, 7, "none", 300.0, cues, (), (), parts)
    (tmp_path / "long.mp3").touch()
    add_chapters(tmp_path / "long.mp3", long)
    tag = tag_of(tmp_path / "long.mp3")
    (contents,) = tag.getall("CTOC")
    assert len(contents.child_element_ids) == len(tag.getall("CHAP")) == 255
    last = tag[f"CHAP:{contents.child_element_ids[-1]}"]
    assert (last.start_time, last.end_time, str(last.sub_frames["TIT2"])) == (254_000, 300_000, "Step 254")


def test_rounds_are_the_chapters_where_their_parts_are_too_many() -> None:
    steps = "".join(f"  - exercise: number {n}\n    for: 5 s\n" for n in range(6))
    line = laid_out(parse_drill(f"drill: Many\nsteps:\n- say: Hello.\n- repeat: 50\n  steps:\n{steps}", "many.yaml"))
    assert len(finest(line.parts)) == 301
    titles = [title for _, _, title in spans(line)]
    assert titles == ["Hello.", *(f"Round {n} of 50" for n in range(1, 51))]


# ---- Parts ----


@pytest.mark.parametrize("path", sorted(DRILLS.glob("*.yaml")), ids=lambda path: path.stem)
def test_every_part_of_a_demo_drill_has_a_chapter_and_no_second_is_without_one(path: Path) -> None:
    line = laid_out(read_drill(path))
    found = spans(line)
    assert [title for _, _, title in found] == [part.told for part in finest(line.parts)]
    assert [start for start, _, _ in found] == [0, *(end for _, end, _ in found[:-1])]
    assert found[-1][1] == round(line.duration * 1000)
    for start, end, title in found:
        assert start < end
        assert 0 < len(title) <= 90


def test_an_included_drill_is_known_by_its_title_and_holds_its_steps() -> None:
    line = laid_out(read_drill(DRILLS / "evening.yaml"))
    warm_up = read_drill(DRILLS / "warm-up.yaml")
    assert (line.parts[1].kind, line.parts[1].title) == ("include", warm_up.drill)
    inner = [part.title for part in line.parts[1].parts if part.kind == "exercise"]
    written = [step.exercise for step in warm_up.steps if isinstance(step, Exercise)]
    assert inner == [f"{name[:1].upper()}{name[1:]}" for name in written]


def test_a_first_step_is_known_by_itself_and_not_by_the_cautions_before_it() -> None:
    script = "drill: Feed\ngear: [a soft stick]\nsteps:\n- partner: [parry]\n  for: 20 s\n"
    assert titles_of(script) == ["Parry"]


def test_a_title_with_a_full_stop_in_it_stays_whole() -> None:
    script = (
        "drill: Names\nsteps:\n- exercise: St. George's salute\n  reps: 3\n- say: St. George's salute. Once more.\n"
    )
    assert titles_of(script) == ["St. George's salute", "St. George's salute. Once more."]


def test_words_that_sound_like_the_engines_own_are_a_title_like_others() -> None:
    script = "drill: Words\nsteps:\n- say: Round one of two.\n- say: Rest.\n- exercise: rest\n  reps: 2\n"
    assert titles_of(script) == ["Round one of two.", "Rest.", "Rest"]


def test_a_long_sentence_is_cut_where_a_phone_would_cut_it() -> None:
    (title,) = titles_of(f"drill: Long\nsteps:\n- say: {'very ' * 30}long\n")
    assert len(title) <= 60
    assert title.startswith("Very very")
    assert title.endswith("…")


def test_a_rest_that_follows_nothing_is_a_part_of_its_own() -> None:
    assert titles_of("drill: First\nsteps:\n- rest: 20 s\n- exercise: squats\n  reps: 2\n") == ["Rest", "Squats"]


def titles_of(script: str) -> list[str]:
    return [part.told for part in finest(laid_out(parse_drill(script, "any.yaml")).parts)]


def test_a_timeline_without_parts_has_no_chapters() -> None:
    assert spans(Timeline("Nothing", 1, 7, "none", 0.0, (), ())) == []
