"""A posted round opened again: its head, its lines as they were posted, and the record as if it had not been."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session

from beeledger.model.acts import Act, ActRow
from beeledger.model.colonies import Colony, HiveMark
from beeledger.model.rounds import Round
from beeledger.model.sites import Site
from beeledger.queries.acts import taken_back
from beeledger.queries.hives import marks_on
from beeledger.queries.records.round_desk import HiveLine, Visit
from beeledger.queries.round_start import DeskSheet, desk_sheet
from beeledger.queries.rounds import entries_of_round

POSTING = ("post_round", "correct_round")
"""The acts that write a round which can be corrected."""


@dataclass(frozen=True, slots=True)
class RoundAgain:
    """A posted round with all that its correction begins from."""

    round_id: int
    version: int
    """The act that wrote it as it stands: a correction made of an older version is refused."""
    site_id: int
    site: str
    on: date
    start_minute: int | None
    end_minute: int | None
    crew: str
    weather: str
    note: str
    source: str
    lines: tuple[tuple[str, Visit], ...]
    """The hive's mark that day and its entry, in walking order."""
    swaps: tuple[tuple[str, str, date], ...]
    """Numbers that it wrote as swapped, and since when."""
    why_not: str = ""
    """Why it cannot be corrected; empty when it can."""


def round_again(session: Session, round_id: int) -> RoundAgain | None:
    """A posted round with its lines; None when it is no more."""
    query = select(Round, Site.name).join(Site, Site.id == Round.site_id).where(Round.id == round_id)
    row = session.execute(query).one_or_none()
    if row is None:
        return None
    one, site = row
    visits = entries_of_round(session, round_id)
    marks = marks_on(session, [visit.colony_id for visit in visits], one.on)
    acts = _versions(session, round_id)
    return RoundAgain(
        one.id, one.version, one.site_id, site, one.on, one.start_minute, one.end_minute, one.crew or "",
        one.weather or "", one.note or "", one.source,
        tuple((marks.get(visit.colony_id, ""), visit) for visit in visits), _swaps(session, acts),
        _why_not(session, acts),
    )  # fmt: skip


def sheet_again(session: Session, round_id: int, on: date, colony_ids: Sequence[int] = ()) -> DeskSheet:
    """The sheet that a posted round is corrected on: the record of ``on`` without what the round itself wrote.

    Colonies it founded are no hives of that morning, those it ended were alive. What it wrote of queens and
    places cannot be told apart here; the act checks again when it has taken the round back.
    """
    site_id = session.scalars(select(Round.site_id).where(Round.id == round_id)).one()
    read = desk_sheet(session, site_id, on, colony_ids, but_round=round_id)
    acts = _versions(session, round_id)
    founded, ended = _founded(session, acts), _ended(session, acts, on)
    lines = tuple(
        _living(line, ended)
        for line in read.sheet.lines
        if line.colony_id not in founded or line.colony_id in colony_ids
    )
    carried = {mark: one for mark, one in read.carried.items() if one.colony_id not in founded}
    return replace(
        read,
        sheet=replace(read.sheet, lines=lines),
        others=tuple(_living(line, ended) for line in read.others),
        carried=carried,
        posted={visit.colony_id: visit.entry for visit in entries_of_round(session, round_id)},
    )


def round_of_act(session: Session, act_id: int) -> int | None:
    """The round that an act posted or corrected; None when it is no such act or the round is no more."""
    query = (
        select(Round.id)
        .join(ActRow, (ActRow.row_id == Round.id) & (ActRow.table == Round.__tablename__))
        .where(ActRow.act_id == act_id)
        .order_by(Round.id)
    )
    return session.scalars(query).first()


def _versions(session: Session, round_id: int) -> list[int]:
    """The acts that wrote the round as it stands, oldest first."""
    query = (
        select(ActRow.act_id)
        .join(Act, Act.id == ActRow.act_id)
        .where(
            ActRow.table == Round.__tablename__, ActRow.row_id == round_id, Act.undoes_act_id.is_(None)
        )
        .order_by(ActRow.act_id)
    )  # fmt: skip
    numbers = list(session.scalars(query))
    back = taken_back(session, numbers)
    return [number for number in numbers if number not in back]


def _why_not(session: Session, acts: Sequence[int]) -> str:
    first = session.scalar(select(Act.kind).where(Act.id == acts[0])) if acts else None
    if first in POSTING:
        return ""
    return (
        "it came with an import and not from this desk; take the import back, and read the mended file again"
    )


def _founded(session: Session, acts: Sequence[int]) -> set[int]:
    """Colonies whose first act is one of these."""
    query = (
        select(ActRow.row_id)
        .where(ActRow.table == Colony.__tablename__, ActRow.row_id.in_(_touched(Colony.__tablename__, acts)))
        .group_by(ActRow.row_id)
        .having(func.min(ActRow.act_id).in_(acts))
    )
    return set(session.scalars(query))


def _ended(session: Session, acts: Sequence[int], on: date) -> set[int]:
    """Colonies that one of these acts ended on the day of the round."""
    query = select(Colony.id).where(
        Colony.id.in_(_touched(Colony.__tablename__, acts)), Colony.ended_on == on
    )  # fmt: skip
    return set(session.scalars(query))


def _swaps(session: Session, acts: Sequence[int]) -> tuple[tuple[str, str, date], ...]:
    """Pairs of numbers that changed places: each begins where the other ended, on one day."""
    query = select(HiveMark).where(HiveMark.id.in_(_touched(HiveMark.__tablename__, acts)))
    rows = list(session.scalars(query.order_by(HiveMark.id)))
    left = {(row.colony_id, row.until_on): row.mark for row in rows if row.until_on is not None}
    taken = {(left.get((row.colony_id, row.from_on)), row.mark): row.from_on for row in rows}
    return tuple(
        (mark, other, since)
        for (mark, other), since in taken.items()
        if mark is not None and mark < other and taken.get((other, mark)) == since
    )


def _touched(table: str, acts: Iterable[int]) -> Select[int]:
    return select(ActRow.row_id).where(ActRow.table == table, ActRow.act_id.in_(list(acts)))


def _living(line: HiveLine, ended: set[int]) -> HiveLine:
    return replace(line, ended_on=None, end_cause=None) if line.colony_id in ended else line
