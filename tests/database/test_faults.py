"""The world's faults get a sentence and a remedy; bugs stay bugs; a full disk leaves nothing half written."""

from __future__ import annotations

import errno
import os
import sqlite3
import subprocess
import sys
import textwrap
from collections.abc import Callable
from datetime import date
from pathlib import Path

import psycopg
import pytest
from sqlalchemy import text
from sqlalchemy.exc import DBAPIError, IntegrityError

from beeledger.base.clock import FixedClock
from beeledger.base.errors import CannotNow, Refused
from beeledger.database import faults as sorting
from beeledger.database.audit import OpenAct
from beeledger.database.backup import backup, backups_of, folder_for
from beeledger.database.checking.check import check_ledger
from beeledger.database.faults import faults
from beeledger.database.ledger import Ledger
from beeledger.database.opening import open_ledger
from beeledger.model.sites import Site
from beeledger.operations.act import perform
from beeledger.operations.sites import NewSite, add_site
from tests.builders.yards import whole, yard


@pytest.mark.parametrize(
    ("error", "sentence"),
    [
        (sqlite3.OperationalError("database is locked"), "Another desk is writing to the ledger just now."),
        (sqlite3.OperationalError("database or disk is full"), "The disk is full, nothing was written."),
        (sqlite3.OperationalError("disk I/O error"), "The disk did not take or give the data."),
        (sqlite3.DatabaseError("database disk image is malformed"), "The ledger's file is damaged."),
        (psycopg.OperationalError("failed to resolve host 'x': Name or service not known"), "The database server's name is not known."),
        (psycopg.OperationalError("server closed the connection unexpectedly"), "The database server went away."),
        (psycopg.OperationalError('connection failed: FATAL:  password authentication failed for user "x"'), "The database server refused the name or password."),
        (psycopg.errors.LockNotAvailable("canceling statement due to lock timeout"), "Another desk is writing to the ledger just now."),
        (psycopg.errors.DiskFull("could not extend file: No space left on device"), "The disk is full, nothing was written."),
        (OSError(errno.ENOSPC, "No space left on device"), "The disk is full, nothing was written."),
        (PermissionError(errno.EACCES, "Permission denied", "farm.db"), "farm.db may not be read or written by this account."),
        (OSError(errno.EROFS, "Read-only file system", "farm.db"), "farm.db may not be read or written by this account."),
        (FileNotFoundError(errno.ENOENT, "No such file", "farm.db"), "farm.db is not there."),
    ],
)  # fmt: skip
def test_a_fault_of_the_world_is_said_with_a_remedy(error: Exception, sentence: str) -> None:
    # The words of the drivers: sqlite3 (SQLite's sqlite3ErrStr), libpq and PostgreSQL's messages, from memory.
    wrapped = error if isinstance(error, (OSError, sqlite3.Error)) else DBAPIError("SELECT 1", {}, error)
    with pytest.raises(CannotNow) as caught, faults():
        raise wrapped
    assert caught.value.sentence == sentence
    assert caught.value.remedy


@pytest.mark.parametrize("bug", [ValueError("x"), KeyError("y"), sqlite3.OperationalError("no such table: hive"), OSError(errno.EINVAL, "z")])  # fmt: skip
def test_a_bug_stays_a_bug(bug: Exception) -> None:
    with pytest.raises(type(bug)) as caught, faults():
        raise bug
    assert caught.value is bug


def test_every_sign_is_told_apart_from_those_before_it() -> None:
    signs = [sign for sign, _, _ in sorting._SAYINGS]
    assert len(set(signs)) == len(signs)
    assert [sign for sign in signs if sign != sign.lower()] == []  # messages are compared in lower case


def test_what_the_database_itself_would_not_take_is_a_refusal_in_words(ledger: Ledger) -> None:
    def twice(act: OpenAct) -> str:
        act.session.add_all([Site(code="A", name="Long Drove"), Site(code="B", name="Long Drove")])
        act.session.flush()
        return "never"

    with pytest.raises(Refused, match="a site of that name is there already"):
        perform(ledger, twice)


def test_a_constraint_nobody_foresaw_is_a_bug_and_writes_nothing(ledger: Ledger) -> None:
    def wrong(act: OpenAct) -> str:
        act.session.add(Site(code="A", name="Long Drove", capacity=-1))
        act.session.flush()
        return "never"

    with pytest.raises(IntegrityError, match="capacity_least"):
        perform(ledger, wrong)
    assert ledger.last_act() == 0


def test_a_full_disk_is_said_and_nothing_is_half_written(sqlite_ledger: Ledger) -> None:
    drove = yard(sqlite_ledger, "Long Drove", "1", "2", "3")
    before = whole(sqlite_ledger)
    with sqlite_ledger.engine.connect() as connection:  # the one connection of the pool keeps the limit
        pages = connection.execute(text("PRAGMA page_count")).scalar()
        connection.execute(text(f"PRAGMA max_page_count={pages}"))
    note = "x" * 100_000
    with pytest.raises(CannotNow) as caught:
        perform(sqlite_ledger, add_site, NewSite("Far Drove", note=note))
    assert caught.value.sentence == "The disk is full, nothing was written."
    assert "the draft" in caught.value.remedy
    assert whole(sqlite_ledger) == before
    with sqlite_ledger.engine.connect() as connection:
        connection.execute(text("PRAGMA max_page_count=1000000"))
    perform(sqlite_ledger, add_site, NewSite("Far Drove", note=note))
    assert drove.marks(date(2026, 5, 14)) == ["1", "2", "3"]
    assert check_ledger(sqlite_ledger).clean


CHILD = """
import resource, signal, sys
from datetime import UTC, datetime
from pathlib import Path
from beeledger.base.clock import FixedClock
from beeledger.base.errors import CannotNow
from beeledger.database.backup import backup
from beeledger.database.opening import open_ledger
from beeledger.operations.act import perform
from beeledger.operations.drafts import DraftStore
from beeledger.operations.sites import NewSite, add_site

what, file, limit = sys.argv[1], Path(sys.argv[2]), int(sys.argv[3])
clock = FixedClock(datetime(2026, 5, 14, 18, 0, tzinfo=UTC))
if what != "new":
    ledger = open_ledger(file, clock)
    drafts = DraftStore(file.parent, file.name, clock)
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
try:
    if what == "new":
        open_ledger(file, clock)
    elif what == "backup":
        backup(ledger)
    elif what == "draft":
        drafts.save("1", "round", "Long Drove", {"line": "x" * 2_000_000})
    else:
        perform(ledger, add_site, NewSite("Far Drove", note="x" * 2_000_000))
except CannotNow as fault:
    print(fault.sentence)
"""


def run_short_of_disk(what: str, file: Path, limit: int) -> str:
    """Do it in a process whose files the system itself will not let grow beyond a limit."""
    done = subprocess.run(
        [sys.executable, "-W", "ignore", "-c", textwrap.dedent(CHILD), what, str(file), str(limit)],
        capture_output=True, text=True, check=True, env=os.environ | {"PYTHONPATH": str(Path.cwd())},
    )  # fmt: skip
    return done.stdout.strip()


needs_limits = pytest.mark.skipif(os.name == "nt", reason="Windows knows no limit of file size for a process")
NO_ROOM = {"The disk is full, nothing was written.", "The disk did not take or give the data."}


@needs_limits
def test_an_act_that_the_system_will_not_take_leaves_the_ledger_as_it_was(
    sqlite_ledger: Ledger, clock: FixedClock
) -> None:
    yard(sqlite_ledger, "Long Drove", "1", "2")
    before = whole(sqlite_ledger)
    file = sqlite_ledger.file
    assert file is not None
    sqlite_ledger.close()
    assert run_short_of_disk("act", file, file.stat().st_size + 100_000) in NO_ROOM
    again = open_ledger(file, clock)
    assert whole(again) == before
    assert check_ledger(again).clean
    again.close()


@needs_limits
def test_a_backup_that_finds_no_room_leaves_no_part_of_itself(sqlite_ledger: Ledger) -> None:
    file = sqlite_ledger.file
    assert file is not None
    assert run_short_of_disk("backup", file, 100_000) in NO_ROOM
    assert list(folder_for(file).iterdir()) == []
    backup(sqlite_ledger)
    assert len(backups_of(file)) == 1


@needs_limits
def test_a_draft_that_finds_no_room_says_so(sqlite_ledger: Ledger) -> None:
    assert sqlite_ledger.file is not None
    assert (
        run_short_of_disk("draft", sqlite_ledger.file, sqlite_ledger.file.stat().st_size + 1_000_000)
        in NO_ROOM
    )


@needs_limits
def test_a_new_ledger_that_finds_no_room_can_be_made_once_there_is_some(
    tmp_path: Path, clock: FixedClock
) -> None:
    file = tmp_path / "new.beeledger"
    assert run_short_of_disk("new", file, 60_000) in NO_ROOM
    made = open_ledger(file, clock)
    assert check_ledger(made).clean
    made.close()


def test_a_server_that_ends_the_connection_is_said_and_the_next_act_goes_on(
    new_target: Callable[..., str], clock: FixedClock
) -> None:
    ledger = open_ledger(new_target("postgresql"), clock)

    def cut_off(act: OpenAct) -> str:
        act.session.add(Site(code="A", name="Long Drove"))
        act.session.flush()
        pid = act.session.scalar(text("SELECT pg_backend_pid()"))
        with ledger.engine.connect() as other:
            other.execute(text(f"SELECT pg_terminate_backend({pid})"))
        act.session.scalar(text("SELECT 1"))
        return "never"

    with pytest.raises(CannotNow) as caught:
        perform(ledger, cut_off)
    assert caught.value.sentence == "The database server went away."
    perform(ledger, add_site, NewSite("Long Drove"))
    assert ledger.last_act() == 1
    ledger.close()
