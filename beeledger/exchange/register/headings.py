"""Which row heads a table, and what each of its columns means.

Words are looked up in ``resources/words/register.toml``. Columns are known by meaning: any order,
any sheet, further columns beside them, a heading in two rows, a slip of the pen.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from difflib import get_close_matches
from enum import StrEnum
from functools import cache

from beeledger.base.resources import table
from beeledger.base.text import folded
from beeledger.exchange.tables import Cell, Line, column_letter, is_blank


class Kind(StrEnum):
    """What the rows under a heading are."""

    SITES = "sites"
    HIVES = "hives"
    LOOKS = "looks"
    """One row a visit: the same hive stands in many rows, with its days."""
    QUEENS = "queens"
    """One row a queen, by the hive she heads."""


_BY_WORDS = (Kind.SITES, Kind.HIVES)
"""Looks and queens stand under the headings of hives; what the rows hold tells them apart."""


_TELLING = {
    Kind.SITES: {"grid", "latitude", "longitude", "easting", "northing", "owner", "rent", "capacity"},
    Kind.HIVES: {"queen_year", "queen_colour", "marked", "seen", "brood", "supers", "temper", "hive_type"},
}
_KEYS = {Kind.SITES: {"name"}, Kind.HIVES: {"hive", "site"}}
_LONGEST_HEADING = 40
_MOST_FIGURES = 4
_OTHER = "other"
_WHOLE = 2


@dataclass(frozen=True, slots=True)
class Match:
    """One heading read: the field, how well it fits, and whether it was a near miss in spelling."""

    field: str
    weight: tuple[int, int, int]
    spelt: str = ""


@dataclass(frozen=True, slots=True)
class Heads:
    """A heading row: which column holds which field."""

    kind: Kind
    row: int
    columns: dict[str, int]
    texts: dict[int, str] = field(default_factory=dict)
    unused: tuple[int, ...] = ()
    guessed: dict[int, str] = field(default_factory=dict)
    sure: dict[int, int] = field(default_factory=dict)
    """How a column was known: 3 the person said so, 2 its whole heading, 1 words of it, 0 a near miss, -1 its rows."""
    month_first: bool | None = None
    """Which way round its dates are, where the person said so."""

    def cell(self, line: Line, name: str) -> Cell:
        """The value of a field in a row; None when the table has no such column."""
        index = self.columns.get(name)
        return None if index is None else line.cell(index)

    def column(self, name: str) -> str:
        """Letter and heading of a field's column: "H (Frames brood)"."""
        index = self.columns.get(name)
        return "" if index is None else self.column_at(index)

    def column_at(self, index: int) -> str:
        """Letter and heading of a column."""
        text = self.texts.get(index, "")
        return f"{column_letter(index)} ({text})" if text else column_letter(index)


def read_heads(line: Line, above: Line | None) -> Heads | None:
    """The headings of a table when ``line`` is such a row; None when it is not."""
    filled = line.filled()
    texts = {index: _heading_text(line.cell(index)) for index in filled}
    if len(filled) < 2 or sum(bool(text) for text in texts.values()) < 0.8 * len(filled):
        return None
    full = _with_row_above(texts, above)
    found = [heads for kind in _BY_WORDS if (heads := _heads(kind, line.number, full)) is not None]
    return max(found, key=_telling, default=None)


def _telling(heads: Heads) -> int:
    return len(_TELLING[heads.kind] & set(heads.columns))


def _heads(kind: Kind, row: int, texts: dict[int, tuple[str, str]]) -> Heads | None:
    matches: dict[int, Match] = {}
    shown: dict[int, str] = {}
    for index, (own, joined) in texts.items():
        tried = [(match, text) for text in (own, joined) if (match := _match(kind, text)) is not None]
        best = max(tried, key=lambda pair: pair[0].weight, default=None)
        shown[index] = best[1] if best else own
        if best:
            matches[index] = best[0]
    columns = _one_each(matches)
    if not _KEYS[kind] & set(columns) or not _convincing(kind, columns, matches, len(texts)):
        return None
    used = set(columns.values())
    return Heads(
        kind,
        row,
        columns,
        shown,
        tuple(index for index in texts if index not in used),
        {index: matches[index].spelt for index in used if matches[index].spelt},
        {index: matches[index].weight[0] for index in used},
    )


def _convincing(kind: Kind, columns: dict[str, int], matches: dict[int, Match], filled: int) -> bool:
    """Whether enough cells are headings: names of sites and notes hold some of the same words."""
    whole = sum(matches[index].weight[0] == _WHOLE for index in columns.values())
    if not whole or not _TELLING[kind] & set(columns):
        return False
    return 2 * len(matches) >= filled or (whole >= 2 and len(columns) >= 4)


def could_be_heads(line: Line) -> Heads | None:
    """A row that names sites and nothing else that is known: headings, if what stands below bears it out."""
    texts = {index: _heading_text(line.cell(index)) for index in line.filled()}
    if len(texts) < 2 or not all(texts.values()):
        return None
    matches = {index: match for index, text in texts.items() if (match := _match(Kind.SITES, text))}
    columns = _one_each(matches)
    if "name" not in columns or matches[columns["name"]].weight[0] != _WHOLE:
        return None
    used = set(columns.values())
    sure = {index: matches[index].weight[0] for index in used}
    unused = tuple(index for index in texts if index not in used)
    return Heads(Kind.SITES, line.number, columns, texts, unused, sure=sure)


def _one_each(matches: dict[int, Match]) -> dict[str, int]:
    best: dict[str, int] = {}
    for index, match in matches.items():
        if match.field == _OTHER:
            continue
        holder = best.get(match.field)
        if holder is None or match.weight > matches[holder].weight:
            best[match.field] = index
    return best


def _with_row_above(texts: dict[int, str], above: Line | None) -> dict[int, tuple[str, str]]:
    """Each heading alone and behind the one that spans it in the row above."""
    spans = _spans(above) if above is not None else {}
    joined = {}
    for index in sorted(set(texts) | set(spans)):
        own, over = texts.get(index, ""), spans.get(index, "")
        if own or (over and _is_own_column(above, index)):
            joined[index] = (own or over, f"{over} {own}".strip())
    return joined


def _is_own_column(above: Line | None, index: int) -> bool:
    return above is not None and not is_blank(above.cell(index))


def _spans(above: Line) -> dict[int, str]:
    """The row above with merged headings carried to the right. A lone title spans nothing."""
    filled = above.filled()
    texts = {index: _heading_text(above.cell(index)) for index in filled}
    if len(filled) < 2 or not all(texts.values()) or not _names_columns(texts.values()):
        return {}
    spans: dict[int, str] = {}
    current = ""
    for index in range(filled[0], len(above.cells) + 3):
        current = texts.get(index, current)
        spans[index] = current
    return spans


def _names_columns(texts: Iterable[str]) -> bool:
    return any(_match(kind, text) for text in texts for kind in _BY_WORDS)


def _heading_text(value: Cell) -> str:
    if not isinstance(value, str):
        return ""
    text = " ".join(value.split())
    figures = sum(letter.isdigit() for letter in text)
    fits = len(text) <= _LONGEST_HEADING and figures <= _MOST_FIGURES
    return text if fits and any(letter.isalpha() for letter in text) else ""


def plain_heading(text: str) -> str:
    """A heading for comparing: lower case, letters and figures alone."""
    return " ".join(re.findall(r"[a-z0-9]+", folded(text)))


@cache
def _match(kind: Kind, text: str) -> Match | None:
    plain = plain_heading(text)
    if not plain:
        return None
    phrases = _phrases(kind)
    if plain in phrases:
        return Match(phrases[plain], (_WHOLE, 0, 0))
    words = plain.split()
    inside = [phrase for phrase in phrases if set(phrase.split()) <= set(words)]
    if inside:
        best = max(inside, key=lambda phrase: (len(phrase.split()), len(phrase)))
        return Match(phrases[best], (1, len(best.split()), len(best)))
    near = get_close_matches(plain, [phrase for phrase in phrases if len(phrase) >= 5], n=1, cutoff=0.83)
    return Match(phrases[near[0]], (0, 0, 0), spelt=near[0]) if near and len(plain) >= 5 else None


def fields_by_words(kind: Kind, texts: dict[int, str]) -> dict[str, int]:
    """The columns of headings read anew, as those of another kind of table."""
    words = kind if kind is Kind.SITES else Kind.HIVES
    return _one_each({index: match for index, text in texts.items() if (match := _match(words, text))})


@cache
def _phrases(kind: Kind) -> dict[str, str]:
    columns = table("words", "register.toml")["columns"]
    phrases = dict.fromkeys(columns["other"], _OTHER)
    for name, spellings in columns[kind.value].items():
        phrases |= dict.fromkeys(spellings, name)
    return phrases
