"""A batch as its card shows it: the balance, the sources, the readings, the weights and the label."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.queries.records.batch_record import BatchReading, Source
from beeledger.queries.records.label_words import LabelWords
from beeledger.rules.labels import Label


@dataclass(frozen=True, slots=True)
class BatchLine:
    """A batch in the list. ``left_g`` of ``jars_g`` is still on the farm."""

    id: int
    lot_mark: str
    product: str
    jar_g: int
    jars: int
    jarred_on: date
    best_before: date
    printed: int
    weighed: int
    jars_g: int
    left_g: int
    hold: str | None

    @property
    def is_sold_out(self) -> bool:
        """Whether nothing of it is left on the farm."""
        return self.left_g <= 0


@dataclass(frozen=True, slots=True)
class Gone:
    """Honey that left a batch: foam, sample, or out to somebody."""

    what: str
    grams: int
    on: date
    party: str = ""
    note: str = ""
    jars: int | None = None
    """How many jars it was; none where it was no jars or nobody counted."""


@dataclass(frozen=True, slots=True)
class FromLot:
    """A lot the batch was drawn from: how much, and what is left in it now."""

    id: int
    kind: str
    name: str
    drawn_g: int
    left_g: int


@dataclass(frozen=True, slots=True)
class BatchCard:
    """Everything the card of a batch shows."""

    line: BatchLine
    lot_id: int
    drawn_g: int
    drawn_from: tuple[FromLot, ...]
    spent: tuple[Gone, ...]
    """What was lost or kept at the jarring: foam, spill, sample."""
    gone: tuple[Gone, ...]
    """What left in jars: sold, given, rent."""
    sources: tuple[Source, ...]
    readings: tuple[BatchReading, ...]
    net_tenths: tuple[int, ...]
    label: Label
    words: LabelWords
    sheet: str
    gtin: str
    used: int
    spoiled: int
    by: str
    """Who wrote the jarring."""

    @property
    def jar_mean_tenths(self) -> int:
        """What is in a jar on the mean, by what was drawn less what was lost; tenths of a gram."""
        return round(self.line.jars_g * 10 / self.line.jars)

    @property
    def difference_g(self) -> int:
        """Drawn less jars less what was lost: nought when it balances."""
        return self.drawn_g - self.line.jars_g - sum(each.grams for each in self.spent)
