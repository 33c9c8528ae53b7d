"""Backups that still hold a person who has been erased: which they are, when they go, and their going."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from beeledger.database.backup import STAMP, backups_of

KEEP_DAYS = 31
"""How long a backup from before an erasure stays, so that a mistake of the same month can still be mended."""
_STAMP_LENGTH = 15


@dataclass(frozen=True, slots=True)
class Holding:
    """A backup from before an erasure, and the moment at which it is removed."""

    path: Path
    goes_at: datetime


def holding(ledger_file: Path, erasures: Sequence[datetime]) -> list[Holding]:
    """The backups that hold somebody erased since, newest first. ``erasures`` are moments, oldest first."""
    found = []
    for path in backups_of(ledger_file):
        written = _written(path)
        later = [moment for moment in erasures if written is None or moment >= written]
        if later:
            found.append(Holding(path, min(later) + timedelta(days=KEEP_DAYS)))
    return found


def let_go(ledger_file: Path, erasures: Sequence[datetime], now: datetime) -> list[Path]:
    """Remove the backups whose time is up; only where a newer one, from after the erasures, is there."""
    held = holding(ledger_file, erasures)
    if len(held) == len(backups_of(ledger_file)):
        return []
    gone = [one.path for one in held if one.goes_at <= now]
    for path in gone:
        path.unlink()
    return gone


def _written(path: Path) -> datetime | None:
    """When a backup was written, by its name; a file without a moment in its name counts as older than anything."""
    try:
        return datetime.strptime(path.stem[:_STAMP_LENGTH], STAMP).replace(tzinfo=UTC)
    except ValueError:
        return None
