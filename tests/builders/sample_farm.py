"""A small sample farm, built once in a run; every test that asks gets a copy of its own."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from beeledger.base.clock import FixedClock
from beeledger.database.ledger import Ledger
from beeledger.database.opening import open_ledger
from beeledger.sample import Built, build_sample, read_scenario

COLONIES, SITES, SEASONS = 40, 6, 2
EVENING = datetime(2026, 5, 14, 18, 0, tzinfo=UTC)


def build(target: str, seed: int | None = None) -> Built:
    """Build the small sample into ``target``."""
    ledger = open_ledger(target, FixedClock(EVENING))
    try:
        return build_sample(ledger, read_scenario(colonies=COLONIES, sites=SITES, seasons=SEASONS), seed=seed)
    finally:
        ledger.close()


@pytest.fixture(scope="session")
def small_sample_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file, not to be written to."""
    file = tmp_path_factory.mktemp("sample") / "small.beeledger"
    build(str(file))
    return file


@pytest.fixture
def sample_file(small_sample_file: Path, tmp_path: Path) -> Path:
    """A copy for one test."""
    return Path(shutil.copyfile(small_sample_file, tmp_path / "farm.beeledger"))


@pytest.fixture
def sample_ledger(sample_file: Path) -> Iterator[Ledger]:
    """The same, open, on the evening on which the sample ends."""
    ledger = open_ledger(sample_file, FixedClock(EVENING), create=False)
    yield ledger
    ledger.close()
