"""Today: where to go, and what cannot wait: from what is due, contracts, and permissions."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from beeledger.base.dates import long, short
from beeledger.base.text import counted, listed
from beeledger.base.units import kilometres
from beeledger.database.restricted import laid
from beeledger.model.colonies import HiveMark, Placement
from beeledger.model.due import Due
from beeledger.model.sites import Site
from beeledger.queries.contract_list import list_contracts
from beeledger.queries.counts import FarmSize, farm_size
from beeledger.queries.due import SiteDue, due_by_site
from beeledger.queries.farm import farm_settings
from beeledger.queries.feed_need import feed_need
from beeledger.queries.records.contract_desk import ContractRow, Standing
from beeledger.queries.records.stock import MEDICINE
from beeledger.queries.restrictions import in_force, waiting_samples
from beeledger.queries.spray import spray_running
from beeledger.queries.stock import low_items
from beeledger.rules.autumn_feed import is_feeding_time
from beeledger.rules.stock_items import Unit, amount

CONTRACT_DAYS = 21
"""Contracts that begin within so many days are looked at; common practice, no source."""
PERMISSION_DAYS = 30
"""Permissions that end within so many days; common practice, no source."""
_FEW = 4


@dataclass(frozen=True, slots=True)
class Pressing:
    """One thing that cannot wait: ``grade`` is late, today or odd; ``place`` and ``what`` lead to it."""

    grade: str
    title: str
    why: str
    when_on: date | None
    place: str
    what: int | str | None = None


@dataclass(frozen=True, slots=True)
class Morning:
    """All that Today shows."""

    size: FarmSize
    sites: tuple[SiteDue, ...]
    pressing: tuple[Pressing, ...]
    places: tuple[tuple[int, str, int, int], ...]
    """Sites where nothing presses, for the map: id, name, easting, northing."""
    home: tuple[str, int, int] | None
    restricted: frozenset[int] = frozenset()
    """Sites under a restriction that holds now."""


def morning(session: Session, today: date, now: datetime) -> Morning:
    """Where to go and what cannot wait: a constant number of statements."""
    due = due_by_site(session, today)
    listed_ids = {one.site_id for one in due}
    quiet, home = [], None
    query = select(Site.id, Site.name, Site.kind, Site.easting_m, Site.northing_m).where(
        Site.closed_on.is_(None), Site.easting_m.is_not(None), Site.northing_m.is_not(None)
    )
    for number, name, kind, east, north in session.execute(query.order_by(Site.id)):
        if kind == "home" and home is None:
            home = (name, east or 0, north or 0)
        elif number not in listed_ids:
            quiet.append((number, name, east or 0, north or 0))
    held = frozenset(site for one in laid(session) if one.force.holds(now) for site in one.sites)
    waits = tuple(cannot_wait(session, today, now))
    return Morning(farm_size(session), tuple(due), waits, tuple(quiet), home, held)


def cannot_wait(session: Session, today: date, now: datetime) -> list[Pressing]:
    """What cannot wait, worst first."""
    off = farm_settings(session).due_settings.off
    found = [
        *_samples(session, today),
        *([] if "contract" in off else _contracts(session, today)),
        *_late_kinds(session, today),
        *_questions(session, today),
        *_permissions(session, today),
        *_stock(session, today),
        *_autumn_feed(session, today),
    ]
    order = ("late", "today", "odd")
    found.sort(key=lambda one: (order.index(one.grade), one.when_on or today))
    return [*_restrictions(session, now), *_spraying(session, now), *found]


def _restrictions(session: Session, now: datetime) -> list[Pressing]:
    """What is in force, whatever else presses: nothing leaves without a licence."""
    found = []
    for line in in_force(session, now):
        why = f"since {short(line.begins_on)}: {line.reason}; nothing leaves without a licence"
        what = line.site_id or line.first_site_id
        found.append(Pressing("late", f"Restricted: {line.where}", why, None, "sites", what))
    return found


def _spraying(session: Session, now: datetime) -> list[Pressing]:
    """Notices of spraying that are neither closed nor over, where hives of the farm are inside."""
    found = []
    for line in spray_running(session, now):
        reached = [one for one in line.sites if one.hives]
        if reached:
            hives = counted(sum(one.hives for one in reached), "hive")
            title = f"Spray notice: {listed([one.site for one in reached[:_FEW]])}"
            why = f"{line.substance or 'spraying'} within {kilometres(line.radius_m)} km, {hives} inside; ring {line.call}"
            found.append(Pressing("late", title, why, line.from_on, "sites", reached[0].site_id))
    return found


def _samples(session: Session, today: date) -> list[Pressing]:
    """Samples of which nothing has come back."""
    return [
        Pressing(
            "odd", f"No result of a sample, {line.site}",
            f"{line.what}, taken {counted((today - line.taken_on).days, 'day')} ago; ask the laboratory", None,
            "sites", line.site_id,
        )
        for line in waiting_samples(session, today)
    ]  # fmt: skip


def _contracts(session: Session, today: date) -> list[Pressing]:
    rows = [
        row
        for row in list_contracts(session, today, closed=False)
        if row.standing in (Standing.WAITING, Standing.ON_SITE)
        and row.short > 0
        and row.terms.on <= today + timedelta(days=CONTRACT_DAYS)
    ]
    return [_contract(row, today) for row in rows]


def _contract(row: ContractRow, today: date) -> Pressing:
    ready = "" if row.ready is None else f", {counted(row.ready, 'colony', 'colonies')} ready by strength"
    why = f"{row.terms.hives} promised, {row.here} on site{ready}"
    grade = "late" if row.terms.on <= today + timedelta(days=7) else "today"
    title = f"{row.name}: {counted(row.short, 'hive')} short"
    return Pressing(grade, title, why, row.terms.on, "pollination", row.id)


def _late_kinds(session: Session, today: date) -> list[Pressing]:
    """Strips past their day, sealed or open cells, and hives nobody has looked at, by site."""
    query = (
        select(Due.code, Site.id, Site.name, func.count(func.distinct(Due.colony_id)), func.min(Due.due_on))
        .join(Site, Site.id == Due.site_id)
        .where(Due.code.in_(("strips_out", "cells", "unseen", "not_found")), Due.due_on < today)
        .group_by(Due.code, Site.id, Site.name)
        .order_by(func.min(Due.due_on), Site.id)
    )
    said = {
        "strips_out": ("late", "Strips still in", "no supers for harvest until they are out"),
        "cells": ("late", "Queen cells with nothing done", "a swarm may be days away"),
        "not_found": ("late", "Not found", "by the record they stand there"),
        "unseen": ("odd", "No one has looked", "past the farm's longest time without a look"),
    }
    found = []
    for code, _site_id, name, hives, since in session.execute(query):
        grade, title, why = said[code]
        found.append(
            Pressing(
                grade,
                f"{title}, {name}",
                f"{counted(hives, 'colony', 'colonies')}; {why}",
                since,
                "rounds",
                name,
            )
        )
    return found


def _questions(session: Session, today: date) -> list[Pressing]:
    """What the office asked the crew and nobody has answered."""
    query = (
        select(Due.colony_id, HiveMark.mark, Site.name, Due.what, Due.due_on)
        .outerjoin(Site, Site.id == Due.site_id)
        .outerjoin(HiveMark, (HiveMark.colony_id == Due.colony_id) & HiveMark.until_on.is_(None))
        .where(Due.code == "question", Due.due_on <= today + timedelta(days=1))
        .order_by(Due.due_on, Due.id)
    )
    rows = session.execute(query).all()
    if not rows:
        return []
    if len(rows) == 1:
        colony_id, mark, site, what, on = rows[0]
        return [
            Pressing(
                "today",
                f"Hive {mark or 'without a number'}, {site or ''}: a question",
                what,
                on,
                "colonies",
                colony_id,
            )
        ]
    hives = listed(
        [row.mark or "no number" for row in rows[:_FEW]] + (["others"] if len(rows) > _FEW else [])
    )
    title = f"{len(rows)} questions for the crew"
    return [Pressing("today", title, f"hives {hives}", rows[0].due_on, "colonies", rows[0].colony_id)]


def _stock(session: Session, today: date) -> list[Pressing]:
    """Stock below what the next weeks need, and lots that have expired."""
    return [
        Pressing("late" if one.late else "today", one.title, one.why, one.when_on, "stock", one.item_id)
        if one.kind != MEDICINE
        else Pressing("odd", one.title, one.why, one.when_on, "medicines", one.item_id)
        for one in low_items(session, today)
    ]


def _autumn_feed(session: Session, today: date) -> list[Pressing]:
    """In the weeks of autumn feeding: sugar that the hives seen still need and that is not there."""
    if not is_feeding_time(today):
        return []
    need = feed_need(session, today)
    if need.sugar_g <= need.there_sugar_g:
        return []
    title = f"Autumn feed: {amount(need.sugar_g - need.there_sugar_g, Unit.GRAM)} of sugar short"
    why = (
        f"{need.short:,} of {counted(need.known, 'colony', 'colonies')} seen lately want "
        f"{amount(need.sugar_g, Unit.GRAM)}; {amount(need.there_sugar_g, Unit.GRAM)} there"
    )
    return [Pressing("today", title, why, None, "stock", None)]


def _permissions(session: Session, today: date) -> list[Pressing]:
    """Sites whose permission has ended or will soon while hives stand there."""
    standing = (
        select(func.count())
        .where(Placement.site_id == Site.id, Placement.until_at.is_(None))
        .correlate(Site)
        .scalar_subquery()
    )
    query = (
        select(Site.id, Site.name, Site.permission_until, standing)
        .where(Site.closed_on.is_(None), Site.permission_until <= today + timedelta(days=PERMISSION_DAYS))
        .order_by(Site.permission_until, Site.id)
    )
    found = []
    for number, name, until, hives in session.execute(query):
        if not hives or until is None:
            continue
        ended = until < today
        title = f"Permission {'ended' if ended else 'ends'}, {name}"
        why = f"{'since' if ended else 'on'} {long(until) if ended else short(until)}; {counted(hives, 'hive')} there"
        found.append(Pressing("late" if ended else "today", title, why, until, "sites", number))
    return found
