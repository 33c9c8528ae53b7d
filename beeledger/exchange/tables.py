"""Any spreadsheet as plain tables: rows with their numbers, cells as plain values.

Knows files, not farms: workbooks (.xlsx, .xlsm) and text tables (.csv, .tsv, .txt). What cannot be
read is the world's fault and raises ``CannotNow`` with a remedy.
"""

from __future__ import annotations

import csv
import io
import warnings
import zlib
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from itertools import zip_longest
from pathlib import Path
from typing import Any
from xml.etree.ElementTree import ParseError
from zipfile import BadZipFile, ZipFile, is_zipfile

import openpyxl
from openpyxl.utils.exceptions import InvalidFileException

from beeledger.base.errors import CannotNow
from beeledger.base.resources import table

OLD_WORKBOOK = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
"""The signature of a compound file ([MS-CFB] 2.2): old .xls, or a workbook with a password."""
ERROR_VALUES = frozenset({"#REF!", "#N/A", "#VALUE!", "#NAME?", "#DIV/0!", "#NUM!", "#NULL!"})
# What the reading libraries raise on a damaged file.
_DAMAGE = (
    BadZipFile, InvalidFileException, ParseError, zlib.error, KeyError, ValueError, TypeError,
    AttributeError, IndexError, EOFError, NotImplementedError, OverflowError,
)  # fmt: skip
_TEXT_ENDINGS = (".csv", ".tsv", ".txt")
_SAVE_ANEW = "Open it in your spreadsheet program and save it again as an Excel workbook (.xlsx) or as CSV."


@dataclass(frozen=True, slots=True)
class Broken:
    """A cell whose value is not there: an error value, or a formula that was saved without its result."""

    text: str
    why: str


Cell = str | int | float | bool | date | datetime | time | timedelta | Broken | None


@dataclass(frozen=True, slots=True)
class Line:
    """One row that is not blank, by the number the spreadsheet shows beside it."""

    number: int
    cells: tuple[Cell, ...]

    def cell(self, index: int) -> Cell:
        """The value in column ``index`` (0 for A); None beyond the end of the row."""
        return self.cells[index] if 0 <= index < len(self.cells) else None

    def filled(self) -> list[int]:
        """The columns that hold something."""
        return [index for index, value in enumerate(self.cells) if not is_blank(value)]


@dataclass(frozen=True, slots=True)
class Table:
    """One sheet: its rows without the blank ones."""

    name: str
    lines: tuple[Line, ...]
    hidden: bool = False
    stopped_at: int | None = None
    """The row after which nothing was read, because so many blank rows or rows in all came before."""
    epoch_1904: bool = False


def is_blank(value: Cell) -> bool:
    """Whether a cell holds nothing but blanks."""
    return value is None or (isinstance(value, str) and not value.strip())


def column_letter(index: int) -> str:
    """The letters of a column, 0 for A, 26 for AA."""
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def read_tables(path: Path) -> list[Table]:
    """Every sheet of a workbook, or the one table of a text file. CannotNow when unreadable."""
    head = _first_bytes(path)
    if not head:
        raise CannotNow(f"{path.name} is empty.", "Choose the file again; the copy may have been cut off.")
    if head.startswith(OLD_WORKBOOK):
        raise _old_or_locked(path)
    if is_zipfile(path):
        _check_unpacked(path)
        return _workbook_tables(path)
    if path.suffix.lower() in _TEXT_ENDINGS:
        return [_text_table(path)]
    raise CannotNow(f"{path.name} is not a workbook, whatever its name ends in.", _SAVE_ANEW)


def open_workbook(path: Path, *, values: bool) -> Any:
    """The library's workbook, reading only; ``values`` for the saved results of formulas."""
    try:
        with _quiet():
            return openpyxl.load_workbook(path, read_only=True, data_only=values)
    except _DAMAGE as error:
        raise damaged(path) from error
    except OSError as error:
        raise CannotNow(f"{path.name} cannot be read: {error.strerror or error}.", _SAVE_ANEW) from error


def damaged(path: Path) -> CannotNow:
    """The error for a workbook that breaks while it is read."""
    return CannotNow(f"{path.name} is damaged or is no workbook.", _SAVE_ANEW)


def _first_bytes(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(8)
    except FileNotFoundError:
        raise CannotNow(f"There is no file {path.name}.", "Look at the name and the folder.") from None
    except OSError as error:
        reason = error.strerror or str(error)
        raise CannotNow(f"{path.name} cannot be read: {reason}.", "Look at the file's permissions.") from None


def _old_or_locked(path: Path) -> CannotNow:
    # A locked workbook names its stream "EncryptedPackage" ([MS-OFFCRYPTO] 2.3.4.4).
    with path.open("rb") as file:
        content = file.read(4_000_000)
    if "EncryptedPackage".encode("utf-16-le") in content:
        return CannotNow(
            f"{path.name} is locked with a password.", "Save a copy without the password and read that."
        )
    return CannotNow(f"{path.name} is a workbook of the old kind (.xls).", _SAVE_ANEW)


def _check_unpacked(path: Path) -> None:
    limit = table("rules", "register.toml")["reading"]["most_unpacked_bytes"]
    try:
        with ZipFile(path) as archive:
            size = sum(item.file_size for item in archive.infolist())
            names = set(archive.namelist())
    except BadZipFile as error:
        raise damaged(path) from error
    if "[Content_Types].xml" not in names:
        raise CannotNow(f"{path.name} is not an Excel workbook.", _SAVE_ANEW)
    if size > limit:
        raise CannotNow(
            f"{path.name} would unpack to {size // 1_000_000:,} MB, which no farm's register does.",
            "Copy the rows that matter into a new workbook and read that.",
        )


def _workbook_tables(path: Path) -> list[Table]:
    values, formulas = open_workbook(path, values=True), open_workbook(path, values=False)
    try:
        with _quiet():
            epoch_1904 = values.epoch.year == 1904
            pairs = zip(values.worksheets, formulas.worksheets, strict=True)
            return [_sheet_table(sheet, written, epoch_1904=epoch_1904) for sheet, written in pairs]
    except _DAMAGE as error:
        raise damaged(path) from error
    finally:
        values.close()
        formulas.close()


def _sheet_table(sheet: Any, written: Any, *, epoch_1904: bool) -> Table:
    # The size a file states about itself is often wrong, and reading would stop there.
    sheet.reset_dimensions()
    written.reset_dimensions()
    rows = zip_longest(sheet.iter_rows(values_only=True), written.iter_rows(values_only=True), fillvalue=())
    lines, stopped = _lines(_with_formulas(saved, made) for saved, made in rows)
    return Table(sheet.title, lines, sheet.sheet_state != "visible", stopped, epoch_1904)


def _with_formulas(saved: Sequence[Any], made: Sequence[Any]) -> tuple[Cell, ...]:
    if not any(isinstance(value, str) and value.startswith(("=", "#")) for value in made):
        return tuple(saved)
    return tuple(_cell(value, text) for value, text in zip_longest(saved, made))


def _cell(saved: Any, made: Any) -> Cell:
    if isinstance(saved, str) and saved in ERROR_VALUES:
        return Broken(saved, "an error value")
    if saved is None and isinstance(made, str) and made.startswith("="):
        return Broken(made, "a formula saved without its result")
    value: Cell = saved
    return value


def _lines(rows: Iterable[Sequence[Any]]) -> tuple[tuple[Line, ...], int | None]:
    limits = table("rules", "register.toml")["reading"]
    lines: list[Line] = []
    blank = 0
    for number, row in enumerate(rows, start=1):
        if not any(value is not None and value != "" for value in row):
            blank += 1
            if blank >= limits["blank_rows_end"]:
                return tuple(lines), number
            continue
        blank = 0
        line = Line(number, tuple(row[: limits["most_columns"]]))
        if line.filled():
            lines.append(line)
        if len(lines) >= limits["most_rows"]:
            return tuple(lines), number
    return tuple(lines), None


def _text_table(path: Path) -> Table:
    content = path.read_bytes()
    if b"\0" in content[:4096] and not content.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise CannotNow(f"{path.name} is not a table of text.", _SAVE_ANEW)
    text = _decoded(content)
    try:
        rows = list(csv.reader(io.StringIO(text), delimiter=_delimiter(text)))
    except csv.Error as error:
        raise damaged(path) from error
    lines, stopped = _lines(rows)
    return Table(path.stem, lines, stopped_at=stopped)


def _decoded(content: bytes) -> str:
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16", errors="replace")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("cp1252", errors="replace")


def _delimiter(text: str) -> str:
    first = text.splitlines()[:40]
    return max(",;\t", key=lambda mark: sum(line.count(mark) for line in first))


@contextmanager
def _quiet() -> Iterator[None]:
    """Without the reading library's remarks about extensions and dates it does not know."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        yield
