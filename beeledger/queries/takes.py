"""Takes: what was taken and not yet weighed, and which hives' honey is barred on a day."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy import exists, func, select
from sqlalchemy.orm import Session, aliased

from beeledger.base import dates
from beeledger.model.colonies import Placement
from beeledger.model.honey import HoneyLot, Take, TakeLine
from beeledger.model.sites import Site
from beeledger.queries.hives import boxes_on, feeds_on, marks_on, supers_put_on, treatments_on


@dataclass(frozen=True, slots=True)
class Barred:
    """Why honey of a hive wants a written reason: in words, empty where that does not bar it."""

    treatment: str = ""
    feed: str = ""


@dataclass(frozen=True, slots=True)
class OpenTake:
    """Supers taken at a site on a day. ``estimate_g`` None: nobody estimated any of them."""

    id: int
    site_id: int
    site: str
    on: date
    supers: int
    hives: int
    estimate_g: int | None
    round_id: int | None
    note: str | None = None
    reasons: int = 0
    """Lines with a written reason: taken under treatment, in withdrawal, or with feed on."""
    lot_id: int | None = None
    """The lot of its supers, once they stood on the scale."""


@dataclass(frozen=True, slots=True)
class HiveToTake:
    """A hive that stands at a site, with the supers that are on it by the record."""

    colony_id: int
    mark: str
    stand: int | None
    supers: int | None
    barred: Barred | None = None


def takes(
    session: Session, *, unweighed: bool = False, ids: Sequence[int] | None = None, limit: int = 200
) -> tuple[OpenTake, ...]:
    """The takes, latest first; ``unweighed``: only those whose supers never stood on a scale.

    ``ids``: only these.
    """
    query = (
        select(
            Take.id, Take.site_id, Site.name, Take.on, func.sum(TakeLine.supers), func.count(TakeLine.colony_id),
            func.sum(TakeLine.estimate_g), Take.round_id, Take.note, func.count(TakeLine.reason), HoneyLot.id,
        )
        .join(Site, Site.id == Take.site_id)
        .join(TakeLine, TakeLine.take_id == Take.id)
        .outerjoin(HoneyLot, HoneyLot.take_id == Take.id)
        .group_by(Take.id, Take.site_id, Site.name, Take.on, Take.round_id, Take.note, HoneyLot.id)
        .order_by(Take.on.desc(), Take.id.desc())
        .limit(limit)
    )  # fmt: skip
    if unweighed:
        weighed = aliased(HoneyLot)
        query = query.where(~exists().where(weighed.take_id == Take.id))
    if ids is not None:
        query = query.where(Take.id.in_(ids))
    return tuple(
        OpenTake(*row[:4], int(row[4]), row[5], None if row[6] is None else int(row[6]), *row[7:])
        for row in session.execute(query)
    )


def hives_to_take(session: Session, site_id: int, on: date) -> tuple[HiveToTake, ...]:
    """The hives that stand at a site now, in walking order, with their supers and what bars their honey."""
    stands = dict(
        session.execute(
            select(Placement.colony_id, Placement.stand)
            .where(Placement.site_id == site_id, Placement.until_at.is_(None))
            .order_by(Placement.stand, Placement.colony_id)
        ).all()
    )
    ids = list(stands)
    boxes, marks, barred = (
        boxes_on(session, ids, on),
        marks_on(session, ids, on),
        honey_barred(session, ids, on),
    )
    return tuple(
        HiveToTake(
            each, marks.get(each, ""), stands[each], boxes[each].supers if each in boxes else None, barred.get(each)
        )
        for each in ids
    )  # fmt: skip


def honey_barred(session: Session, colony_ids: Sequence[int], day: date) -> dict[int, Barred]:
    """Which hives' honey wants a written reason on a day: four queries, however many hives.

    Where no round put the supers on, they may have been on when it was fed.
    """
    treated = {
        colony: ", ".join(f"{one.product} since {dates.short(one.since)}" for one in courses)
        for colony, courses in treatments_on(session, colony_ids, day).items()
    }
    put_on = supers_put_on(session, colony_ids, day)
    fed = {
        colony: dates.short(feed.on)
        for colony, feed in feeds_on(session, colony_ids, day).items()
        if feed.on >= put_on.get(colony, date.min)
    }
    return {
        colony: Barred(treated.get(colony, ""), fed.get(colony, ""))
        for colony in colony_ids
        if colony in treated or colony in fed
    }
