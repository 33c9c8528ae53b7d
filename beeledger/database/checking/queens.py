"""Each queen in one colony at a time. Two queens in one colony happen and are no breach."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby, pairwise

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.base.dates import long
from beeledger.base.findings import Finding
from beeledger.database.checking.breach import breach
from beeledger.model.queens import Tenure


def one_colony(session: Session) -> Iterator[Finding]:
    """The tenures of one queen do not overlap."""
    query = select(Tenure.queen_id, Tenure.from_on, Tenure.until_on, Tenure.id).order_by(
        Tenure.queen_id, Tenure.from_on
    )
    for queen, rows in groupby(session.execute(query), key=lambda row: row[0]):
        for (_, _, until, _), (_, start, _, number) in pairwise(list(rows)):
            if until is None or until > start:
                yield breach(
                    "one-colony", f"queen {queen} heads two colonies at {long(start)}", f"tenure {number}"
                )
