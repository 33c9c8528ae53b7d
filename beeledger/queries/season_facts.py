"""The last feed, oxalic acid, grafts in hand and open tasks of colonies: one statement each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date

from sqlalchemy import func, select
from sqlalchemy.orm import Session, aliased

from beeledger.model.colonies import Colony
from beeledger.model.due import Task
from beeledger.model.feeding import Feeding
from beeledger.model.medicines import Medicine, Treatment
from beeledger.model.queens import GraftBatch
from beeledger.rules.due import Asked, Fed, Grafted

_NO_SUGAR = "patty"
_feeding = aliased(Feeding)


@dataclass(slots=True)
class SeasonKnown:
    """What is known of each colony, by its number."""

    fed: dict[int, Fed] = field(default_factory=dict)
    oxalic: dict[int, date] = field(default_factory=dict)
    grafts: dict[int, tuple[Grafted, ...]] = field(default_factory=dict)
    tasks: dict[int, tuple[Asked, ...]] = field(default_factory=dict)


def season_known(session: Session, ids: Sequence[int]) -> SeasonKnown:
    """Four statements, however many colonies."""
    return SeasonKnown(_fed(session, ids), _oxalic(session, ids), _grafts(session, ids), _tasks(session, ids))


def _fed(session: Session, ids: Sequence[int]) -> dict[int, Fed]:
    latest = (
        select(_feeding.id)
        .where(_feeding.colony_id == Colony.id, _feeding.kind != _NO_SUGAR)
        .order_by(_feeding.on.desc(), _feeding.id.desc())
        .limit(1)
        .correlate(Colony)
        .scalar_subquery()
    )
    query = (
        select(Feeding.colony_id, Feeding.on, Feeding.volume_ml, Feeding.sugar_g)
        .join(Colony, Feeding.id == latest)
        .where(Colony.id.in_(ids))
    )
    return {
        row.colony_id: Fed(row.on, row.volume_ml is not None, row.sugar_g) for row in session.execute(query)
    }


def _oxalic(session: Session, ids: Sequence[int]) -> dict[int, date]:
    query = (
        select(Treatment.colony_id, func.max(Treatment.in_on))
        .join(Medicine, Medicine.id == Treatment.medicine_id)
        .where(Treatment.colony_id.in_(ids), Medicine.active.startswith("oxalic"))
        .group_by(Treatment.colony_id)
    )
    return {row[0]: row[1] for row in session.execute(query)}


def _grafts(session: Session, ids: Sequence[int]) -> dict[int, tuple[Grafted, ...]]:
    """Grafts whose queens have not been counted yet, with the colony that finishes the cells."""
    query = (
        select(GraftBatch.finisher_id, GraftBatch.on, GraftBatch.taken, GraftBatch.emerged)
        .where(GraftBatch.finisher_id.in_(ids), GraftBatch.mated.is_(None))
        .order_by(GraftBatch.on, GraftBatch.id)
    )
    found: dict[int, tuple[Grafted, ...]] = {}
    for row in session.execute(query):
        graft = Grafted(row.on, row.taken is not None, row.emerged is not None)
        found[row.finisher_id or 0] = (*found.get(row.finisher_id or 0, ()), graft)
    return found


def _tasks(session: Session, ids: Sequence[int]) -> dict[int, tuple[Asked, ...]]:
    """What was asked for at the desk; a round's own next action stands in its entry."""
    query = (
        select(Task.colony_id, Task.what, Task.due_on)
        .where(Task.colony_id.in_(ids), Task.entry_id.is_(None), Task.done_on.is_(None))
        .order_by(Task.due_on, Task.id)
    )
    found: dict[int, tuple[Asked, ...]] = {}
    for row in session.execute(query):
        found[row.colony_id or 0] = (*found.get(row.colony_id or 0, ()), Asked(row.what, None, row.due_on))
    return found
