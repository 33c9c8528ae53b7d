"""What stands at the head and foot of every document: whose it is, when and from which data it was made."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from beeledger.base.clock import Clock
from beeledger.model.acts import Act
from beeledger.queries.farm import farm_settings
from beeledger.queries.records.heading import Farm, Made


def heading_of(session: Session, clock: Clock, source: str, by: str = "") -> tuple[Farm, Made]:
    """The farm and the making of a document. ``source`` is the database as people call it."""
    farm = farm_settings(session)
    last = session.scalar(select(func.max(Act.id)))
    at = clock.now().astimezone(ZoneInfo(farm.zone))
    return Farm(farm.name, farm.address, farm.contact), Made(at, source, last, by)
