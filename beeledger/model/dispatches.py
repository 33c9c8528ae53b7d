"""What leaves the farm for somebody: one row a dispatch; its jars and grams stand in the transfers of honey."""

from __future__ import annotations

from datetime import date

from sqlalchemy import CheckConstraint, ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column

from beeledger.model.base import KEPT, Kept, one_of

WAYS = ("dispatch", "public", "gift", "rent")
"""Sold to somebody by name, sold to the public (who need no name), given, paid as rent."""


class Dispatch(Kept):
    """Honey that went to one receiver on one day, of one or several lots."""

    __tablename__ = "dispatch"
    __table_args__ = (
        one_of("way", WAYS),
        CheckConstraint("way <> 'dispatch' OR party_id IS NOT NULL", name="buyer_named"),
        Index("ix_dispatch_on", "on"),
        Index("ix_dispatch_party", "party_id", "on"),
        KEPT,
    )

    on: Mapped[date]
    party_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"))
    way: Mapped[str]
    reference: Mapped[str | None]
    """Of the paper that went with it: a delivery note, an order."""
    note: Mapped[str | None]
