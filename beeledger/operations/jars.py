"""Jars of one batch that leave the farm, and jars that are broken, opened or destroyed on it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.base.findings import Finding
from beeledger.base.text import counted, tidy
from beeledger.database.audit import OpenAct
from beeledger.model.honey import Batch, HoneyTransfer
from beeledger.operations.dispatches import DispatchLine, NewDispatch, post_dispatch
from beeledger.operations.honey_lots import check_day, left_in, refusal, refuse
from beeledger.queries.jars import jar_lots
from beeledger.queries.records.jar_lot import JarLot
from beeledger.rules.jars import grams_of
from beeledger.rules.restrictions import NO_LICENCE, Licence

LOST = {"loss": "Lost", "sample": "Opened as a sample"}


@dataclass(frozen=True, slots=True)
class JarsOut:
    """So many jars of a batch to somebody, by name; a name nobody has yet becomes a customer."""

    batch_id: int
    on: date
    jars: int
    party: str
    way: str = "dispatch"
    note: str | None = None
    licence: Licence = NO_LICENCE


@dataclass(frozen=True, slots=True)
class JarsLost:
    """Jars broken, destroyed, or opened as a sample, of a lot of jars; what is held may be lost too."""

    lot_id: int
    on: date
    jars: int
    why: str
    sink: str = "loss"


def send_jars(act: OpenAct, new: JarsOut) -> str:
    """Write jars of one batch that left, as a dispatch of one line; ``act.result`` are the grams.

    Refused when more go than are there, or nobody is named, or the lot is held.
    """
    lot_id = act.session.get_one(Batch, new.batch_id).lot_id
    before = left_in(act, [lot_id])[lot_id]
    line = DispatchLine(lot_id, new.jars)
    sentence = post_dispatch(
        act, NewDispatch(new.on, (line,), new.party, new.way, note=new.note or "", licence=new.licence)
    )
    act.session.flush()
    act.result = before - left_in(act, [lot_id])[lot_id]
    return sentence


def lose_jars(act: OpenAct, new: JarsLost) -> str:
    """Write jars that are no more. Refused without a reason, or when more are lost than are there."""
    found = jar_lots(act.session, [new.lot_id])
    refuse(_check(act, new, found[0] if found else None))
    lot = found[0]
    act.session.add(
        HoneyTransfer(
            on=new.on, from_lot_id=lot.lot_id, sink=new.sink, jars=new.jars, note=tidy(new.why),
            grams=grams_of(new.jars, lot.left, lot.left_g),
        )
    )  # fmt: skip
    return f"{LOST[new.sink]}: {counted(new.jars, 'jar')} of L {lot.name}, {tidy(new.why)}"


def _check(act: OpenAct, new: JarsLost, lot: JarLot | None) -> list[Finding]:
    if lot is None:
        return [refusal("jars.lot", "there is no such lot of jars", "lot_id")]
    findings = check_day(act, new.on)
    if new.on < lot.since:
        findings.append(refusal("jars.early", "it was not jarred yet on that day", "on"))
    if new.sink not in LOST:
        findings.append(refusal("jars.sink", f"{new.sink} is no way for jars to be lost", "sink"))
    if new.jars < 1:
        findings.append(refusal("jars.none", "how many jars?", "jars"))
    elif new.jars > lot.left:
        findings.append(refusal("jars.many", f"{counted(lot.left, 'jar')} of it are on the farm", "jars"))
    if not tidy(new.why):
        findings.append(refusal("jars.why", "say what became of them", "why"))
    return findings
