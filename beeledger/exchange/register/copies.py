"""Sheets that hold the same hives in another year: the newest is read, the older ones are said."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from beeledger.base.findings import Grade, Where
from beeledger.exchange.register.names import site_key
from beeledger.exchange.register.records import ColonyRow, Remarks

_LEAST_HIVES = 5
_LEAST_SHARE = 0.5
"""Of the smaller sheet's hives, at the same sites, from which on it is taken for a copy."""


def without_older_copies(colonies: list[ColonyRow], remarks: Remarks) -> list[ColonyRow]:
    """The colonies without those of sheets that repeat a newer sheet; each such sheet is doubted once.

    The findings inside an older copy go with it.
    """
    sheets: dict[str, list[ColonyRow]] = {}
    for colony in colonies:
        sheets.setdefault(colony.where.sheet, []).append(colony)
    newest_first = sorted(sheets, key=lambda name: _last_look(sheets[name]), reverse=True)
    kept: list[str] = []
    for name in newest_first:
        newer = next((other for other in kept if _is_copy(sheets[name], sheets[other])), None)
        if newer is None:
            kept.append(name)
            continue
        remarks.findings = [f for f in remarks.findings if f.where.sheet != name or f.grade is Grade.NOTED]
        what = f"holds the same hives as {newer}, with older looks; not read"
        remarks.doubt(Where(sheet=name), "older-copy", what, "Read it alone if it is the right one")
    return [colony for colony in colonies if colony.where.sheet in kept]


def _is_copy(older: Sequence[ColonyRow], newer: Sequence[ColonyRow]) -> bool:
    if _last_look(older) >= _last_look(newer):
        return False
    mine, theirs = _hives(older), _hives(newer)
    smaller = min(len(mine), len(theirs))
    return smaller >= _LEAST_HIVES and len(mine & theirs) >= _LEAST_SHARE * smaller


def _hives(colonies: Sequence[ColonyRow]) -> set[tuple[str, str]]:
    return {(site_key(colony.hive), colony.site) for colony in colonies}


def _last_look(colonies: Sequence[ColonyRow]) -> date:
    return max((colony.seen for colony in colonies if colony.seen), default=date.min)
