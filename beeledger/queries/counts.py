"""The few figures that stand beside the places and the farm's name; each an indexed count."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import ColumnElement, func, select
from sqlalchemy.orm import Session

from beeledger.model.colonies import Colony
from beeledger.model.due import Due, Task
from beeledger.model.farm import FarmSetting
from beeledger.model.honey import HoneyLot, Take
from beeledger.model.sites import Site
from beeledger.queries.stock import stock_list

UNNAMED = "A new farm"


@dataclass(frozen=True, slots=True)
class FarmSize:
    """The farm's name, living colonies, open sites, and its time zone where it has chosen one."""

    name: str
    colonies: int
    sites: int
    zone: str = ""


@dataclass(frozen=True, slots=True)
class Waiting:
    """What waits for a person: nought where nothing does."""

    sites_late: int = 0
    """Sites with a colony, or a task, whose day is past."""
    takes_to_weigh: int = 0
    """Takes of supers that no weighed lot has come from yet."""
    medicines_to_fill: int = 0
    """Packs and lines of the medicine register in which something is missing that the law asks for."""
    stock_low: int = 0
    """Items of stock below their own line, or below what the next weeks need."""


def farm_size(session: Session) -> FarmSize:
    """Name and size of the farm: three queries."""
    query = select(FarmSetting.key, FarmSetting.value).where(FarmSetting.key.in_(("name", "zone")))
    kept = {key: str(json.loads(value)) for key, value in session.execute(query)}
    return FarmSize(
        kept.get("name") or UNNAMED,
        _count(session, Colony.id, Colony.ended_on.is_(None)),
        _count(session, Site.id, Site.closed_on.is_(None)),
        kept.get("zone", ""),
    )


def waiting(session: Session, today: date) -> Waiting:
    """What stands beside the places: a constant number of queries, whatever the size of the farm."""
    # The window is there before it is asked: what only the badges need is loaded with them.
    from beeledger.queries.medicines import to_fill  # noqa: PLC0415

    late = set(
        session.scalars(select(Due.site_id).where(Due.due_on < today, Due.site_id.is_not(None)).distinct())
    )
    late |= set(
        session.scalars(
            select(Task.site_id).where(Task.due_on < today, Task.done_on.is_(None), Task.site_id.is_not(None))
        )
    )
    unweighed = ~select(HoneyLot.id).where(HoneyLot.take_id == Take.id).exists()
    low = sum(row.is_low for row in stock_list(session, today))
    return Waiting(len(late), _count(session, Take.id, unweighed), to_fill(session, today).all, low)


def _count(session: Session, column: Any, condition: ColumnElement[bool]) -> int:
    return session.scalar(select(func.count(column)).where(condition)) or 0
