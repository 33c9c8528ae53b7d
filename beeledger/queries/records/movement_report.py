"""The movement report of one contract: what stood where and when, how strong, and what is owed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.queries.records.heading import Note, PartyLines


@dataclass(frozen=True, slots=True)
class Agreed:
    """What was promised: figures None where the contract does not say."""

    hives: int
    on: date | None = None
    off: date | None = None
    bees_tenths: int | None = None
    """Least frames of bees, tenths."""
    brood_tenths: int | None = None
    """Least frames of brood, tenths."""
    frame: str = ""
    """The frame size the counts are in."""
    price_pence: int | None = None
    """Per hive."""
    area_m2: int | None = None
    terms: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Stay:
    """One hive on the crop, once: a hive that came twice has two."""

    hive: str
    came_from: str
    on: date
    off: date | None = None
    """None while it still stands there."""
    days: int = 0
    """Days on the crop by the convention printed under the table."""
    went_to: str = ""
    bees_tenths: int | None = None
    brood_tenths: int | None = None
    checked: date | None = None
    shortfall: str = ""
    """In words: "1 frame of bees short", "came 3 days late"; blank when nothing is short."""


@dataclass(frozen=True, slots=True)
class StrengthResult:
    """The strength check as a whole; tenths of a frame."""

    on: date
    by: str
    counted: int
    of: int
    mean_bees_tenths: int | None = None
    least_bees_tenths: int | None = None
    mean_brood_tenths: int | None = None
    below: int | None = None
    """Counted hives under the strength promised."""
    how: str = ""
    """How the sample was drawn."""


@dataclass(frozen=True, slots=True)
class OwedLine:
    """One line of what is owed. ``sum_pence`` is minus for a deduction."""

    what: str
    sum_pence: int
    quantity: int | None = None
    unit: str = ""
    """"hives", "hive-days"."""
    price_pence: int | None = None
    why: str = ""
    """The fact and the term it follows from."""
    tax_code: str = ""


@dataclass(frozen=True, slots=True)
class DayCount:
    """From this day on (until the next line) so many hives stood on the crop."""

    on: date
    hives: int


@dataclass(frozen=True, slots=True)
class MovementReport:
    """Everything the movement report prints."""

    contract: str
    grower: PartyLines
    crop: str
    site: str
    first: date
    last: date
    """The period reported."""
    agreed: Agreed
    stays: tuple[Stay, ...]
    owed: tuple[OwedLine, ...]
    grid: str = ""
    set_down: tuple[str, ...] = ()
    strength: tuple[StrengthResult, ...] = ()
    counts: tuple[DayCount, ...] = ()
    """For the line of hives on the crop against promised; empty leaves the drawing out."""
    health: tuple[Note, ...] = ()
    """Facts with dates (last look, treatments in place, restrictions), not promises."""
    notes: tuple[Note, ...] = ()
    day_convention: str = "Days are whole local days: the day of arrival counts, the day of leaving does not."

    @property
    def hive_days(self) -> int:
        """All days of all stays."""
        return sum(stay.days for stay in self.stays)

    @property
    def hives_delivered(self) -> int:
        """Different hives that stood on the crop."""
        return len({stay.hive for stay in self.stays})

    @property
    def owed_pence(self) -> int:
        """The sum of the lines."""
        return sum(line.sum_pence for line in self.owed)
