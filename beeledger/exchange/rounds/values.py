"""One cell of a round workbook as the value its field keeps."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from typing import Any

from beeledger.base import times
from beeledger.base.text import folded, listed, shortened
from beeledger.exchange.figures import UnreadCell, read_figure, shown
from beeledger.exchange.rounds.columns import YES_NO, Column, Takes
from beeledger.exchange.tables import Broken, Cell
from beeledger.rules.rounds.entry import Entry

_SPLIT_PARTS = {
    "split_mark": "mark",
    "split_brood": "brood_tenths",
    "split_bees": "bees_tenths",
    "split_queen": "queen",
}


def read_value(column: Column, cell: Cell) -> tuple[Any, str]:
    """The plain value (as ``rules.rounds.plain`` takes it) and why it is doubtful. UnreadCell otherwise."""
    if isinstance(cell, Broken):
        what = f"{column.heading}: the cell holds {cell.why}, {cell.text}"
        raise UnreadCell(what, "Type the value itself")
    if column.takes is Takes.TEXT:
        return _words(column, cell), ""
    if column.takes is Takes.YES_NO:
        return _yes_no(column, cell), ""
    if column.takes is Takes.CHOICE:
        return _choice(column, cell), ""
    return _number(column, cell)


def split_of(values: dict[str, Any]) -> dict[str, Any]:
    """The split that the four split columns tell of, plain. UnreadCell when its hive is not named."""
    if "split_mark" not in values:
        raise UnreadCell("a split is told of and its new hive is not", "Write the new hive's number")
    return {part: values.get(name) for name, part in _SPLIT_PARTS.items()}


def cell_of(column: Column, entry: Entry) -> str | int | float | None:
    """What stands in a column's cell for an entry; the inverse of ``read_value``. None for a blank."""
    value = _kept(column, entry)
    if value is None:
        return None
    if column.takes is Takes.YES_NO:
        return next(word for word, truth in YES_NO.items() if truth is value)
    if column.takes is Takes.CHOICE:
        return next(word for word, code in column.choices.items() if code == value)
    if column.takes is Takes.TEXT:
        return str(value)
    return int(value) if column.scale == 1 else int(value) / column.scale


def _kept(column: Column, entry: Entry) -> Any:
    if not column.splits:
        return getattr(entry, column.name)
    if not entry.split_to:
        return None
    split = entry.split_to[0]
    return getattr(split, _SPLIT_PARTS[column.name])


def read_minute(cell: Cell) -> int:
    """A time of day as minutes after midnight: a real time, "9:40", "0940", "9.40". UnreadCell otherwise."""
    if isinstance(cell, datetime | time):
        return cell.hour * 60 + cell.minute
    if isinstance(cell, timedelta):
        cell = cell.total_seconds() / 86_400
    if isinstance(cell, float) and 0 <= cell < 1:
        return round(cell * 1440)
    try:
        return times.read_minute("" if isinstance(cell, bool | date) else shown(cell))
    except ValueError:
        raise UnreadCell(f"{shown(cell)!r} is not a time of day", "Write it as 09:40") from None


def _words(column: Column, cell: Cell) -> str | None:
    text = shown(cell)
    if len(text) > column.most:
        what = f"{column.heading}: {shortened(text, 30)!r} has more than {column.most} letters"
        raise UnreadCell(what, "Say it in fewer")
    return text or None


def _yes_no(column: Column, cell: Cell) -> bool:
    if isinstance(cell, bool):
        return cell
    found = {**YES_NO, "y": True, "n": False, "1": True, "0": False, "x": True}.get(folded(shown(cell)))
    if found is None:
        raise UnreadCell(f"{column.heading}: {shown(cell)!r} is neither yes nor no", "Choose yes or no")
    return found


def _choice(column: Column, cell: Cell) -> str:
    found = column.choices.get(folded(shown(cell)))
    if found is None:
        what = f"{column.heading}: {shortened(shown(cell), 30)!r} is not on its list"
        raise UnreadCell(what, f"Choose {listed(list(column.choices))}")
    return found


def _number(column: Column, cell: Cell) -> tuple[int | None, str]:
    figure = read_figure(cell, (), column.heading)
    if figure is None:
        return None, ""
    least = 1 if column.name == "temper" else 0
    if not least <= figure.value <= column.most:
        what = f"{column.heading}: {shortened(shown(cell), 30)} is not from {least} to {column.most}"
        raise UnreadCell(what, "Correct the figure, or leave it blank")
    scaled = figure.value * column.scale
    if scaled.denominator != 1:
        steps = "whole numbers" if column.scale == 1 else f"steps of 1/{column.scale}"
        raise UnreadCell(f"{column.heading}: {shown(cell)} is finer than {steps}", "Round the figure")
    return int(scaled), figure.doubt
