"""The way of honey: what stands behind a lot, where a lot went, and a lot mark's way back to its hives.

The part of the graph that a question needs is read by one walk inside the database, then reckoned by
``rules.trace``; the number of statements does not grow with the honey.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import or_, select
from sqlalchemy.orm import InstrumentedAttribute, Session

from beeledger.base.text import counted, listed
from beeledger.base.units import share_out
from beeledger.model.honey import Batch, HoneyLot, HoneyTransfer, Take
from beeledger.model.parties import Party
from beeledger.model.sites import Site
from beeledger.queries.hives_behind import hives_behind
from beeledger.queries.records.batch_record import Source
from beeledger.queries.records.recall import HiveBehind
from beeledger.rules import trace
from beeledger.rules.lot_marks import read_mark

WHOLE = 10_000


@dataclass(frozen=True, slots=True)
class LotName:
    """A lot as the way of honey names it."""

    id: int
    kind: str
    name: str
    opened_on: date
    country: str
    honey_kind: str
    take_id: int | None
    supplier_lot: str | None
    hold: str | None
    tare_g: int | None = None


@dataclass(frozen=True, slots=True)
class Ancestry:
    """Everything that flowed into a lot, however far back."""

    target: int
    lots: Mapping[int, LotName]
    flows: tuple[trace.Transfer[int], ...]
    weighed: Mapping[int, int]
    """Grams that began in a lot: on a scale, bought, or there before the record."""

    def parts(self, grams: int | None = None) -> tuple[trace.Part[int], ...]:
        """The origins with their grams, largest first."""
        return trace.contributions(self.target, self.flows, self.weighed, grams)

    def came_g(self, lot_id: int) -> int:
        """All that ever came into a lot."""
        return self.weighed.get(lot_id, 0) + sum(flow.grams for flow in self.flows if flow.target == lot_id)

    def sources_of(self, lot_id: int) -> dict[int, int]:
        """The lots that flowed straight into one, with their grams."""
        found: dict[int, int] = defaultdict(int)
        for flow in self.flows:
            if flow.target == lot_id:
                found[flow.source] += flow.grams
        return dict(found)


@dataclass(frozen=True, slots=True)
class Origin:
    """Where some honey began: a take's supers at a site, or a lot bought in or there before."""

    lot_id: int
    name: str
    site_id: int | None
    site: str
    taken_on: date | None
    country: str


@dataclass(frozen=True, slots=True)
class Onward:
    """Where honey of a lot went: a later lot, or out of the farm."""

    name: str
    kind: str
    grams: int
    """Of the lot asked about, rounded down to the gram."""
    on: date | None = None
    party: str = ""
    batch_id: int | None = None
    jars: int | None = None


@dataclass(frozen=True, slots=True)
class WayBack:
    """A lot mark's way back."""

    batch_id: int
    lot_mark: str
    product: str
    jars: int
    sources: tuple[Source, ...]
    hives: tuple[HiveBehind, ...]


def ancestry(session: Session, lot_id: int) -> Ancestry:
    """What flowed into a lot: two statements, however long the chain."""
    behind = _walk(lot_id, HoneyTransfer.to_lot_id, HoneyTransfer.from_lot_id)
    rows = session.execute(
        select(HoneyTransfer.from_lot_id, HoneyTransfer.to_lot_id, HoneyTransfer.grams)
        .where(HoneyTransfer.to_lot_id.in_(select(behind.c.id)))
        .order_by(HoneyTransfer.id)
    ).all()
    weighed: dict[int, int] = defaultdict(int)
    flows = []
    for source, target, grams in rows:
        if target is None:
            continue
        if source is None:
            weighed[target] += grams
        else:
            flows.append(trace.Transfer(source, target, grams))
    columns: tuple[InstrumentedAttribute[Any], ...] = (
        HoneyLot.id, HoneyLot.kind, HoneyLot.name, HoneyLot.opened_on, HoneyLot.country, HoneyLot.honey_kind,
        HoneyLot.take_id, HoneyLot.supplier_lot, HoneyLot.hold, HoneyLot.tare_g,
    )  # fmt: skip
    found = session.execute(select(*columns).where(HoneyLot.id.in_(select(behind.c.id))))
    lots = {row.id: LotName(*row) for row in found.all()}
    return Ancestry(lot_id, lots, tuple(flows), dict(weighed))


def origins_of(session: Session, known: Ancestry) -> dict[int, Origin]:
    """The lots in which the honey began, with their sites: one statement."""
    rows = session.execute(
        select(Take.id, Take.on, Site.id, Site.name)
        .join(Site, Site.id == Take.site_id)
        .where(Take.id.in_([lot.take_id for lot in known.lots.values() if lot.take_id is not None]))
    ).all()
    takes = {row[0]: row for row in rows}
    found = {}
    for lot_id in known.weighed:
        lot = known.lots[lot_id]
        if lot.take_id in takes:
            _, on, site_id, site = takes[lot.take_id]
            found[lot_id] = Origin(lot_id, lot.name, site_id, site, on, lot.country)
        else:
            name = f"{lot.name}, seller's lot {lot.supplier_lot}" if lot.supplier_lot else lot.name
            found[lot_id] = Origin(lot_id, name, None, name, None, lot.country)
    return found


def sources(
    known: Ancestry,
    origins: Mapping[int, Origin],
    grams: int | None = None,
    moisture: Mapping[int, int] | None = None,
) -> tuple[Source, ...]:
    """The sources of a lot by site, largest first; grams and shares sum to the whole.

    ``grams``: of how much of it; all that came when None. ``moisture``: of the drums, hundredths by lot.
    """
    groups: dict[tuple[int | None, str], list[trace.Part[int]]] = defaultdict(list)
    parts = known.parts(grams)
    for part in parts:
        origin = origins[part.origin]
        groups[(origin.site_id, origin.site)].append(part)
    whole = sum(part.grams for part in parts)
    ranked = sorted(groups.items(), key=lambda item: -sum(part.grams for part in item[1]))
    sums = [sum(part.grams for part in each) for _, each in ranked]
    shares = share_out(WHOLE, sums) if whole else [0] * len(sums)
    return tuple(
        _source(known, origins, [part.origin for part in each], total, share, moisture or {})
        for (_, each), total, share in zip(ranked, sums, shares, strict=True)
    )


def country_shares(known: Ancestry, origins: Mapping[int, Origin]) -> dict[str, int]:
    """The share of each country of harvest, hundredths of a per cent that sum to the whole."""
    grams: dict[str, int] = defaultdict(int)
    for part in known.parts():
        grams[origins[part.origin].country] += part.grams
    names = sorted(grams, key=lambda name: -grams[name])
    if not sum(grams.values()):
        return dict.fromkeys(names, 0)
    return dict(zip(names, share_out(WHOLE, [grams[name] for name in names]), strict=True))


def forward(session: Session, lot_id: int) -> tuple[Onward, ...]:
    """Where honey of a lot went: later lots, jars, and out of the farm; four statements."""
    ahead = _walk(lot_id, HoneyTransfer.from_lot_id, HoneyTransfer.to_lot_id)
    reached = select(ahead.c.id)
    rows = session.execute(
        select(
            HoneyTransfer.id, HoneyTransfer.from_lot_id, HoneyTransfer.to_lot_id, HoneyTransfer.grams,
            HoneyTransfer.sink, HoneyTransfer.on, Party.name,
        )
        .outerjoin(Party, Party.id == HoneyTransfer.party_id)
        .where(or_(HoneyTransfer.from_lot_id.in_(reached), HoneyTransfer.to_lot_id.in_(reached)))
        .order_by(HoneyTransfer.id)
    ).all()  # fmt: skip
    lots = {row.id: row for row in session.execute(
        select(HoneyLot.id, HoneyLot.name, HoneyLot.kind, HoneyLot.opened_on).where(HoneyLot.id.in_(reached))
    )}  # fmt: skip
    jarred = session.execute(select(Batch.lot_id, Batch.id, Batch.jars).where(Batch.lot_id.in_(reached)))
    batches = {row[0]: (row[1], row[2]) for row in jarred}
    flows, out = _flows(rows)
    grams = {reach.lot: int(reach.exact_g) for reach in trace.onward(("lot", lot_id), flows)}
    found = [
        Onward(
            lots[number].name, lots[number].kind, grams[kind, number], lots[number].opened_on, "",
            *batches.get(number, (None, None)),
        )
        for kind, number in grams
        if kind == "lot" and number in lots
    ]  # fmt: skip
    found += [
        Onward(row.sink, "out", grams["sink", row.id], row.on, row.name or "")
        for row in out
        if ("sink", row.id) in grams
    ]
    return tuple(found)


def way_back(session: Session, lot_mark: str) -> WayBack | None:
    """From a lot mark, as typed or read out, to its sites, hives, treatments and feeds.

    None when no batch has it. ValueError with a sentence when it cannot be a mark.
    """
    mark = str(read_mark(lot_mark))
    batch = session.execute(
        select(Batch.id, Batch.lot_id, Batch.lot_mark, Batch.product, Batch.jars).where(
            Batch.lot_mark == mark
        )
    ).first()
    if batch is None:
        return None
    known = ancestry(session, batch.lot_id)
    origins = origins_of(session, known)
    takes = [lot.take_id for lot in known.lots.values() if lot.take_id is not None]
    hives = hives_behind(session, takes)
    return WayBack(batch.id, batch.lot_mark, batch.product, batch.jars, sources(known, origins), hives)


def reached_from(lot_id: int) -> Any:
    """The lots that share honey with one: all that its sources flowed into. A query for ``in_``."""
    behind = _walk(lot_id, HoneyTransfer.to_lot_id, HoneyTransfer.from_lot_id)
    shared = select(behind.c.id).cte("shared", recursive=True)
    step = (
        select(HoneyTransfer.to_lot_id)
        .join(shared, HoneyTransfer.from_lot_id == shared.c.id)
        .where(HoneyTransfer.to_lot_id.is_not(None))
    )
    return select(shared.union(step).c.id)


def _walk(start: int, here: InstrumentedAttribute[Any], there: InstrumentedAttribute[Any]) -> Any:
    """The lots reached from one, itself among them, as a recursive query; a ring ends by UNION."""
    walk = select(HoneyLot.id.label("id")).where(HoneyLot.id == start).cte("walk", recursive=True)
    step = select(there).join(walk, here == walk.c.id).where(there.is_not(None))
    return walk.union(step)


def _flows(rows: Any) -> tuple[list[trace.Transfer[tuple[str, int]]], list[Any]]:
    """Transfers with sinks and beginnings as lots of their own, so that each lot's content is whole."""
    flows, out = [], []
    for row in rows:
        source = ("from", row.id) if row.from_lot_id is None else ("lot", row.from_lot_id)
        target = ("sink", row.id) if row.to_lot_id is None else ("lot", row.to_lot_id)
        flows.append(trace.Transfer(source, target, row.grams))
        if row.to_lot_id is None:
            out.append(row)
    return flows, out


def _source(
    known: Ancestry, origins: Mapping[int, Origin], lots: list[int], grams: int, share: int, moisture: Mapping[int, int]
) -> Source:  # fmt: skip
    first = origins[lots[0]]
    days = {day for lot in lots if (day := origins[lot].taken_on)}
    drums = _through(known, lots)
    through = _together([known.lots[drum].name for drum in drums])
    read = {moisture[drum] for drum in drums if drum in moisture}
    return Source(
        first.site, grams, share, through, max(days, default=None), first.country,
        read.pop() if len(read) == 1 and all(drum in moisture for drum in drums) else None,
    )  # fmt: skip


def _together(names: list[str]) -> str:
    """Names in few words: "drums 104 and 105"; only how many, from the fourth on."""
    if len(names) > 3:
        return counted(len(names), "drum")
    numbers = [name.removeprefix("drum ") for name in names]
    if len(names) > 1 and all(number.isdigit() for number in numbers):
        return f"drums {listed(numbers)}"
    return listed(names)


def _through(known: Ancestry, origins: list[int]) -> list[int]:
    """The drums that honey of these origins was extracted into, where it was; in the order of their names."""
    found = {
        flow.target
        for flow in known.flows
        if flow.source in origins and known.lots[flow.target].kind in ("drum", "bucket")
    }
    return sorted(found, key=lambda lot: known.lots[lot].name)
