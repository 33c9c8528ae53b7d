"""What the record knows of given colonies on a given day: each room in one statement, however many they are."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

from sqlalchemy import ColumnElement, Select, and_, case, func, or_, select, true
from sqlalchemy.orm import InstrumentedAttribute, Session, aliased

from beeledger.model.colonies import BoxStack, Colony, HiveMark, Placement
from beeledger.model.due import Due
from beeledger.model.feeding import Feeding
from beeledger.model.medicines import Medicine, Treatment
from beeledger.model.queens import Queen, Tenure
from beeledger.model.rounds import RoundEntry
from beeledger.queries.records.round_desk import (
    BoxesKnown,
    DueKnown,
    FeedOn,
    QueenKnown,
    TreatmentOn,
    Visit,
)
from beeledger.rules import medicines
from beeledger.rules.queens import marking_colour
from beeledger.rules.rounds.entry import FIELDS, Entry, QueenState
from beeledger.rules.rounds.plain import from_plain

ENTRY_COLUMNS: tuple[InstrumentedAttribute[Any], ...] = tuple(getattr(RoundEntry, name) for name in FIELDS)
VISIT_COLUMNS: tuple[InstrumentedAttribute[Any], ...] = (
    RoundEntry.id, RoundEntry.round_id, RoundEntry.colony_id, RoundEntry.on, RoundEntry.reason, *ENTRY_COLUMNS,
)  # fmt: skip
OPENED = ("looked",)
# Made once: an alias made anew costs more than the query it stands in.
entry = aliased(RoundEntry)
"""The entry that a correlated question of the latest one looks through."""
_stack, _before, _feeding = aliased(BoxStack), aliased(BoxStack), aliased(Feeding)
_GIVEN_ONCE_DAYS = 2
"""What is given once counts for its day; one more for a withdrawal that ends at the end of a day."""


def visit_of(row: Sequence[Any]) -> Visit:
    """A row of ``VISIT_COLUMNS`` as a record."""
    entry_id, round_id, colony_id, on, reason, *values = row
    return Visit(entry_id, round_id, colony_id, on, entry_from(values), reason)


def entry_from(values: Sequence[Any]) -> Entry:
    """The entry that a row of ``ENTRY_COLUMNS`` holds."""
    said = {name: value for name, value in zip(FIELDS, values, strict=True) if value is not None}
    if "split_to" in said:
        said["split_to"] = json.loads(said["split_to"])
    return from_plain(said)


def last_visits(
    session: Session,
    colony_ids: Sequence[int],
    day: date,
    *,
    opened: bool = False,
    but_round: int | None = None,
) -> dict[int, Visit]:
    """The last visit of each colony up to and on ``day``; ``opened``: only those that looked inside."""
    conditions = [entry.colony_id == Colony.id, entry.on <= day]
    if opened:
        conditions.append(entry.outcome.in_(OPENED))
    if but_round is not None:
        conditions.append(entry.round_id != but_round)
    return _visits(session, colony_ids, conditions)


def last_queen_states(
    session: Session, colony_ids: Sequence[int], day: date, but_round: int | None = None
) -> dict[int, tuple[QueenState, date]]:
    """How each colony last stood for a queen, and on which day that was written."""
    conditions = [entry.colony_id == Colony.id, entry.on <= day, entry.queen_state.is_not(None)]
    if but_round is not None:
        conditions.append(entry.round_id != but_round)
    query = latest_entries(
        conditions, colony_ids, (RoundEntry.colony_id, RoundEntry.queen_state, RoundEntry.on)
    )
    return {colony_id: (QueenState(state), on) for colony_id, state, on in session.execute(query)}


def stood_on(day: Any) -> tuple[ColumnElement[bool], ...]:
    """Placements that touch a day; ``day`` may be a column of days."""
    return (Placement.from_on <= day, or_(Placement.until_on.is_(None), Placement.until_on >= day))


def colonies_at(session: Session, site_id: int, on: date) -> set[int]:
    """The colonies that stood at a site some time that day."""
    query = select(Placement.colony_id).where(Placement.site_id == site_id, *stood_on(on))
    return set(session.scalars(query))


def marks_on(session: Session, colony_ids: Sequence[int], day: date) -> dict[int, str]:
    """The mark that each hive carried on ``day``; the later one where it changed that day."""
    query = (
        select(HiveMark.colony_id, HiveMark.mark)
        .where(
            HiveMark.colony_id.in_(colony_ids),
            HiveMark.from_on <= day,
            or_(HiveMark.until_on.is_(None), HiveMark.until_on >= day),
        )
        .order_by(HiveMark.colony_id, HiveMark.from_on, HiveMark.id)
    )
    return dict(session.execute(query).all())


def queens_on(session: Session, colony_ids: Sequence[int], day: date) -> dict[int, QueenKnown]:
    """The queen of each colony on ``day``; the younger where there are two."""
    query = (
        select(Tenure.colony_id, Queen.hatch_year, Queen.marked, Queen.clipped, Queen.tag)
        .join(Queen, Queen.id == Tenure.queen_id)
        .where(
            Tenure.colony_id.in_(colony_ids),
            Tenure.from_on <= day,
            or_(Tenure.until_on.is_(None), Tenure.until_on > day),
        )
        .order_by(Tenure.colony_id, Tenure.from_on, Tenure.id)
    )
    return {
        colony_id: QueenKnown(year, _colour(year, marked=marked), marked, clipped, tag)
        for colony_id, year, marked, clipped, tag in session.execute(query)
    }


def boxes_on(
    session: Session, colony_ids: Sequence[int], day: date, but_round: int | None = None
) -> dict[int, BoxesKnown]:
    """The boxes of each hive at the end of ``day``."""
    latest = (
        select(_stack.id)
        .where(_stack.colony_id == Colony.id, _stack.on <= day, *_not_of(_stack.entry_id, but_round))
        .order_by(_stack.on.desc(), _stack.id.desc())
        .limit(1)
        .correlate(Colony)
        .scalar_subquery()
    )
    columns = (
        BoxStack.hive_type, BoxStack.brood_boxes, BoxStack.brood_frames, BoxStack.brood_frame, BoxStack.supers,
        BoxStack.super_frames, BoxStack.excluder,
    )  # fmt: skip
    query = select(Colony.id, *columns).join(BoxStack, BoxStack.id == latest).where(Colony.id.in_(colony_ids))
    return {row[0]: BoxesKnown(*row[1:]) for row in session.execute(query)}


def treatments_on(
    session: Session, colony_ids: Sequence[int], day: date, but_round: int | None = None
) -> dict[int, tuple[TreatmentOn, ...]]:
    """Courses that were in each hive on ``day`` or whose withdrawal had not run out: two statements."""
    packs = {
        row[0]: row[1:]
        for row in session.execute(
            select(
                Medicine.id, Medicine.product, Medicine.active, Medicine.course_days, Medicine.withdrawal_days
            )
        )
    }
    longest = timedelta(days=max((days or 0 for *_, days in packs.values()), default=0) + _GIVEN_ONCE_DAYS)
    staying = [number for number, (_, active, *_) in packs.items() if medicines.course(active).stays_in]
    out_on = case((and_(true(), *_not_of(Treatment.out_entry_id, but_round)), Treatment.out_on), else_=None)
    query = (
        select(
            Treatment.colony_id, Treatment.id, Treatment.medicine_id, Treatment.in_on, out_on, Treatment.pieces
        )
        .where(
            Treatment.colony_id.in_(colony_ids), Treatment.in_on <= day, *_not_of(Treatment.in_entry_id, but_round),
            # What ended so long ago that no withdrawal can be left is not fetched: a hive of ten years has many.
            or_(
                func.coalesce(out_on, Treatment.in_on) >= day - longest,
                and_(out_on.is_(None), Treatment.medicine_id.in_(staying)),
            ),
        )
        .order_by(Treatment.colony_id, Treatment.in_on, Treatment.id)
    )  # fmt: skip
    found: dict[int, tuple[TreatmentOn, ...]] = {}
    for colony_id, number, pack, since, out, pieces in session.execute(query):
        product, active, days, withdrawal = packs[pack]
        course = medicines.Treatment(active, since, out, withdrawal)
        if medicines.is_in_treatment(course, day) or medicines.is_in_withdrawal(course, day):
            out_due = date.fromordinal(since.toordinal() + days) if days else None
            one = TreatmentOn(number, product, active, since, out, out_due, pieces, withdrawal)
            found[colony_id] = (*found.get(colony_id, ()), one)
    return found


def feeds_on(
    session: Session, colony_ids: Sequence[int], day: date, but_round: int | None = None
) -> dict[int, FeedOn]:
    """The last feed each colony got up to ``day``."""
    latest = (
        select(_feeding.id)
        .where(_feeding.colony_id == Colony.id, _feeding.on <= day, *_not_of(_feeding.entry_id, but_round))
        .order_by(_feeding.on.desc(), _feeding.id.desc())
        .limit(1)
        .correlate(Colony)
        .scalar_subquery()
    )
    query = (
        select(Colony.id, Feeding.on, Feeding.kind, Feeding.volume_ml, Feeding.weight_g)
        .join(Feeding, Feeding.id == latest)
        .where(Colony.id.in_(colony_ids))
    )
    return {row[0]: FeedOn(*row[1:]) for row in session.execute(query)}


def supers_put_on(
    session: Session, colony_ids: Sequence[int], day: date, but_round: int | None = None
) -> dict[int, date]:
    """When the supers that are on each hive on ``day`` began to go on: the first of them, by a round or at the desk.

    One that goes on top of others, which may have been there when it was fed, does not count; those that go on
    when the same visit took all others off do.
    """
    earlier = (
        select(_before.supers)
        .where(
            _before.colony_id == _stack.colony_id, *_not_of(_before.entry_id, but_round),
            or_(_before.on < _stack.on, and_(_before.on == _stack.on, _before.id < _stack.id)),
        )
        .order_by(_before.on.desc(), _before.id.desc())
        .limit(1)
        .correlate(_stack)
        .scalar_subquery()
    )  # fmt: skip
    taken_off = (
        select(entry.supers_off)
        .where(entry.id == _stack.entry_id, entry.colony_id == _stack.colony_id)
        .correlate(_stack)
        .scalar_subquery()
    )
    latest = (
        select(_stack.id)
        .where(
            _stack.colony_id == Colony.id, _stack.on <= day, _stack.supers > 0,
            func.coalesce(earlier, 0) <= func.coalesce(taken_off, 0), *_not_of(_stack.entry_id, but_round),
        )
        .order_by(_stack.on.desc(), _stack.id.desc())
        .limit(1)
        .correlate(Colony)
        .scalar_subquery()
    )  # fmt: skip
    query = select(Colony.id, BoxStack.on).join(BoxStack, BoxStack.id == latest)
    return {row[0]: row[1] for row in session.execute(query.where(Colony.id.in_(colony_ids)))}


def dues_of(session: Session, colony_ids: Sequence[int]) -> dict[int, tuple[DueKnown, ...]]:
    """What is due at each colony, earliest first."""
    query = (
        select(
            Due.colony_id,
            Due.code,
            Due.what,
            Due.why,
            Due.due_on,
            Due.minutes,
            Due.fact,
            Due.fact_on,
            Due.first_on,
        )
        .where(Due.colony_id.in_(colony_ids))
        .order_by(Due.due_on, Due.id)
    )
    found: dict[int, tuple[DueKnown, ...]] = {}
    for row in session.execute(query):
        found[row.colony_id] = (*found.get(row.colony_id, ()), DueKnown(*row))
    return found


def _not_of(entry_id: Any, but_round: int | None) -> tuple[ColumnElement[bool], ...]:
    """What was not written by an entry of one round."""
    if but_round is None:
        return ()
    its_entries = select(RoundEntry.id).where(RoundEntry.round_id == but_round)
    return (or_(entry_id.is_(None), entry_id.not_in(its_entries)),)


def _visits(session: Session, colony_ids: Sequence[int], conditions: list[Any]) -> dict[int, Visit]:
    query = latest_entries(conditions, colony_ids, VISIT_COLUMNS)
    return {visit.colony_id: visit for visit in map(visit_of, session.execute(query))}


def latest_entries(conditions: list[Any], colony_ids: Sequence[int], columns: Sequence[Any]) -> Select[Any]:
    """The latest entry of each colony that meets ``conditions``: one step on the index a colony."""
    latest = (
        select(entry.id)
        .where(and_(*conditions))
        .order_by(entry.on.desc(), entry.id.desc())
        .limit(1)
        .correlate(Colony)
        .scalar_subquery()
    )
    return select(*columns).join(Colony, RoundEntry.id == latest).where(Colony.id.in_(colony_ids))


def _colour(year: int | None, *, marked: bool | None) -> str | None:
    return None if year is None or marked is False else str(marking_colour(year))
