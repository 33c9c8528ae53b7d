"""Opening a ledger: is it one, is it ours, does it need a migration; always a backup before one."""

from __future__ import annotations

from collections.abc import Callable, Collection
from pathlib import Path

from sqlalchemy import Connection, inspect, text

from beeledger.base.clock import Clock
from beeledger.base.errors import CannotNow
from beeledger.database.faults import faults
from beeledger.database.ledger import Ledger, engine_for
from beeledger.database.lone import glancing
from beeledger.database.schema import HEAD

MAGIC = b"SQLite format 3\x00"
_REVISION = "SELECT version_num FROM alembic_version"


def open_ledger(
    target: str | Path, clock: Clock, *, create: bool = True, who: str = "office", desk: str = "office"
) -> Ledger:
    """Open the ledger at a file path or ``postgresql://`` address, migrating it when it is older.

    Raises CannotNow with a sentence and a remedy for a file that is no database, belongs to another
    program, was written by a newer version, or may not be written to.
    """
    name = str(target)
    if not name.startswith("postgresql"):
        _look_at_file(Path(name), create=create)
    engine = engine_for(name)
    ledger = Ledger(target=name, engine=engine, clock=clock, who=who, desk=desk)
    try:
        with faults():
            _bring_up_to_date(ledger)
    except BaseException:
        engine.dispose()
        raise
    return ledger


def revision_of(connection: Connection) -> str | None:
    """The schema revision a database carries; None for an empty one."""
    tables = set(inspect(connection).get_table_names())
    return _ours(tables, lambda: connection.execute(text(_REVISION)).scalar())


def _ours(tables: Collection[str], read: Callable[[], str | None]) -> str | None:
    if "alembic_version" in tables and ("act_row" in tables or len(tables) == 1):
        return read()
    if tables:
        raise CannotNow(
            "This database belongs to another program.",
            "Choose an empty one, or a BeeLedger ledger. It was left as it is.",
        )
    return None


def _look_at_file(path: Path, *, create: bool) -> None:
    with faults():
        if not path.exists():
            if not create:
                raise CannotNow(f"There is no ledger at {path}.", "See that the name is right.")
            if not path.parent.is_dir():
                raise CannotNow(f"There is no folder {path.parent}.", "Make it, or choose another place.")
            return
        if path.is_dir():
            raise CannotNow(f"{path} is a folder.", "Choose a file in it.")
        with path.open("rb") as file:
            head = file.read(len(MAGIC))
        if head and head != MAGIC:
            raise CannotNow(
                f"{path.name} is no BeeLedger ledger.", "Choose another file, or restore a backup."
            )
        if head:
            _refuse_newer(_glance(path))


def _glance(path: Path) -> str | None:
    """The revision of a file, read without touching it: another program's file stays as it is to the byte."""
    connection = glancing(path)
    try:
        tables = [name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type='table'")]
        return _ours(tables, lambda: (connection.execute(_REVISION).fetchone() or (None,))[0])
    finally:
        connection.close()


def _refuse_newer(revision: str | None) -> None:
    if revision is not None and revision > HEAD:
        raise CannotNow(
            f"This ledger was written by a newer BeeLedger (schema {revision}; this one knows {HEAD}).",
            "Install the newer version on this computer too. The ledger was left as it is.",
        )


def _bring_up_to_date(ledger: Ledger) -> None:
    with ledger.engine.connect() as connection:
        revision = revision_of(connection)
    if revision == HEAD:
        return
    _refuse_newer(revision)
    from beeledger.database.migrating import migrate  # noqa: PLC0415  # alembic is wanted only when a step is due

    migrate(ledger, revision)
