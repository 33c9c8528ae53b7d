"""Medicines: packs as bought, what of the record was still missing, what was got rid of.

What is given goes in with a round. Here is written what the medicines law asks for besides: batch,
supplier and proof of purchase of a pack, the quantity a sheet left out, the disposal of what was left.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select

from beeledger.base.dates import short
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import counted, tidy
from beeledger.database.audit import OpenAct
from beeledger.database.checking.treatments import takes_under_treatment
from beeledger.model.honey import TakeLine
from beeledger.model.medicines import Medicine, MedicineDisposal, Treatment
from beeledger.model.rounds import RoundEntry
from beeledger.operations.parties import supplier_named
from beeledger.rules.medicines import courses

WITHDRAWAL_LATE = "taken before the withdrawal was written down"


@dataclass(frozen=True, slots=True)
class NewMedicine:
    """A pack of medicine. ``course_days`` None: the usual course of its active substance.

    ``withdrawal_days`` None: nobody has read it off the label yet. ``supplier`` names a party, new or
    known, in place of ``supplier_id``; its address, where given, is written to the party.
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
    withdrawal_days: int | None = None
    usual: bool = False
    proof: str | None = None
    supplier: str = ""
    supplier_address: str = ""


@dataclass(frozen=True, slots=True)
class NewDisposal:
    """What was got rid of otherwise than by treatment: ``how`` says how and where."""

    medicine_id: int
    on: date
    pieces: int
    how: str


@dataclass(frozen=True, slots=True)
class GivenFacts:
    """What is filled in for treatments of the register; None leaves a fact as it is.

    ``pieces`` is the quantity in each hive, ``medicine_id`` the pack it came from.
    """

    treatment_ids: tuple[int, ...]
    pieces: int | None = None
    medicine_id: int | None = None


def add_medicine(act: OpenAct, new: NewMedicine) -> str:
    """Write a pack; ``act.result`` is its id. When it is the usual one, the one before is no longer."""
    _check_pack(new)
    row = Medicine()
    _fill(act, row, new)
    act.session.add(row)
    act.session.flush()
    act.result = row.id
    return f"Added the medicine {pack_words(row.product, row.batch)}"


def change_medicine(act: OpenAct, medicine_id: int, new: NewMedicine) -> str:
    """Write all that the form holds over a pack; what is due follows at the hives it was given to."""
    _check_pack(new)
    row = act.session.get_one(Medicine, medicine_id)
    _fill(act, row, new)
    act.session.flush()
    given = select(Treatment.colony_id).where(Treatment.medicine_id == medicine_id).distinct()
    hives = set(act.session.scalars(given))
    act.colonies.update(hives)
    act.result = row.id
    return f"Changed the medicine {pack_words(row.product, row.batch)}" + _note_on_takes(act, hives)


def dispose_medicine(act: OpenAct, new: NewDisposal) -> str:
    """Write that something left of a pack was got rid of. Refused without a quantity, way and place."""
    findings = [] if new.pieces > 0 else [_refusal("how much was got rid of is missing", "pieces")]
    if not tidy(new.how):
        findings.append(_refusal("how and where is missing", "how"))
    if new.on > act.today:
        findings.append(_refusal("this day is still to come", "on"))
    _refuse(findings)
    pack = act.session.get_one(Medicine, new.medicine_id)
    row = MedicineDisposal(medicine_id=pack.id, on=new.on, pieces=new.pieces, how=tidy(new.how))
    act.session.add(row)
    act.session.flush()
    act.result = row.id
    what = f"{pack.product}, batch {pack.batch}" if pack.batch else pack.product
    return f"Disposed of {new.pieces} of {what}, {short(new.on)}"


def complete_treatments(act: OpenAct, facts: GivenFacts) -> str:
    """Fill in what the sheet left out: quantity in each hive, and the pack it came from.

    The entries the treatments were posted with say the same afterwards, so that a later correction of
    the round keeps it.
    """
    rows = act.session.scalars(select(Treatment).where(Treatment.id.in_(facts.treatment_ids))).all()
    findings = [] if rows else [_refusal("no such treatment is on record", "pieces")]
    if facts.pieces is not None and facts.pieces < 1:
        findings.append(_refusal("a quantity is one at least", "pieces"))
    if facts.pieces is None and facts.medicine_id is None:
        findings.append(_refusal("nothing is filled in", "pieces"))
    _refuse(findings)
    pack_id = rows[0].medicine_id if facts.medicine_id is None else facts.medicine_id
    pack = act.session.get_one(Medicine, pack_id)
    for row in rows:
        row.pieces = row.pieces if facts.pieces is None else facts.pieces
        row.medicine_id = row.medicine_id if facts.medicine_id is None else pack.id
    _follow_in_entries(act, rows, facts, pack)
    act.session.flush()
    days = sorted({row.in_on for row in rows})
    ids = {row.colony_id for row in rows}
    said = f"Completed the record of {pack.product}, {short(days[0])}: {counted(len(ids), 'hive')}"
    return said + _note_on_takes(act, ids)


def _note_on_takes(act: OpenAct, colony_ids: set[int]) -> str:
    """Honey that turns out to have been taken within a withdrawal gets that for its written reason; said so."""
    lines = [number for number, _ in takes_under_treatment(act.session, colony_ids)] if colony_ids else []
    for number in lines:
        act.session.get_one(TakeLine, number).reason = WITHDRAWAL_LATE
    return f". Honey was taken within its withdrawal: noted on {counted(len(lines), 'take')}" if lines else ""


def pack_words(product: str, batch: str | None) -> str:
    """A pack as people call it."""
    return f"{product}, batch {batch}" if batch else product


def _follow_in_entries(act: OpenAct, rows: Sequence[Treatment], facts: GivenFacts, pack: Medicine) -> None:
    entries = select(RoundEntry).where(
        RoundEntry.id.in_([row.in_entry_id for row in rows if row.in_entry_id])
    )
    for entry in act.session.scalars(entries):
        if entry.medicine_in is None and entry.medicine_in_count is None:
            continue  # written down because it came out: this visit put nothing in
        if facts.pieces is not None:
            entry.medicine_in_count = facts.pieces
        if facts.medicine_id is not None:
            entry.medicine_in, entry.medicine_batch = pack.product, pack.batch


def _check_pack(new: NewMedicine) -> None:
    findings = [] if tidy(new.product) else [_refusal("a medicine needs its product's name", "product")]
    if new.active not in courses():
        findings.append(_refusal(f"{new.active or 'nothing'} is no active substance on the list", "active"))
    for field in ("pieces", "course_days", "withdrawal_days"):
        value = getattr(new, field)
        if value is not None and value < 0:
            findings.append(_refusal("this cannot be less than nought", field))
    if tidy(new.supplier_address) and not tidy(new.supplier) and new.supplier_id is None:
        findings.append(_refusal("an address needs the supplier's name", "supplier"))
    _refuse(findings)


def _fill(act: OpenAct, row: Medicine, new: NewMedicine) -> None:
    if new.usual:
        for other in act.session.scalars(select(Medicine).where(Medicine.usual.in_([True]))):
            other.usual = False
    row.product, row.active = tidy(new.product), new.active
    row.batch, row.proof = tidy(new.batch or "") or None, tidy(new.proof or "") or None
    row.expires_on, row.acquired_on, row.pieces = new.expires_on, new.acquired_on, new.pieces
    row.course_days = courses()[new.active].out_days if new.course_days is None else new.course_days
    row.withdrawal_days, row.usual = new.withdrawal_days, new.usual
    supplier = supplier_named(act, new.supplier_id, new.supplier, new.supplier_address)
    row.supplier_id = supplier.id if supplier is not None else None


def _refusal(what: str, field: str) -> Finding:
    return Finding("medicine", Grade.REFUSED, what, where=Where(field=field))


def _refuse(findings: list[Finding]) -> None:
    if findings:
        raise Refused(findings)
