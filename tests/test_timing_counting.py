"""Repetitions counted in Korean or Japanese, against published numerals.

Korean: the rules of Unicode CLDR, common/rbnf/ko.xml, spellout-cardinal-native (read at github.com/unicode-org/cldr),
written out below as they stand there and applied as UTS #35 tells; ICU 78 gave the same for 1, 10, 11, 20, 21 and 99.
Japanese: num2words, which reads numbers in kana. It reads 4 shi or yon, 7 shichi or nana, 9 kyu or ku; which of
them schools count with is common practice, no source.
"""

from __future__ import annotations

import pytest
from num2words.lang_JA import Num2Word_JA

from cornercue.script.faults import ScriptFaults
from cornercue.script.read import parse_drill
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.faults import TimingFault
from cornercue.timing.phrasebook import MOST_COUNTED, counted, phrasebook
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Timeline

CLDR_KOREAN = (
    "0: 영; 1: 하나; 2: 둘; 3: 셋; 4: 넷; 5: 다섯; 6: 여섯; 7: 일곱; 8: 여덟; 9: 아홉; 10: 열[ >>]; 20: 스물[>>]; "
    "30: 서른[>>]; 40: 마흔[>>]; 50: 쉰[>>]; 60: 예순[>>]; 70: 일흔[>>]; 80: 여든[>>]; 90: 아흔[>>]"
)


def by_rules(rules: str, n: int) -> str:
    """A number by such rules: the last rule not above it; what stands in [] only if something remains, at >>."""
    table = {int(value): text for value, text in (rule.split(": ", 1) for rule in rules.split("; "))}
    base = max(value for value in table if value <= n)
    head, _, tail = table[base].partition("[")
    return head + tail.rstrip("]").replace(">>", by_rules(rules, n - base)) if n > base else head


@pytest.mark.parametrize("n", range(1, MOST_COUNTED + 1))
def test_korean_numerals_are_the_native_ones_of_cldr(n: int) -> None:
    assert counted("korean", n) == by_rules(CLDR_KOREAN, n).replace(" ", "")


@pytest.mark.parametrize("n", range(1, MOST_COUNTED + 1))
def test_japanese_numerals_are_read_as_num2words_reads_them(n: int) -> None:
    """Ones with shi and shichi, tens with yon and nana; for 9, of its two readings, the short one."""
    tens, ones = n // 10 * 10, n % 10
    reader = Num2Word_JA()
    ten = reader.to_cardinal(tens, reading=True) if tens else ""
    one = reader.to_cardinal(ones, reading=True, prefer=["し", "しち"]) if ones else ""
    assert counted("japanese", n) == ten + ("く" if ones == 9 else one)


def test_the_first_ten_are_those_that_a_student_learns() -> None:
    """Hana dul set net daseot yeoseot ilgop yeodeol ahop yeol; ichi ni san shi go roku shichi hachi ku ju."""
    korean, japanese = "하나 둘 셋 넷 다섯 여섯 일곱 여덟 아홉 열", "いち に さん し ご ろく しち はち く じゅう"
    assert " ".join(counted("korean", n) for n in range(1, 11)) == korean
    assert " ".join(counted("japanese", n) for n in range(1, 11)) == japanese


def drill(counting: str, reps: int = 12) -> Timeline:
    text = f"drill: A\ncounting: {counting}\nsteps:\n- exercise: squats\n  reps: {reps}\n  sets: 2\n  rest: 20 s\n"
    return expand(parse_drill(text), Request(0), estimated_seconds)


@pytest.mark.parametrize("language", ["korean", "japanese"])
def test_only_the_repetitions_are_counted_in_the_language(language: str) -> None:
    line, english = drill(language), drill("english")
    counts = [cue for cue in line.cues if cue.rep]
    assert [cue.text for cue in counts] == [counted(language, n) for n in range(1, 13)] * 2
    rest = [cue.text for cue in line.cues if not cue.rep]
    assert rest == [cue.text for cue in english.cues if not cue.rep]
    assert [phrasebook().number(n) for n in (3, 2, 1)] == [cue.text for cue in line.cues if cue.kind == "count"][:3]


def test_counting_past_what_the_language_file_holds_is_refused_in_a_sentence() -> None:
    assert [cue.text for cue in drill("korean", 99).cues if cue.rep == 99] == ["아흔아홉"] * 2
    with pytest.raises(TimingFault, match="Korean goes to 99; ask for no more repetitions") as fault:
        drill("korean", 100)
    assert fault.value.line == 4
    assert drill("english", 100)


def test_another_language_is_named_with_those_that_there_are() -> None:
    with pytest.raises(ScriptFaults, match="korean"):
        parse_drill("drill: A\ncounting: koreen\nsteps:\n- rest: 9 s\n")
