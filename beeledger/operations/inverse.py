"""The inverse of an act's row changes, in an order that no constraint forbids at any step.

Databases look at references and uniqueness after every statement, so the order matters: a row goes away only
when nothing points at it any more, comes back only when what it points at is there, and within one table
room is made before it is taken.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import IntEnum
from graphlib import CycleError, TopologicalSorter

from sqlalchemy import Table

from beeledger.database.audit import Image
from beeledger.model.base import Base

Changes = Mapping[str, Sequence[tuple[int, Image | None, Image | None]]]
_STARTS = ("from_at", "from_on")
_ENDS = ("until_at", "until_on", "closed_on", "ended_on")


class Turn(IntEnum):
    """What happens to a row, in the order in which one table takes it."""

    REMOVE = 0
    SHORTEN = 1
    """Written over, and ending sooner again or as before."""
    LENGTHEN = 2
    """Written over, and lasting longer again: only when whatever came after has made room."""
    BRING_BACK = 3


@dataclass(frozen=True, slots=True)
class Step:
    """One row: ``image`` is what it becomes again, None when it goes away."""

    table: str
    row_id: int
    turn: Turn
    image: Image | None


def steps(changes: Changes) -> list[list[Step]]:
    """The steps that take changes back, in portions; the order within a portion does not matter."""
    every: _Every = {}
    for table, rows in changes.items():
        for row_id, before, after in rows:
            for turn in _turns(before, after):
                image = None if turn is Turn.REMOVE else before
                every[table, row_id, turn] = Step(table, row_id, turn, image), after
    try:
        return list(_portions(every, by_table=True))
    except CycleError:
        return list(_portions(every, by_table=False))  # references bind more than room within a table


_Key = tuple[str, int, int]
_Every = dict[_Key, tuple[Step, Image | None]]
_GATE = -1
"""The row number of a gate between the turns of a table: no row has it."""


def _portions(every: _Every, *, by_table: bool) -> Iterator[list[Step]]:
    sorter: TopologicalSorter[_Key] = TopologicalSorter()
    for key, (step, after) in every.items():
        sorter.add(key)
        for parent in _standing(every, key, after, Turn.REMOVE):
            sorter.add(parent, key)
        for parent in _standing(every, key, step.image, Turn.BRING_BACK):
            sorter.add(key, parent)
        removal = (step.table, step.row_id, Turn.REMOVE)
        if step.turn is not Turn.REMOVE and removal in every:
            sorter.add(key, removal)
    if by_table:
        _gate(sorter, every)
    sorter.prepare()
    while sorter.is_active():
        ready = sorter.get_ready()
        portion = [every[key][0] for key in ready if key in every]
        if portion:
            yield portion
        sorter.done(*ready)


def _gate(sorter: TopologicalSorter[_Key], every: _Every) -> None:
    for key, (step, _) in every.items():
        sorter.add(key, (step.table, _GATE, step.turn))
        sorter.add((step.table, _GATE, step.turn + 1), key)
    for table in dict.fromkeys(table for table, _, _ in every):
        for turn in Turn:
            sorter.add((table, _GATE, turn + 1), (table, _GATE, turn))


def _standing(every: _Every, key: _Key, image: Image | None, turn: Turn) -> Iterator[_Key]:
    """The other rows of the act that a row with these values points at, and that have this turn."""
    for table, row_id in _parents(key[0], image):
        if (table, row_id) != key[:2] and (table, row_id, turn) in every:
            yield table, row_id, turn


def _parents(table: str, image: Image | None) -> Iterator[tuple[str, int]]:
    """The rows that a row with these values points at."""
    if image is not None:
        for column, parent in references(Base.metadata.tables[table]):
            if (row_id := image.get(column)) is not None:
                yield parent, row_id


def references(table: Table) -> list[tuple[str, str]]:
    """The columns of a table that point at rows of another, or of itself."""
    return [(key.parent.name, key.column.table.name) for key in table.foreign_keys]


def _turns(before: Image | None, after: Image | None) -> tuple[Turn, ...]:
    if before is None:
        return () if after is None else (Turn.REMOVE,)
    if after is None:
        return (Turn.BRING_BACK,)
    if any(before.get(name) != after.get(name) for name in _STARTS):
        # SQLite gives the number of a row that went to the next that comes: these are two rows under one number.
        return Turn.REMOVE, Turn.BRING_BACK
    ends = [(before.get(name), after.get(name)) for name in _ENDS]
    longer = any(now is not None and (then is None or then > now) for then, now in ends)
    return (Turn.LENGTHEN,) if longer else (Turn.SHORTEN,)
