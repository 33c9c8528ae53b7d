"""The papers that hang on a record."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.database.papers import there_of
from beeledger.model.attachments import Attachment
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
    sha256: str
    name: str
    size_bytes: int
    on: date
    note: str
    there: bool


def papers_of(session: Session, record: Record) -> tuple[Paper, ...]:
    """The papers of a record, newest first."""
    table, number = record
    query = (
        select(Attachment)
        .where(getattr(Attachment, f"{table}_id") == number)
        .order_by(Attachment.on.desc(), Attachment.id.desc())
    )
    rows = session.scalars(query).all()
    there = there_of(session, [row.sha256 for row in rows])
    return tuple(
        Paper(row.id, row.sha256, row.name, row.size_bytes, row.on, row.note or "", row.sha256 in there)
        for row in rows
    )


def record_words(session: Session, record: Record) -> str:
    """What a sentence of History calls a record: its name, or what it is with its number."""
    name = names_of(session, [record]).get(record, "")
    kind = _WORDS[record[0]]
    if record[0] == "colony" and name:
        return f"{kind} {name}"
    return name or f"{kind} {record[1]}"
