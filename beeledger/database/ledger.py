"""An open ledger: one SQLite file or one PostgreSQL database, with reads and the one writer."""

from __future__ import annotations

import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event, func, select, text
from sqlalchemy.engine import make_url
from sqlalchemy.orm import Session

from beeledger.base.clock import Clock
from beeledger.database.audit import OpenAct, watch, write_images
from beeledger.database.faults import faults
from beeledger.database.schema import HEAD
from beeledger.model.acts import Act

WRITER_LOCK = 0x0BEE
"""The key of the advisory lock that makes acts serial on PostgreSQL."""
WAIT_MS = 10_000
_READ = {"ledger_mode": "read"}
_WRITE = {"ledger_mode": "write"}


@dataclass(slots=True)
class Ledger:
    """The farm's ledger as one desk sees it."""

    target: str
    engine: Engine
    clock: Clock
    who: str = "office"
    desk: str = "office"

    @property
    def is_sqlite(self) -> bool:
        """Whether it is a file of its own."""
        return self.engine.dialect.name == "sqlite"

    @property
    def file(self) -> Path | None:
        """The file of a SQLite ledger."""
        return Path(self.target) if self.is_sqlite else None

    @contextmanager
    def read(self) -> Iterator[Session]:
        """A session that can only read; one consistent moment from first to last query."""
        with faults(), self.engine.connect().execution_options(**_READ) as connection:
            with Session(connection, expire_on_commit=False, autoflush=False) as session:
                watch(session)
                yield session

    @contextmanager
    def act(self, kind: str, *, draft_uid: str | None = None) -> Iterator[OpenAct]:
        """One act: a transaction begun as the only writer. Leave the block by an error and nothing happened.

        Its line in History starts as the kind; ``sentence_of`` writes the words.
        """
        with faults(), self.engine.connect().execution_options(**_WRITE) as connection, connection.begin():
            with Session(connection, expire_on_commit=False, autoflush=True) as session:
                watch(session)
                act = self._begin(session, kind, draft_uid)
                yield act
                session.flush()
                write_images(act)
                session.info.pop("act", None)

    @contextmanager
    def in_haste(self) -> Iterator[None]:
        """While a ledger is made from nothing: acts do not wait for the disk.

        A power cut then costs the file; whoever makes it begins again. Never for a record that people keep.
        """
        if not self.is_sqlite:
            yield
            return
        event.listen(self.engine, "connect", _do_not_wait)
        self.engine.dispose()
        try:
            yield
        finally:
            event.remove(self.engine, "connect", _do_not_wait)
            self.engine.dispose()

    def last_act(self) -> int:
        """The number of the last act of any desk: what has moved on since."""
        with self.read() as session:
            return session.scalar(select(func.coalesce(func.max(Act.id), 0))) or 0

    def close(self) -> None:
        """Let go of every connection."""
        self.engine.dispose()

    def _begin(self, session: Session, kind: str, draft_uid: str | None) -> OpenAct:
        number = (session.scalar(select(func.coalesce(func.max(Act.id), 0))) or 0) + 1
        row = Act(
            id=number, uid=str(uuid.uuid4()), kind=kind, sentence=kind, who=self.who, desk=self.desk,
            at=self.clock.now(), on=self.clock.today(), zone=self.clock.zone,
            draft_uid=draft_uid, schema=HEAD,
        )  # fmt: skip
        act = OpenAct(session=session, clock=self.clock, id=number, kind=kind, who=self.who, desk=self.desk)
        session.info["act"] = act
        session.add(row)
        session.flush()
        return act


def sentence_of(act: OpenAct, sentence: str) -> None:
    """Write the act's line in History."""
    row = act.session.get_one(Act, act.id)
    row.sentence = sentence


def engine_for(target: str) -> Engine:
    """An engine for a file path or a ``postgresql://`` address, set up for the ledger's habits."""
    if target.startswith(("postgresql://", "postgresql+psycopg://")):
        url = make_url(target).set(drivername="postgresql+psycopg")
        engine = create_engine(
            url, pool_size=4, max_overflow=4, connect_args={"application_name": "beeledger"}
        )
        event.listen(engine, "begin", _begin_postgresql)
        return engine
    engine = create_engine(
        URL.create("sqlite", database=target),  # not pasted together: names may hold ? and %
        connect_args={"timeout": WAIT_MS / 1000, "isolation_level": None, "check_same_thread": False},
    )
    event.listen(engine, "connect", _connect_sqlite)
    event.listen(engine, "begin", _begin_sqlite)
    return engine


def _connect_sqlite(connection: Any, _record: Any) -> None:
    cursor = connection.cursor()
    cursor.execute("PRAGMA journal_mode=WAL")
    cursor.execute("PRAGMA synchronous=FULL")
    cursor.execute("PRAGMA foreign_keys=ON")
    cursor.execute("PRAGMA cache_size=-8000")
    cursor.close()


def _do_not_wait(connection: Any, _record: Any) -> None:
    cursor = connection.cursor()
    cursor.execute("PRAGMA synchronous=OFF")
    cursor.close()


def _begin_sqlite(connection: Connection) -> None:
    mode = connection.get_execution_options().get("ledger_mode")
    connection.exec_driver_sql(f"PRAGMA query_only={'ON' if mode == 'read' else 'OFF'}")
    connection.exec_driver_sql("BEGIN IMMEDIATE" if mode == "write" else "BEGIN")


def _begin_postgresql(connection: Connection) -> None:
    mode = connection.get_execution_options().get("ledger_mode")
    if mode == "write":
        connection.execute(text(f"SET LOCAL lock_timeout = '{WAIT_MS}ms'"))
        connection.execute(text(f"SELECT pg_advisory_xact_lock({WRITER_LOCK})"))
    elif mode == "read":
        connection.execute(text("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY"))
