"""The phones of any words, as espeak-ng would say them."""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path

from cornercue.errors import MachineLacks
from cornercue.voice.espeak import environment, find_library

PROGRAM = str(Path(__file__).with_name("pronouncing_worker.py"))

PATIENCE = 10.0
"""Seconds: 72 words take 0.1 s."""


def pronounced(words: Sequence[str], program: str = PROGRAM) -> Mapping[str, tuple[str, ...]]:
    """The phones of each word in IPA, stress left out, by espeak-ng's American voice in a process of its own.

    A word that it has no sounds for is left out, and so are all where there is no espeak-ng, or it fails.
    """
    try:
        library = find_library()
        with tempfile.TemporaryDirectory(prefix="cornercue-voice-") as folder:
            done = subprocess.run(
                [sys.executable, "-P", program, str(library.path)],
                input=json.dumps(list(words)),
                capture_output=True,
                check=True,
                encoding="utf-8",
                env=environment(library, Path(folder)),
                timeout=PATIENCE,
            )
        return {word: tuple(said) for word, said in json.loads(done.stdout).items() if said}
    except (MachineLacks, OSError, subprocess.SubprocessError, ValueError):
        return {}
