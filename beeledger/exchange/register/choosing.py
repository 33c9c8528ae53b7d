"""What each column was taken for and why, shown to the person; and what the person says instead."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from beeledger.base.text import tidy
from beeledger.exchange.figures import shown
from beeledger.exchange.register.headings import Heads, Kind, fields_by_words, plain_heading
from beeledger.exchange.tables import Line, column_letter

Choices = Mapping[str, Mapping[str, str]]
"""By the headings of a table: what its columns are, by heading; ``KIND`` says what its rows are."""
KIND = "*"
LEFT = ""
MONTH_FIRST = "seen_month_first"
_SAMPLES = 3
WHY = {
    3: ("as set", "set by you"),
    2: ("sure", "its heading says so"),
    1: ("likely", "words of its heading"),
    0: ("a guess", "spelt nearly so"),
    -1: ("a guess", "by what stands in its rows"),
}
FIELDS = {
    Kind.SITES: {
        "name": "site", "code": "code of the site", "grid": "grid reference", "latitude": "latitude",
        "longitude": "longitude", "easting": "easting", "northing": "northing", "owner": "landholder",
        "rent": "rent", "capacity": "room for hives", "notes": "note",
    },
    Kind.HIVES: {
        "hive": "hive number", "site": "site", "grid": "grid reference of its site", "hive_type": "type of hive",
        "queen_year": "queen's year", "queen_colour": "queen's colour", "marked": "queen marked",
        "clipped": "queen clipped", "line": "queen's line", "seen": "day", MONTH_FIRST: "day, month first",
        "brood": "frames of brood", "bees": "frames of bees", "stores": "stores", "supers": "supers",
        "temper": "temper", "eggs": "eggs", "queen_seen": "queen seen", "queen_state": "queen state",
        "cells": "queen cells", "comment": "note",
    },
}  # fmt: skip
"""The fields that a column can be set to, with the words shown."""


@dataclass(frozen=True, slots=True)
class ColumnTaken:
    """One column of a table as it was understood."""

    table: str
    """The key of its table's headings."""
    key: str
    sheet: str
    column: str
    heading: str
    samples: tuple[str, ...]
    kind: str
    field: str
    """"" when it is not taken in."""
    sure: str
    why: str


def fields_of(kind: str) -> dict[str, str]:
    """The fields of a table whose rows are of ``kind``."""
    return FIELDS[Kind.SITES if kind == Kind.SITES else Kind.HIVES]


def key_of(heads: Heads) -> str:
    """What a set of headings is remembered by: its words in any order."""
    return " | ".join(sorted(column_keys(heads).values()))


def column_keys(heads: Heads) -> dict[int, str]:
    """Each column by its heading, or by its letter where that says nothing or is there twice."""
    plain = {index: plain_heading(text) for index, text in heads.texts.items()}
    often = [text for text in plain.values() if text]
    return {
        index: text if text and often.count(text) == 1 else f"{text} {column_letter(index)}".strip()
        for index, text in plain.items()
    }


def with_choices(heads: Heads, chosen: Choices) -> tuple[Heads, bool]:
    """The headings as the person set them; and whether it was said what the rows are."""
    said = chosen.get(key_of(heads))
    if said is None:
        return heads, False
    kind = Kind(said[KIND]) if said.get(KIND) in set(Kind) else heads.kind
    columns = dict(heads.columns)
    if (kind is Kind.SITES) is not (heads.kind is Kind.SITES):
        columns = fields_by_words(kind, heads.texts)
    sure, month_first = dict(heads.sure), heads.month_first
    for index, key in column_keys(heads).items():
        name = said.get(key)
        if name is None or name not in {LEFT, *fields_of(kind)}:
            continue
        columns = {field: at for field, at in columns.items() if at != index}
        if name in ("seen", MONTH_FIRST):
            name, month_first = "seen", name == MONTH_FIRST
        if name:
            columns[name] = index
            sure[index] = 3
    taken = set(columns.values())
    unused = tuple(index for index in heads.texts if index not in taken)
    guessed = {
        index: spelt for index, spelt in heads.guessed.items() if index in taken and sure.get(index) != 3
    }
    made = replace(
        heads, kind=kind, columns=columns, unused=unused, guessed=guessed, sure=sure, month_first=month_first
    )
    return made, KIND in said


def columns_taken(sheet: str, heads: Heads, lines: Sequence[Line]) -> list[ColumnTaken]:
    """The columns of one table for the person to look at."""
    fields = {index: name for name, index in heads.columns.items()}
    keys = column_keys(heads)
    taken = []
    for index in sorted(set(heads.texts) | set(fields)):
        name = fields.get(index, LEFT)
        sure, why = WHY[heads.sure.get(index, 1)] if name else ("", "")
        if name and index in heads.guessed and heads.sure.get(index) == 0:
            why = f"spelt nearly as “{heads.guessed[index]}”"
        if name == "seen" and heads.month_first:
            name = MONTH_FIRST
        samples = [tidy(shown(value)) for line in lines if (value := line.cell(index)) is not None]
        taken.append(
            ColumnTaken(
                key_of(heads), keys.get(index, column_letter(index)), sheet, column_letter(index),
                heads.texts.get(index, ""), tuple(list(dict.fromkeys(filter(None, samples)))[:_SAMPLES]),
                heads.kind.value, name, sure, why,
            )
        )  # fmt: skip
    return taken
