"""Moves: a trip with hives posted as delivered, and an old one put right while later rounds stand.

What is said of a move beforehand stands in ``queries.move_checks``; where colonies stand is written only
through ``operations.placements``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from beeledger.base import dates
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import counted, shortened, tidy
from beeledger.database.audit import OpenAct
from beeledger.model.moves import MOVE_REASONS, Move, MoveLine
from beeledger.operations.colonies import revive
from beeledger.operations.placements import chains, rewrite, stay_of
from beeledger.queries.move_checks import check_new_move, finding_key
from beeledger.queries.move_facts import (
    MoveFacts,
    facts_of,
    from_sites_said,
    lines_of,
    spliced_chain,
)
from beeledger.queries.records.move_desk import LEFT_BEHIND, LOST, Carried, NewMove
from beeledger.rules.journeys import contradicted, without_trips
from beeledger.rules.placements import Stay


def post_move(act: OpenAct, move: NewMove) -> str:
    """Write a delivered trip, hive by hive, and bring each hive to where it went.

    ``act.result`` is the move's id. Refused for what cannot have been (moved before it was founded,
    unloaded before loaded, nobody in the list); what contradicts the record (stood elsewhere, recorded as
    ended, a later move or round says otherwise) is refused until its key is in ``move.accepted``, and
    then the record is corrected in the same act. Works for days long past: later moves stand.
    """
    _check(act, move, None)
    row = Move(state="delivered")
    _fill(act, row, move)
    act.session.add(row)
    act.session.flush()
    _bring(act, row, move, {})
    act.result = row.id
    return f"Moved {_words(act, move)}"


def correct_move(act: OpenAct, move_id: int, move: NewMove) -> str:
    """Write over a move in the record what the sheet really said: hives out of it or into it, other times.

    Each chain is spliced as if the old lines had never been; what follows is checked again. Hives that
    are taken out stand where they stood before the move.
    """
    row = act.session.get(Move, move_id)
    if row is None:
        raise Refused([_refusal("there is no such move", "move")])
    _check(act, move, move_id)
    old = lines_of(act.session, move_id)
    _fill(act, row, move)
    _bring(act, row, move, old)
    act.result = row.id
    return f"Corrected a move: {_words(act, move)}"


def _check(act: OpenAct, move: NewMove, instead_of: int | None) -> None:
    findings = check_new_move(act.session, move, act.clock.zone, act.today, instead_of)
    if move.reason not in MOVE_REASONS:
        findings.append(_refusal(f"{move.reason} is no reason for a move", "reason"))
    open_questions = [
        finding
        for finding in findings
        if finding.grade is Grade.REFUSED
        or (finding.grade is Grade.AGAINST and finding_key(finding) not in move.accepted)
    ]
    if open_questions:
        raise Refused(findings)


def _fill(act: OpenAct, row: Move, move: NewMove) -> None:
    facts = MoveFacts(move, act.clock.zone, {}, {})
    row.on, row.arrived_on = move.on, move.arrival
    row.left_at, row.arrived_at = facts.left_at, facts.arrived_at
    row.vehicle_id, row.contract_id, row.reason = move.vehicle_id, move.contract_id, move.reason
    row.driver, row.note = tidy(move.driver or "") or None, (move.note or "").strip() or None


def _bring(act: OpenAct, row: Move, move: NewMove, old: Mapping[int, int]) -> None:
    """Lines and chains of a move that was checked; ``old`` are the lines it had, by colony."""
    _revive(act, move)
    facts = facts_of(act.session, move, act.clock.zone, row.id if old else None)
    lines = _lines(act, row, move, old)
    wanted: dict[int, Sequence[Stay]] = {
        hive.colony_id: spliced_chain(facts, hive, lines[hive.colony_id].id) for hive in move.hives
    }
    gone = [colony_id for colony_id in old if colony_id not in wanted]
    for colony_id, rows in chains(act, gone).items():
        wanted[colony_id] = without_trips([stay_of(each) for each in rows], [old[colony_id]])
    rewrite(act, wanted)
    for colony_id in gone:
        act.session.delete(act.session.get_one(MoveLine, old[colony_id]))
    _correct_later(act, wanted.values())


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


def _revive(act: OpenAct, move: NewMove) -> None:
    """Hives recorded as ended that were carried all the same; accepted by then."""
    facts = facts_of(act.session, move, act.clock.zone)
    for hive in move.hives:
        known = facts.hives[hive.colony_id]
        if hive.outcome != LEFT_BEHIND and known.ended_on is not None and known.ended_on <= move.on:
            revive(act, hive.colony_id, known.mark)


def _correct_later(act: OpenAct, wanted: Iterable[Sequence[Stay]]) -> None:
    """Later moves left from where the colony now stood; accepted by then."""
    every = list(wanted)
    said = from_sites_said(act.session, every)
    for chain in every:
        for line_id, site_id in contradicted(chain, said).items():
            act.session.get_one(MoveLine, line_id).from_site_id = site_id
    act.session.flush()


def _words(act: OpenAct, move: NewMove) -> str:
    facts = facts_of(act.session, move, act.clock.zone)
    moved = [hive for hive in move.hives if hive.outcome != LEFT_BEHIND]
    starts, goals = ({move.way(hive)[end] for hive in moved} for end in (0, 1))
    start, goal = (
        facts.site(next(iter(sites))) if len(sites) == 1 else counted(len(sites), "site")
        for sites in (starts, goals)
    )
    lost = sum(hive.outcome == LOST for hive in moved)
    tail = f", {lost} lost" if lost else ""
    words = f"{counted(len(moved), 'hive')} from {start} to {goal}, {_day(act, move.on)}{tail}"
    return shortened(words, 200)


def _day(act: OpenAct, day: date) -> str:
    return dates.short(day) if day.year == act.today.year else dates.long(day)


def _refusal(what: str, field: str) -> Finding:
    return Finding(f"move.{field}", Grade.REFUSED, what, where=Where(field=field))
