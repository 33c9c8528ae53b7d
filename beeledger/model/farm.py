"""What the farm has decided about itself: its name, zone, normals, label defaults."""

from __future__ import annotations

from sqlalchemy.orm import Mapped, mapped_column

from beeledger.model.base import KEPT, Kept


class FarmSetting(Kept):
    """One decision of the farm: a key and its value as JSON text."""

    __tablename__ = "farm_setting"
    __table_args__ = (KEPT,)

    key: Mapped[str] = mapped_column(unique=True)
    value: Mapped[str]
