"""Driver errors sorted: what is the world's fault gets a sentence and a remedy.

The only module that looks into the messages of the drivers.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import DBAPIError, IntegrityError, OperationalError

from beeledger.base.errors import CannotNow, Refused
from beeledger.base.findings import Finding, Grade

_SAYINGS: tuple[tuple[str, str, str], ...] = (
    ("database is locked", "Another desk is writing to the ledger just now", "Wait a moment and try again."),
    ("lock timeout", "Another desk is writing to the ledger just now", "Wait a moment and try again."),
    ("lock not available", "Another desk is writing to the ledger just now", "Wait a moment and try again."),
    ("disk is full", "The disk is full, nothing was written", "Free some space and try again; what was typed is kept in the draft."),
    ("disk full", "The disk is full, nothing was written", "Free some space and try again; what was typed is kept in the draft."),
    ("no space left", "The disk is full, nothing was written", "Free some space and try again; what was typed is kept in the draft."),
    ("readonly database", "The ledger can be read but not written", "Make the file and its folder writable, or open a copy."),
    ("read-only", "The ledger can be read but not written", "Make the file and its folder writable, or open a copy."),
    ("unable to open database file", "The ledger's file could not be opened", "See that the folder exists and may be written to."),
    ("file is not a database", "This file is no BeeLedger ledger", "Choose another file, or restore a backup."),
    ("malformed", "The ledger's file is damaged", "Restore the last backup; the damaged file is left as it is."),
    ("disk i/o error", "The disk did not take or give the data", "Look at the disk; restore the last backup if it persists."),
    ("connection refused", "The database server does not answer", "See that it runs and that the address is right."),
    ("could not translate host name", "The database server's name is not known", "See that the address is right."),
    ("failed to resolve host", "The database server's name is not known", "See that the address is right."),
    ("password authentication failed", "The database server refused the name or password", "See the address in the settings."),
    ("server closed the connection", "The database server went away", "See that it runs, then try again."),
    ("terminating connection", "The database server went away", "See that it runs, then try again."),
    ("fatal:  database", "There is no such database on the server", "See that the address is right."),
    ("too many clients", "The database server has no connection left for this desk", "Close BeeLedger on another desk and try again."),
    ("remaining connection slots", "The database server has no connection left for this desk", "Close BeeLedger on another desk and try again."),
    ("connection failed", "The database server does not answer", "See that it runs and that the address is right."),
)  # fmt: skip

_INVARIANTS: tuple[tuple[str, str, str], ...] = (
    ("placement", "overlap", "a colony would stand in two places at one moment"),
    ("uq_placement_open", "", "a colony would have two open placements"),
    ("uq_hive_mark_open", "", "a hive number would be on two living hives"),
    ("hive_mark.mark", "", "a hive number would be on two living hives"),
    ("hive_mark.colony_id", "", "a hive would carry two numbers at once"),
    ("placement.colony_id", "", "a colony would have two open placements"),
    ("draft_uid", "", "this draft has been posted already"),
    ("act.uid", "", "this act has been written already"),
    ("site.name", "", "a site of that name is there already"),
    ("uq_site_name_open", "", "a site of that name is there already"),
    ("lot_mark", "", "that lot mark has been used already"),
    ("contract.name", "", "a contract of that name is there already"),
)


def world_fault(error: BaseException) -> CannotNow | None:
    """The sentence and remedy for an error that is not the program's fault; None for a bug."""
    if isinstance(error, OSError):
        return _disk_fault(error)
    text = str(getattr(error, "orig", error)).lower()
    if isinstance(error, (OperationalError, sqlite3.OperationalError, sqlite3.DatabaseError, DBAPIError)):
        for sign, sentence, remedy in _SAYINGS:
            if sign in text:
                return CannotNow(f"{sentence}.", remedy)
    return None


def broken_invariant(error: IntegrityError) -> Refused | None:
    """The refusal for an act that the database itself would not take; None when not known."""
    text = str(error.orig).lower()
    for sign, also, what in _INVARIANTS:
        if sign in text and also in text:
            finding = Finding(
                "invariant", Grade.REFUSED, f"Not done: {what}", "Look at the record and try again"
            )
            return Refused([finding])
    return None


@contextmanager
def faults() -> Iterator[None]:
    """Turn the world's faults raised inside into CannotNow, broken invariants into Refused."""
    try:
        yield
    except IntegrityError as error:
        refusal = broken_invariant(error)
        if refusal is None:
            raise
        raise refusal from error
    except (DBAPIError, sqlite3.DatabaseError, OSError) as error:
        fault = world_fault(error)
        if fault is None:
            raise
        raise fault from error


def _disk_fault(error: OSError) -> CannotNow | None:
    name = error.filename or "the file"
    if error.errno == 28:
        return CannotNow("The disk is full, nothing was written.", "Free some space and try again.")
    if isinstance(error, PermissionError) or error.errno == 30:
        return CannotNow(
            f"{name} may not be read or written by this account.",
            "Choose another folder, or ask who keeps the computer.",
        )
    if isinstance(error, FileNotFoundError):
        return CannotNow(f"{name} is not there.", "See that the name is right.")
    return None
