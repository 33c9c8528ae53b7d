"""Putting off what is due, with a note; tasks asked for at the desk, and done.

A putting off holds while the reason stands for the same day by the rule: the fact that answers it ends both.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from sqlalchemy import or_, select

from beeledger.base.dates import long, short
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import counted
from beeledger.database.audit import OpenAct
from beeledger.model.colonies import Colony
from beeledger.model.due import Due, PutOff, Task
from beeledger.operations.due import PORTION
from beeledger.queries.farm import farm_settings

MOST_DAYS = 366
"""Nothing is put off for longer; it can be switched off in the settings."""


@dataclass(frozen=True, slots=True)
class PuttingOff:
    """What is put off until when, why, and by whom: at some colonies, or at all of some sites.

    Without ``codes`` whatever presses there now; with them, reasons of these kinds before ``until``.
    """

    until: date
    note: str
    by_whom: str = ""
    colony_ids: tuple[int, ...] = ()
    site_ids: tuple[int, ...] = ()
    codes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class NewTask:
    """What a person asks for at some colonies, by a day."""

    what: str
    due_on: date
    colony_ids: tuple[int, ...]


def put_off_due(act: OpenAct, wanted: PuttingOff) -> str:
    """Put reasons off. Refused without a note, to a day that is past or over a year away, or where nothing is due."""
    findings = []
    if not wanted.note.strip():
        findings.append(_refusal("a putting off says why", "note"))
    if wanted.until <= act.today:
        findings.append(_refusal(f"{long(wanted.until)} is not to come", "until"))
    elif wanted.until > act.today + timedelta(days=MOST_DAYS):
        findings.append(_refusal("nothing is put off for over a year", "until", "Switch it off in Settings"))
    if findings:
        raise Refused(findings)
    keys = {(row.colony_id, row.code, row.first_on or row.due_on) for row in _reasons(act, wanted)}
    if not keys:
        raise Refused([_refusal(f"nothing is due there before {short(wanted.until)}", "until")])
    act.session.add_all(
        PutOff(
            colony_id=colony_id, code=code, first_on=first_on, until_on=wanted.until, on=act.today,
            by_whom=wanted.by_whom.strip(), note=wanted.note.strip(),
        )
        for colony_id, code, first_on in sorted(keys)
    )  # fmt: skip
    colonies = counted(len({key[0] for key in keys}), "colony", "colonies")
    return f"Put off to {short(wanted.until)}: {counted(len(keys), 'reason')} at {colonies}, {wanted.note.strip()}"


def ask_task(act: OpenAct, new: NewTask) -> str:
    """Ask for something to be done at colonies. Refused without words, colonies, or at one that ended."""
    findings = []
    if not new.what.strip():
        findings.append(_refusal("a task says what is to be done", "what"))
    living = _living(act, new.colony_ids)
    if not new.colony_ids or living != set(new.colony_ids):
        findings.append(_refusal("a task is for living colonies", "what"))
    if findings:
        raise Refused(findings)
    act.session.add_all(
        Task(what=new.what.strip(), due_on=new.due_on, colony_id=colony_id) for colony_id in new.colony_ids
    )
    colonies = counted(len(new.colony_ids), "colony", "colonies")
    return f"Asked for by {short(new.due_on)} at {colonies}: {new.what.strip()}"


def finish_task(act: OpenAct, colony_id: int, what: str) -> str:
    """Say that what was asked for at a colony is done. Refused where no such task is open."""
    query = select(Task).where(
        Task.colony_id == colony_id, Task.what == what, Task.entry_id.is_(None), Task.done_on.is_(None)
    )
    task = act.session.scalars(query.order_by(Task.due_on, Task.id)).first()
    if task is None:
        raise Refused([_refusal("no such task is open there", "what")])
    task.done_on = act.today
    return f"Done: {what}"


def _reasons(act: OpenAct, wanted: PuttingOff) -> Iterator[Due]:
    last = wanted.until - timedelta(days=1)
    if not wanted.codes:
        last = min(last, act.today + timedelta(days=farm_settings(act.session).due_settings.soon_days))
    for sites, colonies in _portions(wanted):
        query = select(Due).where(
            Due.due_on <= last, or_(Due.site_id.in_(sites), Due.colony_id.in_(colonies))
        )
        if wanted.codes:
            query = query.where(Due.code.in_(wanted.codes))
        yield from act.session.scalars(query)


def _portions(wanted: PuttingOff) -> Iterator[tuple[Sequence[int], Sequence[int]]]:
    """Databases have a limit on what a statement may name."""
    for start in range(0, max(len(wanted.site_ids), len(wanted.colony_ids)), PORTION):
        yield wanted.site_ids[start : start + PORTION], wanted.colony_ids[start : start + PORTION]


def _living(act: OpenAct, ids: Sequence[int]) -> set[int]:
    found: set[int] = set()
    for start in range(0, len(ids), PORTION):
        part = ids[start : start + PORTION]
        found |= set(
            act.session.scalars(select(Colony.id).where(Colony.id.in_(part), Colony.ended_on.is_(None)))
        )
    return found


def _refusal(what: str, field: str, mend: str = "") -> Finding:
    return Finding("due.put_off", Grade.REFUSED, what, mend, Where(field=field))
