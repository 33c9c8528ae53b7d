"""A filled round workbook as it was read back."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from beeledger.base.findings import Finding, Grade
from beeledger.rules.rounds.entry import EMPTY, Entry, blank


@dataclass(frozen=True, slots=True)
class RoundRow:
    """One row of the sheet. ``colony_id`` is None for a hive that was not on the sheet.

    ``raw`` holds what the filled cells said, by field; ``entry`` what could be read of it. A row that
    is ``refused`` has a cell that could not be read, and must not be posted as it stands.
    """

    row: int
    hive: str
    colony_id: int | None
    entry: Entry
    raw: dict[str, str] = field(default_factory=dict)
    refused: bool = False

    @property
    def is_blank(self) -> bool:
        """Whether nobody wrote anything in this row."""
        return blank(self.entry) and not self.raw


@dataclass(frozen=True, slots=True)
class SiteLine:
    """What was said once for the whole site. Times are minutes after midnight; None is not said."""

    day: date | None = None
    crew: str = ""
    start_minute: int | None = None
    end_minute: int | None = None
    weather: str = ""
    each: Entry = EMPTY
    """What was done at every hive alike: feed, clearers."""
    note: str = ""


@dataclass(frozen=True, slots=True)
class RoundWorkbook:
    """Every row of a workbook accounted for: filled, blank, refused, or missing with its hive named."""

    uid: str
    site: str
    record_version: int
    """The last act that the figures of the sheet were made from."""
    line: SiteLine
    rows: tuple[RoundRow, ...]
    missing: tuple[str, ...]
    """Hives of the sheet whose rows are gone."""
    findings: tuple[Finding, ...]

    @property
    def filled(self) -> tuple[RoundRow, ...]:
        """The rows that say something and can be read."""
        return tuple(row for row in self.rows if not row.is_blank and not row.refused)

    @property
    def refused(self) -> tuple[Finding, ...]:
        """The findings that hold a row."""
        return tuple(finding for finding in self.findings if finding.grade is Grade.REFUSED)
