"""The papers that hang on a record."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from beeledger.database.papers import there_of
from beeledger.model.attachments import HUNG_ON, Attachment
from beeledger.queries.row_names import names_of

Record = tuple[str, int]
"""What papers hang on: the table of a record and its number in it."""
_WORDS = {
    "site": "site", "colony": "hive", "contract": "contract", "medicine": "medicine", "dispatch": "dispatch",
    "restriction": "restriction", "official_visit": "official visit", "sample": "sample",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Paper:
    """A file on a record: what it is called, when it was hung, and whether its bytes are still there."""

    id: int
    record: Record
    sha256: str
    name: str
    size_bytes: int
    on: date
    note: str
    there: bool


def papers_of(session: Session, records: Sequence[Record]) -> tuple[Paper, ...]:
    """The papers of these records, newest first: two queries at most, however many hang there."""
    hung = [getattr(Attachment, f"{table}_id") == number for table, number in records]
    if not hung:
        return ()
    query = select(Attachment).where(or_(*hung)).order_by(Attachment.on.desc(), Attachment.id.desc())
    rows = session.scalars(query).all()
    there = there_of(session, [row.sha256 for row in rows])
    return tuple(_paper(row, there=row.sha256 in there) for row in rows)


def _paper(row: Attachment, *, there: bool) -> Paper:
    column = next(name for name in HUNG_ON if getattr(row, name) is not None)
    record = column.removesuffix("_id"), int(getattr(row, column))
    return Paper(row.id, record, row.sha256, row.name, row.size_bytes, row.on, row.note or "", there)


def record_words(session: Session, record: Record) -> str:
    """What a sentence of History calls a record: its name, or what it is with its number."""
    name = names_of(session, [record]).get(record, "")
    kind = _WORDS[record[0]]
    if record[0] == "colony" and name:
        return f"{kind} {name}"
    return name or f"{kind} {record[1]}"
