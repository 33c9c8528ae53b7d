"""Papers hung on records: photographs, contracts, receipts, notices. The row tells which; the bytes lie elsewhere."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from sqlalchemy import CheckConstraint, ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column

from beeledger.model.base import KEPT, STRICT, Base, Kept, at_least

HUNG_ON = (
    "site_id", "colony_id", "contract_id", "medicine_id", "dispatch_id", "restriction_id", "official_visit_id",
    "sample_id",
)  # fmt: skip
"""The records a paper may hang on; each paper hangs on one, and one file may hang on several."""

_ONE = " + ".join(f"CASE WHEN {column} IS NULL THEN 0 ELSE 1 END" for column in HUNG_ON)


class Attachment(Kept):
    """One file on one record, known by the hash of its bytes."""

    __tablename__ = "attachment"
    __table_args__ = (
        CheckConstraint(f"{_ONE} = 1", name="hangs_once"),
        CheckConstraint("length(sha256) = 64", name="sha256_length"),
        CheckConstraint("length(name) > 0", name="name_given"),
        at_least("size_bytes"),
        *(Index(f"uq_attachment_{column}_sha256", column, "sha256", unique=True) for column in HUNG_ON),
        KEPT,
    )

    sha256: Mapped[str] = mapped_column(index=True)
    name: Mapped[str]
    media_type: Mapped[str]
    size_bytes: Mapped[int]
    on: Mapped[date]
    note: Mapped[str | None]
    site_id: Mapped[int | None] = mapped_column(ForeignKey("site.id"))
    colony_id: Mapped[int | None] = mapped_column(ForeignKey("colony.id"))
    contract_id: Mapped[int | None] = mapped_column(ForeignKey("contract.id"))
    medicine_id: Mapped[int | None] = mapped_column(ForeignKey("medicine.id"))
    dispatch_id: Mapped[int | None] = mapped_column(ForeignKey("dispatch.id"))
    restriction_id: Mapped[int | None] = mapped_column(ForeignKey("restriction.id"))
    official_visit_id: Mapped[int | None] = mapped_column(ForeignKey("official_visit.id"))
    sample_id: Mapped[int | None] = mapped_column(ForeignKey("sample.id"))


class PaperBytes(Base):
    """The bytes of a file, where the ledger lies on a server: all desks reach them, and its dump holds them.

    Beside a SQLite ledger they lie in a folder instead, and this table stays empty. Never copied into History.
    """

    __tablename__ = "paper_bytes"
    __table_args__ = (CheckConstraint("length(sha256) = 64", name="sha256_length"), STRICT)
    audited: ClassVar[bool] = False

    sha256: Mapped[str] = mapped_column(primary_key=True)
    content: Mapped[bytes]
