"""Files that are no ledger, or may not be written to: for tests of opening and saving."""

from __future__ import annotations

import os
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

NOBODY = 65534
"""The account of nobody on Linux: root may write anywhere, so a test of "may not" must be somebody else."""


@contextmanager
def ordinary_account() -> Iterator[None]:
    """Work as an account to which permissions apply."""
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    if root:
        os.seteuid(NOBODY)
    try:
        yield
    finally:
        if root:
            os.seteuid(0)


@contextmanager
def open_folder() -> Iterator[Path]:
    """A folder that every account can enter and write in (pytest's own are closed to others)."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o777)
        yield folder
        folder.chmod(0o777)


def other_program(path: Path) -> Path:
    """A sound SQLite file of some other program."""
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE shopping(thing TEXT)")
        connection.execute("INSERT INTO shopping VALUES ('milk')")
        connection.commit()
    return path


def raw(path: Path, *statements: str) -> None:
    """Change a file behind the program's back."""
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        for statement in statements:
            connection.execute(statement)


def folder_bytes(folder: Path) -> dict[str, bytes]:
    """Every file of a folder with its content."""
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}
