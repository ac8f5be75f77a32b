"""The values that a script's fields hold: how each is written, and what is wrong with what is not."""

from __future__ import annotations

import re
import unicodedata
from typing import Annotated, Any

from pydantic import BeforeValidator, PlainValidator
from pydantic.config import JsonDict
from pydantic_core import PydanticCustomError

from cornercue.ages import OLDEST, YOUNGEST, Ages, ages_in
from cornercue.script.described import as_schema, described
from cornercue.script.slips import angle_meant, count_meant, duration_meant, is_ambiguous
from cornercue.script.written import parted
from cornercue.spelling import offer
from cornercue.technique.table import PACES, PaceName

MAX_SECONDS = 6 * 3600.0
"""The longest duration, and the longest drill. Own choice."""


def wrong(text: str) -> PydanticCustomError:
    """A fault of ours, already a sentence; without a context pydantic leaves its braces alone."""
    return PydanticCustomError("cornercue", text)


_UNITS = {
    1.0: ("s", "sec", "secs", "second", "seconds"),
    60.0: ("min", "mins", "minute", "minutes", "m"),
    3600.0: ("h", "hour", "hours"),
}
_UNIT = {word: seconds for seconds, words in _UNITS.items() for word in words}
_PART = re.compile(r"\s*(\d+(?:\.\d+)?)\s*([a-z]+)", re.IGNORECASE)


def seconds_of(value: Any) -> float:
    """A duration in seconds: `90`, `90 s`, `1.5 min`, `1 min 30 s`, `1:30`. Nothing is left over."""
    text = str(value).strip()
    total = _clock(text) if ":" in text else _plain(text)
    if is_ambiguous(text):
        raise wrong(f"`{text}` can be read in two ways; {duration_meant(text)}")
    if total is None:
        usual = "write for example `90 s`, `1.5 min`, `1 min 30 s` or `1:30`"
        raise wrong(f"`{text}` is not a duration; {duration_meant(text) or usual}")
    if not 0 < total <= MAX_SECONDS:
        raise wrong(f"`{text}` is out of range; a duration is more than 0 and at most 6 hours")
    return total


def gap_of(value: Any) -> tuple[float, float]:
    """A random gap from call to call, `[2 s, 5 s]`: the shortest and the longest, in seconds."""
    ends = value.split(",") if isinstance(value, str) else value
    if not isinstance(ends, list) or len(ends) != 2:
        raise wrong("a gap has a shortest and a longest: write for example `[2 s, 5 s]`")
    least, most = seconds_of(ends[0]), seconds_of(ends[1])
    if least >= most:
        raise wrong(f"the gap `[{ends[0]}, {ends[1]}]` has no room; the second is longer than the first")
    return least, most


def rest_of(value: Any) -> float:
    """A rest in seconds: long enough to say so and to count the student in again."""
    seconds = seconds_of(value)
    if seconds < 3:
        raise wrong(f"`{value}` is too short for a rest; 3 seconds is the least that can be called and counted in")
    return seconds


def _clock(text: str) -> float | None:
    found = re.fullmatch(r"(?:(\d{1,2}):)?(\d{1,3}):([0-5]\d)", text)
    return int(found[1] or 0) * 3600.0 + int(found[2]) * 60.0 + int(found[3]) if found else None


def _plain(text: str) -> float | None:
    if re.fullmatch(r"-?\d{1,9}(?:\.\d{1,9})?", text):
        return float(text)
    total, at, last = 0.0, 0, float("inf")
    while found := _PART.match(text, at):
        unit = _UNIT.get(found[2].lower())
        if unit is None or unit >= last or len(found[1]) > 12:
            return None
        total, at, last = total + float(found[1]) * unit, found.end(), unit
    return total if at and not text[at:].strip() else None


def _whole_of(least: int, most: int, what: str) -> Any:
    """A validator for a whole number within bounds."""

    def check(value: Any) -> int:
        found = re.fullmatch(r"\s*-?\d{1,9}\s*", str(value))
        if isinstance(value, dict | list):
            raise wrong(f"one number belongs here, the same at every level; {what} from {least} to {most}")
        if not found:
            usual = f"{what} from {least} to {most}"
            raise wrong(f"`{value}` is not a whole number; {count_meant(str(value)) or usual}")
        if not least <= int(value) <= most:
            raise wrong(f"`{str(value).strip()}` is out of range; {what} from {least} to {most}")
        return int(value)

    return check


def pace_of(value: Any) -> PaceName | float:
    """`learning`, `steady`, `sharp`, or seconds per technique from 0.2 to 10."""
    text = str(value).strip()
    for name in PACES:
        if text == name:
            return name
    if not re.match(r"[\d.-]", text):
        raise wrong(f"`{text}` is not a pace; {offer(text, PACES)}, or seconds per technique such as `1.5 s`")
    seconds = seconds_of(text)
    if not 0.2 <= seconds <= 10:
        raise wrong(f"`{text}` per technique is out of range; from 0.2 to 10 seconds")
    return seconds


def ages_of(value: Any) -> Ages:
    """`7-9`, `7 to 9` or `9`: an age band of juniors, in years."""
    found = ages_in(str(value))
    if found is None:
        raise wrong(
            f"`{value}` is not an age band of juniors; write for example `7-9`, from {YOUNGEST} to {OLDEST} years, or "
            "`junior: no` for adults"
        )
    return found


def angle_of(value: Any) -> int:
    """`ahead`, `left 30`, `right 90`, `behind`: degrees, positive to the student's left."""
    text = " ".join(str(value).lower().split())
    if text in ("ahead", "behind"):
        return 0 if text == "ahead" else 180
    found = re.fullmatch(r"(left|right) (\d{1,4})(?: degrees)?", text)
    if not found:
        usual = "write `ahead`, `behind`, or for example `right 90`"
        raise wrong(f"`{value}` is not an angle; {angle_meant(text) or usual}")
    degrees = int(found[2])
    if not 1 <= degrees <= 180:
        raise wrong(f"`{value}` is out of range; turns go from 1 to 180 degrees")
    return degrees if found[1] == "left" or degrees == 180 else -degrees


def _words_of(most: int) -> Any:
    """A validator for text: one line of at most `most` characters with a word in it, without control characters."""

    def check(value: Any) -> str:
        if not isinstance(value, str):
            raise wrong("text belongs here; put it in quotes if it holds a colon or starts with - or [")
        text = " ".join(value.split())
        if not text:
            raise wrong("the text is missing")
        if len(text) > most:
            raise wrong(f"the text has {len(text)} characters; at most {most} fit here")
        if any(unicodedata.category(character) in ("Cc", "Cs", "Co") for character in text):
            raise wrong("the text holds a character that cannot be shown; delete it")
        braces = re.search(r"\{(?!left\}|right\})(lead|rear|[Ll][a-z]+t|[Rr][a-z]+t)\}", text)
        if braces:
            raise wrong(f"`{braces[0]}` is not filled in; write `{{left}}` or `{{right}}`: they go with the stance")
        if not any(character.isalnum() for character in text):
            raise wrong(f"there is nothing to say in `{text}`; write words")
        return text

    return check


def _listed(most: int) -> Any:
    def check(value: Any) -> list[Any]:
        if isinstance(value, str):
            value = parted(value, ",")
        if not isinstance(value, list) or not value or value == [""]:
            raise wrong("a list belongs here: `[a, b]`, or text with commas")
        if len(value) > most:
            raise wrong(f"the list has {len(value)} entries; at most {most} fit here")
        return value

    return check


def _choice_of(*known: str, why: str = "") -> Any:
    """A validator for one of a few words; `why` tells what they are where none is near."""

    def check(value: Any) -> str:
        text = str(value).strip()
        if text not in known:
            raise wrong(f"`{text}` is not known here; {offer(text, known, why)}")
        return text

    return check


def yes_no_of(value: Any) -> bool:
    """`yes` or `no`; YAML's `true` and `false` too."""
    return _choice_of("yes", "no", "true", "false")(str(value).lower()) in ("yes", "true")


def _validator(check: Any, name: str) -> PlainValidator:
    return PlainValidator(check, json_schema_input_type=described(name))


def whole(least: int, most: int, what: str) -> PlainValidator:
    """For `Annotated[int, ...]`: a whole number within bounds; `what` begins the fault ("levels go")."""
    shape: JsonDict = {"type": ["integer", "string"], "minimum": least, "maximum": most, "pattern": r"^\s*\d{1,9}\s*$"}
    return PlainValidator(_whole_of(least, most, what), json_schema_input_type=as_schema(shape))


def choice(*known: str, why: str = "") -> PlainValidator:
    """For `Annotated[Literal[...], ...]`: one of a few words; `why` tells what they are."""
    return PlainValidator(_choice_of(*known, why=why), json_schema_input_type=as_schema({"enum": [*known]}))


def as_list(name: str, most: int) -> BeforeValidator:
    """For `Annotated[tuple[...], ...]`: a YAML list, or text with commas as one; `name` describes the whole of it."""
    return BeforeValidator(_listed(most), json_schema_input_type=described(name))


Duration = Annotated[float, _validator(seconds_of, "Duration")]
Pace = Annotated[PaceName | float, _validator(pace_of, "Pace")]
Angle = Annotated[int, PlainValidator(angle_of)]
AgeBand = Annotated[Ages, _validator(ages_of, "Ages")]
text_of = _words_of(300)
Text = Annotated[str, _validator(text_of, "Text")]
short_of = _words_of(80)
Short = Annotated[str, _validator(short_of, "Short")]
YesNo = Annotated[bool, _validator(yes_no_of, "YesNo")]
Gap = Annotated[tuple[float, float], _validator(gap_of, "Gap")]
