"""Notices of spraying near hives, kept as a record."""

from __future__ import annotations

from datetime import date, datetime

from sqlalchemy import CheckConstraint, ForeignKey, Index, text
from sqlalchemy.orm import Mapped, mapped_column

from beeledger.model.base import KEPT, Kept, at_least, between


class SprayNotice(Kept):
    """What somebody said they will spray: around which point, from when until when, and what was done."""

    __tablename__ = "spray_notice"
    __table_args__ = (
        between("easting_m", 0, 700_000), between("northing_m", 0, 1_300_000),
        between("latitude_e6", -90_000_000, 90_000_000), between("longitude_e6", -180_000_000, 180_000_000),
        CheckConstraint(
            "(easting_m IS NOT NULL AND northing_m IS NOT NULL)"
            " OR (latitude_e6 IS NOT NULL AND longitude_e6 IS NOT NULL)",
            name="point_known",
        ),
        at_least("radius_m", 1),
        CheckConstraint("until_at > from_at", name="moments_order"),
        CheckConstraint("length(given_by) > 0", name="giver_named"),
        CheckConstraint("(closed_on IS NULL) = (done IS NULL)", name="closing_whole"),
        CheckConstraint("length(done) > 0", name="closing_said"),
        Index("ix_spray_notice_from", "from_at"),
        Index("ix_spray_notice_party", "party_id"),
        Index(
            "ix_spray_notice_open", "until_at", sqlite_where=text("closed_on IS NULL"),
            postgresql_where=text("closed_on IS NULL"),
        ),
        KEPT,
    )  # fmt: skip

    given_by: Mapped[str]
    """In words, as it was typed; where it is a party of the farm, ``party_id`` names it too."""
    party_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"))
    given_on: Mapped[date]
    easting_m: Mapped[int | None]
    northing_m: Mapped[int | None]
    latitude_e6: Mapped[int | None]
    longitude_e6: Mapped[int | None]
    radius_m: Mapped[int]
    from_at: Mapped[datetime]
    from_on: Mapped[date]
    until_at: Mapped[datetime]
    until_on: Mapped[date]
    substance: Mapped[str | None]
    note: Mapped[str | None]
    closed_on: Mapped[date | None]
    done: Mapped[str | None]
    """What was done about it, written when it is closed."""
