"""What the place Medicines shows: packs, what was given, mites by site; each says what its record lacks."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import counted
from beeledger.rules import medicines
from beeledger.rules.medicines import MedicineRecord, RecordKind, Treatment

UNMARKED = "without a number"


@dataclass(frozen=True, slots=True)
class Disposal:
    """What was got rid of from a pack, and what of that is not written down."""

    id: int
    medicine_id: int
    on: date
    pieces: int | None
    how: str

    def missing(self, product: str) -> list[Finding]:
        """What regulation 20 asks for and is not there."""
        return medicines.check_record(
            MedicineRecord(
                RecordKind.DISPOSED,
                product,
                on=self.on,
                quantity=quantity_words(self.pieces),
                where_and_how=self.how,
            )
        )


@dataclass(frozen=True, slots=True)
class PackRow:
    """A pack with what became of it; pieces in pieces, days in days."""

    id: int
    product: str
    active: str
    batch: str
    expires_on: date | None
    acquired_on: date | None
    pieces: int | None
    course_days: int
    withdrawal_days: int | None
    usual: bool
    supplier_id: int | None
    supplier: str
    supplier_address: str
    proof: str
    used: int = 0
    given: int = 0
    """Hives it was given to."""
    unmeasured: int = 0
    """Of these, hives whose quantity nobody wrote down."""
    still_in: int = 0
    """Living hives it is in now."""
    given_last: date | None = None
    """The last day it was put in or taken out."""
    disposals: tuple[Disposal, ...] = ()

    @property
    def disposed(self) -> int:
        """Pieces got rid of."""
        return sum(one.pieces or 0 for one in self.disposals)

    @property
    def left(self) -> int | None:
        """Pieces left; None when it is not known how many were bought. Below nought more was given than bought."""
        return None if self.pieces is None else self.pieces - self.used - self.disposed

    @property
    def last_day(self) -> date | None:
        """The last day of the record: bought, given, taken out, got rid of."""
        days = [self.acquired_on, self.given_last, *(one.on for one in self.disposals)]
        return max((day for day in days if day is not None), default=None)

    def missing(self) -> list[Finding]:
        """What the law asks for and is not written down of this pack."""
        record = MedicineRecord(
            RecordKind.BOUGHT, self.product, self.batch, self.acquired_on, quantity_words(self.pieces),
            self.withdrawal_days, (), self.supplier, self.supplier_address, bool(self.proof),
        )  # fmt: skip
        # The withdrawal period is asked of what is given (19(2)) and read off the pack.
        given = medicines.check_record(
            MedicineRecord(
                RecordKind.GIVEN,
                self.product,
                self.batch,
                self.acquired_on,
                "1",
                self.withdrawal_days,
                ("1",),
            )
        )
        found = medicines.check_record(record)
        codes = {one.code for one in found}
        found += [one for one in given if one.code not in codes]
        for one in self.disposals:
            found += [each for each in one.missing(self.product) if each.code not in codes]
        return found

    def odd(self, today: date) -> list[Finding]:
        """What of the pack cannot be or is past: more given than bought, expired while some is left."""
        found = []
        if self.left is not None and self.left < 0:
            what = f"{-self.left} more than were bought were given or disposed of"
            found.append(
                Finding("medicine.more-than-bought", Grade.DOUBTFUL, what, "Look at the pieces bought")
            )
        expired = self.expires_on is not None and self.expires_on < today
        if expired and (self.left is None or self.left > 0):
            mend = "Do not give it; dispose of it as the label says"
            found.append(Finding("medicine.past", Grade.DOUBTFUL, "What is left has expired", mend))
        return found


@dataclass(frozen=True, slots=True)
class GivenKey:
    """What one line of the register has in common: pack, days, site and visit. ``gone``: the hives have ended."""

    medicine_id: int
    in_on: date
    out_on: date | None
    site_id: int | None
    round_id: int | None
    gone: bool


@dataclass(frozen=True, slots=True)
class GivenLine:
    """One line of the register: a medicine given to the hives of a site on a day, in for the same days."""

    key: GivenKey
    product: str
    active: str
    batch: str
    expires_on: date | None
    course_days: int
    withdrawal_days: int | None
    site: str
    who: str
    hives: int
    pieces: int | None
    """Together, of the hives whose quantity is known; None when of none."""
    unmeasured: int
    gone_on: date | None = None
    """The last day a colony of the line lived, where they have ended with it in."""

    @property
    def course(self) -> Treatment:
        """The same for the rules."""
        out = self.key.out_on or (self.gone_on if self.key.gone else None)
        return Treatment(self.active, self.key.in_on, out, self.withdrawal_days)

    @property
    def still_in(self) -> bool:
        """Whether it is in living hives now."""
        return medicines.treated_until(self.course) is None

    @property
    def due_out(self) -> date | None:
        """The day it is to come out, by the course written for the pack; None when it is out."""
        if not self.still_in:
            return None
        return date.fromordinal(self.key.in_on.toordinal() + self.course_days)

    def days_in(self, today: date) -> int:
        """Days in the hives so far, or all together; 0 for what is given once."""
        out = medicines.out_of_hive(self.active, self.key.in_on, self.course.taken_out)
        return ((out or today) - self.key.in_on).days

    @property
    def last_day(self) -> date | None:
        """The last day of this line of the record; None while it is in."""
        return medicines.out_of_hive(self.active, self.key.in_on, self.course.taken_out)

    @property
    def keep_until(self) -> date | None:
        """Until when the line is kept; None while it is in."""
        return None if self.last_day is None else medicines.keep_until(self.last_day)

    def missing(self) -> list[Finding]:
        """What regulation 19(2) asks for and is not written down."""
        quantity = "" if self.unmeasured else quantity_words(self.pieces)
        return medicines.check_record(
            MedicineRecord(
                RecordKind.GIVEN, self.product, self.batch, self.key.in_on, quantity, self.withdrawal_days,
                ("",) * self.hives,
            )
        )  # fmt: skip

    def odd(self, today: date) -> list[Finding]:
        """In too short or too long for the usual course, or given after it expired."""
        return [
            *medicines.check_course(self.course, today),
            *medicines.check_expiry(self.product, self.expires_on, self.key.in_on),
        ]


@dataclass(frozen=True, slots=True)
class HiveGiven:
    """One hive of a line."""

    treatment_id: int
    colony_id: int
    mark: str
    pieces: int | None
    reason: str


@dataclass(frozen=True, slots=True)
class GivenCard:
    """A line with its hives, and the packs it may have come from."""

    line: GivenLine
    hives: tuple[HiveGiven, ...]
    packs: tuple[tuple[int, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Supplier:
    """Somebody medicines are bought from."""

    id: int
    name: str
    address: str


@dataclass(frozen=True, slots=True)
class SiteMites:
    """The newest count of each living colony of a site; shares in hundredths of a per cent."""

    site_id: int
    site: str
    standing: int
    counted: int
    sampled: int
    """Counted by wash or roll; the rest by drop."""
    mean_hundredths: int | None
    least_hundredths: int | None
    most_hundredths: int | None
    at_line: int
    """Colonies whose newest count orders a treatment."""
    last_on: date | None

    @property
    def at_line_hundredths(self) -> int | None:
        """Their share of those counted."""
        return None if not self.counted else (self.at_line * 10_000 + self.counted // 2) // self.counted


@dataclass(frozen=True, slots=True)
class MiteView:
    """The farm's line and the sites, worst first."""

    line_hundredths: int
    since: date
    sites: tuple[SiteMites, ...]


@dataclass(frozen=True, slots=True)
class CountAt:
    """One count at a site."""

    on: date
    mark: str
    method: str
    mites: int
    bees: int | None
    days: int | None


@dataclass(frozen=True, slots=True)
class ToFill:
    """How many entries of the record still lack what the law asks for."""

    packs: int = 0
    lines: int = 0

    @property
    def all(self) -> int:
        """Both."""
        return self.packs + self.lines


def quantity_words(pieces: int | None) -> str:
    """A quantity in words; blank when not known."""
    return "" if pieces is None else counted(pieces, "piece")


def missing_words(findings: list[Finding]) -> str:
    """What is missing in few words: "batch number, proof of purchase"."""
    return ", ".join(dict.fromkeys(_word(one.where) for one in findings))


def _word(where: Where) -> str:
    return where.field.removeprefix("name of the ")
