"""Honey that goes to somebody and may come back: one act writes all lots of a dispatch, another what returns.

Every jar and gram leaves a lot and arrives with a receiver, so that a recall reaches everybody. What comes
back stands in a lot of its own, on hold, and its way still leads to the jarring it came from.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy import func, select

from beeledger.base import dates
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import counted, tidy
from beeledger.base.units import kilograms
from beeledger.database.audit import OpenAct
from beeledger.model.dispatches import WAYS, Dispatch
from beeledger.model.honey import HoneyLot, HoneyTransfer
from beeledger.model.parties import Party, PartyContact
from beeledger.operations.honey_lots import check_day, left_in, lots_of, numbered, refusal, refuse
from beeledger.operations.parties import NewParty, add_party, party_named
from beeledger.operations.restricting import open_stops, write_uses
from beeledger.queries.jars import jar_lots
from beeledger.queries.records.jar_lot import RETURNED, JarLot, mark_of
from beeledger.queries.stopped import stopped_honey
from beeledger.rules.jars import AT_JARRING, grams_of, jars_of
from beeledger.rules.restrictions import NO_LICENCE, Licence

PUBLIC = "public"
SAID = {"dispatch": "Sent", PUBLIC: "Sold", "gift": "Gave", "rent": "Paid as rent"}
_SINKS = {PUBLIC: "dispatch"}
_BULK = ("drum", "bucket", "tank")


@dataclass(frozen=True, slots=True)
class DispatchLine:
    """Jars of a lot, or all that is left in a drum (``jars`` None) or so many grams of it."""

    lot_id: int
    jars: int | None = None
    grams: int | None = None


@dataclass(frozen=True, slots=True)
class Contact:
    """How a receiver is reached; what is empty leaves what is known already."""

    person: str = ""
    address: str = ""
    phone: str = ""
    email: str = ""


@dataclass(frozen=True, slots=True)
class NewDispatch:
    """What goes to one receiver on one day. ``party``: by name; a name nobody has yet becomes a customer."""

    on: date
    lines: tuple[DispatchLine, ...]
    party: str = ""
    way: str = "dispatch"
    reference: str = ""
    note: str = ""
    contact: Contact = Contact()
    licence: Licence = NO_LICENCE
    """That lets honey out which was taken at a restricted site after the notification."""


@dataclass(frozen=True, slots=True)
class ReturnLine:
    """What came back of one line of a dispatch, by its transfer. ``jars`` None: all of it."""

    transfer_id: int
    jars: int | None = None


@dataclass(frozen=True, slots=True)
class Returned:
    """What came back from a dispatch, and why."""

    dispatch_id: int
    on: date
    why: str
    lines: tuple[ReturnLine, ...]


@dataclass(frozen=True, slots=True)
class _Stock:
    """The lots that lines name, as they are before the dispatch."""

    lots: dict[int, HoneyLot]
    jars: dict[int, JarLot]
    left_g: dict[int, int]


def post_dispatch(act: OpenAct, new: NewDispatch) -> str:
    """Write a dispatch; ``act.result`` is its id.

    Refused when more goes than is there, a lot is held or not filled yet, or nobody is named (sales to the
    public need no name). The grams are the jars' share of what is left: the last jar takes the last gram.
    """
    stock = _stock(act, [line.lot_id for line in new.lines])
    stopped = stopped_honey(act.session, [line.lot_id for line in new.lines], new.on)
    refuse([*_check(act, new, stock), *open_stops(stopped, new.licence)])
    party = None if new.way == PUBLIC else receiver(act, new.party, new.contact)
    row = Dispatch(
        on=new.on, party_id=party.id if party else None, way=new.way, reference=tidy(new.reference) or None,
        note=tidy(new.note) or None,
    )  # fmt: skip
    act.session.add(row)
    act.session.flush()
    for line in new.lines:
        act.session.add(
            HoneyTransfer(
                on=new.on, from_lot_id=line.lot_id, sink=_SINKS.get(new.way, new.way), grams=_grams(line, stock),
                party_id=row.party_id, dispatch_id=row.id, jars=line.jars,
            )
        )  # fmt: skip
    write_uses(act, stopped, new.licence, dispatch_id=row.id)
    act.result = row.id
    whom = "the public" if party is None else party.name
    return f"{SAID[new.way]} {_what(new.lines, stock)} to {whom}"


def take_back(act: OpenAct, new: Returned) -> str:
    """Write what came back: into lots of their own, on hold for the reason given; ``act.result`` are their ids."""
    dispatch = act.session.get_one(Dispatch, new.dispatch_id)
    rows = {
        row.id: row
        for row in act.session.scalars(
            select(HoneyTransfer).where(
                HoneyTransfer.dispatch_id == dispatch.id, HoneyTransfer.sink.is_not(None)
            )
        )
    }
    refuse(_check_back(act, new, dispatch, rows))
    whom = act.session.get_one(Party, dispatch.party_id).name if dispatch.party_id else "the public"
    hold = f"returned by {whom}, {dates.long(new.on)}: {tidy(new.why)}"
    made = [_come_back(act, rows[line.transfer_id], line, new.on, hold) for line in new.lines]
    act.result = [lot.id for lot in made]
    jars = sum(line.jars or 0 for line in new.lines)
    what = counted(jars, "jar") if jars else made[0].name
    return f"Took back {what} from {whom}, held: {tidy(new.why)}"


def receiver(act: OpenAct, name: str, contact: Contact = Contact()) -> Party:
    """The party of that name, a customer from now on; its contact is filled in where something new is said."""
    said = (contact.person, contact.address, contact.phone, contact.email)
    row = party_named(act, name)
    if row is None:
        add_party(act, NewParty(tidy(name), ("customer",), *said))
        return act.session.get_one(Party, act.result)
    if row.erased_on is not None:
        refuse(
            [refusal("party.erased", f"who {row.name} was has been erased: say who gets them now", "party")]
        )
    row.is_customer = True
    _reach(act, row.id, said)
    return row


def _reach(act: OpenAct, party_id: int, said: tuple[str, ...]) -> None:
    if not any(words.strip() for words in said):
        return
    known = act.session.scalar(select(PartyContact).where(PartyContact.party_id == party_id))
    if known is None:
        known = PartyContact(party_id=party_id)
        act.session.add(known)
    for field, words in zip(("person", "address", "phone", "email"), said, strict=True):
        if words.strip():
            setattr(known, field, words.strip())


def _stock(act: OpenAct, lot_ids: Sequence[int]) -> _Stock:
    lots = lots_of(act, sorted(set(lot_ids)))
    jars = {lot.lot_id: lot for lot in jar_lots(act.session, lots)}
    return _Stock(lots, jars, left_in(act, lots))


def _grams(line: DispatchLine, stock: _Stock) -> int:
    left_g = stock.left_g[line.lot_id]
    if line.jars is None:
        return left_g if line.grams is None else line.grams
    return grams_of(line.jars, stock.jars[line.lot_id].left, left_g)


def _what(lines: Sequence[DispatchLine], stock: _Stock) -> str:
    jars = sum(line.jars or 0 for line in lines)
    marks = list(dict.fromkeys(_name(line, stock) for line in lines))
    if jars:
        return f"{counted(jars, 'jar')} of {marks[0] if len(marks) == 1 else counted(len(marks), 'lot')}"
    whole = kilograms(sum(_grams(line, stock) for line in lines))
    return f"{marks[0] if len(marks) == 1 else counted(len(marks), 'lot')}, {whole} kg"


def _name(line: DispatchLine, stock: _Stock) -> str:
    name = stock.lots[line.lot_id].name
    return f"L {mark_of(name)}" if line.lot_id in stock.jars else name


def _check(act: OpenAct, new: NewDispatch, stock: _Stock) -> list[Finding]:
    findings = check_day(act, new.on)
    if not new.lines:
        findings.append(refusal("jars.nothing", "say what goes out", "lot"))
    named = Counter(line.lot_id for line in new.lines)
    for row, line in enumerate(new.lines, start=1):
        findings += _check_line(row, line, new.on, stock)
        if named[line.lot_id] > 1:
            findings.append(refusal("jars.twice", f"{_name(line, stock)} stands there twice", "lot", "", row))
    if new.way not in WAYS:
        findings.append(refusal("jars.way", f"{new.way} is no way for jars to leave", "way"))
    if new.way != PUBLIC and not tidy(new.party):
        findings.append(refusal("jars.party", "say who got them: a recall has to reach them", "party"))
    return findings


def _check_line(row: int, line: DispatchLine, on: date, stock: _Stock) -> list[Finding]:
    lot, findings = stock.lots[line.lot_id], []
    if lot.hold:
        what, mend = f"{_name(line, stock)} is held: {lot.hold}", "Free it first, for a written reason"
        findings.append(Finding("jars.held", Grade.REFUSED, what, mend, Where(row=row)))
    if on < lot.opened_on:
        filled = "jarred" if line.lot_id in stock.jars else "filled"
        findings.append(refusal("jars.early", f"it was not {filled} yet on that day", "on", "", row))
    if line.lot_id in stock.jars:
        return findings + _check_jars(row, line, stock.jars[line.lot_id].left)
    return findings + _check_bulk(row, line, lot, stock.left_g[line.lot_id])


def _check_jars(row: int, line: DispatchLine, there: int) -> list[Finding]:
    if not line.jars or line.jars < 1:
        return [refusal("jars.none", "how many jars?", "jars", "", row)]
    if line.jars > there:
        return [refusal("jars.many", f"{counted(there, 'jar')} of it are on the farm", "jars", "", row)]
    return []


def _check_bulk(row: int, line: DispatchLine, lot: HoneyLot, left_g: int) -> list[Finding]:
    grams = left_g if line.grams is None else line.grams
    if lot.kind not in _BULK:
        return [refusal("jars.kind", f"{lot.name} is neither jars nor a drum", "lot", "", row)]
    if line.jars is not None:
        return [refusal("jars.bulk", f"{lot.name} holds no jars: it goes by weight", "jars", "", row)]
    if not 1 <= grams <= left_g:
        return [refusal("jars.grams", f"{lot.name} holds {kilograms(left_g, 3)} kg", "jars", "", row)]
    return []


def _check_back(
    act: OpenAct, new: Returned, dispatch: Dispatch, rows: dict[int, HoneyTransfer]
) -> list[Finding]:
    findings = check_day(act, new.on)
    if new.on < dispatch.on:
        findings.append(refusal("back.early", f"it went out on {dates.long(dispatch.on)}", "on"))
    if not tidy(new.why):
        findings.append(refusal("back.why", "say why it came back: it is held until that is settled", "why"))
    if not new.lines:
        findings.append(refusal("back.nothing", "how many came back?", "jars"))
    if len({line.transfer_id for line in new.lines}) < len(new.lines):
        findings.append(refusal("back.twice", "one line stands there twice", "jars"))
    for number, line in enumerate(new.lines, start=1):
        row = rows.get(line.transfer_id)
        if row is None:
            what = "nothing of that is out any more"
        elif row.jars is None and line.jars is None and _reckoned(act, row) == 0:
            what = "it was less than a jar: that cannot come back"
        elif line.jars is None or (row.jars is not None and 1 <= line.jars <= row.jars):
            continue
        else:
            what = f"{counted(row.jars, 'jar')} of it are out" if row.jars else "it goes and comes by weight"
        findings.append(refusal("back.many", what, "jars", "", number))
    return findings


def _come_back(act: OpenAct, row: HoneyTransfer, line: ReturnLine, on: date, hold: str) -> HoneyLot:
    """Turn what came back of a row into a way to a lot of its own; the rest of the row stays out."""
    source = act.session.get_one(HoneyLot, row.from_lot_id)
    lot = HoneyLot(
        kind=source.kind, name=_returned_name(act, source.name), opened_on=on, country=source.country,
        honey_kind=source.honey_kind, owner_id=source.owner_id, hold=hold,
    )  # fmt: skip
    act.session.add(lot)
    act.session.flush()
    jars = (row.jars or _reckoned(act, row)) if line.jars is None else line.jars
    grams = row.grams if jars is None or row.jars is None else grams_of(jars, row.jars, row.grams)
    act.session.add(
        HoneyTransfer(
            on=on, from_lot_id=source.id, to_lot_id=lot.id, grams=grams, jars=jars, party_id=row.party_id,
            dispatch_id=row.dispatch_id,
        )
    )  # fmt: skip
    if grams == row.grams:
        act.session.delete(row)
    else:
        row.grams -= grams
        row.jars = (row.jars or 0) - (jars or 0)
    act.session.flush()
    return lot


def _reckoned(act: OpenAct, row: HoneyTransfer) -> int | None:
    """The jars of a row that went by weight, so that the sum of all that left stays; None where it was no jars."""
    found = jar_lots(act.session, [row.from_lot_id] if row.from_lot_id else [])
    if not found:
        return None
    uncounted = act.session.scalar(
        select(func.coalesce(func.sum(HoneyTransfer.grams), 0)).where(
            HoneyTransfer.from_lot_id == row.from_lot_id,
            HoneyTransfer.jars.is_(None),
            func.coalesce(HoneyTransfer.sink, "").not_in(AT_JARRING),
        )
    )
    whole, filled, jars_g = int(uncounted or 0), found[0].filled, found[0].jars_g
    return jars_of(whole, filled, jars_g) - jars_of(whole - row.grams, filled, jars_g)


def _returned_name(act: OpenAct, source: str) -> str:
    stem = f"{mark_of(source)}{RETURNED}"
    used = act.session.scalars(
        select(HoneyLot.name).where(HoneyLot.name.startswith(stem, autoescape=True))
    ).all()
    return numbered(stem, used)
