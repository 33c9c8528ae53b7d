"""The whole check of a ledger: every line of ``database.checking``, and that what is due follows from the record.

What is due is derived by a rule that stands above the database, so its line stands here.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.base.dates import long
from beeledger.base.findings import Finding
from beeledger.database.checking.breach import breach
from beeledger.database.checking.check import Line, Report, check_ledger
from beeledger.database.ledger import Ledger
from beeledger.model.colonies import Colony
from beeledger.model.due import Due
from beeledger.operations.due import PORTION, due_rows

_COLUMNS = (Due.colony_id, Due.site_id, Due.code, Due.what, Due.why, Due.due_on, Due.minutes)
_NAMES = tuple(column.key for column in _COLUMNS)
_MEND = "Any act at that colony works it out again"


def check_whole(ledger: Ledger, progress: Callable[[int, int], None] | None = None) -> Report:
    """Prove every line over the whole ledger, in one consistent moment."""
    today = ledger.clock.today()
    line = Line("due", "what is due follows from the record", lambda session: due_follows(session, today))
    return check_ledger(ledger, progress, (line,))


def due_follows(session: Session, today: date) -> Iterator[Finding]:
    """What is due by the rule and not kept, and what is kept and not due by the rule."""
    kept: Counter[tuple[object, ...]] = Counter(tuple(row) for row in session.execute(select(*_COLUMNS)))
    living = session.scalars(select(Colony.id).where(Colony.ended_on.is_(None)).order_by(Colony.id)).all()
    wanted: Counter[tuple[object, ...]] = Counter()
    for start in range(0, len(living), PORTION):
        rows = due_rows(session, living[start : start + PORTION], today)
        wanted.update(tuple(row[name] for name in _NAMES) for row in rows)
    for row in (wanted - kept).elements():
        yield breach("due", f"{row[3]} is due on {_day(row)} and not on the list", f"colony {row[0]}", _MEND)
    for row in (kept - wanted).elements():
        yield breach("due", f"{row[3]} stands for {_day(row)} and is not due", f"colony {row[0]}", _MEND)


def _day(row: tuple[object, ...]) -> str:
    on = row[5]
    return long(on) if isinstance(on, date) else str(on)
