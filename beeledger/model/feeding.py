"""What was fed."""

from __future__ import annotations

from datetime import date

from sqlalchemy import CheckConstraint, ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column

from beeledger.model.base import KEPT, Kept, at_least


class Feeding(Kept):
    """Feed given to one colony on a day; made by posting a round."""

    __tablename__ = "feeding"
    __table_args__ = (
        at_least("volume_ml", 1), at_least("weight_g", 1), at_least("sugar_g", 0),
        CheckConstraint("volume_ml IS NOT NULL OR weight_g IS NOT NULL", name="quantity_given"),
        Index("ix_feeding_colony", "colony_id", "on"),
        Index("ix_feeding_on", "on"),
        KEPT,
    )  # fmt: skip

    colony_id: Mapped[int] = mapped_column(ForeignKey("colony.id"))
    entry_id: Mapped[int | None] = mapped_column(ForeignKey("round_entry.id"), index=True)
    on: Mapped[date]
    kind: Mapped[str]
    volume_ml: Mapped[int | None]
    weight_g: Mapped[int | None]
    sugar_g: Mapped[int | None]
