"""Which hives stood on the crop of a contract, by the log alone: from where, from when, until when.

A stay counts for a contract when it is at the contract's site and the move that brought it names the
contract, or names none and the stay meets the days agreed and began not long before them. Constant statements, however many contracts.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from sqlalchemy import Subquery, and_, literal, or_, select, union_all
from sqlalchemy.orm import Session, aliased

from beeledger.model.colonies import Colony, HiveMark, Placement
from beeledger.model.contracts import Contract, StrengthCheck, StrengthLine
from beeledger.model.moves import Move, MoveLine
from beeledger.model.sites import Site
from beeledger.queries.records.movement_report import DayCount

UNMARKED = "without a number"
LEAD = timedelta(days=28)
"""Hives that came earlier before the day agreed, by no move for the contract, live there; common practice, no source."""


@dataclass(frozen=True, slots=True)
class CropStay:
    """One hive on the crop, once. Local days; ``off`` None while it still stands there."""

    contract_id: int
    colony_id: int
    mark: str
    on: date
    off: date | None
    came_from: str
    went_to: str


@dataclass(frozen=True, slots=True)
class Count:
    """What one hive had when it was opened for the contract."""

    check_id: int
    colony_id: int
    on: date
    bees_tenths: int
    brood_tenths: int | None


@dataclass(frozen=True, slots=True)
class CheckMade:
    """A strength check as it was drawn."""

    id: int
    contract_id: int
    on: date
    by: str
    share_hundredths: int
    seed: int
    on_site: int


def crop_stays(session: Session, contract_ids: Sequence[int] | None = None) -> list[CropStay]:
    """The stays of some contracts, or of all, by day and number: two statements."""
    transit, leaving = aliased(Placement), aliased(MoveLine)
    came, went = aliased(Site), aliased(Site)
    counting = _counting(contract_ids)
    query = (
        select(
            counting.c.contract, Placement.colony_id, Placement.from_on, Placement.until_on, came.name, went.name,
            Colony.ended_on, counting.c.named, counting.c.begins,
        )
        .join(Placement, Placement.id == counting.c.placement)
        .join(Colony, Colony.id == Placement.colony_id)
        .outerjoin(MoveLine, MoveLine.id == Placement.move_line_id)
        .outerjoin(came, came.id == MoveLine.from_site_id)
        .outerjoin(
            transit,
            and_(transit.colony_id == Placement.colony_id, transit.from_at == Placement.until_at),
        )
        .outerjoin(leaving, leaving.id == transit.move_line_id)
        .outerjoin(went, went.id == leaving.to_site_id)
    )  # fmt: skip
    rows = session.execute(query).all()
    marks = marks_by_day(session, {row[1] for row in rows})
    stays = [
        CropStay(
            contract_id, colony_id, mark_on(marks, colony_id, on), on, off, start or "",
            goal or ("ended there" if off is not None and ended == off else ""),
        )
        for contract_id, colony_id, on, off, start, goal, ended, named, begins in rows
        if named or on >= begins - LEAD
    ]  # fmt: skip
    return sorted(stays, key=lambda stay: (stay.contract_id, stay.on, stay.colony_id))


def counts_made(session: Session, contract_ids: Sequence[int]) -> tuple[list[CheckMade], list[Count]]:
    """The strength checks of contracts and their lines, by day: two statements."""
    checks = select(
        StrengthCheck.id, StrengthCheck.contract_id, StrengthCheck.on, StrengthCheck.counted_by,
        StrengthCheck.share_hundredths, StrengthCheck.seed, StrengthCheck.on_site,
    ).where(StrengthCheck.contract_id.in_(contract_ids))  # fmt: skip
    lines = (
        select(
            StrengthLine.check_id, StrengthLine.colony_id, StrengthCheck.on, StrengthLine.bees_tenths,
            StrengthLine.brood_tenths,
        )
        .join(StrengthCheck, StrengthCheck.id == StrengthLine.check_id)
        .where(StrengthCheck.contract_id.in_(contract_ids))
    )  # fmt: skip
    return (
        [CheckMade(*row) for row in session.execute(checks.order_by(StrengthCheck.on, StrengthCheck.id))],
        [Count(*row) for row in session.execute(lines.order_by(StrengthCheck.on, StrengthLine.id))],
    )


def marks_by_day(session: Session, colony_ids: Iterable[int]) -> dict[int, list[tuple[date, str]]]:
    """The marks each hive carried and from which day, oldest first."""
    query = (
        select(HiveMark.colony_id, HiveMark.from_on, HiveMark.mark)
        .where(HiveMark.colony_id.in_(sorted(colony_ids)))
        .order_by(HiveMark.from_on, HiveMark.id)
    )
    found: dict[int, list[tuple[date, str]]] = {}
    for colony_id, since, mark in session.execute(query):
        found.setdefault(colony_id, []).append((since, mark))
    return found


def mark_on(marks: Mapping[int, Sequence[tuple[date, str]]], colony_id: int, day: date) -> str:
    """The mark carried on a day; the first it ever had where it came before that."""
    known = marks.get(colony_id, ())
    if not known:
        return UNMARKED
    return next((mark for since, mark in reversed(known) if since <= day), known[0][1])


def day_counts(stays: Sequence[CropStay]) -> tuple[DayCount, ...]:
    """How many hives stood there from each day on which that changed."""
    days = sorted({day for stay in stays for day in (stay.on, stay.off) if day is not None})
    return tuple(
        DayCount(day, sum(stay.on <= day and (stay.off is None or day < stay.off) for stay in stays))
        for day in days
    )


def _counting(contract_ids: Sequence[int] | None) -> Subquery:
    """Which placement counts for which contract: the named by their moves, the others by the days.

    Of the others those that came well before the day agreed live there, and nobody brought them (``LEAD``).

    Apart, since a contract's own moves are found at once, and a site of many years has seen many hives.
    """
    named = (
        select(
            Contract.id.label("contract"),
            Placement.id.label("placement"),
            literal(1).label("named"),
            Contract.on_on.label("begins"),
        )
        .join(Move, Move.contract_id == Contract.id)
        .join(MoveLine, MoveLine.move_id == Move.id)
        .join(Placement, Placement.move_line_id == MoveLine.id)
        # Reckoned with, the site is no way in: the few moves are, whatever the planner thinks of the index.
        .where(Placement.site_id + 0 == Contract.site_id)
    )
    met = (
        select(Contract.id, Placement.id, literal(0), Contract.on_on)
        .join(Placement, Placement.site_id == Contract.site_id)
        .outerjoin(MoveLine, MoveLine.id == Placement.move_line_id)
        .outerjoin(Move, Move.id == MoveLine.move_id)
        .where(Move.contract_id.is_(None), *_meets())
    )
    if contract_ids is not None:
        named, met = (query.where(Contract.id.in_(contract_ids)) for query in (named, met))
    return union_all(named, met).subquery("counting")


def _meets() -> tuple[Any, ...]:
    return (
        Placement.from_on < Contract.off_on,
        or_(Placement.until_on.is_(None), Placement.until_on > Contract.on_on),
    )
