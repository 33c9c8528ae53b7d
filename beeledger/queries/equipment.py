"""Boxes by type and state wherever they are, and the books of stock against what the hives' stacks say."""

from __future__ import annotations

from collections import defaultdict

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from beeledger.model.colonies import BoxStack, Colony
from beeledger.queries.records.stock import BoxCount, BoxesOnHives, Equipment
from beeledger.queries.stock import items_of
from beeledger.queries.stock_balances import LYING, balances
from beeledger.rules.stock_items import PLACES, Account, BoxKind, BoxState, ItemKind


def equipment_counts(session: Session) -> Equipment:
    """All boxes the farm keeps, and what is on hives by the books and by the stacks: three statements."""
    items = [item for item in items_of(session) if item.kind is ItemKind.BOX and item.box and item.box_state]
    sums: dict[tuple[int, Account], int] = defaultdict(int)
    for one in balances(session, [item.id for item in items], LYING):
        sums[one.item_id, one.at.kind] += one.quantity
    counts = [
        BoxCount(
            item.id, item.name, item.box or BoxKind.SUPER, item.frame_size, item.box_state or BoxState.DRAWN,
            sums[item.id, Account.STORE], sums[item.id, Account.VAN], sums[item.id, Account.SITE],
            sums[item.id, Account.EXTRACTOR], sums[item.id, Account.HIVES],
        )
        for item in items
        if item.retired_on is None or any(sums[item.id, kind] for kind in (*PLACES, Account.HIVES))
    ]  # fmt: skip
    stacks = boxes_by_stacks(session)
    on_hives = [
        BoxesOnHives(kind, sum(one.hives for one in counts if one.box is kind), stacks[kind])
        for kind in BoxKind
    ]
    return Equipment(tuple(counts), tuple(on_hives))


def boxes_by_stacks(session: Session) -> dict[BoxKind, int]:
    """Brood boxes and supers on the living hives, by what was last written of each: one statement."""
    latest = (
        select(BoxStack.id)
        .where(BoxStack.colony_id == Colony.id)
        .order_by(BoxStack.on.desc(), BoxStack.id.desc())
        .limit(1)
        .correlate(Colony)
        .scalar_subquery()
    )
    query = (
        select(func.sum(BoxStack.brood_boxes), func.sum(BoxStack.supers))
        .select_from(Colony)
        .join(BoxStack, BoxStack.id == latest)
        .where(Colony.ended_on.is_(None))
    )
    brood, supers = session.execute(query).one()
    return {BoxKind.BROOD: int(brood or 0), BoxKind.SUPER: int(supers or 0)}
