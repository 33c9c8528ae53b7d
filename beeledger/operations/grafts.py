"""Grafts: larvae of one queen raised as queens, and the cells counted at each step.

The days that follow from biology are not written: ``rules.queens.graft_calendar`` reckons them.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.base import dates
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding
from beeledger.base.text import counted
from beeledger.database.audit import OpenAct
from beeledger.model.queens import GraftBatch
from beeledger.operations.queen_book import known_queen, queen_name
from beeledger.operations.queens import check_day, queen_refusal, refuse_if

STEPS = ("grafted", "taken", "sealed", "emerged", "mated")
"""The counts of a graft in the order in which they are made; none is greater than the one before."""


@dataclass(frozen=True, slots=True)
class NewGraft:
    """A graft as it is made: the queen whose larvae they are, how many, and the colony that finishes the cells."""

    on: date
    dam_id: int
    grafted: int | None = None
    finisher_id: int | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True)
class CellCounts:
    """How many were left at each step; None: not counted."""

    grafted: int | None = None
    taken: int | None = None
    sealed: int | None = None
    emerged: int | None = None
    mated: int | None = None


def post_graft(act: OpenAct, new: NewGraft) -> str:
    """Write a graft. ``act.result`` is its id."""
    dam = known_queen(act, new.dam_id)
    findings = []
    if new.on > act.today:
        findings.append(queen_refusal(f"{dates.long(new.on)} has not come yet", "on"))
    if dam.ended_on is not None and dam.ended_on < new.on:
        findings.append(queen_refusal(f"she had ended on {dates.long(dam.ended_on)}", "dam"))
    if dam.hatch_year is not None and new.on.year < dam.hatch_year:
        findings.append(queen_refusal(f"she hatched only in {dam.hatch_year}", "dam"))
    refuse_if([*findings, *count_findings(CellCounts(new.grafted))])
    if new.finisher_id is not None:
        check_day(act, new.finisher_id, new.on)
    row = GraftBatch(
        on=new.on, dam_id=new.dam_id, grafted=new.grafted, finisher_id=new.finisher_id, note=new.note
    )
    act.session.add(row)
    act.session.flush()
    act.result = row.id
    many = "" if new.grafted is None else f"{counted(new.grafted, 'larva', 'larvae')} "
    return f"Grafted {many}from {queen_name(act, dam)}, {dates.short(new.on)}"


def count_cells(act: OpenAct, batch_id: int, counts: CellCounts) -> str:
    """Write how many cells and queens a graft came to, in place of what was counted before."""
    row = act.session.get(GraftBatch, batch_id)
    if row is None:
        raise Refused([queen_refusal("there is no such graft", "graft")])
    refuse_if(count_findings(counts))
    for step in STEPS:
        setattr(row, step, getattr(counts, step))
    act.session.flush()
    act.result = batch_id
    last = [step for step in STEPS if getattr(counts, step) is not None]
    said = f": {getattr(counts, last[-1])} {last[-1]}" if last else ""
    return f"Counted the graft of {dates.short(row.on)}{said}"


def count_findings(counts: CellCounts) -> list[Finding]:
    """What cannot be true of the counts: none is negative, and none is greater than an earlier one."""
    found = []
    before: tuple[str, int] | None = None
    for step in STEPS:
        number = getattr(counts, step)
        if number is None:
            continue
        if number < (1 if step == "grafted" else 0):
            found.append(queen_refusal("a count starts at nought, a graft at one", step))
        elif before is not None and number > before[1]:
            found.append(queen_refusal(f"{number} {step}, but only {before[1]} {before[0]}", step))
        before = (step, number)
    return found
