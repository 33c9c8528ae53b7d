"""The record of one jarring: where the honey came from, how it was judged, where it went."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.queries.records.heading import Note


@dataclass(frozen=True, slots=True)
class Source:
    """One source of the honey in the batch."""

    name: str
    grams: int
    share_hundredths: int
    """Hundredths of a per cent; all of them sum to 10,000."""
    through: str = ""
    """Drum, tank or lot it came through."""
    taken: date | None = None
    country: str = ""
    moisture_hundredths: int | None = None


@dataclass(frozen=True, slots=True)
class BatchReading:
    """One reading against its limit."""

    what: str
    value: str
    """With its unit: "17.6 %"."""
    limit: str = ""
    """"at most 20.0 %"; blank where there is none."""
    met: bool | None = None
    """None where there is no limit or nothing can be said."""
    on: date | None = None
    source: str = ""
    """How it was got: "refractometer, at 20.4 °C", "laboratory, sheet 4411"."""


@dataclass(frozen=True, slots=True)
class WeighingCheck:
    """The check of filled weights: net tenths of a gram."""

    nominal_g: int
    net_tenths: tuple[int, ...]
    """Each jar weighed, in the order weighed."""
    t1_tenths: int
    """Nominal less the tolerable error."""
    t2_tenths: int
    """Nominal less twice the tolerable error."""
    tare: str = ""
    verdicts: tuple[Note, ...] = ()
    """The packer's rules, each met or not."""
    source: str = ""

    @property
    def mean_tenths(self) -> float | None:
        """Mean net weight in tenths of a gram; None when nothing was weighed."""
        return sum(self.net_tenths) / len(self.net_tenths) if self.net_tenths else None


@dataclass(frozen=True, slots=True)
class ParticularLine:
    """One particular of the label: met (True), not met (False), or advice (None)."""

    what: str
    words: str
    met: bool | None
    source: str = ""
    """Where it is asked for."""


@dataclass(frozen=True, slots=True)
class JarCount:
    """Jars or labels: made, used, spoiled, left."""

    what: str
    made: int
    used: int
    spoiled: int
    left: int


@dataclass(frozen=True, slots=True)
class BalancePart:
    """Where some of the grams went."""

    what: str
    grams: int
    detail: str = ""


@dataclass(frozen=True, slots=True)
class BatchRecord:
    """Everything the batch record prints."""

    lot: str
    product: str
    jarred: date
    nominal_g: int
    jars: int
    sources: tuple[Source, ...]
    in_g: int
    parts: tuple[BalancePart, ...]
    """Jars, sinks and what is left: they sum to ``in_g`` when the batch balances."""
    best_before: str = ""
    line: str = ""
    """Which filling line."""
    by: str = ""
    readings: tuple[BatchReading, ...] = ()
    weighing: WeighingCheck | None = None
    particulars: tuple[ParticularLine, ...] = ()
    counts: tuple[JarCount, ...] = ()
    dispatched: tuple[Note, ...] = ()
    notes: tuple[Note, ...] = ()

    @property
    def difference_g(self) -> int:
        """In less all that is accounted for: nought when it balances."""
        return self.in_g - sum(part.grams for part in self.parts)
