"""Papers hung on records and taken off again. The bytes are in keeping before (``database.papers``)."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import select

from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import tidy
from beeledger.database.audit import OpenAct
from beeledger.database.papers import TakenIn, there_of
from beeledger.model.attachments import HUNG_ON, Attachment
from beeledger.model.base import Base
from beeledger.queries.attachments import Record, record_words


@dataclass(frozen=True, slots=True)
class NewPaper:
    """A file in keeping, the record it is to hang on (its table and number), and a note."""

    file: TakenIn
    record: Record
    note: str = ""


def attach_file(act: OpenAct, new: NewPaper) -> str:
    """Hang a file on a record; ``act.result`` is the paper's id.

    Refused when the record bears the very file already, is not there, or the bytes are not in keeping.
    """
    table, number = new.record
    column = f"{table}_id"
    if column not in HUNG_ON or not _stands(act, table, number):
        raise Refused([_refusal("there is no such record to hang it on")])
    if not there_of(act.session, [new.file.sha256]):
        raise Refused([_refusal(f"{new.file.name} is not in keeping", "Add it again")])
    hung = getattr(Attachment, column)
    same = select(Attachment.name).where(hung == number, Attachment.sha256 == new.file.sha256)
    if (known := act.session.scalar(same)) is not None:
        raise Refused([_refusal(f"this very file hangs there already, as {known}")])
    row = Attachment(
        sha256=new.file.sha256, name=tidy(new.file.name), media_type=new.file.media_type,
        size_bytes=new.file.size_bytes, on=act.today, note=tidy(new.note) or None,
    )  # fmt: skip
    setattr(row, column, number)
    act.session.add(row)
    act.session.flush()
    act.result = row.id
    return f"Hung {row.name} on {record_words(act.session, new.record)}"


def detach_file(act: OpenAct, attachment_id: int) -> str:
    """Take a paper off its record. The file stays in keeping: this can be taken back."""
    row = act.session.get(Attachment, attachment_id)
    if row is None:
        raise Refused([_refusal("the paper has been taken off already")])
    column = next(name for name in HUNG_ON if getattr(row, name) is not None)
    words = record_words(act.session, (column.removesuffix("_id"), getattr(row, column)))
    act.session.delete(row)
    return f"Took {row.name} off {words}"


def _stands(act: OpenAct, table: str, number: int) -> bool:
    key = Base.metadata.tables[table].c.id
    return act.session.scalar(select(key).where(key == number)) is not None


def _refusal(what: str, mend: str = "") -> Finding:
    return Finding("paper", Grade.REFUSED, what, mend, Where(field="paper"))
