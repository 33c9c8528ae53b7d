"""The foot of a round, and the ways of filling many lines at once. All are pure: entries in, entries out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any, TypeVar

from beeledger.base.dates import short
from beeledger.base.units import MINUS, frames, kilograms, litres
from beeledger.rules.rounds.entry import (
    EMPTY,
    FIELDS,
    CellStage,
    Entry,
    FeedKind,
    Outcome,
    blank,
    filled,
    outcome_of,
    over,
)

OF_ONE_HIVE = frozenset(
    {
        "cause",
        "queen_colour",
        "split_to",
        "united_into",
        "brood_given_from",
        "brood_given_tenths",
        "signs",
        "question",
        "note",
    }
)
"""Fields that are never copied from one hive to another: they belong to it alone."""
_Kind = TypeVar("_Kind")
_LOOKED_STAGES = (CellStage.NONE, CellStage.CUPS)


@dataclass(frozen=True, slots=True)
class Foot:
    """The sums of a round. A sum of nothing looked at is None, as a cell is; counts begin at nought."""

    hives: int
    """Lines of the round."""
    filled: int
    """Lines that say something."""
    outcomes: dict[Outcome, int]
    waiting: int
    """Lines under question."""
    queens_seen: int
    eggs: int
    brood_tenths: int | None
    bees_tenths: int | None
    stores_g: int | None
    cells_hives: int
    """Hives with queen cells beyond cups."""
    cells_count: int | None
    supers_on: int | None
    supers_off: int | None
    feed_ml: dict[FeedKind | None, int]
    feed_g: dict[FeedKind | None, int]
    medicine_in: dict[str | None, int]
    medicine_out: dict[str | None, int]
    mites_counted: int
    next_look: date | None
    """The earliest day on which a hive is to be seen again."""
    fed_only: int = 0
    """Hives that got feed and were not opened."""

    @property
    def looked(self) -> int:
        """Hives that were looked at."""
        return self.outcomes.get(Outcome.LOOKED, 0)

    def words(self) -> dict[str, str]:
        """The sums as they stand under their columns, by field; what nobody looked at is blank."""
        feed_ml, feed_g = sum(self.feed_ml.values()), sum(self.feed_g.values())
        feed = [f"{litres(feed_ml)} L"] if feed_ml else []
        feed += [f"{kilograms(feed_g)} kg"] if feed_g else []
        supers = [f"+{self.supers_on}"] if self.supers_on else []
        supers += [f"{MINUS}{self.supers_off}"] if self.supers_off else []
        return {
            "outcome": f"{self.looked} of {self.hives} looked at",
            "not_opened": self._not_opened(),
            "queen_seen": _count(self.queens_seen),
            "eggs": _count(self.eggs),
            "brood_tenths": _frames(self.brood_tenths),
            "bees_tenths": _frames(self.bees_tenths),
            "stores_g": "" if self.stores_g is None else kilograms(self.stores_g, 0),
            "cells_stage": _count(self.cells_hives),
            "supers_on": " ".join(supers),
            "feed_ml": " ".join(feed),
            "medicine_in": _ways(sum(self.medicine_in.values()), sum(self.medicine_out.values())),
            "mites_count": _count(self.mites_counted),
            "next_days": f"next look {short(self.next_look)}" if self.next_look else "",
        }

    def _not_opened(self) -> str:
        others = self.outcomes.get(Outcome.NOT_OPENED, 0) - self.fed_only
        parts = [f"{self.fed_only:,} fed, not opened"] if self.fed_only else []
        parts += [f"{others:,} not opened"] if others else []
        return " · ".join(parts)


def foot(entries: Iterable[Entry], day: date) -> Foot:
    """The sums of all lines of a round that took place on ``day``."""
    lines = list(entries)
    outcomes = Counter(outcome for entry in lines if (outcome := outcome_of(entry)) is not None)
    days = [entry.next_days for entry in lines if entry.next_days is not None]
    return Foot(
        hives=len(lines),
        filled=sum(not blank(entry) for entry in lines),
        outcomes=dict(outcomes),
        waiting=sum(entry.question is not None for entry in lines),
        queens_seen=sum(entry.queen_seen is True for entry in lines),
        eggs=sum(entry.eggs is True for entry in lines),
        brood_tenths=_sum(entry.brood_tenths for entry in lines),
        bees_tenths=_sum(entry.bees_tenths for entry in lines),
        stores_g=_sum(entry.stores_g for entry in lines),
        cells_hives=sum(entry.cells_stage not in (None, *_LOOKED_STAGES) for entry in lines),
        cells_count=_sum(entry.cells_count for entry in lines if entry.cells_stage not in _LOOKED_STAGES),
        supers_on=_sum(entry.supers_on for entry in lines),
        supers_off=_sum(entry.supers_off for entry in lines),
        feed_ml=_by((entry.feed_kind, entry.feed_ml) for entry in lines),
        feed_g=_by((entry.feed_kind, entry.feed_g) for entry in lines),
        medicine_in=_by((entry.medicine_in, entry.medicine_in_count) for entry in lines),
        medicine_out=_by((entry.medicine_out, entry.medicine_out_count) for entry in lines),
        mites_counted=sum(entry.mites_count is not None for entry in lines),
        next_look=day + timedelta(days=min(days)) if days else None,
        fed_only=sum(fed_only(entry) for entry in lines),
    )


def fed_only(entry: Entry) -> bool:
    """Whether a hive got feed and nobody opened it."""
    fed = any(filled(entry, name) for name in ("feed_kind", "feed_ml", "feed_g"))
    return fed and outcome_of(entry) is Outcome.NOT_OPENED


def repeat_line(previous: Entry, entry: Entry = EMPTY) -> Entry:
    """``entry`` with its blanks filled from the line above; what belongs to one hive alone is not copied.

    The line of a hive that was not looked at says nothing to repeat.
    """
    if outcome_of(previous) is not Outcome.LOOKED:
        return entry
    return over(replace(previous, **_blanked(OF_ONE_HIVE)), entry)


def fill_with(entries: Sequence[Entry], stretch: slice | range, values: Entry) -> list[Entry]:
    """All lines, those of ``stretch`` with their blanks filled from ``values`` (syrup for a row of hives).

    What was typed stays. Hives that are dead, empty, not found or not opened are passed over.
    """
    places = _places(stretch, len(entries))
    return [
        over(values, entry) if place in places and _takes(entry) else entry
        for place, entry in enumerate(entries)
    ]


def fill_down(entries: Sequence[Entry], stretch: slice | range, fields: Iterable[str]) -> list[Entry]:
    """All lines, with ``fields`` of the first line of ``stretch`` copied into the blanks of the others.

    An empty stretch changes nothing. ValueError names a field that belongs to one hive alone.
    """
    wanted = list(fields)
    private = [name for name in wanted if name in OF_ONE_HIVE or name not in FIELDS]
    if private:
        raise ValueError(f"{private[0]} is not copied from hive to hive")
    places = sorted(_places(stretch, len(entries)))
    if not places:
        return list(entries)
    first = entries[places[0]]
    values = Entry(**{name: getattr(first, name) for name in wanted if filled(first, name)})
    return fill_with(entries, range(places[0] + 1, places[-1] + 1), values)


def nothing_to_report(entries: Sequence[Entry], stretch: slice | range, normal: Entry) -> list[Entry]:
    """All lines, the blank ones of ``stretch`` with what the farm calls normal; no other line is touched."""
    places = _places(stretch, len(entries))
    return [normal if place in places and blank(entry) else entry for place, entry in enumerate(entries)]


def next_blank(entries: Sequence[Entry], after: int) -> int | None:
    """The next line with nothing on it after line ``after``, going round; None when all are filled."""
    order = [*range(after + 1, len(entries)), *range(min(after + 1, len(entries)))]
    return next((place for place in order if blank(entries[place])), None)


def _takes(entry: Entry) -> bool:
    return entry.outcome in (None, Outcome.LOOKED)


def _places(stretch: slice | range, size: int) -> frozenset[int]:
    inside = range(*stretch.indices(size)) if isinstance(stretch, slice) else stretch
    return frozenset(place for place in inside if 0 <= place < size)


def _blanked(names: Iterable[str]) -> dict[str, Any]:
    return {name: getattr(EMPTY, name) for name in names}


def _sum(values: Iterable[int | None]) -> int | None:
    known = [value for value in values if value is not None]
    return sum(known) if known else None


def _by(pairs: Iterable[tuple[_Kind, int | None]]) -> dict[_Kind, int]:
    sums: dict[_Kind, int] = {}
    for kind, amount in pairs:
        if amount is not None:
            sums[kind] = sums.get(kind, 0) + amount
    return sums


def _count(number: int) -> str:
    return f"{number:,}" if number else ""


def _frames(tenths: int | None) -> str:
    return "" if tenths is None else frames(tenths)


def _ways(into: int, out: int) -> str:
    return " ".join(part for part in (f"{into} in" if into else "", f"{out} out" if out else "") if part)
