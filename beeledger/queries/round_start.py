"""What the desk needs before a round can be typed: the sites to choose from, the sheet, who carries which mark."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.model.acts import Act
from beeledger.model.colonies import Colony, HiveMark, Placement
from beeledger.model.medicines import Medicine
from beeledger.model.sites import Site
from beeledger.queries.farm import FarmSettings, farm_settings
from beeledger.queries.records.round_desk import HiveLine, RoundSheet
from beeledger.queries.rounds import lines_of, sheet_for
from beeledger.rules.rounds.entry import Entry


@dataclass(frozen=True, slots=True)
class SiteChoice:
    """A site that a round can be at."""

    id: int
    code: str
    name: str


@dataclass(frozen=True, slots=True)
class Carried:
    """The living colony that carries a mark, and the site where it stands by the record."""

    colony_id: int
    site: str


@dataclass(frozen=True, slots=True)
class RoundStart:
    """What a new round is chosen from."""

    sites: tuple[SiteChoice, ...]
    medicines: tuple[str, ...]
    """Products on the list, the usual one first, then the newest."""


@dataclass(frozen=True, slots=True)
class DeskSheet:
    """A sheet with all that the typing of it is checked against."""

    sheet: RoundSheet
    others: tuple[HiveLine, ...]
    """Hives of the draft that did not stand there that day."""
    carried: Mapping[str, Carried]
    """By mark, every living colony of the farm."""
    settings: FarmSettings
    medicines: tuple[str, ...]
    last_act: int
    posted: Mapping[int, Entry] = field(default_factory=dict)
    """By colony, the entries of the posted round that is being corrected; else nothing."""


def round_start(session: Session) -> RoundStart:
    """The open sites by name and the medicines by use: two statements."""
    query = select(Site.id, Site.code, Site.name).where(Site.closed_on.is_(None)).order_by(Site.name)
    sites = tuple(SiteChoice(*row) for row in session.execute(query))
    return RoundStart(sites, _medicines(session))


def desk_sheet(
    session: Session,
    site_id: int,
    on: date,
    colony_ids: Sequence[int] = (),
    *,
    but_round: int | None = None,
) -> DeskSheet:
    """The sheet of a site on a day; ``colony_ids`` are hives that a draft holds beside those that stood there.

    ``but_round`` leaves one posted round out of what is known. The same number of statements however many hives.
    """
    sheet = sheet_for(session, site_id, on, but_round=but_round)
    away = sorted(set(colony_ids) - {line.colony_id for line in sheet.lines})
    others = tuple(lines_of(session, away, on, but_round)) if away else ()
    last = session.scalar(select(Act.id).order_by(Act.id.desc()).limit(1)) or 0
    return DeskSheet(
        sheet, others, _carried(session), farm_settings(session), _medicines(session), last
    )  # fmt: skip


def _medicines(session: Session) -> tuple[str, ...]:
    query = select(Medicine.product).order_by(Medicine.usual.desc(), Medicine.id.desc())
    return tuple(dict.fromkeys(session.scalars(query)))


def _carried(session: Session) -> dict[str, Carried]:
    query = (
        select(HiveMark.mark, HiveMark.colony_id, Site.name)
        .join(Colony, Colony.id == HiveMark.colony_id)
        .outerjoin(Placement, (Placement.colony_id == Colony.id) & Placement.until_at.is_(None))
        .outerjoin(Site, Site.id == Placement.site_id)
        .where(HiveMark.until_on.is_(None), Colony.ended_on.is_(None))
    )
    return {mark: Carried(colony_id, site or "") for mark, colony_id, site in session.execute(query)}
