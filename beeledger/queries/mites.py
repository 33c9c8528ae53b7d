"""Mites by site: the newest count of each living colony of the last twelve months, against the farm's line."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session, aliased

from beeledger.model.colonies import Colony, HiveMark, Placement
from beeledger.model.medicines import MiteCount
from beeledger.model.sites import Site
from beeledger.queries.farm import farm_settings
from beeledger.queries.records.medicines import UNMARKED, CountAt, MiteView, SiteMites
from beeledger.rules import mites

LOOK_BACK = timedelta(days=365)
"""A count older than this says nothing of the mites of today."""
_count = aliased(MiteCount)


def mites_by_site(session: Session, today: date) -> MiteView:
    """Every site with colonies, those with most over the line first: three statements."""
    line, since = farm_settings(session).mite_line_hundredths, today - LOOK_BACK
    standing = (
        select(Site.id, Site.name, func.count())
        .join(Placement, Placement.site_id == Site.id)
        .where(Placement.until_at.is_(None))
        .group_by(Site.id, Site.name)
    )
    newest: dict[int, list[Any]] = defaultdict(list)
    for row in session.execute(_newest(since)):
        newest[row.site_id].append(row)
    sites = [
        _site(number, name, hives, newest.get(number, ()), line)
        for number, name, hives in session.execute(standing)
    ]
    return MiteView(line, since, tuple(sorted(sites, key=_worst_first)))


def counts_at(session: Session, site_id: int, today: date) -> tuple[CountAt, ...]:
    """The counts of the last twelve months of the colonies that stand at a site now, oldest first: one statement."""
    query = (
        select(MiteCount, HiveMark.mark)
        .join(Placement, Placement.colony_id == MiteCount.colony_id)
        .outerjoin(
            HiveMark, (HiveMark.colony_id == MiteCount.colony_id) & HiveMark.until_on.is_(None)
        )
        .where(
            Placement.site_id == site_id, Placement.until_at.is_(None), MiteCount.on >= today - LOOK_BACK,
            MiteCount.on <= today,
        )
        .order_by(MiteCount.on, MiteCount.id)
    )  # fmt: skip
    return tuple(
        CountAt(one.on, mark or UNMARKED, one.method, one.mites, one.bees, one.days)
        for one, mark in session.execute(query)
    )


def _newest(since: date) -> Any:
    latest = (
        select(_count.id)
        .where(_count.colony_id == Colony.id)
        .order_by(_count.on.desc(), _count.id.desc())
        .limit(1)
        .correlate(Colony)
        .scalar_subquery()
    )
    return (
        select(
            Placement.site_id, MiteCount.on, MiteCount.method, MiteCount.mites, MiteCount.bees, MiteCount.days
        )
        .select_from(Colony)
        .join(MiteCount, MiteCount.id == latest)
        .join(Placement, Placement.colony_id == Colony.id)
        .where(
            Colony.ended_on.is_(None), Placement.until_at.is_(None), Placement.site_id.is_not(None),
            MiteCount.on >= since,
        )
    )  # fmt: skip


def _site(number: int, name: str, hives: int, rows: Sequence[Any], line: int) -> SiteMites:
    shares = [mites.infestation_hundredths(row.mites, row.bees) for row in rows if row.method != "drop"]
    over = sum(share >= line for share in shares)
    over += sum(
        mites.judge_drop(row.mites, row.days or 1, row.on) is mites.Judgement.TREAT
        for row in rows
        if row.method == "drop"
    )
    mean = (2 * sum(shares) + len(shares)) // (2 * len(shares)) if shares else None
    return SiteMites(
        number, name, hives, len(rows), len(shares), mean, min(shares, default=None), max(shares, default=None),
        over, max((row.on for row in rows), default=None),
    )  # fmt: skip


def _worst_first(site: SiteMites) -> tuple[int, int, str]:
    """Most over the line first, then by the mean; those never counted at the end."""
    mean = -1 if site.mean_hundredths is None else site.mean_hundredths
    return (-(site.at_line_hundredths or 0), -mean, site.site)
