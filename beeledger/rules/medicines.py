"""Medicines: courses by active substance, treatment and withdrawal by the day, what the record must hold.

Figures and sources stand in ``resources/rules/medicines.toml``. **The label rules**: figures here fill a
form in advance and never overrule it. Acids burn skin, eyes and lungs. Bees are food-producing animals;
the keeper's record follows the Veterinary Medicines Regulations 2013 (SI 2013/2033), which stand, with a
vet's word, above what is said here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from functools import cache

from beeledger.base import dates
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.resources import table


@dataclass(frozen=True, slots=True)
class Course:
    """The usual course of an active substance, in days; warmth in tenths of a degree."""

    code: str
    words: str
    form: str
    least_days: int
    most_days: int
    out_days: int
    supers_off: bool
    broodless: bool
    degrees_tenths: int | None
    source: str
    acid: bool = False
    doses: int = 1
    """How often it is put in over one course."""

    @property
    def stays_in(self) -> bool:
        """Whether something is left in the hive that must be taken out."""
        return self.form != "once"


@dataclass(frozen=True, slots=True)
class Treatment:
    """A medicine in a hive. ``withdrawal_days`` is what the label says; None when nobody wrote it down."""

    active: str
    put_in: date
    taken_out: date | None = None
    withdrawal_days: int | None = None


class RecordKind(StrEnum):
    """What a line of the medicines record is about."""

    BOUGHT = "bought"
    GIVEN = "given"
    DISPOSED = "disposed"


@dataclass(frozen=True, slots=True)
class MedicineRecord:
    """A line of the record, as far as it was filled in; quantities in words, with their unit."""

    kind: RecordKind
    product: str = ""
    batch: str = ""
    on: date | None = None
    quantity: str = ""
    withdrawal_days: int | None = None
    hives: Sequence[str] = ()
    supplier: str = ""
    supplier_address: str = ""
    proof_of_purchase: bool = False
    where_and_how: str = ""


@cache
def courses() -> Mapping[str, Course]:
    """The courses of ``medicines.toml`` by the code of the active substance, read once."""
    rows = table("rules", "medicines.toml")["active"]
    return {row["code"]: Course(**{"degrees_tenths": None} | row) for row in rows}


def course(active: str) -> Course:
    """The usual course of an active substance. KeyError for one the rules file does not know."""
    return courses()[active]


def cautions(active: str) -> tuple[str, ...]:
    """What to be careful of with an active substance, the gravest first; the label decides before all.

    KeyError for a substance the rules file does not know.
    """
    said, usual = table("rules", "medicines.toml")["cautions"], course(active)
    lines = [said["acid"]] if usual.acid else []
    lines += [said["stays_in"]] if usual.stays_in else []
    return (*lines, *said["every"])


def supers_rule(active: str) -> str:
    """Whether supers for harvest may be on, in words; the label decides. KeyError for one not known."""
    said = table("rules", "medicines.toml")["cautions"]
    return str(said["supers_off"] if course(active).supers_off else said["supers_as_label"])


def out_due(active: str, put_in: date) -> date | None:
    """The day a medicine put in on ``put_in`` is to come out; None for what leaves nothing to take out."""
    usual = course(active)
    return put_in + timedelta(days=usual.out_days) if usual.stays_in else None


def treated_until(treatment: Treatment) -> date | None:
    """The first day the medicine is no longer in the hive; None while it is still in.

    Half open: in from the day it is put in, out from the day it is taken out. What is given once
    counts for its day.
    """
    if treatment.taken_out is not None or course(treatment.active).stays_in:
        return treatment.taken_out
    return treatment.put_in + timedelta(days=1)


def out_of_hive(active: str, put_in: date, taken_out: date | None) -> date | None:
    """The day it was taken out; for what is given once, the day it was given; None while it is in."""
    if taken_out is not None or course(active).stays_in:
        return taken_out
    return put_in


def free_from(treatment: Treatment) -> date | None:
    """The first day on which honey may be taken again; None while the medicine is in.

    The withdrawal days begin on the day it is out. An unwritten withdrawal counts as the usual one,
    nought, and the record says that it is missing.
    """
    out = treated_until(treatment)
    if out is None:
        return None
    usual: int = table("rules", "medicines.toml")["defaults"]["withdrawal_days"]
    days = usual if treatment.withdrawal_days is None else treatment.withdrawal_days
    return out + timedelta(days=days)


def is_in_treatment(treatment: Treatment, day: date) -> bool:
    """Whether the medicine is in the hive on ``day``."""
    out = treated_until(treatment)
    return treatment.put_in <= day and (out is None or day < out)


def is_in_withdrawal(treatment: Treatment, day: date) -> bool:
    """Whether ``day`` lies after the treatment and within its withdrawal period."""
    out, free = treated_until(treatment), free_from(treatment)
    return out is not None and free is not None and out <= day < free


def may_take_honey(treatments: Iterable[Treatment], day: date) -> bool:
    """Whether none of a hive's treatments or withdrawals covers ``day``."""
    return not any(is_in_treatment(each, day) or is_in_withdrawal(each, day) for each in treatments)


def check_course(treatment: Treatment, today: date) -> list[Finding]:
    """Doubtful: out earlier or later than the usual course; still in after its longest."""
    usual = course(treatment.active)
    if not usual.stays_in:
        return []
    days = ((treatment.taken_out or today) - treatment.put_in).days
    where = Where(field="medicine out")
    if treatment.taken_out is not None and days < 0:
        what = f"{usual.words} taken out before they were put in"
        return [Finding("medicine.out-before-in", Grade.REFUSED, what, "Look at the two dates", where)]
    if treatment.taken_out is not None and days < usual.least_days:
        what = f"{usual.words} were in for {days} days, the usual course is {usual.least_days} at least"
        return [Finding("medicine.short", Grade.DOUBTFUL, what, "Look at the label and the dates", where)]
    if days > usual.most_days:
        what = f"{usual.words} in for {days} days, the usual course is {usual.most_days} at most"
        mend = "Take them out as the label says: mites grow used to what is left in"
        return [Finding("medicine.long", Grade.DOUBTFUL, what, mend, where)]
    return []


def check_expiry(product: str, expires_on: date | None, put_in: date) -> list[Finding]:
    """Doubtful: given after its expiry. The day itself still counts (common practice, no source)."""
    if expires_on is None or put_in <= expires_on:
        return []
    what = f"{product} was given after it expired on {dates.long(expires_on)}"
    return [Finding("medicine.expired", Grade.DOUBTFUL, what, "Look at the pack", Where(field="expires_on"))]


def check_record(record: MedicineRecord) -> list[Finding]:
    """What the law wants written and is missing, one finding a field; empty when the line is complete.

    SI 2013/2033: bought, regulations 17 and 19(1); given, 19(2); disposed of, 20. The batch of what
    was given is not named in 19(2) and is asked for all the same: a recall works by it.
    """
    wanted: dict[RecordKind, tuple[str, ...]] = {
        RecordKind.BOUGHT: (
            "product",
            "batch",
            "on",
            "quantity",
            "supplier",
            "supplier_address",
            "proof_of_purchase",
        ),
        RecordKind.GIVEN: ("product", "batch", "on", "quantity", "withdrawal_days", "hives"),
        RecordKind.DISPOSED: ("product", "on", "quantity", "where_and_how"),
    }
    missing = [name for name in wanted[record.kind] if _is_blank(getattr(record, name))]
    return [_missing(name) for name in missing]


def must_be_kept(last_day: date | None, today: date) -> bool:
    """Whether the record is still to be kept on ``today``; one whose last day is not known is."""
    return last_day is None or today <= keep_until(last_day)


def kept_years() -> int:
    """How many years the record is kept."""
    return int(table("rules", "medicines.toml")["record"]["keep_years"])


def keep_until(last_day: date) -> date:
    """The day until which a record is kept: 5 years after ``last_day``, also if the hives are gone.

    ``last_day`` is the last of putting in, taking out and disposal.
    """
    years = kept_years()
    try:
        return last_day.replace(year=last_day.year + years)
    except ValueError:  # 29 February
        return date(last_day.year + years, 3, 1)


_FIELD_WORDS = {
    "product": "name of the product",
    "batch": "batch number",
    "on": "date",
    "quantity": "quantity",
    "withdrawal_days": "withdrawal period",
    "hives": "hives treated",
    "supplier": "name of the supplier",
    "supplier_address": "address of the supplier",
    "proof_of_purchase": "proof of purchase",
    "where_and_how": "way and place of disposal",
}


def _is_blank(value: object) -> bool:
    # A withdrawal of nought days is written down; nothing else that is falsy is.
    return value is None or (not isinstance(value, int) and not value) or value is False


def _missing(name: str) -> Finding:
    words = _FIELD_WORDS[name]
    mend = "Read it off the label" if name in {"batch", "withdrawal_days", "product"} else "Write it down"
    return Finding(
        f"medicine.missing-{name}", Grade.DOUBTFUL, f"The {words} is missing", mend, Where(field=words)
    )
