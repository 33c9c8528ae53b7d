"""What the rule of what is due must know of each colony: one statement a kind of fact, however many colonies."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import cache
from typing import Any

from sqlalchemy import Select, and_, bindparam, or_, select
from sqlalchemy.orm import Session, aliased

from beeledger.model.colonies import Colony
from beeledger.model.medicines import Medicine, MiteCount, Treatment
from beeledger.model.rounds import RoundEntry
from beeledger.queries import hives
from beeledger.queries.records.round_desk import BoxesKnown, QueenKnown
from beeledger.queries.season_facts import SeasonKnown, season_known
from beeledger.rules import medicines, mites
from beeledger.rules.due import ColonyFacts, DueSettings, default_settings
from beeledger.rules.stores import figures as stores_figures
from beeledger.rules.stores import stores_from_frames_g

_LOOK = (
    RoundEntry.colony_id, RoundEntry.on, RoundEntry.cells_stage, RoundEntry.cells_done, RoundEntry.bees_tenths,
    RoundEntry.super_fullness_tenths, RoundEntry.next_action, RoundEntry.next_days, RoundEntry.question,
    RoundEntry.brood_tenths,
)  # fmt: skip

_count, _treatment = aliased(MiteCount), aliased(Treatment)


@dataclass(slots=True)
class _Known:
    """The latest of each kind, by colony."""

    looks: Mapping[int, Any]
    visits: Mapping[int, Any]
    hefts: Mapping[int, Any]
    missed: Mapping[int, Any]
    states: Mapping[int, Any]
    state_since: Mapping[int, date]
    seen: Mapping[int, Any]
    stores: Mapping[int, Any]
    mites: Mapping[int, Any]
    courses: Mapping[int, list[medicines.Treatment]] = field(default_factory=dict)
    course_ends: Mapping[int, date | None] = field(default_factory=dict)
    queens: Mapping[int, QueenKnown] = field(default_factory=dict)
    boxes: Mapping[int, BoxesKnown] = field(default_factory=dict)
    doses: Mapping[int, tuple[date, ...]] = field(default_factory=dict)
    season: SeasonKnown = field(default_factory=SeasonKnown)
    every_days: int = 0


def facts_of(
    session: Session, colony_ids: Sequence[int], today: date, settings: DueSettings | None = None
) -> list[ColonyFacts]:
    """The facts of the living among these colonies: a constant number of statements."""
    colonies = session.execute(
        select(Colony.id, Colony.kind, Colony.founded_on).where(
            Colony.id.in_(colony_ids), Colony.ended_on.is_(None)
        )
    ).all()
    ids = [row.id for row in colonies]
    if not ids:
        return []
    known = _known(session, ids, today)
    known.every_days = (settings or default_settings()).every_days
    return [_facts(row.id, row.kind, row.founded_on, known) for row in colonies]


def _known(session: Session, ids: Sequence[int], today: date) -> _Known:
    def latest(what: str) -> dict[int, Any]:
        rows = session.execute(_latest(what), {"ids": ids, "today": today})
        return {row.colony_id: row for row in rows}

    states = latest("states")
    courses, ends, doses = _courses(session, ids)
    return _Known(
        looks=latest("looks"),
        visits=latest("visits"),
        hefts=latest("hefts"),
        missed=latest("missed"),
        states=states,
        state_since=_state_since(session, states),
        seen=latest("seen"),
        stores=latest("stores"),
        mites=_mites(session, ids),
        courses=courses,
        course_ends=ends,
        queens=hives.queens_on(session, ids, today),
        boxes=hives.boxes_on(session, ids, today),
        doses=doses,
        season=season_known(session, ids),
    )


@cache
def _latest(what: str) -> Select[Any]:
    """The newest entry of each colony that tells of one thing; built once, as each posting asks for all of them."""
    entry = hives.entry
    hefted = and_(
        entry.outcome == "not_opened", or_(entry.stores_heft.is_not(None), entry.stores_g.is_not(None))
    )
    weighed = or_(entry.stores_g.is_not(None), entry.stores_tenths.is_not(None))
    condition, columns = {
        "states": (entry.queen_state.is_not(None), (RoundEntry.queen_state,)),
        "looks": (entry.outcome == "looked", _LOOK[2:]),
        "visits": (entry.outcome.is_not(None), _LOOK[2:]),
        "hefts": (or_(entry.outcome == "looked", hefted), ()),
        "missed": (entry.outcome == "not_found", ()),
        "seen": (or_(entry.queen_seen.in_([True]), entry.eggs.in_([True])), ()),
        "stores": (weighed, (RoundEntry.stores_g, RoundEntry.stores_tenths)),
    }[what]
    conditions = [entry.colony_id == Colony.id, entry.on <= bindparam("today"), condition]
    ids: Any = bindparam("ids", expanding=True)
    return hives.latest_entries(conditions, ids, (RoundEntry.colony_id, RoundEntry.on, *columns))


def _state_since(session: Session, states: Mapping[int, Any]) -> dict[int, date]:
    """The first look that found a colony as it now is; asked only of those that are not queenright."""
    wanted = {colony_id: row.queen_state for colony_id, row in states.items() if row.queen_state != "right"}
    query = (
        select(RoundEntry.colony_id, RoundEntry.queen_state, RoundEntry.on)
        .where(RoundEntry.colony_id.in_(list(wanted)), RoundEntry.queen_state.is_not(None))
        .order_by(RoundEntry.colony_id, RoundEntry.on.desc(), RoundEntry.id.desc())
    )
    since: dict[int, date] = {}
    over: set[int] = set()
    for colony_id, state, on in session.execute(query):
        if colony_id not in over and state == wanted[colony_id]:
            since[colony_id] = on
        else:
            over.add(colony_id)
    return since


def _mites(session: Session, ids: Sequence[int]) -> dict[int, Any]:
    count = _count
    latest = (
        select(count.id)
        .where(count.colony_id == Colony.id)
        .order_by(count.on.desc(), count.id.desc())
        .limit(1)
        .correlate(Colony)
        .scalar_subquery()
    )
    query = (
        select(
            MiteCount.colony_id,
            MiteCount.on,
            MiteCount.method,
            MiteCount.mites,
            MiteCount.bees,
            MiteCount.days,
        )
        .join(Colony, MiteCount.id == latest)
        .where(Colony.id.in_(ids))
    )
    return {row.colony_id: row for row in session.execute(query)}


def _courses(
    session: Session, ids: Sequence[int]
) -> tuple[dict[int, list[medicines.Treatment]], dict[int, date | None], dict[int, tuple[date, ...]]]:
    """The last course of each colony and every one that still runs, with the day the newest is to come out.

    And of what is put in more than once in a course, the days on which what still runs was put in.
    """
    treatment = _treatment
    latest = (
        select(treatment.id)
        .where(treatment.colony_id == Colony.id)
        .order_by(treatment.in_on.desc(), treatment.id.desc())
        .limit(1)
        .correlate(Colony)
        .scalar_subquery()
    )
    query = (
        select(
            Treatment.colony_id, Treatment.in_on, Treatment.out_on, Medicine.active, Medicine.course_days,
            Medicine.withdrawal_days,
        )
        .join(Colony, Treatment.colony_id == Colony.id)
        .join(Medicine, Medicine.id == Treatment.medicine_id)
        .where(Colony.id.in_(ids), or_(Treatment.id == latest, Treatment.out_on.is_(None)))
        .order_by(Treatment.colony_id, Treatment.in_on, Treatment.id)
    )  # fmt: skip
    courses: dict[int, list[medicines.Treatment]] = {}
    ends: dict[int, date | None] = {}
    doses: dict[int, tuple[date, ...]] = {}
    for row in session.execute(query):
        course = medicines.Treatment(row.active, row.in_on, row.out_on, row.withdrawal_days)
        courses.setdefault(row.colony_id, []).append(course)
        if medicines.treated_until(course) is None:
            ends[row.colony_id] = row.in_on + timedelta(days=row.course_days)
            if medicines.course(row.active).doses > 1:
                doses[row.colony_id] = (*doses.get(row.colony_id, ()), row.in_on)
    return courses, ends, doses


def _facts(colony_id: int, kind: str, founded_on: date, known: _Known) -> ColonyFacts:
    look, state = known.looks.get(colony_id), known.states.get(colony_id)
    boxes, queen = known.boxes.get(colony_id), known.queens.get(colony_id)
    stores, count = known.stores.get(colony_id), known.mites.get(colony_id)
    courses = known.courses.get(colony_id, [])
    inside = [one.put_in for one in courses if medicines.treated_until(one) is None]
    ended = [until for one in courses if (until := medicines.treated_until(one)) is not None]
    free = [
        until + timedelta(days=one.withdrawal_days)
        for one in courses
        if one.withdrawal_days and (until := medicines.treated_until(one)) is not None
    ]
    season = known.season
    action, next_on, question = _asked(known.visits.get(colony_id), look, known.every_days)
    return ColonyFacts(
        colony_id,
        kind,
        founded_on,
        looked=_on(look),
        visited=_on(known.hefts.get(colony_id)),
        not_found=_on(known.missed.get(colony_id)),
        queen_state=state.queen_state if state else None,
        queen_state_since=known.state_since.get(colony_id),
        queen_seen=_on(known.seen.get(colony_id)),
        clipped=bool(queen and queen.clipped),
        cells=look.cells_stage if look else None,
        cells_done=(look.cells_done if look else None) or "",
        bees_tenths=look.bees_tenths if look else None,
        stores_g=_stores_g(stores, boxes),
        stores_on=_on(stores),
        supers=boxes.supers if boxes else 0,
        super_fullness_tenths=look.super_fullness_tenths if look else None,
        mites_hundredths=mites.infestation_hundredths(count.mites, count.bees)
        if count is not None and count.method != "drop"
        else None,
        mites_estimate=mites.mites_from_drop(count.mites, count.days, count.on.month)
        if count is not None and count.method == "drop" and count.days
        else None,
        mites_on=_on(count),
        strips_in=max(inside, default=None),
        strips_out_by=known.course_ends.get(colony_id),
        treated=max(ended, default=None),
        next_action=action,
        next_on=next_on,
        question=question,
        dosed=known.doses.get(colony_id, ()),
        withdrawal_from=max(free, default=None),
        oxalic_on=season.oxalic.get(colony_id),
        broodless_on=look.on if look is not None and look.brood_tenths == 0 else None,
        fed=season.fed.get(colony_id),
        grafts=season.grafts.get(colony_id, ()),
        tasks=season.tasks.get(colony_id, ()),
    )


def _on(row: Any) -> date | None:
    return row.on if row is not None else None


def _stores_g(row: Any, boxes: BoxesKnown | None) -> int | None:
    """Weighed, or reckoned from frames of a size whose weight is known."""
    if row is None or row.stores_g is not None:
        return None if row is None else int(row.stores_g)
    if boxes is None or boxes.brood_frame not in stores_figures().frames_g:
        return None
    return stores_from_frames_g(row.stores_tenths, boxes.brood_frame)


def _asked(visit: Any, look: Any, every_days: int) -> tuple[str, date | None, str]:
    """What the last visit asked for; an action without a day is meant for the next usual look."""
    question = (visit.question if visit is not None else None) or ""
    for row in _newest(visit, look):
        if row.next_action is not None or row.next_days is not None:
            days = every_days if row.next_days is None else row.next_days
            words = "" if row.next_action in (None, "look") else row.next_action.replace("_", " ")
            return words, row.on + timedelta(days=days), question
    return "", None, question


def _newest(visit: Any, look: Any) -> Iterable[Any]:
    return [row for row in (visit, look) if row is not None]
