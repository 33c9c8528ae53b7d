"""What every document says of itself: whose it is, when it was made and from which data."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class Farm:
    """The business whose record this is."""

    name: str
    address: tuple[str, ...] = ()
    contact: str = ""
    """One line: telephone, mail."""


@dataclass(frozen=True, slots=True)
class Made:
    """When a document was made, and from which data."""

    at: datetime
    """Aware; printed as the wall clock of its own zone, so hand it in the farm's zone."""
    source: str
    """The database as people call it: "wennet.db"."""
    act: int | None = None
    """The number of the last act the data holds."""
    by: str = ""


@dataclass(frozen=True, slots=True)
class PartyLines:
    """A party as it stands on paper."""

    name: str
    address: tuple[str, ...] = ()
    contact: str = ""


@dataclass(frozen=True, slots=True)
class Note:
    """One thing said in a document, with the day it is about."""

    words: str
    on: str = ""
    """The day as words ("12 May 2026"), a period, or blank."""
    state: str = ""
    """"met", "late", "odd", "held", "advice" or blank: which mark stands before it."""
