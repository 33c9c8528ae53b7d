"""Papers: each file that a record bears is in keeping, byte for byte."""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.base.errors import CannotNow
from beeledger.base.findings import Finding
from beeledger.database.checking.breach import breach
from beeledger.database.papers import bytes_of, wanted
from beeledger.model.attachments import Attachment


def unchanged(session: Session) -> Iterator[Finding]:
    """Each attachment's file is there and unchanged."""
    for sha256 in wanted(session):
        try:
            bytes_of(session, sha256)
        except CannotNow as error:
            for row in session.scalars(
                select(Attachment).where(Attachment.sha256 == sha256).order_by(Attachment.id)
            ):
                yield breach(
                    "papers", error.sentence.rstrip("."), f"{row.name} (paper {row.id})", error.remedy
                )
