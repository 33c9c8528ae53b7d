"""Medicines, their courses in colonies, and mite counts."""

from __future__ import annotations

from datetime import date

from sqlalchemy import CheckConstraint, ForeignKey, Index, text
from sqlalchemy.orm import Mapped, mapped_column

from beeledger.model.base import KEPT, Kept, at_least, one_of

MITE_METHODS = ("wash", "roll", "drop")


class Medicine(Kept):
    """A pack of medicine as bought: what the medicines law asks to be recorded of it."""

    __tablename__ = "medicine"
    __table_args__ = (
        at_least("course_days", 0),
        at_least("withdrawal_days", 0),
        at_least("pieces", 0),
        KEPT,
    )

    product: Mapped[str]
    active: Mapped[str]
    batch: Mapped[str | None]
    expires_on: Mapped[date | None]
    acquired_on: Mapped[date | None]
    pieces: Mapped[int | None]
    supplier_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"))
    proof: Mapped[str | None]
    """What proves the purchase, and where it is kept: a number on an invoice, a folder."""
    course_days: Mapped[int]
    withdrawal_days: Mapped[int | None]
    """What the label says; None while nobody has written it down."""
    usual: Mapped[bool] = mapped_column(default=False)
    """Whether a sheet that names no medicine means this one."""


class Treatment(Kept):
    """A course of medicine in one colony: when it went in and when it came out."""

    __tablename__ = "treatment"
    __table_args__ = (
        CheckConstraint("out_on >= in_on", name="days_order"),
        at_least("pieces", 1),
        Index("ix_treatment_colony", "colony_id", "in_on"),
        # With all that is summed of a pack, so that no row is looked at.
        Index("ix_treatment_medicine", "medicine_id", "in_on", "out_on", "pieces"),
        Index("ix_treatment_in", "in_on"),
        Index(
            "ix_treatment_unmeasured",
            "in_on",
            sqlite_where=text("pieces IS NULL"),
            postgresql_where=text("pieces IS NULL"),
        ),
        Index(
            "ix_treatment_open",
            "colony_id",
            sqlite_where=text("out_on IS NULL"),
            postgresql_where=text("out_on IS NULL"),
        ),
        KEPT,
    )

    colony_id: Mapped[int] = mapped_column(ForeignKey("colony.id"))
    medicine_id: Mapped[int] = mapped_column(ForeignKey("medicine.id"))
    in_on: Mapped[date]
    out_on: Mapped[date | None]
    pieces: Mapped[int | None]
    in_entry_id: Mapped[int | None] = mapped_column(ForeignKey("round_entry.id"), index=True)
    out_entry_id: Mapped[int | None] = mapped_column(ForeignKey("round_entry.id"), index=True)
    reason: Mapped[str | None]
    """The written reason where supers for harvest were on."""


class MedicineDisposal(Kept):
    """What was left of a pack and was got rid of otherwise than by treatment."""

    __tablename__ = "medicine_disposal"
    __table_args__ = (at_least("pieces", 1), KEPT)

    medicine_id: Mapped[int] = mapped_column(ForeignKey("medicine.id"), index=True)
    on: Mapped[date]
    pieces: Mapped[int | None]
    how: Mapped[str | None]
    """How and where."""


class MiteCount(Kept):
    """Mites counted in a colony on a day."""

    __tablename__ = "mite_count"
    __table_args__ = (
        one_of("method", MITE_METHODS), at_least("mites"), at_least("bees", 1), at_least("days", 1),
        Index("ix_mite_count_colony", "colony_id", "on", "id"),
        KEPT,
    )  # fmt: skip

    colony_id: Mapped[int] = mapped_column(ForeignKey("colony.id"))
    entry_id: Mapped[int | None] = mapped_column(ForeignKey("round_entry.id"), index=True)
    on: Mapped[date]
    method: Mapped[str]
    mites: Mapped[int]
    bees: Mapped[int | None]
    days: Mapped[int | None]
