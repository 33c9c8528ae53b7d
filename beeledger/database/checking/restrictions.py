"""Nothing out of a restricted place, or into one that lets nothing in, without a licence on record."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from sqlalchemy import ColumnElement, and_, exists, or_, select
from sqlalchemy.orm import InstrumentedAttribute, Session, aliased

from beeledger.base.dates import long
from beeledger.base.findings import Finding
from beeledger.database.checking.breach import breach
from beeledger.database.restricted import Laid, laid, lots_from
from beeledger.model.colonies import Colony, ColonyTransfer, Placement
from beeledger.model.dispatches import Dispatch
from beeledger.model.honey import HoneyTransfer, Take
from beeledger.model.moves import Move, MoveLine
from beeledger.model.restrictions import LicenceUse
from beeledger.rules.restrictions import Goes

_BEES = ("split", "nucleus", "unite", "bees", "cells")


@dataclass(frozen=True, slots=True)
class Gone:
    """Something that went against a restriction: its column in a licence's row, its id, and what it was."""

    restriction_id: int
    column: str
    row_id: int
    what: str


def nothing_out(session: Session) -> Iterator[Finding]:
    """Every move, take, dispatch and transfer against a restriction in force has a licence on record."""
    for gone in gone_out(session):
        name = gone.column.removesuffix("_id")
        yield breach("restricted", gone.what, f"{name} {gone.row_id}, restriction {gone.restriction_id}")
    for one in laid(session):
        yield from _sold(session, one)


def _sold(session: Session, one: Laid) -> Iterator[Finding]:
    """A hive sold from where it stands leaves without a move that could keep a licence."""
    if not one.sites or not one.stops.stops(Goes.HIVES):
        return
    later = aliased(Placement)
    went_on = exists().where(later.colony_id == Colony.id, later.from_at >= Placement.until_at)
    query = (
        select(Colony.id, Colony.ended_on)
        .join(Placement, (Placement.colony_id == Colony.id) & (Placement.until_on == Colony.ended_on))
        .where(
            Colony.end_cause == "sold",
            Placement.site_id.in_(one.sites),
            ~went_on,
            *_days(one, Colony.ended_on),
        )
        .distinct()
        .order_by(Colony.id)
    )
    for colony, on in session.execute(query):
        day = f" on {long(on)}" if on else ""
        what = f"a hive was sold{day} against a restriction"
        yield breach("restricted", what, f"colony {colony}, restriction {one.id}")


def gone_out(session: Session) -> Iterator[Gone]:
    """What went against each restriction without a licence. Where only days are known, surely within them."""
    for one in laid(session):
        yield from _moves(session, one)
        if one.sites:
            yield from _takes(session, one)
            yield from _dispatches(session, one)
            yield from _transfers(session, one)


def _unlicensed(one: Laid, column: InstrumentedAttribute[int | None], row: Any) -> ColumnElement[bool]:
    return ~exists().where(LicenceUse.restriction_id == one.id, column == row)


def _moves(session: Session, one: Laid) -> Iterator[Gone]:
    if not one.stops.stops(Goes.HIVES):
        return
    end = one.force.released_at
    holds_out = [Move.left_at >= one.force.begins_at, *([] if end is None else [Move.left_at < end])]
    ways = [and_(MoveLine.from_site_id.in_(one.sites), *holds_out)]
    if one.stops.inward:
        holds_in = [Move.arrived_at >= one.force.begins_at, *([] if end is None else [Move.arrived_at < end])]
        ways.append(and_(MoveLine.to_site_id.in_(one.sites), *holds_in))
    if one.cover.vehicle_id is not None:
        on_way = [Move.arrived_at >= one.force.begins_at, *([] if end is None else [Move.left_at < end])]
        ways.append(and_(Move.vehicle_id == one.cover.vehicle_id, *on_way))
    query = (
        select(Move.id, Move.on)
        .join(MoveLine, MoveLine.move_id == Move.id)
        .where(
            Move.state != "planned", MoveLine.outcome != "left behind", or_(*ways),
            _unlicensed(one, LicenceUse.move_id, Move.id),
        )
        .distinct()
        .order_by(Move.id)
    )  # fmt: skip
    for move, on in session.execute(query):
        yield Gone(one.id, "move_id", move, f"hives were moved on {long(on)} against a restriction")


def _days(one: Laid, column: Any) -> list[ColumnElement[bool]]:
    """The days on which it was surely in force."""
    days = [column > one.force.begins_on]
    if one.force.released_on is not None:
        days.append(column < one.force.released_on)
    return days


def _takes(session: Session, one: Laid) -> Iterator[Gone]:
    if not one.stops.stops(Goes.SUPERS):
        return
    query = select(Take.id, Take.on).where(
        Take.site_id.in_(one.sites), *_days(one, Take.on), _unlicensed(one, LicenceUse.take_id, Take.id)
    )
    for take, on in session.execute(query.order_by(Take.id)):
        yield Gone(one.id, "take_id", take, f"supers were taken on {long(on)} against a restriction")


def _dispatches(session: Session, one: Laid) -> Iterator[Gone]:
    if not one.stops.stops(Goes.HONEY):
        return
    lots = lots_from(session, one.sites, one.force.begins_on + timedelta(days=1))
    if not lots:
        return
    query = (
        select(Dispatch.id, Dispatch.on)
        .join(HoneyTransfer, HoneyTransfer.dispatch_id == Dispatch.id)
        .where(
            HoneyTransfer.from_lot_id.in_(sorted(lots)), *_days(one, Dispatch.on),
            _unlicensed(one, LicenceUse.dispatch_id, Dispatch.id),
        )
        .distinct()
        .order_by(Dispatch.id)
    )  # fmt: skip
    for dispatch, on in session.execute(query):
        yield Gone(one.id, "dispatch_id", dispatch, f"honey went out on {long(on)} against a restriction")


def _transfers(session: Session, one: Laid) -> Iterator[Gone]:
    """Between hives of two sites: one stood on a covered site alone that day, the other not on that site."""
    kinds = [
        *(_BEES if one.stops.stops(Goes.BEES) else ()),
        *(("frame",) if one.stops.stops(Goes.COMB) else ()),
    ]
    here, there, moved = aliased(Placement), aliased(Placement), aliased(Placement)
    ends = [(ColonyTransfer.from_colony_id, ColonyTransfer.to_colony_id)]
    if one.stops.inward:
        ends.append((ColonyTransfer.to_colony_id, ColonyTransfer.from_colony_id))
    for held, other in ends:
        together = exists().where(there.colony_id == other, there.site_id == here.site_id, *_stood(there))
        both = exists().where(moved.colony_id == held, moved.site_id != here.site_id, *_stood(moved))
        query = (
            select(ColonyTransfer.id, ColonyTransfer.on)
            .join(here, here.colony_id == held)
            .where(
                here.site_id.in_(one.sites), *_stood(here), ColonyTransfer.kind.in_(kinds),
                *_days(one, ColonyTransfer.on), ~together, ~both,
                _unlicensed(one, LicenceUse.transfer_id, ColonyTransfer.id),
            )
            .distinct()
            .order_by(ColonyTransfer.id)
        )  # fmt: skip
        for transfer, on in session.execute(query):
            what = f"bees or combs went to another site on {long(on)} against a restriction"
            yield Gone(one.id, "transfer_id", transfer, what)


def _stood(stay: Any) -> list[ColumnElement[bool]]:
    """It stood there at some time of the day of the transfer."""
    return [
        stay.from_on <= ColonyTransfer.on,
        or_(stay.until_on.is_(None), stay.until_on >= ColonyTransfer.on),
    ]
