"""What is due: by site for Today, and of one colony."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from beeledger.model.colonies import Placement
from beeledger.model.due import Due
from beeledger.model.sites import Site
from beeledger.queries.hives import dues_of
from beeledger.queries.records.round_desk import DueKnown
from beeledger.rules.due import Due as Reason
from beeledger.rules.due import Grade, counted_words, default_settings, grade, work_minutes
from beeledger.rules.sites import Spot, distance_m, spot_at


@dataclass(frozen=True, slots=True)
class SiteDue:
    """A site to go to, and why."""

    site_id: int
    site: str
    code: str
    grade: Grade
    late_days: int
    """Days since the oldest reason fell due; nought when nothing is late."""
    earliest_on: date
    colonies_due: int
    colonies: int
    """Colonies that stand there."""
    words: str
    """ "9 swarm check · 4 strips out · 2 light"."""
    minutes: int
    metres_from_home: int | None
    """In a straight line; None where either spot is not known."""
    easting_m: int | None
    northing_m: int | None
    latitude_e6: int | None
    longitude_e6: int | None


def due_by_site(session: Session, today: date, horizon: int | None = None) -> list[SiteDue]:
    """Sites where something is late, due today, or within ``horizon`` days; worst first.

    Without a horizon, as far ahead as the settings call soon. Three statements, by the index on the date.
    """
    days = default_settings().soon_days if horizon is None else horizon
    query = (
        select(Due.site_id, Due.colony_id, Due.code, Due.what, Due.why, Due.due_on, Due.minutes)
        .where(Due.due_on <= today + timedelta(days=days), Due.site_id.is_not(None))
        .order_by(Due.site_id)
    )
    rows = session.execute(query).all()
    sites = {row.id: row for row in session.execute(_sites())}
    standing = _standing(session)
    home = next((_spot(row) for row in sites.values() if row.kind == "home" and _spot(row)), None)
    found = [
        _site_due(sites[site_id], [Reason(*row[1:]) for row in group], today, standing.get(site_id, 0), home)
        for site_id, group in groupby(rows, key=lambda row: row.site_id)
    ]
    return sorted(found, key=lambda one: (one.earliest_on, -one.colonies_due, one.site))


def due_of_colony(session: Session, colony_id: int) -> tuple[DueKnown, ...]:
    """Every dated reason to go to a colony, earliest first."""
    return dues_of(session, [colony_id]).get(colony_id, ())


def _sites() -> Any:
    return select(
        Site.id, Site.name, Site.code, Site.kind, Site.easting_m, Site.northing_m, Site.latitude_e6, Site.longitude_e6
    )  # fmt: skip


def _standing(session: Session) -> dict[int, int]:
    query = (
        select(Placement.site_id, func.count())
        .where(Placement.until_at.is_(None), Placement.site_id.is_not(None))
        .group_by(Placement.site_id)
    )
    return {row[0] or 0: row[1] for row in session.execute(query)}


def _site_due(site: Any, reasons: list[Reason], today: date, colonies: int, home: Spot | None) -> SiteDue:
    earliest = min(one.due_on for one in reasons)
    here = _spot(site)
    return SiteDue(
        site.id, site.name, site.code, grade(earliest, today), max(0, (today - earliest).days), earliest,
        len({one.colony for one in reasons}), colonies, counted_words(reasons, today), work_minutes(reasons),
        distance_m(home, here) if home and here else None,
        site.easting_m, site.northing_m, site.latitude_e6, site.longitude_e6,
    )  # fmt: skip


def _spot(site: Any) -> Spot | None:
    return spot_at(site.easting_m, site.northing_m, site.latitude_e6, site.longitude_e6)
