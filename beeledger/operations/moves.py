"""Moves: a trip with hives posted as delivered, and an old one put right while later rounds stand.

What is said of a move beforehand stands in ``queries.move_checks``; where colonies stand is written only
through ``operations.placements``.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

from sqlalchemy import select

from beeledger.base import dates
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import counted, shortened, tidy
from beeledger.database.audit import OpenAct
from beeledger.model.moves import MOVE_REASONS, Move, MoveLine
from beeledger.operations.colonies import revive
from beeledger.operations.placements import chains, correct_departures, rewrite, stay_of
from beeledger.operations.restricting import forget_uses, open_stops, write_uses
from beeledger.queries.move_checks import check_facts, check_plan, finding_key
from beeledger.queries.move_facts import NEW_LINE, MoveFacts, facts_of, lines_of
from beeledger.queries.records.move_desk import LEFT_BEHIND, LOST, Carried, NewMove
from beeledger.queries.stopped import CODE as RESTRICTED
from beeledger.queries.stopped import stopped_move
from beeledger.rules.journeys import without_trips
from beeledger.rules.placements import Stay


def post_move(act: OpenAct, move: NewMove) -> str:
    """Write a delivered trip, hive by hive, and bring each hive to where it went.

    ``act.result`` is the move's id. Refused for what cannot have been (moved before it was founded,
    unloaded before loaded, nobody in the list); what contradicts the record (stood elsewhere, recorded as
    ended, a later move or round says otherwise) is refused until its key is in ``move.accepted``, and
    then the record is corrected in the same act. Works for days long past: later moves stand.
    """
    facts = _checked(act, move, None)
    row = Move(state="delivered")
    _fill(row, facts)
    act.session.add(row)
    act.session.flush()
    _bring(act, row, facts, {})
    act.result = row.id
    return f"Moved {_words(facts, act.today)}"


def plan_move(act: OpenAct, move: NewMove) -> str:
    """Write a trip still to come; ``act.result`` is its id. No hive stands elsewhere because of it."""
    facts = facts_of(act.session, move, act.clock.zone)
    findings = [*check_plan(facts), *_reason(move)]
    if not findings:
        findings += open_stops(stopped_move(act.session, facts), move.licence)
    if findings:
        raise Refused(findings)
    row = Move(state="planned")
    _fill(row, facts)
    act.session.add(row)
    act.session.flush()
    _lines(act, row, move, {})
    _licensed(act, row, facts)
    act.result = row.id
    return f"Planned: {_words(facts, act.today)}"


def deliver_move(act: OpenAct, move_id: int, move: NewMove) -> str:
    """A planned trip as it really went: checked and written as ``post_move`` does. Refused unless planned."""
    row = _planned(act, move_id)
    facts = _checked(act, move, move_id)
    row.state = "delivered"
    _fill(row, facts)
    _bring(act, row, facts, lines_of(act.session, move_id))
    act.result = row.id
    return f"Moved {_words(facts, act.today)}"


def drop_plan(act: OpenAct, move_id: int) -> str:
    """Take a planned trip out of the log. Refused for one that was delivered: that is taken back in History."""
    row = _planned(act, move_id)
    lines = act.session.scalars(select(MoveLine).where(MoveLine.move_id == move_id)).all()
    for line in lines:
        act.session.delete(line)
    forget_uses(act, move_id)
    act.session.flush()
    act.session.delete(row)
    return f"Dropped the plan of {dates.short(row.on)}: {counted(len(lines), 'hive')}"


def correct_move(act: OpenAct, move_id: int, move: NewMove) -> str:
    """Write over a move in the record what the sheet really said: hives out of it or into it, other times.

    Each chain is spliced as if the old lines had never been; what follows is checked again. Hives that
    are taken out stand where they stood before the move.
    """
    row = act.session.get(Move, move_id)
    if row is None or row.state == "planned":
        raise Refused([_refusal("there is no such move that was delivered", "move")])
    facts = _checked(act, move, move_id)
    old = lines_of(act.session, move_id)
    _fill(row, facts)
    _bring(act, row, facts, old)
    act.result = row.id
    return f"Corrected a move: {_words(facts, act.today)}"


def _checked(act: OpenAct, move: NewMove, instead_of: int | None) -> MoveFacts:
    """What the record knows of a move that may be written; hives recorded as ended live again by then."""
    facts = facts_of(act.session, move, act.clock.zone, instead_of)
    findings = [*check_facts(act.session, facts, act.today), *_reason(move)]
    open_questions = [
        finding
        for finding in findings
        if finding.grade is Grade.REFUSED
        or finding.code == RESTRICTED
        or (finding.grade is Grade.AGAINST and finding_key(finding) not in move.accepted)
    ]
    if open_questions:
        raise Refused(findings)
    for hive in move.hives:
        known = facts.hives[hive.colony_id]
        if hive.outcome != LEFT_BEHIND and known.ended_on is not None and known.ended_on <= move.on:
            revive(act, hive.colony_id, known.mark)
    return facts


def _planned(act: OpenAct, move_id: int) -> Move:
    row = act.session.get(Move, move_id)
    if row is None or row.state != "planned":
        raise Refused([_refusal("there is no such plan of a move", "move")])
    return row


def _reason(move: NewMove) -> list[Finding]:
    if move.reason in MOVE_REASONS:
        return []
    return [_refusal(f"{move.reason} is no reason for a move", "reason")]


def _fill(row: Move, facts: MoveFacts) -> None:
    move = facts.move
    row.on, row.arrived_on = move.on, move.arrival
    row.left_at, row.arrived_at = facts.left_at, facts.arrived_at
    row.vehicle_id, row.contract_id, row.reason = move.vehicle_id, move.contract_id, move.reason
    row.driver, row.note = tidy(move.driver or "") or None, (move.note or "").strip() or None


def _bring(act: OpenAct, row: Move, facts: MoveFacts, old: Mapping[int, int]) -> None:
    """Lines and chains of a move that was checked; ``old`` are the lines it had, by colony."""
    lines = _lines(act, row, facts.move, old)
    wanted: dict[int, Sequence[Stay]] = {
        colony_id: [
            replace(stay, move_line_id=lines[colony_id].id) if stay.move_line_id == NEW_LINE else stay
            for stay in chain
        ]
        for colony_id, chain in facts.chains.items()
    }
    gone = [colony_id for colony_id in old if colony_id not in wanted]
    for colony_id, rows in chains(act, gone).items():
        wanted[colony_id] = without_trips([stay_of(each) for each in rows], [old[colony_id]])
    rewrite(act, wanted)
    for colony_id in gone:
        act.session.delete(act.session.get_one(MoveLine, old[colony_id]))
    correct_departures(act, wanted.values())
    _licensed(act, row, facts)


def _licensed(act: OpenAct, row: Move, facts: MoveFacts) -> None:
    """Keep the licence under which the trip goes; of a trip written over, the one typed now."""
    forget_uses(act, row.id)
    write_uses(act, stopped_move(act.session, facts), facts.move.licence, move_id=row.id)


def _lines(act: OpenAct, row: Move, move: NewMove, old: Mapping[int, int]) -> dict[int, MoveLine]:
    kept = {colony_id: act.session.get_one(MoveLine, line_id) for colony_id, line_id in old.items()}
    lines = {}
    for hive in move.hives:
        line = kept.get(hive.colony_id) or MoveLine(move_id=row.id, colony_id=hive.colony_id)
        _fill_line(line, move, hive)
        lines[hive.colony_id] = line
    act.session.add_all(lines.values())
    act.session.flush()
    return lines


def _fill_line(line: MoveLine, move: NewMove, hive: Carried) -> None:
    line.from_site_id, goal = move.way(hive)
    line.to_site_id = None if hive.outcome in (LOST, LEFT_BEHIND) else goal
    line.from_set_down_id = hive.from_set_down_id
    line.to_set_down_id = hive.to_set_down_id if line.to_site_id is not None else None
    line.outcome, line.note = hive.outcome, (hive.note or "").strip() or None


def _words(facts: MoveFacts, today: date) -> str:
    move = facts.move
    moved = [hive for hive in move.hives if hive.outcome != LEFT_BEHIND]
    starts, goals = ({move.way(hive)[end] for hive in moved} for end in (0, 1))
    start, goal = (
        facts.site(next(iter(sites))) if len(sites) == 1 else counted(len(sites), "site")
        for sites in (starts, goals)
    )
    lost = sum(hive.outcome == LOST for hive in moved)
    tail = f", {lost} lost" if lost else ""
    day = dates.short(move.on) if move.on.year == today.year else dates.long(move.on)
    return shortened(f"{counted(len(moved), 'hive')} from {start} to {goal}, {day}{tail}", 200)


def _refusal(what: str, field: str) -> Finding:
    return Finding(f"move.{field}", Grade.REFUSED, what, where=Where(field=field))
