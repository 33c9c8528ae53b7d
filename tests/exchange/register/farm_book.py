"""Old spreadsheets of an invented farm, in as many shapes as offices keep them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from pathlib import Path
from typing import Any

import openpyxl

TODAY = date(2026, 5, 5)

SITES: list[dict[str, Any]] = [
    {
        "code": 1,
        "name": "Pound Furlong",
        "grid": "SO392751",
        "owner": "T. Oak",
        "rent": "6 jars/yr",
        "room": 36,
    },
    {"code": 2, "name": "LOWER RICKYARD", "grid": "so 76333617", "room": "24 hives"},
    {"code": 3, "name": "Heron Wood", "grid": "SO 36025 23675", "room": 20},
    {"code": 4, "name": "Bell Acre", "grid": "SO 330 675", "room": 30},
]
GRIDS = {
    "Pound Furlong": "SO3920075100",
    "Lower Rickyard": "SO7633036170",
    "Heron Wood": "SO3602523675",
    "Bell Acre": "SO3300067500",
}
SITE_HEADS = {
    "code": "No.",
    "name": "Apiary ",
    "grid": "OS grid ref",
    "owner": "Owner / farm",
    "rent": "Rent",
    "room": "Room for",
}
HIVE_HEADS = {
    "hive": "Hive", "site": "Where", "type": "Type", "year": "Queen yr", "colour": "Q colour", "marked": "Marked?",
    "seen": "Last looked at", "brood": "Frames brood", "supers": "Supers", "temper": "Temper 1-5", "note": "Comment",
}  # fmt: skip


def hive(mark: Any, site: Any = "Pound Furlong", **other: Any) -> dict[str, Any]:
    """A hive row that nothing is wrong with, but for what is said."""
    plain = {
        "hive": mark, "site": site, "type": "National", "year": 2025, "colour": "Blue", "marked": "Y",
        "seen": "14/04/2026", "brood": 6, "supers": 1, "temper": 2, "note": None,
    }  # fmt: skip
    return plain | other


@dataclass
class Book:
    """One spreadsheet to be: what its sheets, columns and rows are."""

    hives: list[Any]
    sites: list[dict[str, Any]] | None = field(default_factory=lambda: [dict(site) for site in SITES])
    hive_heads: dict[str, str] = field(default_factory=lambda: dict(HIVE_HEADS))
    site_heads: dict[str, str] = field(default_factory=lambda: dict(SITE_HEADS))
    hive_sheet: str = "Hives"
    site_sheet: str = "SITES"
    above: Sequence[Sequence[Any]] = ()
    """Rows above the headings of the hive sheet."""
    hives_first: bool = False

    def hive_rows(self) -> list[list[Any]]:
        """Every row of the hive sheet: a dict is a hive, a list any other row."""
        body = [
            row if isinstance(row, list) else [row.get(name) for name in self.hive_heads]
            for row in self.hives
        ]
        return [*[list(row) for row in self.above], list(self.hive_heads.values()), *body]

    def site_rows(self) -> list[list[Any]]:
        """Every row of the site sheet."""
        body = [[site.get(name) for name in self.site_heads] for site in self.sites or []]
        return [["Apiary list - by hand"], [], list(self.site_heads.values()), *body]

    def save(self, folder: Path) -> Path:
        """Write it as a workbook."""
        book = openpyxl.Workbook()
        book.remove(book.active)
        sheets = [(self.hive_sheet, self.hive_rows())]
        if self.sites is not None:
            sheets.insert(1 if self.hives_first else 0, (self.site_sheet, self.site_rows()))
        for title, rows in sheets:
            sheet = book.create_sheet(title)
            for row in rows:
                sheet.append(row)
        path = folder / "register.xlsx"
        book.save(path)
        return path


def a_day(day: int, month: int) -> datetime:
    """A real date of 2026, as a spreadsheet keeps it."""
    return datetime(2026, month, day)  # noqa: DTZ001
