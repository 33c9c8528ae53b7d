"""How far a new farm has come: what the welcome ticks, and what it names next."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import exists, func, select
from sqlalchemy.orm import Session

from beeledger.model.colonies import Placement
from beeledger.model.rounds import Round
from beeledger.model.sites import Site
from beeledger.queries.counts import UNNAMED, farm_size


@dataclass(frozen=True, slots=True)
class FirstSteps:
    """The steps of a new farm; empty words and nought where a step is still to be done."""

    name: str
    """The farm's name, once it has one."""
    sites: int
    colonies: int
    site_id: int | None
    """The open site at which most colonies stand: there the first round is."""
    site: str
    posted: bool
    """Whether any round has been posted."""


def first_steps(session: Session) -> FirstSteps:
    """Where the farm stands: five statements, whatever its size."""
    size = farm_size(session)
    hives = func.count(Placement.id)
    query = (
        select(Site.id, Site.name)
        .outerjoin(Placement, (Placement.site_id == Site.id) & Placement.until_at.is_(None))
        .where(Site.closed_on.is_(None))
        .group_by(Site.id, Site.name)
        .order_by(hives.desc(), Site.name)
        .limit(1)
    )
    fullest = session.execute(query).first()
    return FirstSteps(
        "" if size.name == UNNAMED else size.name,
        size.sites,
        size.colonies,
        fullest[0] if fullest else None,
        fullest[1] if fullest else "",
        bool(session.scalar(select(exists(select(Round.id))))),
    )
