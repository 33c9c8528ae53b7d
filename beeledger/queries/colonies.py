"""Colonies: the list with the last figures of each, and what the card of one shows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
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
from beeledger.model.due import Due
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


@dataclass(slots=True)
class _Latest:
    """The newest row of each kind, by colony."""

    looks: Mapping[int, Any] = field(default_factory=dict)
    stores: Mapping[int, Any] = field(default_factory=dict)
    states: Mapping[int, Any] = field(default_factory=dict)
    queens: Mapping[int, Any] = field(default_factory=dict)
    mites: Mapping[int, Any] = field(default_factory=dict)
    boxes: Mapping[int, Any] = field(default_factory=dict)
    dues: Mapping[int, Any] = field(default_factory=dict)


def list_colonies(session: Session, wanted: ColonyFilter | None = None) -> list[ColonyLine]:
    """Colonies in the order of their numbers, with the newest figure of each kind.

    Eight statements however many there are; each finds the newest row of a colony by one step on an index.
    """
    own = wanted or ColonyFilter()
    base = session.execute(_listed(own)).all()
    latest = _latest(session, own)
    return [_line(row, latest) for row in base]


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
            Colony.id, HiveMark.mark, HiveMark.number, Colony.kind, Placement.place, Placement.site_id, Site.name,
            Vehicle.name, Placement.stand, Colony.founded_on, Colony.ended_on, Colony.end_cause,
        )
        .select_from(Colony)
        .outerjoin(HiveMark, mark)
        .outerjoin(Placement, stay)
        .outerjoin(Site, Site.id == Placement.site_id)
        .outerjoin(Vehicle, Vehicle.id == Placement.vehicle_id)
        .where(*_conditions(own))
        .order_by(HiveMark.number.is_(None), HiveMark.number, HiveMark.mark, Colony.id)
    )  # fmt: skip


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
    )


def _latest(session: Session, own: ColonyFilter) -> _Latest:
    which = _conditions(own)

    def newest(model: Any, columns: Sequence[Any], *conditions: Any) -> dict[int, Any]:
        query = select(Colony.id, *columns).join(model, model.id == _newest(model, "on", *conditions))
        return {row[0]: row for row in session.execute(query.where(*which))}

    entry = RoundEntry
    return _Latest(
        looks=newest(entry, (entry.on, entry.bees_tenths, entry.brood_tenths), lambda row: row.outcome == "looked"),
        stores=newest(
            entry, (entry.on, entry.stores_g, entry.stores_tenths, entry.stores_heft),
            lambda row: or_(row.stores_g.is_not(None), row.stores_tenths.is_not(None), row.stores_heft.is_not(None)),
        ),
        states=newest(entry, (entry.on, entry.queen_state), lambda row: row.queen_state.is_not(None)),
        queens=_heads(session, which),
        mites=newest(
            MiteCount, (MiteCount.on, MiteCount.mites, MiteCount.bees), lambda row: row.method.in_(_SAMPLED)
        ),
        boxes=newest(BoxStack, (BoxStack.supers, BoxStack.brood_frame)),
        dues=_first_dues(session, which),
    )  # fmt: skip


def _heads(session: Session, which: tuple[Any, ...]) -> dict[int, Any]:
    query = (
        select(Tenure.colony_id, Queen.hatch_year, Queen.marked, Queen.tag)
        .join(Queen, Queen.id == Tenure.queen_id)
        .join(Colony, Colony.id == Tenure.colony_id)
        .where(*which, Tenure.until_on.is_(None))
        .order_by(Tenure.from_on, Tenure.id)
    )
    return {row[0]: row for row in session.execute(query)}


def _first_dues(session: Session, which: tuple[Any, ...]) -> dict[int, Any]:
    row = aliased(Due)
    first = (
        select(row.id)
        .where(row.colony_id == Colony.id)
        .order_by(row.due_on, row.id)
        .limit(1)
        .correlate(Colony)
        .scalar_subquery()
    )
    query = select(Colony.id, Due.code, Due.what, Due.due_on).join(Due, Due.id == first).where(*which)
    return {row[0]: row for row in session.execute(query)}


def _line(row: Any, latest: _Latest) -> ColonyLine:
    colony_id, mark, number, kind, place, site_id, site, vehicle, stand, founded, ended, cause = row
    look, state = latest.looks.get(colony_id), latest.states.get(colony_id)
    queen, due = latest.queens.get(colony_id), latest.dues.get(colony_id)
    boxes, count = latest.boxes.get(colony_id), latest.mites.get(colony_id)
    grams, heft, stores_on = _stores(latest.stores.get(colony_id), boxes)
    _id, year, marked, tag = queen or (colony_id, None, None, None)
    _id, state_on, state_word = state or (colony_id, None, None)
    _id, looked_on, bees, brood = look or (colony_id, None, None, None)
    _id, due_code, due_what, due_on = due or (colony_id, None, None, None)
    return ColonyLine(
        colony_id, mark, number, kind, "ended" if ended else (place or "unaccounted"), site_id,
        site or vehicle or "", stand, founded, ended, cause, year, marked, tag, state_word, state_on, looked_on,
        bees, brood, grams, heft, stores_on,
        mites.infestation_hundredths(count[2], count[3]) if count else None, count[1] if count else None,
        boxes[1] if boxes else None, due_code, due_what, due_on,
    )  # fmt: skip


def _stores(row: Any, boxes: Any) -> tuple[int | None, str | None, date | None]:
    if row is None:
        return None, None, None
    _colony_id, on, grams, tenths, heft = row
    if grams is None and tenths is not None and boxes and boxes[2] in stores_figures().frames_g:
        grams = stores_from_frames_g(tenths, boxes[2])
    return grams, heft, on


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
