"""The boxes of a hive counted on from day to day: what rounds put on and took off, from the last that was said whole.

A stack that no entry left says how the boxes stood and is not counted on from; one that an entry of the
hive itself left is the one before with what the entry put on and took off. Counting again from there gives
the same after an earlier round was put right and put back, which adding a difference to what stands does not:
no hive has fewer than no supers, and what is cut off there is lost.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.model.colonies import BoxStack
from beeledger.model.rounds import RoundEntry

END_OF_DAY = 2**62
"""Behind every row of a day."""


def count_on(session: Session, colony_ids: Iterable[int], on: date, row_id: int = END_OF_DAY) -> None:
    """Count the stacks of hives again that stand behind row ``row_id`` of the day ``on``."""
    query = (
        select(BoxStack, RoundEntry)
        .outerjoin(
            RoundEntry, (RoundEntry.id == BoxStack.entry_id) & (RoundEntry.colony_id == BoxStack.colony_id)
        )
        .where(BoxStack.colony_id.in_(list(colony_ids)))
        .order_by(BoxStack.colony_id, BoxStack.on, BoxStack.id)
    )
    before: BoxStack | None = None
    for row, entry in session.execute(query):
        if before is not None and before.colony_id != row.colony_id:
            before = None
        if (row.on, row.id) > (on, row_id) and entry is not None and before is not None:
            _carry(before, row, (entry.supers_on or 0) - (entry.supers_off or 0))
        before = row
    session.flush()


def _carry(before: BoxStack, row: BoxStack, more: int) -> None:
    wanted = {
        "supers": max(0, before.supers + more),
        "brood_boxes": before.brood_boxes,
        "hive_type": before.hive_type,
        "brood_frame": before.brood_frame,
        "brood_frames": before.brood_frames,
        "super_frames": before.super_frames,
        "excluder": before.excluder,
    }
    for name, value in wanted.items():
        if getattr(row, name) != value:
            setattr(row, name, value)
