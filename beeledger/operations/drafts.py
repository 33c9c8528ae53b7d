"""Drafts: what has been typed and not posted, kept at every keystroke in a small file of this desk.

A killed process loses nothing: each keystroke is one committed write. ``settle`` (called each second while
somebody types) makes the disk hold it too, so that a power cut costs at most that second.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from threading import Lock
from typing import Any

from sqlalchemy import select

from beeledger.base.clock import Clock
from beeledger.base.paths import free_name
from beeledger.database.faults import faults
from beeledger.database.ledger import Ledger
from beeledger.model.acts import Act

_SCHEMA = """
CREATE TABLE IF NOT EXISTS draft (uid TEXT PRIMARY KEY, kind TEXT NOT NULL, ledger TEXT NOT NULL,
  title TEXT NOT NULL, saved_at TEXT NOT NULL, body TEXT NOT NULL, aside INTEGER NOT NULL DEFAULT 0) STRICT
"""


@dataclass(frozen=True, slots=True)
class Draft:
    """One draft: ``body`` is whatever the place that made it needs to go on."""

    uid: str
    kind: str
    title: str
    saved_at: datetime
    body: dict[str, Any]


class DraftStore:
    """The drafts of one desk for one ledger. May be used from any thread."""

    def __init__(self, folder: Path, ledger_name: str, clock: Clock) -> None:
        """Open (or make) the desk's drafts file in ``folder``; a damaged one is moved aside and named."""
        self._clock = clock
        self._ledger = ledger_name
        self._lock = Lock()
        self.moved_aside: Path | None = None
        self._connection = self._open(folder / "drafts.db")

    def save(self, uid: str, kind: str, title: str, body: dict[str, Any]) -> datetime:
        """Keep a draft as it stands now; returns when. Raises CannotNow on a full disk."""
        now = self._clock.now()
        text = json.dumps(body, ensure_ascii=False, separators=(",", ":"))
        with self._lock, faults():
            self._connection.execute(
                "INSERT INTO draft(uid, kind, ledger, title, saved_at, body) VALUES(?,?,?,?,?,?) "
                "ON CONFLICT(uid) DO UPDATE SET title=excluded.title, saved_at=excluded.saved_at, body=excluded.body",
                (uid, kind, self._ledger, title, now.isoformat(), text),
            )
        return now

    def drafts(self, kind: str | None = None) -> list[Draft]:
        """The drafts of this ledger, oldest first."""
        with self._lock, faults():
            rows = self._connection.execute(
                "SELECT uid, kind, title, saved_at, body FROM draft WHERE ledger=? AND aside=0 AND kind=coalesce(?, kind) ORDER BY rowid",
                (self._ledger, kind),
            ).fetchall()
        return [
            Draft(uid, what, title, datetime.fromisoformat(at), json.loads(body))
            for uid, what, title, at, body in rows
        ]

    def load(self, uid: str) -> Draft | None:
        """One draft by its uid."""
        return next((draft for draft in self.drafts() if draft.uid == uid), None)

    def forget(self, uid: str) -> None:
        """Drop a draft that was posted."""
        with self._lock, faults():
            self._connection.execute("DELETE FROM draft WHERE uid=?", (uid,))

    def set_aside(self, uid: str) -> None:
        """Put a draft away that the user no longer wants; it can be brought back."""
        with self._lock, faults():
            self._connection.execute("UPDATE draft SET aside=1 WHERE uid=?", (uid,))

    def bring_back(self, uid: str) -> None:
        """Take a draft out of the drawer again."""
        with self._lock, faults():
            self._connection.execute("UPDATE draft SET aside=0 WHERE uid=?", (uid,))

    def drop_posted(self, ledger: Ledger) -> list[str]:
        """Forget drafts that reached the ledger before a crash kept the desk from dropping them."""
        uids = [draft.uid for draft in self.drafts()]
        if not uids:
            return []
        with ledger.read() as session:
            posted = list(session.scalars(select(Act.draft_uid).where(Act.draft_uid.in_(uids))))
        return self._forget_all(uid for uid in posted if uid is not None)

    def settle(self) -> None:
        """Make the disk hold everything saved so far."""
        with self._lock, faults():
            self._connection.execute("PRAGMA wal_checkpoint(FULL)")

    def close(self) -> None:
        """Let go of the file."""
        with self._lock:
            self._connection.close()

    def _forget_all(self, uids: Iterable[str]) -> list[str]:
        gone = list(uids)
        for uid in gone:
            self.forget(uid)
        return gone

    def _open(self, path: Path) -> sqlite3.Connection:
        try:
            return _connected(path)
        except sqlite3.DatabaseError as error:
            if isinstance(error, sqlite3.OperationalError):
                with faults():
                    raise
            stamp = f"{self._clock.now():%Y%m%d-%H%M%S}"
            self.moved_aside = free_name(path.with_name(f"drafts damaged {stamp}.db"))
            path.rename(self.moved_aside)
            for extra in ("-wal", "-shm"):
                log = path.with_name(path.name + extra)
                if log.exists():
                    log.rename(self.moved_aside.with_name(self.moved_aside.name + extra))
            return _connected(path)


def _connected(path: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(path, isolation_level=None, check_same_thread=False, timeout=5)
    try:
        connection.execute("PRAGMA journal_mode=WAL")
        connection.execute("PRAGMA synchronous=NORMAL")
        connection.execute(_SCHEMA)
        _see_it_is_sound(connection)
    except BaseException:
        connection.close()
        raise
    return connection


def _see_it_is_sound(connection: sqlite3.Connection) -> None:
    said = connection.execute("PRAGMA quick_check(1)").fetchone()[0]
    if said != "ok":
        raise sqlite3.DatabaseError(f"malformed: {said}")
