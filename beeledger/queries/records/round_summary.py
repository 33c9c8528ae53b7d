"""What was posted of one round, with its findings and sums."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from beeledger.queries.records.heading import Note


@dataclass(frozen=True, slots=True)
class SummaryLine:
    """One hive as posted; short words, blank where nobody looked."""

    hive: str
    outcome: str = ""
    """Blank for looked; else "not opened", "dead, starvation"."""
    queen: str = ""
    eggs: str = ""
    brood_tenths: int | None = None
    bees_tenths: int | None = None
    stores: str = ""
    temper: int | None = None
    cells: str = ""
    supers: int | None = None
    """Put on less taken off."""
    feed: str = ""
    strips: str = ""
    mites: str = ""
    again: date | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class RoundFinding:
    """A finding of the posting: which hive, what, and what was done about it."""

    hive: str
    grade: str
    """A grade of ``base.findings.Grade``."""
    what: str
    settled: str = ""


@dataclass(frozen=True, slots=True)
class RoundSummary:
    """One posted round."""

    site: str
    day: date
    lines: tuple[SummaryLine, ...]
    begun: datetime | None = None
    ended: datetime | None = None
    crew: str = ""
    weather: str = ""
    posted_by: str = ""
    act: int | None = None
    whole_site: tuple[str, ...] = ()
    """Lines that hold for the whole site: "all fed 5 l of syrup 2:1"."""
    sums: tuple[tuple[str, str, str], ...] = ()
    """Name, figure and unit, in the order of the entry grid's foot."""
    findings: tuple[RoundFinding, ...] = ()
    waiting: tuple[Note, ...] = ()
    """Lines still under question in the draft."""
