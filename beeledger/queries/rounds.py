"""Rounds: the sheet of a site on a day, where hives are by their marks, what was posted."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session, aliased

from beeledger.base.text import tidy
from beeledger.model.colonies import Colony, HiveMark, Placement
from beeledger.model.rounds import Round, RoundEntry
from beeledger.model.sites import Site
from beeledger.queries import hives
from beeledger.queries.records.round_desk import (
    Elsewhere,
    HiveLine,
    PostedRound,
    QueenKnown,
    RoundSheet,
    Visit,
)

_Other = aliased(Placement)


def sheet_for(session: Session, site_id: int, on: date, *, but_round: int | None = None) -> RoundSheet:
    """One line for each colony that stood at the site that day, in walking order, with what is known of it.

    ``but_round`` leaves one posted round out of what is known, for correcting it. Fourteen statements,
    however many hives.
    """
    site = session.execute(select(Site.name, Site.code, Site.way_in).where(Site.id == site_id)).one()
    standing = [
        _line(row, site.name)
        for row in session.execute(_standing().where(Placement.site_id == site_id, *hives.stood_on(on)))
    ]
    lines = described(session, list({line.colony_id: line for line in standing}.values()), on, but_round)
    last = select(func.max(Round.on)).where(Round.site_id == site_id, Round.on <= on)
    if but_round is not None:
        last = last.where(Round.id != but_round)
    return RoundSheet(
        site_id,
        site.name,
        site.code,
        on,
        tuple(sorted(lines, key=_walking)),
        session.scalar(last),
        site.way_in or "",
    )


def lines_of(
    session: Session, colony_ids: Sequence[int], on: date, but_round: int | None = None
) -> list[HiveLine]:
    """Given colonies as the record had them on ``on``, wherever they stood; ended ones where they last were."""
    latest = (
        select(_Other.id)
        .where(_Other.colony_id == Colony.id, _Other.from_on <= on)
        .order_by(_Other.from_at.desc())
        .limit(1)
        .correlate(Colony)
        .scalar_subquery()
    )
    rows = session.execute(_standing().where(Colony.id.in_(colony_ids), Placement.id == latest))
    return described(session, [_line(row, row.name or "") for row in rows], on, but_round)


def described(
    session: Session, lines: Sequence[HiveLine], on: date, but_round: int | None = None
) -> list[HiveLine]:
    """Lines filled with all that the record knew of their colonies on ``on``."""
    ids = [line.colony_id for line in lines]
    marks, queens = hives.marks_on(session, ids, on), hives.queens_on(session, ids, on)
    states = hives.last_queen_states(session, ids, on, but_round)
    boxes = hives.boxes_on(session, ids, on, but_round)
    feeds = hives.feeds_on(session, ids, on, but_round)
    last = hives.last_visits(session, ids, on, but_round=but_round)
    looked = hives.last_visits(session, ids, on, opened=True, but_round=but_round)
    treatments, dues = hives.treatments_on(session, ids, on, but_round), hives.dues_of(session, ids)
    supers = hives.supers_put_on(session, ids, on, but_round)
    return [
        replace(
            line,
            mark=marks.get(line.colony_id),
            queen=_queen(queens.get(line.colony_id), states.get(line.colony_id)),
            boxes=boxes.get(line.colony_id),
            last=last.get(line.colony_id),
            looked=looked.get(line.colony_id),
            treatments=treatments.get(line.colony_id, ()),
            feed=feeds.get(line.colony_id),
            supers_put_on=supers.get(line.colony_id),
            due=dues.get(line.colony_id, ()),
        )
        for line in lines
    ]


def elsewhere(session: Session, marks: Iterable[str]) -> dict[str, Elsewhere]:
    """Where hives with these marks are by the record; a living one before one that ended.

    Marks nobody knows are left out.
    """
    wanted = sorted({tidy(mark) for mark in marks})
    query = (
        select(
            HiveMark.mark, HiveMark.colony_id, HiveMark.until_on, Colony.ended_on, Colony.end_cause,
            Placement.place, Placement.site_id, Site.name, Placement.from_on,
        )
        .join(Colony, Colony.id == HiveMark.colony_id)
        .outerjoin(Placement, (Placement.colony_id == Colony.id) & Placement.until_at.is_(None))
        .outerjoin(Site, Site.id == Placement.site_id)
        .where(HiveMark.mark.in_(wanted))
        .order_by(HiveMark.until_on.is_(None), HiveMark.until_on, HiveMark.id)
    )  # fmt: skip
    found = {}
    for mark, colony_id, _until, ended_on, cause, place, site_id, site, since in session.execute(query):
        found[mark] = Elsewhere(
            mark, colony_id, place or "ended", site_id, site or "", since, ended_on, cause
        )
    return found


def entries_of_colony(session: Session, colony_id: int, limit: int = 50) -> list[Visit]:
    """The visits of one colony, newest first."""
    query = (
        select(*hives.VISIT_COLUMNS)
        .where(RoundEntry.colony_id == colony_id)
        .order_by(RoundEntry.on.desc(), RoundEntry.id.desc())
        .limit(limit)
    )
    return [hives.visit_of(row) for row in session.execute(query)]


def entries_of_round(session: Session, round_id: int) -> list[Visit]:
    """The entries of a posted round in walking order."""
    query = select(*hives.VISIT_COLUMNS).where(RoundEntry.round_id == round_id).order_by(RoundEntry.seq)
    return [hives.visit_of(row) for row in session.execute(query)]


def recent_rounds(session: Session, *, site_id: int | None = None, limit: int = 50) -> list[PostedRound]:
    """Posted rounds, newest first, of one site or of all."""
    count = select(func.count()).where(RoundEntry.round_id == Round.id).correlate(Round).scalar_subquery()
    query = (
        select(Round.id, Round.uid, Round.site_id, Site.name, Round.on, count, Round.crew, Round.source)
        .join(Site, Site.id == Round.site_id)
        .order_by(Round.on.desc(), Round.id.desc())
        .limit(limit)
    )
    if site_id is not None:
        query = query.where(Round.site_id == site_id)
    return [
        PostedRound(number, uid, site, name, on, hives_in_it, crew or "", source)
        for number, uid, site, name, on, hives_in_it, crew, source in session.execute(query)
    ]


def _standing() -> Any:
    return (
        select(
            Colony.id, Placement.stand, Colony.kind, Colony.founded_on, Colony.ended_on, Colony.end_cause,
            Placement.site_id, Placement.from_on, Placement.until_on, Site.name,
        )
        .join(Placement, Placement.colony_id == Colony.id)
        .outerjoin(Site, Site.id == Placement.site_id)
        .order_by(Placement.from_at)
    )  # fmt: skip


def _line(row: Sequence[Any], site: str) -> HiveLine:
    colony_id, stand, kind, founded_on, ended_on, cause, site_id, here_from, left_on = row[:9]
    return HiveLine(
        colony_id, None, stand, kind, founded_on, ended_on, cause, site_id, site, here_from, left_on
    )


def _queen(known: QueenKnown | None, state: tuple[Any, date] | None) -> QueenKnown:
    queen = known or QueenKnown()
    return queen if state is None else replace(queen, state=state[0], state_on=state[1])


def _walking(line: HiveLine) -> tuple[bool, int, bool, int, str]:
    figures = "".join(ch for ch in line.mark or "" if ch.isdigit())[:9]
    return (line.stand is None, line.stand or 0, not figures, int(figures or 0), line.mark or "")
