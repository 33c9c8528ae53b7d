"""The farms that are measured on: built by the sample command, and copied before anything writes to them."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from beeledger.base.clock import FixedClock

EVENING = datetime(2026, 5, 14, 18, 0, tzinfo=UTC)
"""The day on which the sample farm lives."""


@dataclass(frozen=True, slots=True)
class Farms:
    """A ledger of many years, one of a single year with as many colonies, and a folder for copies."""

    ten: Path
    one: Path
    folder: Path

    def copy(self, name: str) -> Path:
        """A copy of the long ledger, to write to."""
        target = self.folder / f"{name}.beeledger"
        target.unlink(missing_ok=True)
        with closing(sqlite3.connect(self.ten)) as source, closing(sqlite3.connect(target)) as copy:
            source.backup(copy)
            copy.execute("PRAGMA journal_mode=WAL")
        return target


def clock() -> FixedClock:
    """That evening, at the farm."""
    return FixedClock(EVENING)


def built(folder: Path, colonies: int, sites: int, years: int, seed: int) -> Path:
    """The sample farm of that size; kept, so that it is built once."""
    from beeledger.cli.main import main

    file = folder / f"farm-{colonies}x{sites}x{years}-{seed}.beeledger"
    if not file.exists():
        half = file.with_suffix(".building")
        half.unlink(missing_ok=True)
        sizes = {"--colonies": colonies, "--sites": sites, "--years": years, "--seed": seed}
        words = [word for name, number in sizes.items() for word in (name, str(number))]
        if main(["sample", "--into", str(half), *words]) != 0:
            raise SystemExit(f"The sample farm of {colonies} colonies could not be built.")
        with closing(sqlite3.connect(half)) as made:
            made.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        half.rename(file)
    return file
