"""What an old spreadsheet holds once it is read: sites, colonies and what was found on the way."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.base.findings import Finding, Grade, Where
from beeledger.exchange.register.choosing import ColumnTaken
from beeledger.rules.rounds.entry import EMPTY, Entry


@dataclass(frozen=True, slots=True)
class SiteRow:
    """One apiary site. ``grid`` is two letters and ten figures, None when not given or unreadable."""

    name: str
    grid: str | None
    easting: int | None
    northing: int | None
    capacity: int | None
    owner: str
    rent: str
    notes: str
    where: Where
    code: str = ""


@dataclass(frozen=True, slots=True)
class ColonyRow:
    """One hive. None is not known; ``queen_colour`` and ``marked`` are as the sheet says them."""

    hive: str
    site: str
    hive_type: str
    queen_year: int | None
    queen_colour: str | None
    marked: bool | None
    seen: date | None
    brood_tenths: int | None
    supers: int | None
    temper: int | None
    comment: str
    where: Where
    gone: str = ""
    """The word by which its comment says that it is no more: "dead". It comes in as ended unless told otherwise."""
    more: Entry = EMPTY
    """What else its row says of the look: bees, stores, eggs, cells, whether the queen was seen."""
    clipped: bool | None = None
    line: str = ""
    """The line of its queen."""


@dataclass(frozen=True, slots=True)
class RegisterReading:
    """Everything read. A refused row is in ``findings`` and not among ``sites`` or ``colonies``."""

    sites: tuple[SiteRow, ...]
    colonies: tuple[ColonyRow, ...]
    findings: tuple[Finding, ...]
    numbers_restart: bool = False
    """Hive numbers begin again at each site, so that a number alone does not name a hive."""
    looks: tuple[ColonyRow, ...] = ()
    """Old looks, one a row; a blank site is wherever the hive stood."""
    queens: tuple[ColonyRow, ...] = ()
    """Queens of a table of their own, by their hives; ``seen`` is the day she was put in."""
    columns: tuple[ColumnTaken, ...] = ()
    """Every column and what it was taken for."""

    @property
    def refused(self) -> tuple[Finding, ...]:
        """The findings that kept a row out."""
        return tuple(finding for finding in self.findings if finding.grade is Grade.REFUSED)


class Remarks:
    """Collects findings while reading."""

    def __init__(self) -> None:
        self.findings: list[Finding] = []

    def refuse(self, where: Where, code: str, what: str, mend: str = "") -> None:
        """The row is left out."""
        self._add(Grade.REFUSED, where, code, what, mend)

    def doubt(self, where: Where, code: str, what: str, mend: str = "") -> None:
        """The row is kept and wants a look."""
        self._add(Grade.DOUBTFUL, where, code, what, mend)

    def note(self, where: Where, code: str, what: str, mend: str = "") -> None:
        """Said for completeness."""
        self._add(Grade.NOTED, where, code, what, mend)

    def _add(self, grade: Grade, where: Where, code: str, what: str, mend: str) -> None:
        self.findings.append(Finding(f"register.{code}", grade, what, mend, where))
