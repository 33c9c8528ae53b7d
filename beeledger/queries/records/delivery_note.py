"""The paper that goes with a dispatch: who sends what to whom, by lot mark."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.queries.records.dispatch_desk import ContactWords, SentLine


@dataclass(frozen=True, slots=True)
class DeliveryNote:
    """One dispatch for paper, as it went out."""

    number: int
    on: date
    way: str
    """In words: sold, given, paid as rent."""
    receiver: str
    contact: ContactWords
    reference: str
    note: str
    lines: tuple[SentLine, ...]

    @property
    def jars(self) -> int:
        """All jars."""
        return sum(line.jars or 0 for line in self.lines)

    @property
    def grams(self) -> int:
        """All honey."""
        return sum(line.grams for line in self.lines)
