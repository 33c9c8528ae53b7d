"""What a row says of a look beyond brood, supers and temper: bees, stores, eggs, cells, the queen."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from beeledger.base.resources import table
from beeledger.base.text import folded
from beeledger.exchange.figures import UnreadCell, is_not_given, read_figure, shown, tenths, whole, words
from beeledger.exchange.register.cells import read_yes_no
from beeledger.exchange.tables import Cell
from beeledger.rules.rounds.entry import CellStage, Entry, Heft, QueenState

Value = TypeVar("Value")
Take = Callable[[str, Callable[[Cell], Any]], Any]
"""Reads the cell of a field; None where it is blank or was doubted."""


def read_sightings(take: Take) -> Entry:
    """The fields of a look that the row fills; what cannot be read is doubted and left blank."""
    heft, stores = take("stores", _stores) or (None, None)
    stage, count = take("cells", _cells) or (None, None)
    return Entry(
        queen_state=take("queen_state", lambda cell: _word(cell, "queen_state", QueenState)),
        queen_seen=take("queen_seen", read_yes_no),
        eggs=take("eggs", read_yes_no),
        bees_tenths=take("bees", _frames),
        stores_tenths=stores,
        stores_heft=heft,
        cells_stage=stage,
        cells_count=count,
    )


def _word(cell: Cell, room: str, of: Callable[[str], Value]) -> Value | None:
    if is_not_given(cell):
        return None
    bare = folded(shown(cell)).rstrip(".")
    for name, spellings in table("words", "register.toml")[room].items():
        if bare in spellings:
            return of(name)
    raise UnreadCell(f"{shown(cell)!r} is not understood here", "Write it out, or leave it blank")


def _frames(cell: Cell) -> int | None:
    figure = read_figure(cell, words("frame_units"), "frames")
    if figure is None:
        return None
    most = table("rules", "register.toml")["brood"]["unknown_most_frames"]
    if not 0 <= figure.value <= most:
        raise UnreadCell(f"{shown(cell)} frames cannot be", "Correct the figure")
    return int(tenths(figure).value)


def _stores(cell: Cell) -> tuple[Heft | None, int | None]:
    try:
        return None, _frames(cell)
    except UnreadCell:
        return _word(cell, "heft", Heft), None


def _cells(cell: Cell) -> tuple[CellStage | None, int | None]:
    """A stage in words, or how many: nought is looked and none there."""
    try:
        return _word(cell, "cells_stage", CellStage), None
    except UnreadCell:
        figure = read_figure(cell, (), "queen cells")
    count = whole(figure) if figure else None
    if count is None or not 0 <= count <= table("rules", "register.toml")["limits"]["most_queen_cells"]:
        raise UnreadCell(f"{shown(cell)!r} is no number of queen cells", "Write how many, or open or sealed")
    return (None, count) if count else (CellStage.NONE, None)
