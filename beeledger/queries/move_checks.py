"""What is to be said about a move before it is written: the record's facts handed to the rules.

Not here: writing (``operations.moves``) and the log (``queries.moves``). The same answer serves the form
while it is typed and the act that posts it. A constant number of statements, however many hives.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta

from sqlalchemy import func, or_, select
from sqlalchemy.orm import Session

from beeledger.base import dates
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import counted
from beeledger.base.units import kilograms
from beeledger.model.colonies import HiveMark, Placement
from beeledger.model.contracts import Contract
from beeledger.model.moves import Move, MoveLine
from beeledger.model.parties import Vehicle
from beeledger.model.rounds import Round, RoundEntry
from beeledger.queries.hives import boxes_on
from beeledger.queries.move_facts import (
    NEW_LINE,
    MoveFacts,
    facts_of,
    from_sites_said,
    lines_of,
    spliced_chain,
)
from beeledger.queries.records.move_desk import LEFT_BEHIND, Carried, NewMove
from beeledger.queries.stopped import CODE as RESTRICTED
from beeledger.queries.stopped import stopped_move
from beeledger.rules.haulage import hive_weight_g
from beeledger.rules.journeys import contradicted
from beeledger.rules.moves import Left, MovedHive, PlannedMove, check_move, figures
from beeledger.rules.placements import Stay, stay_at


def finding_key(finding: Finding) -> str:
    """What accepts one finding and no other: its code and the hive it is about."""
    return f"{finding.code} {finding.where.record}".strip()


def check_new_move(
    session: Session, move: NewMove, zone: str, today: date, instead_of: int | None = None
) -> list[Finding]:
    """Everything to be said of a move as typed; whole-move findings first, then by hive.

    ``instead_of`` is a move already in the record that this one corrects.
    """
    return check_facts(session, facts_of(session, move, zone, instead_of), today)


def check_plan(facts: MoveFacts) -> list[Finding]:
    """What forbids even planning a move; where hives stand is asked when it is delivered."""
    return list(_shape(facts, date.max))


def check_facts(session: Session, facts: MoveFacts, today: date) -> list[Finding]:
    """The same from facts already gathered; ``facts.chains`` then holds each hive's chain with the trip in it."""
    findings = list(_shape(facts, today))
    if findings:
        return findings
    if not facts.move.licence.given:
        findings += [one.finding for one in stopped_move(session, facts)]
    findings += [*_by_rule(session, facts), *_vehicle(session, facts), *_contract(session, facts)]
    findings += [*_chains(session, facts), *_seen_later(session, facts)]
    return sorted(findings, key=lambda finding: bool(finding.where.record))


def _shape(facts: MoveFacts, today: date) -> Iterator[Finding]:
    """What must hold before the record can be asked."""
    move = facts.move
    if not any(hive.outcome != LEFT_BEHIND for hive in move.hives):
        yield _refused("move.empty", "No hive is in the list", "hives", "Type the numbers: 12-18, 21")
    for hive in move.hives:
        if hive.colony_id not in facts.hives:
            yield _refused("move.nobody", "There is no such colony", "hives")
    ways = {move.way(hive) for hive in move.hives}
    for end, name in enumerate(("from", "to")):
        if any(way[end] not in facts.sites for way in ways):
            yield _refused("move.site", "There is no such site", name)
    if move.on > today:
        yield _refused("move.future", f"{dates.long(move.on)} has not come yet", "on", "Look at the date")
    for minute, name in ((move.left_minute, "loaded"), (move.arrived_minute, "unloaded")):
        if not 0 <= minute < 24 * 60:
            yield _refused("move.minute", "There is no such time of day", name)
    if not facts.left_at < facts.arrived_at:
        yield _refused("move.backward", "Unloaded before loaded", "unloaded", "Look at the two times")


def _by_rule(session: Session, facts: MoveFacts) -> Iterator[Finding]:
    ways: dict[tuple[int, int], list[Carried]] = {}
    for hive in facts.move.hives:
        ways.setdefault(facts.move.way(hive), []).append(hive)
    standing = _standing(session, facts)
    for (origin, goal), hives in ways.items():
        start, end = facts.sites[origin], facts.sites[goal]
        if end.closed_on is not None and end.closed_on <= facts.move.on:
            what = f"{end.name} was given up on {dates.long(end.closed_on)}"
            yield Finding("move.closed", Grade.DOUBTFUL, what, "Look at the site", Where(field="to"))
        room = None if end.capacity is None else end.capacity - standing.get(goal, 0)
        planned = PlannedMove(
            facts.move.on, start.name, end.name, start.spot, end.spot, facts.left_at, facts.arrived_at,
            facts.zone, room, facts.move.exempt,
        )  # fmt: skip
        yield from check_move(planned, [_moved(facts, hive) for hive in hives if hive.outcome != LEFT_BEHIND])


def _moved(facts: MoveFacts, hive: Carried) -> MovedHive:
    known = facts.hives[hive.colony_id]
    here = stay_at(known.chain, facts.left_at)
    since = facts.move.on - timedelta(days=figures().forgets_days)
    left = [
        Left(facts.site(stay.site_id), facts.sites[stay.site_id].spot, stay.until_on)
        for stay in known.chain
        if stay.site_id is not None and stay.until_on is not None and since < stay.until_on <= facts.move.on
    ]
    site = None if here is None or here.site_id is None else facts.site(here.site_id)
    if here is None and known.founded_on <= facts.move.on:
        site = facts.site(facts.move.way(hive)[0])  # ended or founded that day: said by its own finding
    return MovedHive(known.mark, site, known.founded_on, known.ended_on, left)


def _standing(session: Session, facts: MoveFacts) -> dict[int, int]:
    """How many stand at the end of the day where hives come to, those of this move not counted."""
    goals = {facts.move.way(hive)[1] for hive in facts.move.hives}
    day = facts.move.arrival
    query = (
        select(Placement.site_id, func.count())
        .where(
            Placement.site_id.in_(goals),
            Placement.from_on <= day,
            or_(Placement.until_on.is_(None), Placement.until_on > day),
            Placement.colony_id.not_in(list(facts.hives)),
        )
        .group_by(Placement.site_id)
    )
    return {site_id: number for site_id, number in session.execute(query) if site_id is not None}


def _vehicle(session: Session, facts: MoveFacts) -> Iterator[Finding]:
    """More hives than places, more weight than payload, two trips at once: odd, for it was done."""
    move = facts.move
    if move.vehicle_id is None:
        return
    vehicle = session.get(Vehicle, move.vehicle_id)
    if vehicle is None:
        yield _refused("move.vehicle", "There is no such vehicle", "vehicle")
        return
    where = Where(field="vehicle")
    ids = [hive.colony_id for hive in move.hives if hive.outcome != LEFT_BEHIND]
    if len(ids) > vehicle.places:
        what = f"{counted(len(ids), 'hive')} for {counted(vehicle.places, 'place')} on {vehicle.name}"
        yield Finding("move.places", Grade.DOUBTFUL, what, "Share them over more trips", where)
    boxes = boxes_on(session, ids, move.on)
    grams = sum(hive_weight_g(each.brood_boxes, each.supers) for each in boxes.values())
    if vehicle.payload_g is not None and grams > vehicle.payload_g:
        what = (
            f"{counted(len(boxes), 'hive')} weigh at least about {kilograms(grams, 0)} kg with empty supers, "
            f"{vehicle.name} may carry {kilograms(vehicle.payload_g, 0)} kg"
        )
        yield Finding("move.payload", Grade.DOUBTFUL, what, "Share them over more trips", where)
    query = select(Move.left_at, Move.arrived_at).where(
        Move.vehicle_id == vehicle.id, Move.state != "planned", Move.left_at < facts.arrived_at,
        Move.arrived_at > facts.left_at, Move.id != (facts.instead_of or 0),
    )  # fmt: skip
    if session.execute(query).first():
        what = f"{vehicle.name} is on another move at that time"
        yield Finding("move.two-trips", Grade.DOUBTFUL, what, "Look at the times and the vehicle", where)


def _contract(session: Session, facts: MoveFacts) -> Iterator[Finding]:
    move = facts.move
    if move.contract_id is None:
        return
    contract = session.get(Contract, move.contract_id)
    if contract is None:
        yield _refused("move.contract", "There is no such contract", "contract")
    elif contract.site_id not in {site for hive in move.hives for site in move.way(hive)}:
        what = f"{contract.name} is for {facts.site(contract.site_id)}, and this move does not touch it"
        where = Where(field="contract")
        yield Finding("move.contract-site", Grade.DOUBTFUL, what, "Look at the contract", where)


def _chains(session: Session, facts: MoveFacts) -> Iterator[Finding]:
    """Whether the trip goes into each chain, and what the later moves then say."""
    for hive in facts.move.hives:
        mark = facts.hives[hive.colony_id].mark
        try:
            facts.chains[hive.colony_id] = spliced_chain(facts, hive, NEW_LINE)
        except ValueError as error:
            if facts.hives[hive.colony_id].founded_on <= facts.move.on:
                what = f"{mark}: {error}"
                yield _refused("move.chain", what, "hives", "Look at the day and the times", mark)
    chains = dict(facts.chains)
    if facts.instead_of is not None:
        gone = lines_of(session, facts.instead_of).keys() - chains.keys()
        chains |= {colony: list(facts.hives[colony].chain) for colony in gone}
    said = from_sites_said(session, chains.values())
    for colony, chain in chains.items():
        for line in contradicted(chain, said):
            yield _later(session, facts, colony, line, chain)


def _later(session: Session, facts: MoveFacts, colony: int, line_id: int, chain: Sequence[Stay]) -> Finding:
    line = session.get_one(MoveLine, line_id)
    day = session.get_one(Move, line.move_id).on
    now = contradicted(chain, {line_id: line.from_site_id})[line_id]
    mark = facts.hives[colony].mark if colony in facts.hives else _mark(session, colony)
    where = Where(field="hives", record=mark)
    what = f"The move of {dates.short(day)} took {mark} from {facts.site(line.from_site_id)}"
    if now == line.to_site_id:
        what = f"{what} to {facts.site(now)}, where it would stand already"
        return Finding("move.later-nowhere", Grade.REFUSED, what, "Take it out of that move first", where)
    what = f"{what}, and it would then have stood at {facts.site(now)}"
    return Finding("move.later", Grade.AGAINST, what, "Look at the number, or correct that move too", where)


def _mark(session: Session, colony: int) -> str:
    query = (
        select(HiveMark.mark).where(HiveMark.colony_id == colony).order_by(HiveMark.from_on.desc()).limit(1)
    )
    return session.scalar(query) or f"without a number ({colony})"


def _seen_later(session: Session, facts: MoveFacts) -> Iterator[Finding]:
    """Looked at somewhere else, after it came and before it went on."""
    arrived = facts.move.arrival
    query = (
        select(RoundEntry.colony_id, RoundEntry.on, Round.site_id)
        .join(Round, Round.id == RoundEntry.round_id)
        .where(RoundEntry.colony_id.in_(facts.chains), RoundEntry.on > arrived, RoundEntry.outcome != "not_found")
        .order_by(RoundEntry.colony_id, RoundEntry.on)
    )  # fmt: skip
    told = set()
    for colony, on, site_id in session.execute(query):
        stay = next((s for s in facts.chains[colony] if s.move_line_id == NEW_LINE and s.site_id), None)
        if stay is None or colony in told or site_id == stay.site_id:
            continue
        if stay.until_on is not None and on >= stay.until_on:
            continue
        told.add(colony)
        mark = facts.hives[colony].mark
        what = f"{mark} was looked at on {dates.short(on)} at {facts.site(site_id)}, after this move"
        where = Where(field="hives", record=mark)
        yield Finding("move.seen", Grade.AGAINST, what, "Look at the number, or let the round stand", where)


def _refused(code: str, what: str, field: str, mend: str = "", record: str = "") -> Finding:
    return Finding(code, Grade.REFUSED, what, mend, Where(field=field, record=record))


def accept_all(move: NewMove, findings: Iterable[Finding]) -> NewMove:
    """The move with everything accepted that only contradicts the record; a restriction only a licence answers."""
    keys = {finding_key(each) for each in findings if each.grade is Grade.AGAINST and each.code != RESTRICTED}
    return replace(move, accepted=move.accepted | keys)
