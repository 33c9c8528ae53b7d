"""Dispatches: the list, the card of one, what a form offers, and the paper that goes along."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.model.dispatches import Dispatch
from beeledger.model.honey import Batch, HoneyLot, HoneyTransfer
from beeledger.model.parties import Party, PartyContact
from beeledger.queries.honey import lots
from beeledger.queries.jars import jar_lots
from beeledger.queries.records.delivery_note import DeliveryNote
from beeledger.queries.records.dispatch_desk import (
    WAY_WORDS,
    BulkLot,
    ContactWords,
    DispatchCard,
    DispatchChoices,
    DispatchRow,
    SentLine,
)
from beeledger.queries.records.jar_lot import mark_of

PAGE = 4000
_BULK = ("drum", "bucket", "tank")


def dispatch_log(session: Session, limit: int = PAGE) -> tuple[DispatchRow, ...]:
    """The dispatches, newest first: two statements."""
    heads = session.execute(_heads().order_by(Dispatch.on.desc(), Dispatch.id.desc()).limit(limit)).all()
    moved = _moved(session, [row.id for row in heads])
    return tuple(_row(head, moved[head.id]) for head in heads)


def dispatch_card(session: Session, dispatch_id: int) -> DispatchCard | None:
    """One dispatch whole; None when there is none. Four statements."""
    head = session.execute(_heads().where(Dispatch.id == dispatch_id)).first()
    if head is None:
        return None
    moved = _moved(session, [dispatch_id])[dispatch_id]
    found = contacts_of(session, [head.party_id] if head.party_id else [])
    contact = found.get(head.party_id, ContactWords())
    return DispatchCard(_row(head, moved), contact, head.note or "", _lines(session, moved))


def delivery_note(session: Session, dispatch_id: int) -> DeliveryNote:
    """A dispatch for paper, as it went out. ValueError when there is none."""
    card = dispatch_card(session, dispatch_id)
    if card is None:
        raise ValueError(f"there is no dispatch {dispatch_id}")
    row = card.row
    return DeliveryNote(
        row.id, row.on, WAY_WORDS[row.way], row.receiver, card.contact, row.reference, card.note, card.lines
    )


def dispatch_choices(session: Session) -> DispatchChoices:
    """The customers and how they are reached, and the jars and drums that can go: five statements."""
    rows = session.execute(
        select(Party.id, Party.name).where(Party.is_customer | Party.is_landholder).order_by(Party.name)
    ).all()
    known = contacts_of(session, [row.id for row in rows])
    contacts = {row.name: known[row.id] for row in rows if row.id in known}
    bulk = tuple(BulkLot(lot.id, lot.name, lot.left_g, lot.hold) for lot in lots(session, _BULK))
    stock = jar_lots(session, with_jars=True)
    return DispatchChoices(tuple(row.name for row in rows), contacts, stock, bulk)


def contacts_of(session: Session, party_ids: Sequence[int]) -> dict[int, ContactWords]:
    """How these are reached: one statement."""
    rows = session.execute(
        select(
            PartyContact.party_id, PartyContact.person, PartyContact.address, PartyContact.phone,
            PartyContact.email,
        ).where(PartyContact.party_id.in_(list(party_ids)))
    )  # fmt: skip
    return {row[0]: ContactWords(*(words or "" for words in row[1:])) for row in rows}


def _heads() -> Any:
    return select(
        Dispatch.id,
        Dispatch.on,
        Dispatch.way,
        Dispatch.reference,
        Dispatch.note,
        Dispatch.party_id,
        Party.name,
    ).outerjoin(Party, Party.id == Dispatch.party_id)


def _moved(session: Session, dispatch_ids: Sequence[int]) -> dict[int, list[Any]]:
    """The transfers of each dispatch, with the lots they left."""
    found: dict[int, list[Any]] = defaultdict(list)
    rows = session.execute(
        select(
            HoneyTransfer.dispatch_id, HoneyTransfer.id, HoneyTransfer.from_lot_id, HoneyTransfer.sink,
            HoneyTransfer.jars, HoneyTransfer.grams, HoneyLot.name, HoneyLot.kind,
        )
        .join(HoneyLot, HoneyLot.id == HoneyTransfer.from_lot_id)
        .where(HoneyTransfer.dispatch_id.in_(list(dispatch_ids)))
        .order_by(HoneyTransfer.id)
    )  # fmt: skip
    for row in rows:
        found[row.dispatch_id].append(row)
    return found


def _row(head: Any, moved: Sequence[Any]) -> DispatchRow:
    marks = tuple(dict.fromkeys(mark_of(row.name) for row in moved))
    jars = sum(row.jars or 0 for row in moved)
    back = sum(row.jars or 0 for row in moved if row.sink is None)
    grams = sum(row.grams for row in moved)
    return DispatchRow(
        head.id, head.on, head.name or "", head.way, marks, jars, back, grams, head.reference or ""
    )


def _lines(session: Session, moved: Sequence[Any]) -> tuple[SentLine, ...]:
    marks = {mark_of(row.name) for row in moved if row.kind == "jarring"}
    batches = {
        batch.lot_mark: batch for batch in session.scalars(select(Batch).where(Batch.lot_mark.in_(marks)))
    }
    by_lot: dict[int, list[Any]] = defaultdict(list)
    for row in moved:
        by_lot[row.from_lot_id].append(row)
    return tuple(_line(rows, batches.get(mark_of(rows[0].name))) for rows in by_lot.values())


def _line(rows: Sequence[Any], batch: Batch | None) -> SentLine:
    out = next((row for row in rows if row.sink is not None), None)
    back = [row for row in rows if row.sink is None]
    jars = [row.jars for row in rows if row.jars is not None]
    first = rows[0]
    return SentLine(
        out.id if out else None, first.from_lot_id, batch.id if batch else None, mark_of(first.name),
        batch.product if batch else "Honey in bulk", batch.jar_g if batch else None,
        batch.best_before if batch else None, sum(jars) if jars else None, sum(row.jars or 0 for row in back),
        sum(row.grams for row in rows), sum(row.grams for row in back),
    )  # fmt: skip
