"""Columns known by what stands in them, where the heading alone does not say.

"Hive" may head the number or the type, "Queen" her year or her colour; a column of grid references
is one whatever stands over it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, datetime

from beeledger.base.resources import table
from beeledger.base.text import folded
from beeledger.exchange.figures import is_not_given, shown, words
from beeledger.exchange.register.cells import looks_like_mark
from beeledger.exchange.register.headings import Heads, Kind, could_be_heads
from beeledger.exchange.tables import Cell, Line
from beeledger.rules.sites import read_grid

_FEW_ROWS = 60
"""Rows that are looked at to judge a column."""
_LEAST_PROOFS = 3
_FIGURES = re.compile(r"(\d{1,2})\s*[./\-]\s*(\d{1,2})\s*[./\-]\s*(?:\d{2}|\d{4})")
_DATE_LIKE = re.compile(
    r"\d{1,2}\s*[./\-]\s*\d{1,2}\s*[./\-]\s*\d{2,4}|\d{4}-\d\d?-\d\d?|\d{1,2}\w{0,2} [A-Za-z]{3,9}.*"
)
_YEAR_LIKE = re.compile(r"(?:20)\d\d|['’]\d\d")


def with_columns_by_content(heads: Heads, lines: Sequence[Line]) -> Heads:
    """The headings with open questions settled by the rows below."""
    if heads.kind is Kind.SITES:
        return _found(heads, lines, {"grid": _is_grid}) if "latitude" not in heads.columns else heads
    columns = dict(heads.columns)
    if _mostly(lines, columns.get("hive"), _is_type) and "hive_type" not in columns:
        columns["hive_type"] = columns.pop("hive")
    if _mostly(lines, columns.get("queen_year"), _is_colour) and "queen_colour" not in columns:
        columns["queen_colour"] = columns.pop("queen_year")
    tests: dict[str, Callable[[Cell], bool]] = {
        "hive": looks_like_mark,
        "seen": _is_day,
        "queen_year": _is_year,
        "queen_colour": _is_colour,
    }
    return _found(replace(heads, columns=columns), lines, tests)


def heads_by_content(line: Line, below: Sequence[Line]) -> Heads | None:
    """A heading row that names sites, known for one by a column of grid references below it."""
    heads = could_be_heads(line)
    if heads is None:
        return None
    found = with_columns_by_content(heads, below)
    return found if "grid" in found.columns else None


def is_month_first(heads: Heads, lines: Sequence[Line]) -> bool:
    """Whether the dates of a column can only be meant as month, day, year: several cannot be otherwise."""
    if heads.month_first is not None:
        return heads.month_first
    only_month_first, only_day_first = day_proofs(heads, lines)
    return only_month_first >= _LEAST_PROOFS and not only_day_first


def day_proofs(heads: Heads, lines: Sequence[Line]) -> tuple[int, int]:
    """How many dates of the column can only be month first, and how many only day first."""
    index = heads.columns.get("seen")
    if index is None:
        return 0, 0
    values = (line.cell(index) for line in lines)
    pairs = [
        match.groups()
        for value in values
        if isinstance(value, str) and (match := _FIGURES.fullmatch(value.strip()))
    ]
    only_month_first = sum(int(first) <= 12 < int(second) for first, second in pairs)
    only_day_first = sum(int(second) <= 12 < int(first) for first, second in pairs)
    return only_month_first, only_day_first


def _found(heads: Heads, lines: Sequence[Line], tests: dict[str, Callable[[Cell], bool]]) -> Heads:
    """Columns of no known heading given to the fields that are still without one, by content."""
    columns, guessed, sure = dict(heads.columns), dict(heads.guessed), dict(heads.sure)
    for name, test in tests.items():
        spare = [
            index for index in heads.unused if index not in columns.values() and _mostly(lines, index, test)
        ]
        if name not in columns and spare:
            columns[name] = spare[0]
            guessed[spare[0]] = name.replace("_", " ")
            sure[spare[0]] = -1
    unused = tuple(index for index in heads.unused if index not in columns.values())
    return replace(heads, columns=columns, unused=unused, guessed=guessed, sure=sure)


def _mostly(lines: Sequence[Line], index: int | None, test: Callable[[Cell], bool]) -> bool:
    if index is None:
        return False
    values = [value for line in lines[:_FEW_ROWS] if not is_not_given(value := line.cell(index))]
    return 2 * sum(test(value) for value in values) > len(values)


def _is_grid(value: Cell) -> bool:
    try:
        return isinstance(value, str) and read_grid(value) is not None
    except ValueError:
        return False


def _is_day(value: Cell) -> bool:
    return isinstance(value, date | datetime) or (
        isinstance(value, str) and _DATE_LIKE.fullmatch(value.strip()) is not None
    )


def _is_year(value: Cell) -> bool:
    return _YEAR_LIKE.fullmatch(shown(value)) is not None


def _is_type(value: Cell) -> bool:
    return isinstance(value, str) and any(word in folded(value).split() for word in words("hive_types"))


def _is_colour(value: Cell) -> bool:
    colours = table("words", "register.toml")["colours"].values()
    return isinstance(value, str) and any(folded(value) in spellings for spellings in colours)
