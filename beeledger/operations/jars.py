"""Jars that leave the farm: sold, given, or paid as rent. A recall follows these rows out to whoever got them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import func, select

from beeledger.base.findings import Finding
from beeledger.base.text import counted, folded, tidy
from beeledger.base.units import share_out
from beeledger.database.audit import OpenAct
from beeledger.model.honey import Batch, HoneyLot, HoneyTransfer
from beeledger.model.parties import Party
from beeledger.operations.honey_lots import check_day, left_in, refusal, refuse
from beeledger.operations.parties import NewParty, add_party

WAYS = ("dispatch", "gift", "rent")
LOST = ("wax", "foam", "spill", "sample", "feed", "loss")
"""Sinks by which honey leaves a batch at the jarring, never as a jar that goes out."""


@dataclass(frozen=True, slots=True)
class JarsOut:
    """So many jars of a batch to somebody, by name; a name nobody has yet becomes a customer."""

    batch_id: int
    on: date
    jars: int
    party: str
    way: str = "dispatch"
    note: str | None = None


def send_jars(act: OpenAct, new: JarsOut) -> str:
    """Write jars that left. Refused when more go than are there, or nobody is named, or the lot is held.

    The grams are the jars' share of what is left, so that the last jar takes the last gram.
    """
    batch = act.session.get_one(Batch, new.batch_id)
    left_g = left_in(act, [batch.lot_id])[batch.lot_id]
    there = jars_left(act, batch, left_g)
    refuse(_check(act, batch, new, there))
    grams = share_out(left_g, [new.jars, there - new.jars])[0]
    party = _party(act, new.party)
    note = "; ".join(part for part in (counted(new.jars, "jar"), tidy(new.note or "")) if part)
    act.session.add(
        HoneyTransfer(
            on=new.on, from_lot_id=batch.lot_id, sink=new.way, grams=grams, party_id=party.id, note=note
        )
    )  # fmt: skip
    act.result = grams
    words = {"dispatch": "Sent", "gift": "Gave", "rent": "Paid as rent"}[new.way]
    return f"{words} {counted(new.jars, 'jar')} of L {batch.lot_mark} to {party.name}"


def jars_left(act: OpenAct, batch: Batch, left_g: int) -> int:
    """How many jars are still on the farm: what is left as a share of what was put into jars."""
    filled = int(
        act.session.scalar(
            select(func.coalesce(func.sum(HoneyTransfer.grams), 0)).where(
                HoneyTransfer.to_lot_id == batch.lot_id
            )
        )
        or 0
    )
    lost = int(
        act.session.scalar(
            select(func.coalesce(func.sum(HoneyTransfer.grams), 0)).where(
                HoneyTransfer.from_lot_id == batch.lot_id, HoneyTransfer.sink.in_(LOST)
            )
        )
        or 0
    )
    return round(left_g * batch.jars / (filled - lost)) if filled > lost else 0


def _check(act: OpenAct, batch: Batch, new: JarsOut, there: int) -> list[Finding]:
    findings = check_day(act, new.on)
    lot = act.session.get_one(HoneyLot, batch.lot_id)
    if lot.hold:
        findings.append(refusal("jars.held", f"L {batch.lot_mark} is held: {lot.hold}", "", "Free it first"))
    if new.on < batch.jarred_on:
        findings.append(refusal("jars.early", "it was not jarred yet on that day", "on"))
    if new.way not in WAYS:
        findings.append(refusal("jars.way", f"{new.way} is no way for jars to leave", "way"))
    if new.jars < 1:
        findings.append(refusal("jars.none", "how many jars?", "jars"))
    elif new.jars > there:
        findings.append(refusal("jars.many", f"{counted(there, 'jar')} of it are on the farm", "jars"))
    if not tidy(new.party):
        findings.append(refusal("jars.party", "say who got them: a recall has to reach them", "party"))
    return findings


def _party(act: OpenAct, name: str) -> Party:
    for row in act.session.scalars(select(Party)):
        if folded(row.name) == folded(name):
            row.is_customer = True
            return row
    add_party(act, NewParty(tidy(name), ("customer",)))
    return act.session.get_one(Party, act.result)
