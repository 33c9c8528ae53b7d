"""The whole-farm search: one field for hives, sites, queens, lot marks, drums, contracts and growers."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import func, or_, select
from sqlalchemy.orm import Session

from beeledger.base.text import tidy
from beeledger.model.colonies import Colony, HiveMark, Placement
from beeledger.model.contracts import Contract
from beeledger.model.honey import Batch, HoneyLot
from beeledger.model.parties import Party
from beeledger.model.queens import Queen, Tenure
from beeledger.model.sites import Site


@dataclass(frozen=True, slots=True)
class Hit:
    """One thing found: its kind, id, name, where or what it is, and the place that shows it."""

    kind: str
    id: int
    name: str
    detail: str
    place: str


def find(session: Session, words: str, limit: int = 6, most: int = 14) -> list[Hit]:
    """What fits the words typed: numbers and codes by their beginning first, names by any part.

    At most ``limit`` of each kind and ``most`` in all, hives first; the same number of queries whatever
    is found.
    """
    text = tidy(words)
    if not text:
        return []
    groups = [
        _hits(session.execute(statement), kind, place) for statement, kind, place in _statements(text, limit)
    ]
    return shared_out(groups, most)


def shared_out(groups: Sequence[Sequence[Hit]], most: int) -> list[Hit]:
    """At most ``most`` hits: every kind has its turn before one kind has a second, and they stay in order."""
    taken = [0] * len(groups)
    while sum(taken) < most and any(count < len(group) for count, group in zip(taken, groups, strict=True)):
        for at, group in enumerate(groups):
            if taken[at] < len(group) and sum(taken) < most:
                taken[at] += 1
    return [hit for count, group in zip(taken, groups, strict=True) for hit in group[:count]]


def _hits(rows: Iterable[Any], kind: str, place: str) -> list[Hit]:
    return [Hit(kind, number, name, (detail or "").replace("_", " "), place) for number, name, detail in rows]


def _statements(text: str, limit: int) -> list[tuple[Any, str, str]]:
    safe = text.replace("\\", "\\\\").replace("%", r"\%").replace("_", r"\_")
    begins, holds = f"{safe}%", f"%{safe}%"
    hives = (
        select(Colony.id, HiveMark.mark, Site.name)
        .join(HiveMark, (HiveMark.colony_id == Colony.id) & HiveMark.until_on.is_(None))
        .outerjoin(Placement, (Placement.colony_id == Colony.id) & Placement.until_at.is_(None))
        .outerjoin(Site, Site.id == Placement.site_id)
        .where(HiveMark.mark.ilike(begins, escape="\\"), Colony.ended_on.is_(None))
        .order_by(func.length(HiveMark.mark), HiveMark.mark)
    )
    gone = (
        select(Colony.id, HiveMark.mark, Colony.end_cause)
        .join(HiveMark, HiveMark.colony_id == Colony.id)
        .where(HiveMark.mark == text, Colony.ended_on.is_not(None))
        .order_by(Colony.ended_on.desc())
    )
    sites = (
        select(Site.id, Site.name, Site.grid)
        .where(or_(Site.name.ilike(holds, escape="\\"), Site.code.ilike(begins, escape="\\")))
        .order_by(Site.name)
    )
    queens = (
        select(Queen.id, Queen.tag, HiveMark.mark)
        .outerjoin(Tenure, (Tenure.queen_id == Queen.id) & Tenure.until_on.is_(None))
        .outerjoin(HiveMark, (HiveMark.colony_id == Tenure.colony_id) & HiveMark.until_on.is_(None))
        .where(Queen.tag.ilike(begins, escape="\\"))
        .order_by(Queen.ended_on.is_not(None), Queen.tag)
    )
    batches = (
        select(Batch.id, Batch.lot_mark, Batch.product)
        .where(or_(Batch.lot_mark.ilike(holds, escape="\\"), Batch.product.ilike(begins, escape="\\")))
        .order_by(Batch.jarred_on.desc())
    )
    lots = (
        select(HoneyLot.id, HoneyLot.name, HoneyLot.honey_kind)
        .where(HoneyLot.name.ilike(holds, escape="\\"))
        .order_by(HoneyLot.opened_on.desc())
    )
    contracts = (
        select(Contract.id, Contract.name, Party.name)
        .join(Party, Party.id == Contract.grower_id)
        .where(or_(Contract.name.ilike(holds, escape="\\"), Party.name.ilike(holds, escape="\\")))
        .order_by(Contract.on_on.desc())
    )
    found: tuple[tuple[Any, str, str], ...] = (
        (hives, "hive", "colonies"), (sites, "site", "sites"), (queens, "queen", "queens"),
        (batches, "batch", "batches"), (lots, "lot", "harvest"), (contracts, "contract", "pollination"),
        (gone, "ended", "colonies"),
    )  # fmt: skip
    return [(statement.limit(limit), kind, place) for statement, kind, place in found]
