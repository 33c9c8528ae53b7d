"""What a restriction stops of a move, a take, a dispatch or a frame given: said before it is written.

Not here: what went against one already (``database.checking.restrictions``) and the restrictions as the desk
shows them (``queries.restrictions``). One statement where nothing was ever restricted.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import date

from sqlalchemy.orm import Session

from beeledger.base.dates import long
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import listed
from beeledger.database.restricted import Laid, laid, lots_from
from beeledger.queries.move_facts import MoveFacts
from beeledger.queries.records.move_desk import LEFT_BEHIND
from beeledger.queries.records.restrictions import Stopped
from beeledger.rules.placements import stay_at
from beeledger.rules.restrictions import Goes

CODE = "restriction.stopped"
"""The code that only a licence answers."""
MEND = "Leave it where it is, or type the licence. The notice and the inspector stand above this program"
_NOUNS = {
    Goes.HIVES: "hives", Goes.SUPERS: "supers", Goes.HONEY: "honey", Goes.COMB: "combs", Goes.BEES: "bees",
}  # fmt: skip


def stopped_move(session: Session, facts: MoveFacts) -> list[Stopped]:
    """What stops a trip: out of the sites that its hives are said to leave, or stand at by the record."""
    move, left_at, arrived_at = facts.move, facts.left_at, facts.arrived_at
    going = [hive for hive in move.hives if hive.outcome != LEFT_BEHIND]
    ways = {move.way(hive) for hive in going}
    known = [facts.hives[hive.colony_id] for hive in going if hive.colony_id in facts.hives]
    stands = [stay_at(hive.chain, left_at) for hive in known]
    out_of = {start for start, _ in ways} | {stay.site_id for stay in stands if stay is not None}
    found = []
    for one in laid(session):
        if not one.stops.stops(Goes.HIVES):
            continue
        if one.cover.vehicle_id is not None:
            if one.cover.vehicle_id == move.vehicle_id and one.force.touches(left_at, arrived_at):
                found.append(_stopped(one, f"{one.vehicle} may carry no hives", "hives on " + one.vehicle))
            continue
        if one.force.holds(left_at):
            found += _sites(one, out_of, Goes.HIVES, "out of")
        if one.stops.inward and one.force.holds(arrived_at):
            found += _sites(one, {goal for _, goal in ways}, Goes.HIVES, "into")
    return found


def stopped_take(session: Session, site_id: int, on: date) -> list[Stopped]:
    """What stops supers taken at a site on a day."""
    return supers_by(laid(session), site_id, on)


def supers_by(ones: Iterable[Laid], site_id: int, on: date) -> list[Stopped]:
    """The same of restrictions already read."""
    return [
        stopped
        for one in ones
        if one.stops.stops(Goes.SUPERS) and one.force.may_hold(on)
        for stopped in _sites(one, {site_id}, Goes.SUPERS, "out of")
    ]


def stopped_honey(session: Session, lot_ids: Collection[int], on: date) -> list[Stopped]:
    """What stops honey of these lots from going out: it was taken at a site after the notification for it."""
    found = []
    for one in laid(session):
        if not (one.stops.stops(Goes.HONEY) and one.force.may_hold(on) and one.sites):
            continue
        if lots_from(session, one.sites.keys(), one.force.begins_on) & set(lot_ids):
            found += _sites(one, one.sites.keys(), Goes.HONEY, "of")
    return found


def between_by(
    ones: Iterable[Laid], what: Goes, start: int | None, goal: int | None, on: date
) -> list[Stopped]:
    """What stops bees, combs or a hive that goes from one site to another; within a site nothing does."""
    found: list[Stopped] = []
    for one in ones if start != goal else ():
        if one.force.may_hold(on) and one.stops.stops(what):
            found += _sites(one, {start}, what, "out of")
            found += _sites(one, {goal} if one.stops.inward else (), what, "into")
    return found


def _sites(one: Laid, site_ids: Collection[int | None], what: Goes, way: str) -> list[Stopped]:
    names = sorted(name for site_id, name in one.sites.items() if site_id in site_ids)
    if not names:
        return []
    where = listed(names) if len(names) <= 3 else f"{len(names)} sites"
    return [_stopped(one, f"no {_NOUNS[what]} {way} {where}", f"{_NOUNS[what]} {way} {where}")]


def _stopped(one: Laid, said: str, what: str) -> Stopped:
    text = f"Restricted since {long(one.force.begins_on)} ({one.reason}): {said}"
    return Stopped(one.id, what, Finding(CODE, Grade.AGAINST, text, MEND, Where(field="licence")))
