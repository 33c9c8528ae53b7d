"""Contracts as the desk shows them: the list on its time line, and one whole."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from beeledger.queries.records.heading import Note
from beeledger.queries.records.movement_report import DayCount, OwedLine, StrengthResult


class Standing(StrEnum):
    """How a contract stands today."""

    OFFERED = "offered"
    WAITING = "waiting"
    """Agreed, and no hive has gone yet."""
    ON_SITE = "on site"
    HOME = "home"
    """All that went are off the crop again."""
    CLOSED = "closed"


@dataclass(frozen=True, slots=True)
class Terms:
    """What was agreed; pence, tenths of a frame, hundredths of a per cent."""

    hives: int
    on: date
    off: date
    price_pence: int
    area_m2: int | None
    least_bees_tenths: int | None
    least_brood_tenths: int | None
    weak_share_hundredths: int
    bonus_frame_pence: int
    late_day_pence: int
    words: str
    tax_code: str


@dataclass(frozen=True, slots=True)
class Look:
    """A look at the bloom."""

    on: date
    share_hundredths: int


@dataclass(frozen=True, slots=True)
class ContractRow:
    """A contract on the time line. ``ready`` is None where nothing needs to be found any more."""

    id: int
    name: str
    grower_id: int
    grower: str
    site_id: int
    site: str
    crop: str
    """As kept: a code of the rules, or words."""
    crop_words: str
    terms: Terms
    standing: Standing
    came: int
    """Different hives that stood on the crop."""
    here: int
    """Hives that stand there now."""
    first_on: date | None
    last_off: date | None
    looks: tuple[Look, ...]
    ready: int | None

    @property
    def found(self) -> int:
        """Hives that came, be they more than promised; else those that could go today, of no more than promised."""
        return max(self.came, min(self.terms.hives, self.ready or 0))

    @property
    def beyond(self) -> int:
        """Hives that came beyond what was agreed: more bees than will be paid, or another contract's."""
        return max(0, self.came - self.terms.hives)

    @property
    def short(self) -> int:
        """Hives promised that are neither there nor in sight; 0 when it is over."""
        if self.standing is Standing.CLOSED:
            return 0
        return max(0, self.terms.hives - (self.came if self.standing is Standing.HOME else self.found))


@dataclass(frozen=True, slots=True)
class Season:
    """The contracts of one year, and the years that have any, newest first; no year where there is no contract."""

    years: tuple[int, ...]
    year: int | None
    rows: tuple[ContractRow, ...]


@dataclass(frozen=True, slots=True)
class SourceSite:
    """A site that hives could come from: by the last count of each, alone for this contract."""

    site_id: int
    site: str
    ready: int
    weak: int
    unknown: int
    metres: int | None
    """In a straight line; None where a site is on no map."""


@dataclass(frozen=True, slots=True)
class CropHive:
    """A hive that stands on the crop, to draw a sample from and to type counts for."""

    colony_id: int
    mark: str


@dataclass(frozen=True, slots=True)
class ContractCard:
    """A contract whole."""

    row: ContractRow
    contact: str
    sources: tuple[SourceSite, ...]
    hives: tuple[CropHive, ...]
    checks: tuple[StrengthResult, ...]
    owed: tuple[OwedLine, ...]
    counts: tuple[DayCount, ...]
    holds: tuple[Note, ...] = ()
    """How far the checks hold for all hives."""

    @property
    def owed_pence(self) -> int:
        """The sum of the lines."""
        return sum(line.sum_pence for line in self.owed)


@dataclass(frozen=True, slots=True)
class GrowerChoice:
    """A grower a contract may be with."""

    id: int
    name: str


@dataclass(frozen=True, slots=True)
class CropSite:
    """A site hives may be promised to."""

    id: int
    name: str
    kind: str


@dataclass(frozen=True, slots=True)
class ContractChoices:
    """What the form of a new contract offers."""

    growers: tuple[GrowerChoice, ...]
    sites: tuple[CropSite, ...]
