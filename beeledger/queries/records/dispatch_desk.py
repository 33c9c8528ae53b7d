"""Dispatches as the office sees them: the list, the card of one, and what a form for one offers."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from beeledger.queries.records.jar_lot import JarLot

WAY_WORDS = {"dispatch": "sold", "public": "sold to the public", "gift": "given", "rent": "paid as rent"}


@dataclass(frozen=True, slots=True)
class ContactWords:
    """How somebody is reached; what is not known is blank."""

    person: str = ""
    address: str = ""
    phone: str = ""
    email: str = ""

    def lines(self) -> tuple[str, ...]:
        """What is known, one line each."""
        return tuple(words for words in (self.person, self.address, self.phone, self.email) if words)


@dataclass(frozen=True, slots=True)
class DispatchRow:
    """A dispatch in the list. ``grams`` and ``jars`` as sent, also where some came back."""

    id: int
    on: date
    party: str
    way: str
    marks: tuple[str, ...]
    jars: int
    back: int
    grams: int
    reference: str

    @property
    def receiver(self) -> str:
        """Who got it; blank where nobody was named."""
        return self.party or ("the public" if self.way == "public" else "")


@dataclass(frozen=True, slots=True)
class SentLine:
    """One lot of a dispatch. ``transfer_id`` None: all of it came back."""

    transfer_id: int | None
    lot_id: int
    batch_id: int | None
    lot_mark: str
    """The lot mark of jars, the name of a drum."""
    product: str
    jar_g: int | None
    best_before: date | None
    jars: int | None
    back: int
    grams: int
    back_g: int

    @property
    def out(self) -> int | None:
        """Jars that are still out."""
        return None if self.jars is None else self.jars - self.back


@dataclass(frozen=True, slots=True)
class DispatchCard:
    """A dispatch whole."""

    row: DispatchRow
    contact: ContactWords
    note: str
    lines: tuple[SentLine, ...]


@dataclass(frozen=True, slots=True)
class BulkLot:
    """A drum, bucket or tank that may be sold by weight."""

    lot_id: int
    name: str
    left_g: int
    hold: str | None


@dataclass(frozen=True, slots=True)
class DispatchChoices:
    """What the forms offer."""

    customers: tuple[str, ...]
    contacts: dict[str, ContactWords] = field(default_factory=dict)
    jars: tuple[JarLot, ...] = ()
    bulk: tuple[BulkLot, ...] = ()
