"""Sites: what stands where, and what the card of one shows."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.model.sites import Site


@dataclass(frozen=True, slots=True)
class SiteName:
    """An open site to choose from."""

    site_id: int
    name: str
    code: str
    kind: str


def open_sites(session: Session) -> list[SiteName]:
    """Every site that is not given up, by name: one statement."""
    query = (
        select(Site.id, Site.name, Site.code, Site.kind).where(Site.closed_on.is_(None)).order_by(Site.name)
    )
    return [SiteName(*row) for row in session.execute(query)]
