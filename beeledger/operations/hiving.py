"""Nuclei hived up: the colony stays the same, its boxes change and it counts as full from then on."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from sqlalchemy import select

from beeledger.base import dates
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import counted
from beeledger.database.audit import OpenAct
from beeledger.model.colonies import BoxStack, Colony
from beeledger.operations.colonies import Boxes, marks_of, stack_row, usual_boxes


def hive_up(act: OpenAct, colony_ids: Sequence[int], on: date, boxes: Boxes | None = None) -> str:
    """Put nuclei into full hives on a day; ``boxes`` None: the farm's usual ones.

    Refused for a colony that is full already or has ended, and before it was founded or its boxes last changed.
    """
    rows = act.session.scalars(select(Colony).where(Colony.id.in_(colony_ids))).all()
    findings = _check(act, rows, colony_ids, on)
    if findings:
        raise Refused(findings)
    stack = boxes or usual_boxes(act)
    for row in rows:
        row.kind = "full"
    act.session.add_all(stack_row(row.id, on, stack) for row in rows)
    act.session.flush()
    return f"Hived up {counted(len(rows), 'nucleus', 'nuclei')}, {dates.long(on)}"


def _check(act: OpenAct, rows: Sequence[Colony], colony_ids: Sequence[int], on: date) -> list[Finding]:
    if len(rows) < len(set(colony_ids)) or not rows:
        return [_wrong("there is no such colony", "colony")]
    marks = marks_of(act, colony_ids)
    changed = act.session.execute(
        select(BoxStack.colony_id).where(BoxStack.colony_id.in_(colony_ids), BoxStack.on > on)
    )
    later = {row.colony_id for row in changed}
    findings = [] if on <= act.today else [_wrong(f"{dates.long(on)} has not come yet", "on")]
    for row in rows:
        name = f"hive {marks[row.id]}" if row.id in marks else "a hive without a number"
        problems = (
            (row.kind == "full", "kind", f"{name} is a full colony already"),
            (row.ended_on is not None, "colony", f"{name} has ended"),
            (row.founded_on > on, "on", f"{name} was not there yet on {dates.long(on)}"),
            (row.id in later, "on", f"the boxes of {name} changed after {dates.long(on)}"),
        )
        findings += [_wrong(what, field) for wrong, field, what in problems if wrong]
    return findings


def _wrong(what: str, field: str) -> Finding:
    return Finding("colony.hive-up", Grade.REFUSED, what, where=Where(field=field))
