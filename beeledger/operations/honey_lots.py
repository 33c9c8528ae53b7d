"""Lots of honey as operations use them: what is left in one, what may be drawn, and where honey leaves.

A lot never gives more than it holds, and nothing is drawn from a lot on hold; both are checked here for
every act that draws.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import count
from typing import Protocol

from sqlalchemy import func, select

from beeledger.base import dates
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where, holds
from beeledger.base.text import tidy
from beeledger.base.units import kilograms
from beeledger.database.audit import OpenAct
from beeledger.model.dispatches import Dispatch
from beeledger.model.honey import LOT_KINDS, SINKS, HoneyLot, HoneyTransfer
from beeledger.model.parties import Party
from beeledger.operations.restricting import open_stops, write_uses
from beeledger.queries.stopped import stopped_honey
from beeledger.rules.honey_composition import kinds
from beeledger.rules.restrictions import NO_LICENCE, Licence

HELD = "honey.held"
"""The code of drawing from a lot on hold; a blend may accept it."""
OUT = ("dispatch", "gift", "rent")
"""Sinks by which honey goes to somebody: each stands in the list of what was sent."""
NOWHERE = Where()


class OnScale(Protocol):
    """What stood on a scale, full and empty."""

    @property
    def gross_g(self) -> int:
        """Full."""
        ...

    @property
    def tare_g(self) -> int:
        """Empty."""
        ...


@dataclass(frozen=True, slots=True)
class Draw:
    """Grams drawn from a lot."""

    lot_id: int
    grams: int


@dataclass(frozen=True, slots=True)
class Spent:
    """Grams that go nowhere useful: wax, foam, spill, sample and the like, by the names of the sinks."""

    sink: str
    grams: int
    note: str | None = None


@dataclass(frozen=True, slots=True)
class NewSink:
    """Honey that leaves a lot for good. ``party_id``: who got it (gift, rent, dispatch)."""

    lot_id: int
    on: date
    sink: str
    grams: int
    party_id: int | None = None
    note: str | None = None
    licence: Licence = NO_LICENCE


@dataclass(frozen=True, slots=True)
class NewLot:
    """Honey that was there before the record began, or was bought in. ``supplier_lot``: the seller's mark."""

    name: str
    on: date
    grams: int
    origin: str = "opening"
    kind: str = "drum"
    country: str = "United Kingdom"
    honey_kind: str = "blossom"
    supplier_lot: str | None = None
    party_id: int | None = None
    gross_g: int | None = None
    tare_g: int | None = None
    note: str | None = None


def open_lot(act: OpenAct, new: NewLot) -> str:
    """Write honey bought in or held before the record began; ``act.result`` is the lot's id."""
    findings = check_day(act, new.on)
    if new.origin not in ("opening", "bought"):
        findings.append(refusal("lot.origin", "honey begins as weighed in a take, bought, or there already"))
    if new.kind not in LOT_KINDS or new.kind in ("supers", "jarring"):
        findings.append(refusal("lot.kind", f"{new.kind} holds no honey that is bought or was there", "kind"))
    if new.honey_kind not in kinds():
        findings.append(refusal("lot.honey", f"{new.honey_kind} is no kind of honey", "honey_kind"))
    if not tidy(new.name):
        findings.append(refusal("lot.name", "a lot needs a name to be written on it", "name"))
    if new.origin == "bought" and not tidy(new.supplier_lot or ""):
        what = "bought honey needs the seller's lot mark: a jar has to lead back to it"
        findings.append(refusal("lot.supplier", what, "supplier_lot"))
    if new.grams < 1:
        findings.append(refusal("lot.grams", "no honey was put in", "grams"))
    refuse(findings)
    lot = HoneyLot(
        kind=new.kind, name=free_name(act, new.name), opened_on=new.on, country=new.country,
        honey_kind=new.honey_kind, supplier_lot=new.supplier_lot, tare_g=new.tare_g, note=new.note,
    )  # fmt: skip
    act.session.add(lot)
    act.session.flush()
    act.session.add(
        HoneyTransfer(
            on=new.on, to_lot_id=lot.id, origin=new.origin, grams=new.grams, gross_g=new.gross_g,
            tare_g=new.tare_g, party_id=new.party_id,
        )
    )  # fmt: skip
    act.result = lot.id
    how = "Bought" if new.origin == "bought" else "Opened with"
    return f"{how} {lot.name}, {kilograms(new.grams)} kg"


def sink_honey(act: OpenAct, new: NewSink) -> str:
    """Write honey that left a lot: spill, foam, wax, sample, gift, rent, feed, dispatch, loss."""
    lot = act.session.get_one(HoneyLot, new.lot_id)
    findings = check_day(act, new.on) + check_spent([Spent(new.sink, new.grams)])
    if new.sink in OUT:
        findings += check_draws(act, [Draw(new.lot_id, new.grams)], new.on)
    else:  # what is held may still be spilt or sampled
        findings += _overdrawn(act, [Draw(new.lot_id, new.grams)], {lot.id: lot})
    if new.sink == "dispatch" and new.party_id is None:
        findings.append(refusal("honey.party", "say who got it: a recall has to reach them", "party_id"))
    stopped = stopped_honey(act.session, [lot.id], new.on) if new.sink in OUT else []
    refuse([*findings, *open_stops(stopped, new.licence)])
    dispatch_id = _dispatched(act, new) if new.sink in OUT else None
    write_uses(act, stopped, new.licence, dispatch_id=dispatch_id)
    act.session.add(
        HoneyTransfer(
            on=new.on, from_lot_id=lot.id, sink=new.sink, grams=new.grams, party_id=new.party_id, note=new.note,
            dispatch_id=dispatch_id,
        )
    )  # fmt: skip
    whom = act.session.get_one(Party, new.party_id).name if new.party_id is not None else ""
    return f"{new.sink.capitalize()}, {kilograms(new.grams, 3)} kg from {lot.name}" + (whom and f", {whom}")


def _dispatched(act: OpenAct, new: NewSink) -> int:
    """The dispatch that honey sent by weight belongs to."""
    row = Dispatch(on=new.on, party_id=new.party_id, way=new.sink)
    act.session.add(row)
    act.session.flush()
    return row.id


def hold_lot(act: OpenAct, lot_id: int, why: str) -> str:
    """Put a lot on hold: nothing is drawn from it until it is freed."""
    lot = act.session.get_one(HoneyLot, lot_id)
    if not tidy(why):
        raise Refused([refusal("lot.why", "say why it is held", "why")])
    lot.hold = tidy(why)
    return f"Held {lot.name}: {lot.hold}"


def free_lot(act: OpenAct, lot_id: int, why: str) -> str:
    """Take a lot off hold, for a written reason that stays in its note."""
    lot = act.session.get_one(HoneyLot, lot_id)
    if lot.hold is None:
        raise Refused([refusal("lot.free", f"{lot.name} is not on hold")])
    if not tidy(why):
        raise Refused([refusal("lot.why", "say why it may be used again", "why")])
    was = lot.hold
    lot.note = "; ".join(part for part in (lot.note, f"freed ({was}): {tidy(why)}") if part)
    lot.hold = None
    return f"Freed {lot.name}: {tidy(why)}"


def left_in(act: OpenAct, lot_ids: Iterable[int]) -> dict[int, int]:
    """The grams left in each lot, by two queries."""
    wanted = list(lot_ids)
    left = dict.fromkeys(wanted, 0)
    for column, sign in ((HoneyTransfer.to_lot_id, 1), (HoneyTransfer.from_lot_id, -1)):
        query = select(column, func.sum(HoneyTransfer.grams)).where(column.in_(wanted)).group_by(column)
        for lot_id, grams in act.session.execute(query):
            left[lot_id or 0] += sign * int(grams)
    return left


def lots_of(act: OpenAct, lot_ids: Sequence[int]) -> dict[int, HoneyLot]:
    """The lots themselves, by one query. Refused for a number that no lot has."""
    rows = {row.id: row for row in act.session.scalars(select(HoneyLot).where(HoneyLot.id.in_(lot_ids)))}
    if missing := sorted(set(lot_ids) - set(rows)):
        raise Refused([refusal("honey.no-lot", f"there is no lot {missing[0]}")])
    return rows


def check_draws(
    act: OpenAct, draws: Sequence[Draw], on: date, accepted: frozenset[str] = frozenset()
) -> list[Finding]:
    """What speaks against drawing: more than is there, a lot on hold, a lot not yet filled that day."""
    lots = lots_of(act, [draw.lot_id for draw in draws])
    findings = [] if draws else [refusal("honey.nothing", "choose the lots to draw from")]
    for lot in lots.values():
        if lot.hold and HELD not in accepted:
            mend = "Free it first, for a written reason"
            findings.append(Finding(HELD, Grade.AGAINST, f"{lot.name} is held: {lot.hold}", mend))
        if lot.opened_on > on:
            what = f"{lot.name} was filled on {dates.long(lot.opened_on)}, after {dates.long(on)}"
            findings.append(refusal("honey.too-early", what, "on"))
    return findings + _overdrawn(act, draws, lots)


def _overdrawn(act: OpenAct, draws: Sequence[Draw], lots: Mapping[int, HoneyLot]) -> list[Finding]:
    left, asked = left_in(act, lots), dict.fromkeys(lots, 0)
    for draw in draws:
        asked[draw.lot_id] += draw.grams
    findings = [refusal("honey.grams", "the grams drawn are above nought") for d in draws if d.grams < 1][:1]
    for lot_id, grams in asked.items():
        if grams > left[lot_id]:
            what = f"{lots[lot_id].name} holds {kilograms(left[lot_id], 3)} kg, not {kilograms(grams, 3)} kg"
            findings.append(refusal("honey.overdrawn", what, "grams", "Weigh again, or correct what went in"))
    return findings


def check_spent(spent: Sequence[Spent]) -> list[Finding]:
    """Whether what was spent has a name and grams."""
    findings = []
    for each in spent:
        if each.sink not in SINKS:
            findings.append(refusal("honey.sink", f"{each.sink} is no way for honey to leave", "sink"))
        if each.grams < 1:
            findings.append(refusal("honey.grams", f"{each.sink} without a weight", "grams"))
    return findings


def check_scale(weighed: Sequence[OnScale]) -> list[Finding]:
    """Whether each turn on the scale has more full than empty."""
    findings = [] if weighed else [refusal("scale.nothing", "nothing was put on the scale", "gross_g")]
    for row, each in enumerate(weighed, start=1):
        if each.tare_g < 0 or each.gross_g <= each.tare_g:
            what = f"{kilograms(each.gross_g, 3)} kg full is not above {kilograms(each.tare_g, 3)} kg empty"
            findings.append(refusal("scale.tare", what, "gross_g", "Look at both figures again", row))
    return findings


def check_day(act: OpenAct, on: date) -> list[Finding]:
    """A day to come is refused."""
    if on <= act.today:
        return []
    return [refusal("honey.day", f"{dates.long(on)} has not come yet", "on")]


def transfer(act: OpenAct, on: date, draws: Sequence[Draw], to_lot_id: int) -> None:
    """Write grams from lots into one lot."""
    act.session.add_all(
        HoneyTransfer(on=on, from_lot_id=draw.lot_id, to_lot_id=to_lot_id, grams=draw.grams) for draw in draws
    )


def free_name(act: OpenAct, wanted: str) -> str:
    """A name no lot has: a drum filled again is "drum 114, filling 2".

    Refused while an earlier lot of that name still holds honey.
    """
    name = tidy(wanted)
    taken = act.session.execute(
        select(HoneyLot.id, HoneyLot.name).where(
            (HoneyLot.name == name) | HoneyLot.name.startswith(f"{name}, filling ", autoescape=True)
        )
    ).all()
    if not taken:
        return name
    left = left_in(act, [row.id for row in taken])
    for row in taken:
        if left[row.id] > 0:
            what = f"{row.name} still holds {kilograms(left[row.id], 3)} kg"
            raise Refused([refusal("lot.name-used", what, "name", "Give this one another name")])
    return numbered(f"{name}, filling ", [row.name for row in taken])


def numbered(stem: str, used: Collection[str]) -> str:
    """The stem with the next number that none of ``used`` has, also once one was taken back."""
    tries = (f"{stem}{number}" for number in count(len(used) + 1))
    return next(text for text in tries if text not in used)


def same_or(values: Iterable[str], other: str) -> str:
    """The one value they all have, or another word where they differ."""
    found = set(values)
    return found.pop() if len(found) == 1 else other


def refusal(code: str, what: str, field: str = "", mend: str = "", row: int | None = None) -> Finding:
    """A finding that holds."""
    return Finding(code, Grade.REFUSED, what, mend, Where(row=row, field=field))


def refuse(findings: Sequence[Finding], accepted: frozenset[str] = frozenset()) -> None:
    """Raise Refused when any finding holds, or asks and was not accepted."""
    asked = [f for f in findings if f.grade is Grade.AGAINST and f.code not in accepted]
    if holds(findings) or asked:
        raise Refused(findings)
