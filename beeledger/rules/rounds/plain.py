"""An entry as plain values and back, for drafts, settings and the images that History keeps."""

from __future__ import annotations

from dataclasses import asdict
from enum import StrEnum
from typing import Any

from beeledger.rules.rounds.entry import (
    FIELDS,
    Cause,
    CellsDone,
    CellStage,
    Entry,
    FeedKind,
    Heft,
    MiteMethod,
    NextAction,
    Outcome,
    QueenColour,
    QueenState,
    Split,
    SplitQueen,
    fields_filled,
)

CODES: dict[str, type[StrEnum]] = {
    "outcome": Outcome,
    "cause": Cause,
    "queen_state": QueenState,
    "queen_colour": QueenColour,
    "stores_heft": Heft,
    "cells_stage": CellStage,
    "cells_done": CellsDone,
    "feed_kind": FeedKind,
    "mites_method": MiteMethod,
    "next_action": NextAction,
}
"""Fields that hold one of a few words, and the words they may hold."""


def as_plain(entry: Entry) -> dict[str, Any]:
    """Only the fields that say something, as text, whole numbers, truth and lists: fit for JSON."""
    values: dict[str, Any] = {}
    for name in fields_filled(entry):
        value = getattr(entry, name)
        if isinstance(value, tuple):
            value = [{key: _bare(part) for key, part in asdict(split).items()} for split in value]
        values[name] = _bare(value)
    return values


def from_plain(values: dict[str, Any]) -> Entry:
    """The entry that ``as_plain`` wrote. ValueError names a field or a word that no entry knows."""
    unknown = sorted(set(values) - set(FIELDS))
    if unknown:
        raise ValueError(f"an entry has no field {unknown[0]}")
    return Entry(**{name: _rich(name, value) for name, value in values.items()})


def _bare(value: Any) -> Any:
    return str(value) if isinstance(value, StrEnum) else value


def _rich(name: str, value: Any) -> Any:
    if value is None:
        return () if name == "split_to" else None
    if name == "split_to":
        return tuple(_split(row) for row in value)
    return CODES[name](value) if name in CODES else value


def _split(row: dict[str, Any]) -> Split:
    queen = row.get("queen")
    return Split(
        row["mark"],
        row.get("brood_tenths"),
        row.get("bees_tenths"),
        None if queen is None else SplitQueen(queen),
    )
