"""Numbers that were swapped: what rounds wrote of the one hive since then belongs to the other."""

from __future__ import annotations

from datetime import date
from typing import Any

from sqlalchemy import select

from beeledger.base import dates
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import tidy
from beeledger.database.audit import OpenAct
from beeledger.model.colonies import BoxStack, ColonyTransfer, HiveMark
from beeledger.model.due import Task
from beeledger.model.feeding import Feeding
from beeledger.model.honey import TakeLine
from beeledger.model.medicines import MiteCount, Treatment
from beeledger.model.queens import Tenure
from beeledger.model.rounds import RoundEntry
from beeledger.operations.box_counts import count_on
from beeledger.operations.colonies import number_in
from beeledger.operations.still_true import still_true

_FOLLOWS: tuple[tuple[Any, Any], ...] = (
    (Feeding, Feeding.entry_id),
    (MiteCount, MiteCount.entry_id),
    (Treatment, Treatment.in_entry_id),
    (TakeLine, TakeLine.entry_id),
    (Task, Task.entry_id),
    (Tenure, Tenure.entry_id),
    (BoxStack, BoxStack.entry_id),
)
"""What an entry leaves that goes with its colony."""


def swap_marks(act: OpenAct, mark: str, other: str, since: date) -> str:
    """Write that two hives carry each other's number since a day.

    The numbers change places from that day on, and all that rounds wrote under either number since then
    goes to the colony it was seen at. Refused when a number is on no living hive or younger than the day.
    """
    if since > act.today:
        raise Refused([_refusal(f"{dates.long(since)} has not come yet")])
    first, second = (_carrier(act, text, since) for text in (mark, other))
    if first.id == second.id:
        raise Refused([_refusal(f"hive {first.mark} cannot be swapped with itself")])
    with still_true(act.session, {first.colony_id, second.colony_id}):
        _swap(act, first, second, since)
    return f"Swapped the numbers {first.mark} and {second.mark} since {dates.long(since)}"


def _swap(act: OpenAct, first: HiveMark, second: HiveMark, since: date) -> None:
    for row in (first, second):
        row.until_on = since
    act.session.flush()
    act.session.add_all(
        HiveMark(mark=text, number=number_in(text), colony_id=colony_id, from_on=since)
        for text, colony_id in ((first.mark, second.colony_id), (second.mark, first.colony_id))
    )
    act.session.flush()
    _exchange(act, first.colony_id, second.colony_id, since)


def _carrier(act: OpenAct, mark: str, since: date) -> HiveMark:
    query = select(HiveMark).where(HiveMark.mark == tidy(mark), HiveMark.until_on.is_(None))
    row = act.session.scalars(query).first()
    if row is None:
        raise Refused([_refusal(f"no living hive has the number {tidy(mark)}")])
    if row.from_on > since:
        raise Refused([_refusal(f"hive {row.mark} has its number only since {dates.long(row.from_on)}")])
    return row


def _exchange(act: OpenAct, first: int, second: int, since: date) -> None:
    other = {first: second, second: first}
    entries = act.session.scalars(
        select(RoundEntry).where(RoundEntry.colony_id.in_(other), RoundEntry.on >= since)
    ).all()
    ids = [entry.id for entry in entries]
    for model, column in _FOLLOWS:
        for row in act.session.scalars(select(model).where(column.in_(ids))):
            row.colony_id = other.get(row.colony_id, row.colony_id)
    for transfer in act.session.scalars(select(ColonyTransfer).where(ColonyTransfer.entry_id.in_(ids))):
        transfer.from_colony_id = other.get(transfer.from_colony_id, transfer.from_colony_id)
        transfer.to_colony_id = other.get(transfer.to_colony_id, transfer.to_colony_id)
    for entry in entries:
        entry.colony_id = other[entry.colony_id]
    act.session.flush()
    count_on(act.session, other, since, 0)


def _refusal(what: str) -> Finding:
    return Finding("colony.swap", Grade.REFUSED, what, where=Where(field="mark"))
