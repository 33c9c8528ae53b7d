"""Medicines as bought: what a sheet's "strips in" refers to."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from datetime import date

from sqlalchemy import select

from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import tidy
from beeledger.database.audit import OpenAct
from beeledger.model.medicines import Medicine
from beeledger.rules.medicines import courses


@dataclass(frozen=True, slots=True)
class NewMedicine:
    """A pack of medicine. ``course_days`` None: the usual course of its active substance.

    The label of the product rules over what the form fills in.
    """

    product: str
    active: str
    batch: str | None = None
    expires_on: date | None = None
    acquired_on: date | None = None
    pieces: int | None = None
    supplier_id: int | None = None
    course_days: int | None = None
    withdrawal_days: int = 0
    usual: bool = False


def add_medicine(act: OpenAct, new: NewMedicine) -> str:
    """Write a medicine; ``act.result`` is its id. When it is the usual one, the one before is no longer."""
    if not tidy(new.product):
        raise Refused([_refusal("a medicine needs its product's name", "product")])
    if new.active not in courses():
        raise Refused([_refusal(f"{new.active} is no active substance on the list", "active")])
    if new.usual:
        for other in act.session.scalars(select(Medicine).where(Medicine.usual.in_([True]))):
            other.usual = False
    days = courses()[new.active].out_days if new.course_days is None else new.course_days
    values = asdict(new) | {"product": tidy(new.product), "course_days": days}
    row = Medicine(**values)
    act.session.add(row)
    act.session.flush()
    act.result = row.id
    return f"Added the medicine {row.product}" + (f", batch {row.batch}" if row.batch else "")


def _refusal(what: str, field: str) -> Finding:
    return Finding("medicine", Grade.REFUSED, what, where=Where(field=field))
