"""What autumn feeding will take, beside the sugar that lies in the stock."""

from __future__ import annotations

from datetime import date, timedelta

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from beeledger.model.colonies import BoxStack, Colony
from beeledger.model.rounds import RoundEntry
from beeledger.queries.records.stock import FeedNeed
from beeledger.queries.stock import items_of
from beeledger.queries.stock_balances import balances
from beeledger.rules.autumn_feed import Wintering, autumn_feed, sugar_in_stock_g
from beeledger.rules.stock_items import PLACES, ItemKind
from beeledger.rules.stores import figures, stores_from_frames_g

_KINDS = ("full", "nucleus")


def feed_need(session: Session, today: date) -> FeedNeed:
    """The sugar the colonies seen lately still need for the winter, and what is there: three statements."""
    need = autumn_feed(_colonies(session, today))
    feeds = {item.id: item for item in items_of(session) if item.kind is ItemKind.FEED}
    there = sum(
        sugar_in_stock_g(one.quantity, feeds[one.item_id].unit, feeds[one.item_id].sugar_hundredths)
        for one in balances(session, list(feeds), PLACES)
    )
    return FeedNeed(today, need.colonies, need.known, need.short, need.sugar_g, need.syrup_ml, there)


def _colonies(session: Session, today: date) -> list[Wintering]:
    boxes = (
        select(BoxStack.id)
        .where(BoxStack.colony_id == Colony.id)
        .order_by(BoxStack.on.desc(), BoxStack.id.desc())
        .limit(1)
        .correlate(Colony)
        .scalar_subquery()
    )
    seen = (
        select(RoundEntry.id)
        .where(
            RoundEntry.colony_id == Colony.id,
            RoundEntry.on >= today - timedelta(days=figures().good_for_days),
            or_(RoundEntry.stores_g.is_not(None), RoundEntry.stores_tenths.is_not(None)),
        )
        .order_by(RoundEntry.on.desc(), RoundEntry.id.desc())
        .limit(1)
        .correlate(Colony)
        .scalar_subquery()
    )
    query = (
        select(
            Colony.kind,
            BoxStack.brood_boxes,
            BoxStack.brood_frame,
            RoundEntry.stores_g,
            RoundEntry.stores_tenths,
        )
        .outerjoin(BoxStack, BoxStack.id == boxes)
        .outerjoin(RoundEntry, RoundEntry.id == seen)
        .where(Colony.ended_on.is_(None), Colony.kind.in_(_KINDS))
    )
    return [
        Wintering(kind != "full", brood or 1, _stores_g(grams, tenths, frame))
        for kind, brood, frame, grams, tenths in session.execute(query)
    ]


def _stores_g(grams: int | None, tenths: int | None, frame: str | None) -> int | None:
    """Weighed, or reckoned from frames of a size whose weight is known."""
    if grams is not None or tenths is None or frame is None or frame not in figures().frames_g:
        return grams
    return stores_from_frames_g(tenths, frame)
