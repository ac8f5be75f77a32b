"""An outside ear: sounds are found by energy and told apart by a general-purpose recogniser (pocketsphinx)."""

from __future__ import annotations

import wave
from collections.abc import Iterable, Mapping
from itertools import product
from pathlib import Path
from types import MappingProxyType

import auditok
import numpy as np
import numpy.typing as npt
import soxr  # type: ignore[import-untyped]  # it ships no types
from pocketsphinx import Decoder

Sound = npt.NDArray[np.float64]
"""Samples, shape (frames,), at `RATE`; 1.0 is full scale."""

RATE = 16_000
"""Hertz: what the recogniser's English model, in its wheel, was trained on."""

AROUND = 0.3
"""Seconds kept before and after a sound, so that the recogniser hears it begin and end."""

FLOOR = -50.0
"""dBFS of the pink noise under all that is heard: the recogniser cannot work from digital silence."""

WINDOW = 0.01
"""Seconds that the activity detector looks at together."""

SEARCH = {"lm": None, "bestpath": False, "beam": 1e-120, "wbeam": 1e-100, "pbeam": 1e-120, "loglevel": "FATAL"}
"""Settings found by trial on single clips: with the library's own, which are for dictation, it hears little."""

SPELLED = {
    "uppercut": "AH P ER K AH T", "backfist": "B AE K F IH S T", "overhand": "OW V ER HH AE N D",
    "yopchagi": "Y AH P CH AA G IY", "dollyochagi": "D OW L Y AH CH AA G IY",
    "tsuki": "T S UW K IY", "mawashigeri": "M AA W AA SH IY G EH R IY",
    "breakfall": "B R EY K F AO L", "teep": "T IY P",
    "apchagi": "AA P CH AA G IY", "dwitchagi": "D W IH T CH AA G IY", "naeryochagi": "N EH R Y OW CH AA G IY",
    "araemakgi": "AA R EH M AA K G IY", "momtongmakgi": "M OW M T OW NG M AA K G IY",
    "olgulmakgi": "AO L G UH L M AA K G IY", "apsogi": "AA P S OW G IY", "jirugi": "JH IY R UH G IY",
    "kihap": "K IY HH AA P", "oizuki": "OW IY Z UH K IY", "gyakuzuki": "G Y AA K UH Z UH K IY",
    "zenkutsudachi": "Z EH N K UH T S UH D AA CH IY", "kibadachi": "K IY B AA D AA CH IY",
    "nekoashidachi": "N EH K OW AA SH IY D AA CH IY", "maegeri": "M AA EH G EH R IY", "ageuke": "AA G EH UH K EH",
    "gedanbarai": "G EH D AA N B AA R AA IY", "sotouke": "S OW T OW UH K EH",
}  # fmt: skip
"""Words by phones (ARPAbet) that the recogniser's dictionary lacks. Nothing is added to the words that it has: it knows
no other way to say "parry" or "jab" than the American one."""


class Ear:
    """Hears one phrase of each of `parts`, in turn, in whatever it is given; joined by commas in what it tells.

    `more` has words by phones besides those of `SPELLED`.
    A closed set cannot reject, so count the sounds as well.
    """

    def __init__(self, *parts: Iterable[str], more: Mapping[str, str] = MappingProxyType({})) -> None:
        lists = [list(part) for part in parts]
        self._written = {spoken(" ".join(one)): ", ".join(one) for one in product(*lists)}
        self._decoder = Decoder(samprate=RATE, **SEARCH)
        for word, phones in {**SPELLED, **more}.items():
            self._decoder.add_word(word, phones, True)
        calls = " ".join(f"({' | '.join(map(spoken, one))})" for one in lists)
        self._decoder.add_jsgf_string("calls", f"#JSGF V1.0; grammar calls; public <call> = {calls};")
        self._decoder.activate_search("calls")
        self._fresh = self._decoder.get_cmn()

    def hear(self, sound: Sound) -> str:
        """The phrase that `sound` is most like; empty where it is like none."""
        self._decoder.set_cmn(self._fresh)  # each sound on its own, whatever was heard before
        self._decoder.start_utt()
        self._decoder.process_raw(as_pcm(sound), full_utt=True)
        self._decoder.end_utt()
        found = self._decoder.hyp()
        return self._written.get(found.hypstr, found.hypstr) if found else ""


def spoken(phrase: str) -> str:
    """The words of a phrase as a grammar takes them: no signs, no capitals."""
    return " ".join("".join(sign if sign.isalnum() or sign == "'" else " " for sign in phrase.lower()).split())


def as_pcm(sound: Sound) -> bytes:
    """Sixteen bits, held at full scale."""
    return np.rint(np.clip(sound, -1, 1) * 32767).astype("<i2").tobytes()


def at_ear_rate(samples: npt.NDArray[np.int16], rate: int) -> Sound:
    """Sixteen-bit samples of any rate as the ear takes them."""
    sound: Sound = soxr.resample(samples / 32768, rate, RATE)
    return sound


def in_noise(sound: Sound, level: float, noise: float | None, seed: int) -> Sound:
    """`sound` over the recogniser's floor; unless `noise` is None, over pink noise that many dB below `level` too."""
    heard = sound + pink(len(sound), FLOOR, seed)
    return heard if noise is None else heard + pink(len(sound), level - noise, seed + 1_000)


def listened_to(path: Path) -> Sound:
    """A mono WAV file of sixteen bits, by the standard library."""
    with wave.open(str(path)) as file:
        return at_ear_rate(np.frombuffer(file.readframes(file.getnframes()), "<i2"), file.getframerate())


def pink(frames: int, level: float, seed: int) -> Sound:
    """Pink noise, equal power an octave from 20 Hz up (-3 dB an octave), at `level` dB RMS below full scale."""
    rng = np.random.default_rng(seed)
    hertz = np.fft.rfftfreq(frames, 1 / RATE)
    spectrum = np.fft.rfft(rng.standard_normal(frames)) / np.sqrt(np.maximum(hertz, 20))
    spectrum[hertz < 20] = 0
    noise: Sound = np.fft.irfft(spectrum, frames)
    scaled: Sound = noise * (10 ** (level / 20) / np.sqrt(np.mean(noise**2)))
    return scaled


def decibels(sound: Sound) -> float:
    """RMS level in dB below full scale."""
    return float(10 * np.log10(np.mean(sound**2)))


def sounds(track: Sound) -> list[tuple[int, int]]:
    """Where sound begins and ends, in frames; 30 ms without it make two of one (auditok)."""
    regions = auditok.split(
        as_pcm(track), sampling_rate=RATE, sample_width=2, channels=1, analysis_window=WINDOW,
        min_dur=0.05, max_dur=60, max_silence=0.03, energy_threshold=35,
    )  # fmt: skip
    return [(begin := round((region.start or 0.0) * RATE), begin + _last(region.numpy())) for region in regions]


def joined(parts: Iterable[tuple[int, int]], pause: float) -> list[tuple[int, int]]:
    """Parts with less than `pause` seconds between them, made one."""
    whole: list[tuple[int, int]] = []
    for begin, end in parts:
        if whole and begin - whole[-1][1] < pause * RATE:
            begin = whole.pop()[0]
        whole.append((begin, end))
    return whole


def _last(samples: npt.NDArray[np.int16]) -> int:
    """The frames of a sound without the silence that the detector leaves at its end."""
    return int(np.flatnonzero(np.abs(samples) > 100)[-1]) + 1


def is_tone(sound: Sound) -> bool:
    """Whether nearly all of its power lies within 60 Hz, as in a whistle; speech is spread out."""
    power = np.abs(np.fft.rfft(sound * np.hanning(len(sound)))) ** 2
    within = np.convolve(power, np.ones(max(1, 60 * len(sound) // RATE)), "same")
    return bool(within.max() > 0.85 * power.sum())
