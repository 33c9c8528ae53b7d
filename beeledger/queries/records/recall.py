"""Everything of one lot mark: where each jar is, who got how many, and which hives stand behind it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.queries.records.batch_record import Source
from beeledger.queries.records.dispatch_desk import ContactWords
from beeledger.queries.records.jar_lot import JarLot


@dataclass(frozen=True, slots=True)
class HiveBehind:
    """A hive whose honey is behind a lot, with what was done to it in the year before the take."""

    site: str
    taken_on: date
    mark: str
    supers: int
    reason: str
    treatments: tuple[str, ...]
    feeds: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Delivery:
    """Jars of the mark that went to somebody on a day; what came back again is counted beside it."""

    on: date
    receiver: str
    way: str
    reference: str
    jars: int
    back: int
    grams: int
    """As sent."""
    back_g: int
    counted: bool = True
    """False: only the grams were written; the jars are reckoned from them."""


@dataclass(frozen=True, slots=True)
class Buyer:
    """Somebody who got jars of the mark, with how to reach them. ``named`` False: the public."""

    name: str
    contact: ContactWords
    deliveries: tuple[Delivery, ...]
    named: bool = True

    @property
    def jars(self) -> int:
        """Sent."""
        return sum(each.jars for each in self.deliveries)

    @property
    def back(self) -> int:
        """Came back."""
        return sum(each.back for each in self.deliveries)

    @property
    def out(self) -> int:
        """Still with them."""
        return self.jars - self.back

    @property
    def out_g(self) -> int:
        """What they still have of it, or have eaten."""
        return sum(each.grams - each.back_g for each in self.deliveries)

    @property
    def days(self) -> tuple[date, date]:
        """First and last day."""
        return min(each.on for each in self.deliveries), max(each.on for each in self.deliveries)


@dataclass(frozen=True, slots=True)
class Whereabouts:
    """Where some of the jars are: with buyers, here, here and held, lost, in another lot."""

    what: str
    jars: int
    grams: int
    detail: str = ""


@dataclass(frozen=True, slots=True)
class RelatedMark:
    """Another lot mark that some of the same honey went into."""

    batch_id: int
    lot_mark: str
    product: str
    jarred_on: date
    jars: int


@dataclass(frozen=True, slots=True)
class Recall:
    """Everything of one lot mark."""

    batch_id: int
    lot_id: int
    lot_mark: str
    product: str
    jar_g: int
    jars: int
    jars_g: int
    """What was put into jars."""
    jarred_on: date
    best_before: date
    hold: str
    parts: tuple[Whereabouts, ...]
    """Every jar is in one of them: they sum to ``jars`` and ``jars_g``."""
    buyers: tuple[Buyer, ...]
    sources: tuple[Source, ...]
    hives: tuple[HiveBehind, ...]
    related: tuple[RelatedMark, ...] = ()
    lots: tuple[JarLot, ...] = ()
    """The jars of the mark as they stand: those of the jarring, and those that came back."""

    @property
    def difference(self) -> tuple[int, int]:
        """Jars and grams not accounted for: nought and nought when it balances."""
        jars = self.jars - sum(part.jars for part in self.parts)
        return jars, self.jars_g - sum(part.grams for part in self.parts)

    def part(self, what: str) -> Whereabouts:
        """One of the parts; empty where there is none."""
        return next((part for part in self.parts if part.what == what), Whereabouts(what, 0, 0))
