"""Hypothesis profiles: quick by default, `HYPOTHESIS_PROFILE=deep` for a long search."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, settings

from page_in_chromium import browser as browser
from page_in_chromium import drill_page as drill_page
from page_in_chromium import view as view

# No deadlines: the machine may be busy. Derandomised, so that a green run is green again; deep explores.
_COMMON = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow, HealthCheck.filter_too_much]}
_PHASES = (Phase.explicit, Phase.generate, Phase.shrink)  # without the slow explanations
settings.register_profile("quick", max_examples=40, derandomize=True, database=None, phases=_PHASES, **_COMMON)  # type: ignore[arg-type]
settings.register_profile("deep", max_examples=3000, print_blob=True, **_COMMON)  # type: ignore[arg-type]
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "quick"))


@pytest.fixture(scope="session")
def shared_cache(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A cache of this run alone, for tests that only listen to clips: a phrase is spoken once for all workers."""
    own = tmp_path_factory.getbasetemp()
    folder = (own.parent if "PYTEST_XDIST_WORKER" in os.environ else own) / "shared-cache"
    folder.mkdir(exist_ok=True)
    return folder


@pytest.fixture(scope="session")
def shared_clips(shared_cache: Path) -> Path:
    """Where clips are kept in it."""
    return shared_cache / "cornercue" / "clips"
