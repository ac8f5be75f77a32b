"""The names that a script may write, as patterns made from the vocabulary: what the lookup finds, in whatever case."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from cornercue.feed.table import FED
from cornercue.script.patterns import END, GAP, any_case
from cornercue.script.position import ENDINGS, HIGH_KNEE
from cornercue.script.schema_texts import BAD_TEXT, SIGN
from cornercue.technique.sides import LIMBS, SIDES
from cornercue.technique.table import Technique
from cornercue.technique.vocabulary import Vocabulary

NUMBERED = r"\s*[1-6]b?(?:\s*-\s*[1-6]b?)+\s*"
"""A run of punch numbers, such as 1-2-3b."""

_SIDE = any_case((*SIDES, *LIMBS))
_BEFORE = rf"{GAP}*{_SIDE}{GAP}"
_AFTER = rf"[^,]*{GAP}{_SIDE}{GAP}*{END}"


def only(known: Vocabulary, fits: Callable[[Technique], bool]) -> Vocabulary:
    """The names of the techniques that fit."""
    names = {name: technique for name, technique in known.names.items() if fits(technique)}
    bases = {
        base: {limb: technique for limb, technique in limbs.items() if fits(technique)}
        for base, limbs in known.bases.items()
    }
    return Vocabulary(names, {base: limbs for base, limbs in bases.items() if limbs})


def technique(known: Vocabulary) -> str:
    """One technique, with its side; spaces around it."""
    both = {base for base, limbs in known.bases.items() if len(limbs) > 1} | _sided(known)
    alone = [name for name in known.names if not (name.startswith(("lead ", "rear ")) and name[5:] in both)]
    one_sided = [
        _with_side({base for base, limbs in known.bases.items() if [*limbs] == [limb]}, any_case((limb, *SIDES)))
        for limb in LIMBS
    ]
    return rf"{GAP}*(?:{'|'.join([_with_side(both, _SIDE), *one_sided, any_case(alone)])}){GAP}*"


def _sided(known: Vocabulary) -> set[str]:
    return {name for name, technique in known.names.items() if technique.sided}


def _with_side(names: Iterable[str], sides: str) -> str:
    """These names, with a side before or after, and not both."""
    return rf"(?=(?!{_BEFORE}{_AFTER})(?:{_BEFORE}|{_AFTER})){_side_or_not(names, sides)}"


def _side_or_not(names: Iterable[str], sides: str = _SIDE) -> str:
    return rf"(?:{sides}{GAP}+)?{any_case(names)}(?:{GAP}+{sides})?"


def defence(known: Vocabulary) -> str:
    """A defence that is fed, without a side; space around it."""
    return rf"{GAP}*{any_case(name for name, found in known.names.items() if found.name in FED)}{GAP}*"


def call(known: Vocabulary) -> str:
    """A call of reactions: any words, but for a technique that leaves its side open and for several in one."""
    return (
        rf"(?!{GAP}*{any_case(_open(known))}{GAP}*{END})(?!{NUMBERED}{END})"
        rf"(?=[^,]*{SIGN})\s*(?:[^\s,]|\s+(?=[^\s,])){{1,40}}\s*"
    )


def _open(known: Vocabulary) -> list[str]:
    return [base for base in known.bases if base not in known.names]


_CHAMBER = rf"{any_case(('chamber', 'chambered'))}"
_OF = rf"(?:{GAP}+{any_case(('of', 'for'))})?(?:{GAP}+{any_case(('the', 'a', 'an'))})?"


def position(known: Vocabulary) -> str:
    """What a hold names: a technique, a chamber, or free words that nobody takes for a technique."""
    raised = {name for name in (*known.names, *known.bases) if _has_chamber(name, known)}
    still = {name for name in known.names if name not in raised}
    knees = {name.replace("knee", HIGH_KNEE) for name in raised if "knee" in name}
    chamber = rf"(?:{_CHAMBER}{_OF}{GAP}+)?{_side_or_not(_bare(raised))}(?:{GAP}+{_CHAMBER})?"
    held = rf"{_side_or_not(_bare((still & _sided(known)) | knees))}|{any_case(still)}"
    both_sides = rf"(?!{_BEFORE}{_AFTER})"
    return rf"{GAP}*(?:{both_sides}(?:{chamber}|{held})|{_free(known)}|.*\S{GAP}+{_CHAMBER}{GAP}+\S.*){GAP}*"


def _has_chamber(name: str, known: Vocabulary) -> bool:
    found = known.names.get(name) or next(iter(known.bases[name].values()))
    return found.kind in ("strike", "kick", "defence")


def _bare(names: Iterable[str]) -> set[str]:
    return {name.removeprefix("lead ").removeprefix("rear ") for name in names}


def _free(known: Vocabulary) -> str:
    bases = {technique.base for technique in known.names.values()}
    words = [base.split() for base in bases]
    parts = {" ".join(part) for base in words for at in range(1, len(base)) for part in (base[:at], base[at:])}
    endings = any_case(ENDINGS)
    return (
        rf"(?!{_BEFORE}|{_AFTER}|(?:.*{GAP})?(?:{endings}){GAP}*$|{any_case(parts)}{GAP}*$|.*{any_case((HIGH_KNEE,))}"
        rf"|(?:.*{GAP})?{_CHAMBER}(?:{GAP}|$))"
        rf"{BAD_TEXT}(?=.*[^\s\d!-/:-@\[-`{{-~]).{{1,60}}"
    )


def one_position(known: Vocabulary) -> str:
    """What can be held on one side only: it names a side, or has none."""
    single = {name for name, found in known.names.items() if found.limb or not found.sided}
    return rf"^(?:{_BEFORE}.*|{_AFTER}|{GAP}*{any_case(single)}{GAP}*$)"
