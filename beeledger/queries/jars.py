"""Jars on the farm: each jarring, and each lot of jars that came back, with what is left of it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from sqlalchemy import ColumnElement, ScalarSelect, func, select
from sqlalchemy.orm import Session

from beeledger.model.honey import Batch, HoneyLot, HoneyTransfer
from beeledger.queries.records.jar_lot import JarLot, mark_of
from beeledger.rules.jars import AT_JARRING, jars_left


def jar_lots(
    session: Session, lot_ids: Iterable[int] | None = None, *, with_jars: bool = False
) -> tuple[JarLot, ...]:
    """Lots of jars, oldest first; ``with_jars``: only those that have some. Two statements."""
    query = select(HoneyLot, *_sums()).where(HoneyLot.kind == "jarring")
    if lot_ids is not None:
        query = query.where(HoneyLot.id.in_(list(lot_ids)))
    rows = session.execute(query.order_by(HoneyLot.opened_on, HoneyLot.id)).all()
    marks = {mark_of(row[0].name) for row in rows}
    batches = {
        batch.lot_mark: batch for batch in session.scalars(select(Batch).where(Batch.lot_mark.in_(marks)))
    }
    found = tuple(_lot(row, batches[mark_of(row[0].name)]) for row in rows if mark_of(row[0].name) in batches)
    return tuple(lot for lot in found if lot.left > 0) if with_jars else found


def _sums() -> tuple[ScalarSelect[Any], ...]:
    into, out = HoneyTransfer.to_lot_id == HoneyLot.id, HoneyTransfer.from_lot_id == HoneyLot.id
    uncounted = HoneyTransfer.jars.is_(None)
    spent = HoneyTransfer.sink.in_(AT_JARRING)

    def total(what: Any, *conditions: ColumnElement[bool]) -> ScalarSelect[Any]:
        whole = select(func.coalesce(func.sum(what), 0)).where(*conditions)
        return whole.correlate(HoneyLot).scalar_subquery()

    grams, jars = HoneyTransfer.grams, HoneyTransfer.jars
    return (
        total(grams, into), total(jars, into), total(grams, out), total(jars, out),
        total(grams, out, uncounted, spent),
        total(grams, out, uncounted, func.coalesce(HoneyTransfer.sink, "").not_in(AT_JARRING)),
    )  # fmt: skip


def _lot(row: Any, batch: Batch) -> JarLot:
    lot = row[0]
    came_g, came, gone_g, gone, spent_g, uncounted_g = (int(each) for each in row[1:])
    returned = batch.lot_id != lot.id
    filled = came if returned else batch.jars
    return JarLot(
        lot.id, None if returned else batch.id, lot.name, batch.lot_mark, batch.product, batch.jar_g,
        batch.best_before, lot.opened_on, filled, came_g - spent_g,
        jars_left(filled, came_g - spent_g, gone, uncounted_g), came_g - gone_g, lot.hold,
    )  # fmt: skip
