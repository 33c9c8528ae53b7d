"""The hives that stand behind takes of honey, each with its medicines and feeds of the year before."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from datetime import date, timedelta

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.base import dates
from beeledger.model.colonies import HiveMark, Placement
from beeledger.model.feeding import Feeding
from beeledger.model.honey import Take, TakeLine
from beeledger.model.medicines import Medicine, Treatment
from beeledger.model.sites import Site
from beeledger.queries.hives import stood_on
from beeledger.queries.records.recall import HiveBehind
from beeledger.rules.medicines import out_of_hive
from beeledger.rules.rounds.readback import FEEDS

YEAR = timedelta(days=365)
"""How far back of a take its treatments and feeds are told: one season. Common practice, no source."""
_FEEDS = {str(kind): words for kind, words in FEEDS.items()}


def hives_behind(session: Session, take_ids: list[int]) -> tuple[HiveBehind, ...]:
    """One line for each line of the takes: at most five statements. Supers of a whole site may be of any hive there."""
    rows = session.execute(
        select(TakeLine.colony_id, TakeLine.supers, TakeLine.reason, Take.on, Site.name, Take.id)
        .join(Take, Take.id == TakeLine.take_id)
        .join(Site, Site.id == Take.site_id)
        .where(Take.id.in_(take_ids))
        .order_by(Take.on, Take.id, TakeLine.id)
    ).all()
    stood = _stood(session, [row[5] for row in rows if row[0] is None])
    ids = {row[0] for row in rows if row[0] is not None} | {one for there in stood.values() for one in there}
    marks: dict[int | None, list[tuple[str, date, date | None]]] = defaultdict(list)
    for colony, mark, from_on, until_on in session.execute(
        select(HiveMark.colony_id, HiveMark.mark, HiveMark.from_on, HiveMark.until_on)
        .where(HiveMark.colony_id.in_(ids))
        .order_by(HiveMark.from_on)
    ):
        marks[colony].append((mark, from_on, until_on))
    treated, fed = _treated(session, ids), _fed(session, ids)
    return tuple(
        HiveBehind(
            site, on, _mark_on(marks[colony], on), supers, reason or "",
            *(_within_the_year(told, [colony] if colony is not None else stood[take], on) for told in (treated, fed)),
        )
        for colony, supers, reason, on, site, take in rows
    )  # fmt: skip


def _stood(session: Session, take_ids: list[int]) -> dict[int, list[int]]:
    """The colonies that stood where supers were taken of a whole site: any of them may be behind the honey."""
    query = (
        select(Take.id, Placement.colony_id)
        .join(Placement, Placement.site_id == Take.site_id)
        .where(Take.id.in_(take_ids), *stood_on(Take.on))
        .order_by(Take.id, Placement.colony_id)
        .distinct()
    )
    found: dict[int, list[int]] = {take: [] for take in take_ids}
    for take, colony in session.execute(query) if take_ids else ():
        found[take].append(colony)
    return found


def _within_the_year(
    told: Mapping[int | None, list[tuple[date, str]]], colonies: list[int], on: date
) -> tuple[str, ...]:
    words = (words for colony in colonies for day, words in told.get(colony, ()) if on - YEAR <= day <= on)
    return tuple(dict.fromkeys(words))


def _mark_on(marks: list[tuple[str, date, date | None]], day: date) -> str:
    return next((mark for mark, start, end in marks if start <= day and (end is None or day <= end)), "")


def _treated(session: Session, ids: set[int]) -> dict[int | None, list[tuple[date, str]]]:
    found: dict[int | None, list[tuple[date, str]]] = defaultdict(list)
    query = (
        select(
            Treatment.colony_id,
            Medicine.product,
            Medicine.active,
            Medicine.batch,
            Treatment.in_on,
            Treatment.out_on,
        )
        .join(Medicine, Medicine.id == Treatment.medicine_id)
        .where(Treatment.colony_id.in_(ids))
        .order_by(Treatment.in_on)
    )
    for colony, product, active, batch, in_on, taken_out in session.execute(query):
        out_on = out_of_hive(active, in_on, taken_out)
        pack = f", batch {batch}" if batch else ""
        when = dates.span(in_on, out_on) if out_on else f"from {dates.long(in_on)}"
        found[colony].append((in_on, f"{product}{pack}, {when}"))
    return found


def _fed(session: Session, ids: set[int]) -> dict[int | None, list[tuple[date, str]]]:
    found: dict[int | None, list[tuple[date, str]]] = defaultdict(list)
    query = (
        select(Feeding.colony_id, Feeding.on, Feeding.kind)
        .where(Feeding.colony_id.in_(ids))
        .order_by(Feeding.on)
    )
    for colony, on, kind in session.execute(query):
        found[colony].append((on, f"{_FEEDS.get(kind, kind)}, {dates.long(on)}"))
    return found
