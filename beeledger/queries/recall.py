"""Recall: from a lot mark, as typed or read out, to every jar of it, every buyer, and every hive behind it.

A fixed number of statements: the lots of the mark are found by one walk inside the database.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.base.text import counted, listed
from beeledger.model.dispatches import Dispatch
from beeledger.model.honey import Batch, HoneyLot, HoneyTransfer
from beeledger.model.parties import Party
from beeledger.queries.dispatches import contacts_of
from beeledger.queries.jars import jar_lots
from beeledger.queries.records.dispatch_desk import WAY_WORDS, ContactWords
from beeledger.queries.records.jar_lot import RETURNED, JarLot
from beeledger.queries.records.recall import Buyer, Delivery, Recall, RelatedMark, Whereabouts
from beeledger.queries.trace import reached_from, way_back
from beeledger.rules.jars import AT_JARRING, counts_of
from beeledger.rules.lot_marks import read_mark

OUT, HERE, HELD, LOST, ELSEWHERE = (
    "with buyers", "here", "here, held", "lost or opened", "in another lot",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Gone:
    """A transfer out of a lot of the mark, with its jars as counted or reckoned."""

    row: Any
    jars: int


def recall(session: Session, words: str) -> Recall | None:
    """Everything of a lot mark; None when no batch has it. ValueError with a sentence when it cannot be one."""
    mark = str(read_mark(words))
    batch = session.scalars(select(Batch).where(Batch.lot_mark == mark)).first()
    way = way_back(session, mark)
    if batch is None or way is None:
        return None
    named = select(HoneyLot.id).where(HoneyLot.name.startswith(f"{mark}{RETURNED}", autoescape=True))
    stand = {lot.lot_id: lot for lot in jar_lots(session, [batch.lot_id, *session.scalars(named)])}
    gone = _gone(session, stand)
    own = stand[batch.lot_id]
    return Recall(
        batch.id, batch.lot_id, mark, batch.product, batch.jar_g, batch.jars, own.jars_g, batch.jarred_on,
        batch.best_before, own.hold or "", _parts(stand.values(), gone), _buyers(session, gone),
        way.sources, way.hives, _related(session, batch), tuple(stand.values()),
    )  # fmt: skip


def _gone(session: Session, stand: dict[int, JarLot]) -> list[_Gone]:
    """What left the lots of the mark after the jarring, oldest first."""
    rows = session.execute(
        select(
            HoneyTransfer.from_lot_id, HoneyTransfer.to_lot_id, HoneyTransfer.on, HoneyTransfer.sink,
            HoneyTransfer.grams, HoneyTransfer.jars, HoneyTransfer.note, HoneyTransfer.party_id, Party.name,
            HoneyTransfer.dispatch_id, Dispatch.on.label("sent_on"), Dispatch.way, Dispatch.reference, HoneyLot.name.label("into"),
        )
        .outerjoin(Party, Party.id == HoneyTransfer.party_id)
        .outerjoin(Dispatch, Dispatch.id == HoneyTransfer.dispatch_id)
        .outerjoin(HoneyLot, HoneyLot.id == HoneyTransfer.to_lot_id)
        .where(HoneyTransfer.from_lot_id.in_(stand))
        .order_by(HoneyTransfer.on, HoneyTransfer.id)
    ).all()  # fmt: skip
    by_lot: dict[int, list[Any]] = defaultdict(list)
    for row in rows:
        if row.sink not in AT_JARRING or row.jars is not None:
            by_lot[row.from_lot_id].append(row)
    found: list[_Gone] = []
    for lot_id, each in by_lot.items():
        lot = stand[lot_id]
        counts = counts_of([row.grams for row in each], [row.jars for row in each], lot.filled, lot.jars_g)
        found += [_Gone(row, jars) for row, jars in zip(each, counts, strict=True)]
    return found


def _parts(stand: Iterable[JarLot], gone: Sequence[_Gone]) -> tuple[Whereabouts, ...]:
    """Where every jar is. What came back is counted where it stands now."""
    lots = list(stand)
    free, held = [lot for lot in lots if not lot.hold], [lot for lot in lots if lot.hold]
    out = [each for each in gone if each.row.sink is not None and each.row.sink not in AT_JARRING]
    lost = [each for each in gone if each.row.sink in AT_JARRING]
    away = [
        each
        for each in gone
        if each.row.to_lot_id is not None and each.row.to_lot_id not in {lot.lot_id for lot in lots}
    ]
    buyers = {each.row.name or WAY_WORDS.get(each.row.way, "nobody named") for each in out}
    why = listed(sorted({each.row.note for each in lost if each.row.note}))
    parts = (
        Whereabouts(OUT, *_sums(out), counted(len(buyers), "receiver") if buyers else ""),
        Whereabouts(HERE, sum(lot.left for lot in free), sum(lot.left_g for lot in free)),
        Whereabouts(
            HELD, sum(lot.left for lot in held), sum(lot.left_g for lot in held),
            listed(sorted({lot.hold for lot in held if lot.hold and lot.left})),
        ),
        Whereabouts(LOST, *_sums(lost), why),
        Whereabouts(ELSEWHERE, *_sums(away), listed(sorted({each.row.into for each in away}))),
    )  # fmt: skip
    return tuple(part for part in parts if part.jars or part.grams)


def _sums(gone: Sequence[_Gone]) -> tuple[int, int]:
    return sum(each.jars for each in gone), sum(each.row.grams for each in gone)


def _buyers(session: Session, gone: Sequence[_Gone]) -> tuple[Buyer, ...]:
    """Who got jars, most of them first; those without a name last."""
    grouped: dict[tuple[int | None, int | None], list[_Gone]] = defaultdict(list)
    for each in gone:
        if each.row.sink not in AT_JARRING and (each.row.sink or each.row.dispatch_id):
            grouped[each.row.party_id, each.row.dispatch_id].append(each)
    by_party: dict[int | None, list[tuple[str, Delivery]]] = defaultdict(list)
    for (party_id, _), rows in grouped.items():
        by_party[party_id].append((rows[0].row.name or "", _delivery(rows)))
    contacts = contacts_of(session, [number for number in by_party if number is not None])
    buyers = [
        Buyer(
            each[0][0] or "The public, not by name",
            contacts.get(party_id or 0, ContactWords()),
            tuple(sorted((delivery for _, delivery in each), key=lambda delivery: delivery.on)),
            named=party_id is not None,
        )
        for party_id, each in by_party.items()
    ]
    return tuple(sorted(buyers, key=lambda buyer: (not buyer.named, -buyer.out, buyer.name)))


def _delivery(rows: Sequence[_Gone]) -> Delivery:
    first = rows[0].row
    back = [each for each in rows if each.row.sink is None]
    way = WAY_WORDS.get(first.way or next((each.row.sink for each in rows if each.row.sink), ""), "")
    return Delivery(
        first.sent_on or first.on, first.name or "", way, first.reference or "",
        sum(each.jars for each in rows), sum(each.jars for each in back),
        sum(each.row.grams for each in rows), sum(each.row.grams for each in back),
        all(each.row.jars is not None for each in rows),
    )  # fmt: skip


def _related(session: Session, batch: Batch) -> tuple[RelatedMark, ...]:
    """Other marks that honey of the same lots went into, newest first."""
    rows = session.execute(
        select(Batch.id, Batch.lot_mark, Batch.product, Batch.jarred_on, Batch.jars)
        .where(Batch.lot_id.in_(reached_from(batch.lot_id)), Batch.id != batch.id)
        .order_by(Batch.jarred_on.desc(), Batch.id.desc())
    )
    return tuple(RelatedMark(*row) for row in rows)
