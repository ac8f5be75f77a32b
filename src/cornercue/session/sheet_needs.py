"""What a reading sheet must have so that drills speak in a recorded voice, and what a pack lacks of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from cornercue.errors import InputFault
from cornercue.script.club import Clubs
from cornercue.script.faults import Fault, ScriptFaults
from cornercue.script.model import Drill
from cornercue.script.read import read_drill
from cornercue.session.folders import scripts_in
from cornercue.session.layout import laid_out
from cornercue.session.overrides import AS_WRITTEN, Overrides, request_for
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.phrasebook import phrasebook
from cornercue.timing.timeline import CueKind
from cornercue.voice.pack import Pack
from cornercue.voice.pronunciation import Pronunciation
from cornercue.voice.reading_sheet import MOST_LINES, each_once, sheet_of, spoken_key

SIGNAL_WORDS = 3
"""What is said in so many words is a signal, what takes more a sentence."""

LARGEST_COUNT = 1000
"""Up to here counts are put in order."""


@dataclass(frozen=True, slots=True)
class Need:
    """A phrase that a drill may say, what kind of cue says it, and how it is said, as a voice is given it."""

    text: str
    kind: CueKind
    said: str


def sheet_text(scripts: Iterable[str | Path], asked: Overrides = AS_WRITTEN, pack: Pack | None = None) -> str:
    """One reading sheet for script files and whole folders; with `pack` only what that lacks, or has with a flaw.

    Raises `ScriptFaults` with what is wrong in any of them, since a sheet without their phrases would cost a second
    evening; and `InputFault` where nothing is lacking, or more than can be recorded in one go.
    """
    needed = _needs_of_all(scripts, asked)
    if pack:
        needed = [need for need in needed if not said_well(pack, need.text)]
        if not needed:
            raise InputFault(f"{pack.folder} lacks nothing that these drills say.")
    phrases = len(each_once(need.text for need in needed))
    if phrases > MOST_LINES:
        text = f"These drills say {phrases} phrases, and a sheet has {MOST_LINES} at most: name fewer of them"
        raise InputFault(f"{text}; `--lacking` then makes the sheet of the rest.")
    return sheet_of(reading_order(needed), {need.text: need.said for need in needed if need.said != need.text})


def _needs_of_all(paths: Iterable[str | Path], asked: Overrides) -> list[Need]:
    clubs, needed, faults = Clubs(), list[Need](), list[Fault]()
    for script in scripts_in(paths):
        try:
            needed += needs(str(script), read_drill(script, clubs), asked)
        except ScriptFaults as found:
            faults += found.faults
    if faults:
        raise ScriptFaults(faults)
    return needed


def needs(name: str, drill: Drill, asked: Overrides = AS_WRITTEN) -> list[Need]:
    """Everything that a drill may say, whatever its calls drawn at random. Raises `ScriptFaults`, of the file `name`.

    Timing asks for the length of every call that could be drawn, not only of those that one seed draws.
    """
    texts: dict[str, None] = {}

    def seconds(text: str, rate: float) -> float:
        texts[text] = None
        return estimated_seconds(text, rate)

    timeline = laid_out(name, drill, request_for(drill, asked), seconds)
    kinds = {cue.text: cue.kind for cue in timeline.spoken()}
    # Who reads the sheet needs no help with a word that is only said in another language.
    otherwise = {word: aloud for word, aloud in drill.said_aloud.items() if aloud.text.lower() != word}
    respelled = Pronunciation(otherwise).respelled
    return [Need(text, kinds.get(text, "call"), respelled(text)) for text in texts]


def lacking(name: str, drill: Drill, pack: Pack) -> list[str]:
    """What a drill may say, played as it is written, and the pack can neither say nor join."""
    return [text for text in each_once(need.text for need in needs(name, drill)) if not pack.has(text)]


def said_well(pack: Pack, text: str) -> bool:
    """Whether a pack has a recording of just this phrase, without a flaw."""
    entry = pack.entries.get(spoken_key(text))
    return entry is not None and not entry.flaws


def reading_order(needed: Sequence[Need]) -> Iterator[tuple[str, list[str]]]:
    """Counts in order, short calls before long ones, then signals, then sentences as the drills have them."""
    book = phrasebook()
    order = {book.number(n): n for n in range(LARGEST_COUNT)}
    counts = [need.text for need in needed if need.kind == "count"]
    calls = [need.text for need in needed if need.kind == "call"]
    rest = [need.text for need in needed if need.kind not in ("count", "call")]
    yield "Counts", sorted(counts, key=lambda text: order.get(text, LARGEST_COUNT))
    yield "Calls", sorted(calls, key=lambda text: (text.count(","), len(text.split())))
    yield "Signals", [text for text in rest if len(text.split()) <= SIGNAL_WORDS]
    yield "Sentences", [text for text in rest if len(text.split()) > SIGNAL_WORDS]
