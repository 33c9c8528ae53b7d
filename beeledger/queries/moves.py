"""The log of moves: filtered and paged, one move whole, what a form offers, and the register on paper."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy import and_, exists, func, or_, select
from sqlalchemy.orm import Session, aliased

from beeledger.base.clock import local_date
from beeledger.model.colonies import HiveMark, Placement
from beeledger.model.contracts import Contract
from beeledger.model.moves import Move, MoveLine
from beeledger.model.parties import Vehicle
from beeledger.model.sites import Site
from beeledger.queries.farm import farm_settings
from beeledger.queries.hives import colonies_at, marks_on
from beeledger.queries.records.move_desk import (
    LEFT_BEHIND,
    LOST,
    Carried,
    ContractChoice,
    HiveThere,
    MoveCard,
    MoveChoices,
    MoveHive,
    MoveRow,
    NewMove,
    SiteChoice,
    VehicleChoice,
)
from beeledger.queries.records.movement_register import MovementRegister, RegisterLine
from beeledger.rules.strength import number_order

PAGE = 200
UNMARKED = "without a number"


@dataclass(frozen=True, slots=True)
class LogFilter:
    """What of the log is asked for; None asks for all. ``last`` is within the period."""

    first: date | None = None
    last: date | None = None
    site_id: int | None = None
    contract_id: int | None = None
    colony_id: int | None = None
    vehicle_id: int | None = None


ALL = LogFilter()


def move_log(
    session: Session, wanted: LogFilter = ALL, before: tuple[date, int] | None = None, limit: int = PAGE
) -> list[MoveRow]:
    """Moves, newest first, by two statements. ``before``: day and id of the last row of the page above."""
    query = _moves().where(*_conditions(wanted)).order_by(Move.on.desc(), Move.id.desc()).limit(limit)
    if before is not None:
        query = query.where(or_(Move.on < before[0], and_(Move.on == before[0], Move.id < before[1])))
    rows = session.execute(query).all()
    ways = _ways(session, [row.id for row in rows])
    return [_row(row, ways.get(row.id, [])) for row in rows]


def move_card(session: Session, move_id: int) -> MoveCard | None:
    """One move with its hives, and as it was typed; None when there is no such move."""
    row = session.execute(_moves().where(Move.id == move_id)).first()
    if row is None:
        return None
    start, goal = aliased(Site), aliased(Site)
    query = (
        select(MoveLine, start.name, goal.name)
        .outerjoin(start, start.id == MoveLine.from_site_id)
        .outerjoin(goal, goal.id == MoveLine.to_site_id)
        .where(MoveLine.move_id == move_id)
        .order_by(MoveLine.id)
    )
    lines = session.execute(query).all()
    marks = marks_on(session, [line.colony_id for line, _, _ in lines], row.on)
    hives = sorted(
        (
            MoveHive(
                line.id, line.colony_id, marks.get(line.colony_id, ""), came or "", went or "", line.outcome,
                line.note or "",
            )
            for line, came, went in lines
        ),
        key=lambda hive: number_order(hive.mark),
    )  # fmt: skip
    whole = session.get_one(Move, move_id)
    zone = farm_settings(session).zone
    known = _row(row, _ways(session, [move_id]).get(move_id, []))
    return MoveCard(
        known, whole.note or "", tuple(hives), _as_typed(whole, [each[0] for each in lines], zone)
    )


def move_choices(session: Session, today: date) -> MoveChoices:
    """Sites in use with the hives that stand there, vehicles, and contracts not closed: three statements."""
    here = (
        select(Placement.site_id, func.count().label("hives"))
        .where(Placement.until_at.is_(None), Placement.site_id.is_not(None))
        .group_by(Placement.site_id)
        .subquery()
    )
    sites = (
        select(Site.id, Site.name, Site.code, Site.kind, func.coalesce(here.c.hives, 0), Site.capacity)
        .outerjoin(here, here.c.site_id == Site.id)
        .where(or_(Site.closed_on.is_(None), Site.closed_on > today))
        .order_by(Site.name)
    )
    vehicles = (
        select(Vehicle.id, Vehicle.name, Vehicle.places, Vehicle.payload_g)
        .where(Vehicle.retired_on.is_(None))
        .order_by(Vehicle.name)
    )
    contracts = (
        select(Contract.id, Contract.name, Contract.site_id, Contract.on_on, Contract.off_on)
        .where(Contract.state != "closed")
        .order_by(Contract.on_on, Contract.name)
    )
    return MoveChoices(
        tuple(SiteChoice(*row) for row in session.execute(sites)),
        tuple(VehicleChoice(*row) for row in session.execute(vehicles)),
        tuple(ContractChoice(*row) for row in session.execute(contracts)),
    )


def hives_at(session: Session, site_id: int, on: date) -> tuple[HiveThere, ...]:
    """The marked hives that stood at a site some time that day, by number: two statements."""
    marks = marks_on(session, sorted(colonies_at(session, site_id, on)), on)
    there = [HiveThere(colony_id, mark) for colony_id, mark in marks.items()]
    return tuple(sorted(there, key=lambda hive: number_order(hive.mark)))


def colonies_marked(session: Session, marks: Iterable[str], on: date) -> dict[str, int]:
    """The colony that carried each mark on a day; where it was free then, the one that last carried it."""
    query = (
        select(HiveMark.mark, HiveMark.colony_id)
        .where(HiveMark.mark.in_(sorted(set(marks))))
        .order_by(
            (HiveMark.from_on <= on) & (HiveMark.until_on.is_(None) | (HiveMark.until_on >= on)),
            HiveMark.from_on,
            HiveMark.id,
        )
    )
    return dict(session.execute(query).all())


def register_record(
    session: Session,
    first: date,
    last: date,
    *,
    site_id: int | None = None,
    contract_id: int | None = None,
) -> MovementRegister:
    """The log of a period, one line a hive, oldest first: four statements. Planned moves are not in it."""
    start, goal = aliased(Site), aliased(Site)
    query = (
        select(
            MoveLine.id, MoveLine.colony_id, MoveLine.outcome, MoveLine.note, start.name, goal.name, Move.id, Move.on,
            Move.left_at, Move.arrived_at, Move.driver, Move.reason, Vehicle.name, Contract.name,
        )
        .join(Move, Move.id == MoveLine.move_id)
        .outerjoin(start, start.id == MoveLine.from_site_id)
        .outerjoin(goal, goal.id == MoveLine.to_site_id)
        .outerjoin(Vehicle, Vehicle.id == Move.vehicle_id)
        .outerjoin(Contract, Contract.id == Move.contract_id)
        .where(Move.on >= first, Move.on <= last, Move.state != "planned", MoveLine.outcome != LEFT_BEHIND)
        .order_by(Move.on, Move.left_at, Move.id, MoveLine.id)
    )  # fmt: skip
    if site_id is not None:
        query = query.where(or_(MoveLine.from_site_id == site_id, MoveLine.to_site_id == site_id))
    if contract_id is not None:
        query = query.where(Move.contract_id == contract_id)
    rows = session.execute(query).all()
    marks = _marks_of_lines(session, first, last)
    zone = ZoneInfo(farm_settings(session).zone)
    lines = [_register_line(row, marks.get(row[0], UNMARKED), zone) for row in rows]
    lines.sort(key=lambda line: (line.on, line.left, line.move, number_order(line.hive)))
    return MovementRegister(_scope(session, site_id, contract_id), first, last, tuple(lines))


def first_move(session: Session) -> date | None:
    """The day of the oldest move in the log."""
    return session.scalar(select(func.min(Move.on)))


def _moves() -> Any:
    return (
        select(
            Move.id, Move.on, Move.state, Move.reason, Move.left_at, Move.arrived_at, Vehicle.name, Move.driver,
            Contract.name, Move.contract_id,
        )
        .outerjoin(Vehicle, Vehicle.id == Move.vehicle_id)
        .outerjoin(Contract, Contract.id == Move.contract_id)
    )  # fmt: skip


def _conditions(wanted: LogFilter) -> list[Any]:
    conditions: list[Any] = []
    if wanted.first is not None:
        conditions.append(Move.on >= wanted.first)
    if wanted.last is not None:
        conditions.append(Move.on <= wanted.last)
    if wanted.contract_id is not None:
        conditions.append(Move.contract_id == wanted.contract_id)
    if wanted.vehicle_id is not None:
        conditions.append(Move.vehicle_id == wanted.vehicle_id)
    if wanted.site_id is not None:
        site = or_(MoveLine.from_site_id == wanted.site_id, MoveLine.to_site_id == wanted.site_id)
        conditions.append(exists().where(MoveLine.move_id == Move.id, site))
    if wanted.colony_id is not None:
        conditions.append(exists().where(MoveLine.move_id == Move.id, MoveLine.colony_id == wanted.colony_id))
    return conditions


def _ways(session: Session, ids: Sequence[int]) -> dict[int, list[tuple[str, str, str, int]]]:
    """For each move: from, to, outcome and how many hives, grouped by the database."""
    start, goal = aliased(Site), aliased(Site)
    query = (
        select(MoveLine.move_id, start.name, goal.name, MoveLine.outcome, func.count(), func.min(MoveLine.id))
        .outerjoin(start, start.id == MoveLine.from_site_id)
        .outerjoin(goal, goal.id == MoveLine.to_site_id)
        .where(MoveLine.move_id.in_(ids))
        .group_by(MoveLine.move_id, start.name, goal.name, MoveLine.outcome)
        .order_by(MoveLine.move_id, func.min(MoveLine.id))
    )
    found: dict[int, list[tuple[str, str, str, int]]] = {}
    for move_id, came, went, outcome, number, _ in session.execute(query):
        found.setdefault(move_id, []).append((came or "", went or "", outcome, number))
    return found


def _row(row: Any, ways: Sequence[tuple[str, str, str, int]]) -> MoveRow:
    number, on, state, reason, left_at, arrived_at, vehicle, driver, contract, contract_id = row
    moved = [way for way in ways if way[2] != LEFT_BEHIND]
    return MoveRow(
        number, on, state, reason, left_at, arrived_at,
        tuple(dict.fromkeys(way[0] for way in moved)),
        tuple(dict.fromkeys(way[1] for way in moved if way[1])),
        sum(way[3] for way in moved),
        sum(way[3] for way in moved if way[2] == LOST),
        sum(way[3] for way in ways if way[2] == LEFT_BEHIND),
        vehicle or "", driver or "", contract or "", contract_id,
    )  # fmt: skip


def _as_typed(move: Move, lines: Sequence[MoveLine], zone: str) -> NewMove:
    delivered = next((line for line in lines if line.to_site_id is not None), None)
    start = (delivered or lines[0]).from_site_id or 0
    goal = (delivered.to_site_id if delivered else None) or 0
    hives = tuple(
        Carried(
            line.colony_id,
            None if line.from_site_id == start else line.from_site_id,
            None if line.to_site_id in (goal, None) else line.to_site_id,
            line.from_set_down_id, line.to_set_down_id, line.outcome, line.note,
        )
        for line in lines
    )  # fmt: skip
    left, arrived = (moment.astimezone(ZoneInfo(zone)) for moment in (move.left_at, move.arrived_at))
    arrived_on = local_date(move.arrived_at, zone)
    return NewMove(
        start, goal, move.on, left.hour * 60 + left.minute, arrived.hour * 60 + arrived.minute, hives,
        arrived_on if arrived_on != move.on else None, move.vehicle_id, move.driver, move.reason,
        move.contract_id, move.note,
    )  # fmt: skip


def _marks_of_lines(session: Session, first: date, last: date) -> dict[int, str]:
    """What each hive moved in a period carried on the day of its move: one statement for all days."""
    query = (
        select(MoveLine.id, HiveMark.mark)
        .join(Move, Move.id == MoveLine.move_id)
        .join(HiveMark, HiveMark.colony_id == MoveLine.colony_id)
        .where(
            Move.on >= first,
            Move.on <= last,
            HiveMark.from_on <= Move.on,
            or_(HiveMark.until_on.is_(None), HiveMark.until_on >= Move.on),
        )
        .order_by(HiveMark.from_on, HiveMark.id)
    )
    return dict(session.execute(query).all())


def _register_line(row: Any, mark: str, zone: ZoneInfo) -> RegisterLine:
    _, _, outcome, note, came, went, move, on, left, arrived, driver, reason, vehicle, contract = row
    lost = outcome == LOST
    return RegisterLine(
        on, mark, came or "", "lost on the way" if lost else went or "", left.astimezone(zone),
        None if lost else arrived.astimezone(zone), vehicle or "", driver or "",
        ", ".join(part for part in (reason, note) if part), contract or "", move=move,
    )  # fmt: skip


def _scope(session: Session, site_id: int | None, contract_id: int | None) -> str:
    parts = []
    if site_id is not None:
        parts.append(session.get_one(Site, site_id).name)
    if contract_id is not None:
        parts.append(session.get_one(Contract, contract_id).name)
    return ", ".join(parts) or "all sites"
