"""Colonies: the list with the last figures of each, and what the card of one shows."""

from __future__ import annotations

from datetime import date
from functools import cache, lru_cache
from typing import Any

from sqlalchemy import and_, func, or_, select
from sqlalchemy.orm import Session, aliased

from beeledger.model.colonies import (
    BoxStack,
    Colony,
    ColonyTransfer,
    HiveMark,
    Placement,
)
from beeledger.model.due import Due, PutOff
from beeledger.model.feeding import Feeding
from beeledger.model.medicines import Medicine, MiteCount, Treatment
from beeledger.model.parties import Vehicle
from beeledger.model.queens import Queen, Tenure
from beeledger.model.rounds import Round, RoundEntry
from beeledger.model.sites import SetDownPlace, Site
from beeledger.queries.farm import farm_settings
from beeledger.queries.records.colonies import (
    ColonyCard,
    ColonyFilter,
    ColonyLine,
    ColonyList,
    Fed,
    Kin,
    MitesCounted,
    PutOffOnce,
    QueenThere,
    Stood,
    SupersFrom,
    Treated,
)
from beeledger.queries.rounds import entries_of_colony, lines_of
from beeledger.rules import mites
from beeledger.rules.medicines import out_of_hive
from beeledger.rules.stores import figures as stores_figures
from beeledger.rules.stores import stores_from_frames_g

VISITS = 200
"""More than a colony gets in two years; the card shows twelve months of them."""
_SAMPLED = ("wash", "roll")
_share = cache(mites.infestation_hundredths)
_grams = cache(stores_from_frames_g)
_State, _Look, _Stores = aliased(RoundEntry), aliased(RoundEntry), aliased(RoundEntry)
"""The newest entry that says how the colony stands for a queen, that looked in, that speaks of stores."""


def list_colonies(session: Session, wanted: ColonyFilter | None = None) -> list[ColonyLine]:
    """Colonies in the order of their numbers, with the newest figure of each kind.

    One statement however many there are; the newest row of each kind is one step on an index a colony.
    """
    # Straight from the connection: thousands of rows need no loading of their own.
    rows = session.connection().execute(_listed(wanted or ColonyFilter())).all()
    return [_line(*row) for row in rows]


def colonies_shown(session: Session, wanted: ColonyFilter | None = None) -> ColonyList:
    """The list with the farm's own line for mites, by which it is coloured."""
    return ColonyList(tuple(list_colonies(session, wanted)), farm_settings(session).mite_line_hundredths)


def colony_card(session: Session, colony_id: int, today: date) -> ColonyCard | None:
    """Everything on the card of one colony; None when there is no such colony. A constant number of statements."""
    lines = lines_of(session, [colony_id], today)
    if not lines:
        return None
    visits = tuple(entries_of_colony(session, colony_id, VISITS))
    stood = _stood(session, colony_id)
    return ColonyCard(
        line=lines[0],
        place="ended" if lines[0].ended_on else (stood[-1].place if stood else "unaccounted"),
        set_down=_set_down(session, colony_id),
        mite_line_hundredths=farm_settings(session).mite_line_hundredths,
        visits=visits,
        crews=_crews(session, colony_id),
        mites=_counts(session, colony_id),
        stood=stood,
        queens=_reigns(session, colony_id),
        treated=_courses(session, colony_id),
        fed=_feeds(session, colony_id),
        supers=_supers(session, colony_id),
        kin=_kin(session, colony_id),
        marks=_marks(session, colony_id),
        put_off=_put_off(session, colony_id),
    )


def _conditions(own: ColonyFilter) -> tuple[Any, ...]:
    alive = Colony.ended_on.is_(None) if own.alive else Colony.ended_on.is_not(None)
    if own.site_id is None:
        return (alive,)
    stands = aliased(Placement)
    # Of those that ended, the site where they last stood.
    there = select(stands.colony_id).where(stands.site_id == own.site_id)
    if own.alive:
        there = there.where(stands.until_at.is_(None))
    return (alive, Colony.id.in_(there))


@lru_cache(maxsize=64)  # building the statement takes longer than its rows
def _listed(own: ColonyFilter) -> Any:
    mark = and_(HiveMark.colony_id == Colony.id, HiveMark.until_on.is_(None))
    stay = and_(Placement.colony_id == Colony.id, Placement.until_at.is_(None))
    if not own.alive:
        mark, stay = (
            HiveMark.id == _newest(HiveMark, "from_on"),
            Placement.id == _newest(Placement, "from_at"),
        )
    return (
        select(
            Colony.id, HiveMark.mark, HiveMark.number, Colony.kind, Placement.place, Placement.site_id,
            func.coalesce(Site.name, Vehicle.name, ""), Placement.stand, Colony.founded_on, Colony.ended_on,
            Colony.end_cause, Queen.hatch_year, Queen.marked, Queen.tag, _State.queen_state, _State.on, _Look.on,
            _Look.bees_tenths, _Look.brood_tenths, _Stores.stores_g, _Stores.stores_tenths, _Stores.stores_heft,
            _Stores.on, MiteCount.mites, MiteCount.bees, MiteCount.on, BoxStack.supers, BoxStack.brood_frame, Due.code,
            Due.what, Due.due_on,
        )
        .select_from(Colony)
        .outerjoin(HiveMark, mark)
        .outerjoin(Placement, stay)
        .outerjoin(Site, Site.id == Placement.site_id)
        .outerjoin(Vehicle, Vehicle.id == Placement.vehicle_id)
        .outerjoin(Tenure, Tenure.id == _newest(Tenure, "from_on", lambda row: row.until_on.is_(None)))
        .outerjoin(Queen, Queen.id == Tenure.queen_id)
        .outerjoin(_State, _State.id == _newest(RoundEntry, "on", lambda row: row.queen_state.is_not(None)))
        .outerjoin(_Look, _Look.id == _newest(RoundEntry, "on", lambda row: row.outcome == "looked"))
        .outerjoin(_Stores, _Stores.id == _newest(RoundEntry, "on", _says_stores))
        .outerjoin(MiteCount, MiteCount.id == _newest(MiteCount, "on", lambda row: row.method.in_(_SAMPLED)))
        .outerjoin(BoxStack, BoxStack.id == _newest(BoxStack, "on"))
        .outerjoin(Due, Due.id == _first_due())
        .where(*_conditions(own))
        .order_by(HiveMark.number.is_(None), HiveMark.number, HiveMark.mark, Colony.id)
    )  # fmt: skip


def _says_stores(row: Any) -> Any:
    return or_(row.stores_g.is_not(None), row.stores_tenths.is_not(None), row.stores_heft.is_not(None))


def _newest(model: Any, order: str, *conditions: Any) -> Any:
    """The id of a colony's newest row by ``order``: one step on the index of colony and day."""
    row = aliased(model)
    return (
        select(row.id)
        .where(row.colony_id == Colony.id, *(condition(row) for condition in conditions))
        .order_by(getattr(row, order).desc(), row.id.desc())
        .limit(1)
        .correlate(Colony)
        .scalar_subquery()
    )  # fmt: skip


def _first_due() -> Any:
    row = aliased(Due)
    return (
        select(row.id)
        .where(row.colony_id == Colony.id)
        .order_by(row.due_on, row.id)
        .limit(1)
        .correlate(Colony)
        .scalar_subquery()
    )  # fmt: skip


def _line(*row: Any) -> ColonyLine:
    colony_id, mark, number, kind, place, site_id, site, stand, founded, ended, cause = row[:11]
    year, marked, tag, state, state_on, looked_on, bees, brood, grams, tenths, heft, stores_on = row[11:23]
    mites_found, sample, mites_on, supers, frame, due_code, due_what, due_on = row[23:]
    if grams is None and tenths is not None and frame in stores_figures().frames_g:
        grams = _grams(tenths, frame)
    return ColonyLine(
        colony_id, mark, number, kind, "ended" if ended else (place or "unaccounted"), site_id, site, stand, founded,
        ended, cause, year, marked, tag, state, state_on, looked_on, bees, brood, grams, heft, stores_on,
        None if mites_found is None else _share(mites_found, sample), mites_on, supers, due_code, due_what, due_on,
    )  # fmt: skip


def _set_down(session: Session, colony_id: int) -> str:
    query = (
        select(SetDownPlace.name)
        .join(Placement, Placement.set_down_id == SetDownPlace.id)
        .where(Placement.colony_id == colony_id, Placement.until_at.is_(None))
    )
    return session.scalar(query) or ""


def _crews(session: Session, colony_id: int) -> dict[int, str]:
    query = (
        select(Round.id, Round.crew)
        .join(RoundEntry, RoundEntry.round_id == Round.id)
        .where(RoundEntry.colony_id == colony_id)
    )
    return {number: crew or "" for number, crew in session.execute(query)}


def _counts(session: Session, colony_id: int) -> tuple[MitesCounted, ...]:
    columns = (MiteCount.on, MiteCount.method, MiteCount.mites, MiteCount.bees, MiteCount.days)
    query = select(*columns).where(MiteCount.colony_id == colony_id).order_by(MiteCount.on, MiteCount.id)
    return tuple(MitesCounted(*row) for row in session.execute(query))


def _stood(session: Session, colony_id: int) -> tuple[Stood, ...]:
    query = (
        select(
            Placement.place, Placement.site_id, func.coalesce(Site.name, Vehicle.name, ""), Placement.from_on,
            Placement.until_on,
        )
        .outerjoin(Site, Site.id == Placement.site_id)
        .outerjoin(Vehicle, Vehicle.id == Placement.vehicle_id)
        .where(Placement.colony_id == colony_id)
        .order_by(Placement.from_at)
    )  # fmt: skip
    return tuple(Stood(*row) for row in session.execute(query))


def _reigns(session: Session, colony_id: int) -> tuple[QueenThere, ...]:
    query = (
        select(
            Queen.id, Queen.hatch_year, Queen.marked, Queen.clipped, Queen.tag, Queen.origin, Tenure.from_on,
            Tenure.until_on, Tenure.why_ended,
        )
        .join(Tenure, Tenure.queen_id == Queen.id)
        .where(Tenure.colony_id == colony_id)
        .order_by(Tenure.from_on, Tenure.id)
    )  # fmt: skip
    return tuple(QueenThere(*row) for row in session.execute(query))


def _courses(session: Session, colony_id: int) -> tuple[Treated, ...]:
    query = (
        select(Medicine.product, Medicine.active, Treatment.in_on, Treatment.out_on, Treatment.pieces)
        .join(Treatment, Treatment.medicine_id == Medicine.id)
        .where(Treatment.colony_id == colony_id)
        .order_by(Treatment.in_on, Treatment.id)
    )
    return tuple(
        Treated(product, active, in_on, out_of_hive(active, in_on, out_on), pieces)
        for product, active, in_on, out_on, pieces in session.execute(query)
    )


def _feeds(session: Session, colony_id: int) -> tuple[Fed, ...]:
    columns = (Feeding.on, Feeding.kind, Feeding.volume_ml, Feeding.weight_g)
    query = select(*columns).where(Feeding.colony_id == colony_id).order_by(Feeding.on, Feeding.id)
    return tuple(Fed(*row) for row in session.execute(query))


def _put_off(session: Session, colony_id: int) -> tuple[PutOffOnce, ...]:
    query = (
        select(PutOff.code, PutOff.first_on, PutOff.until_on, PutOff.on, PutOff.by_whom, PutOff.note)
        .where(PutOff.colony_id == colony_id)
        .order_by(PutOff.on, PutOff.id)
    )
    return tuple(PutOffOnce(*row) for row in session.execute(query))


def _supers(session: Session, colony_id: int) -> tuple[SupersFrom, ...]:
    query = (
        select(BoxStack.on, BoxStack.supers)
        .where(BoxStack.colony_id == colony_id)
        .order_by(BoxStack.on, BoxStack.id)
    )
    return tuple(SupersFrom(*row) for row in session.execute(query))


def _kin(session: Session, colony_id: int) -> tuple[Kin, ...]:
    here = ColonyTransfer.from_colony_id == colony_id
    other = aliased(HiveMark)
    last = aliased(HiveMark)
    far = func.coalesce(
        func.nullif(ColonyTransfer.from_colony_id, colony_id), ColonyTransfer.to_colony_id
    )  # fmt: skip
    newest = (
        select(last.id)
        .where(last.colony_id == far)
        .order_by(last.from_on.desc(), last.id.desc())
        .limit(1)
        .correlate(ColonyTransfer)
        .scalar_subquery()
    )
    query = (
        select(ColonyTransfer.kind, ColonyTransfer.on, far, other.mark, ColonyTransfer.from_colony_id)
        .outerjoin(other, other.id == newest)
        .where(or_(here, ColonyTransfer.to_colony_id == colony_id))
        .order_by(ColonyTransfer.on, ColonyTransfer.id)
    )
    return tuple(
        Kin(kind, on, far_id, mark, giver == colony_id)
        for kind, on, far_id, mark, giver in session.execute(query)
    )


def _marks(session: Session, colony_id: int) -> tuple[tuple[str, date, date | None], ...]:
    query = (
        select(HiveMark.mark, HiveMark.from_on, HiveMark.until_on)
        .where(HiveMark.colony_id == colony_id)
        .order_by(HiveMark.from_on, HiveMark.id)
    )
    return tuple((mark, since, until) for mark, since, until in session.execute(query))
