"""Apiary sites and the set-down places on them."""

from __future__ import annotations

from datetime import date

from sqlalchemy import CheckConstraint, ForeignKey, Index, text
from sqlalchemy.orm import Mapped, mapped_column

from beeledger.model.base import KEPT, Kept, at_least, between, one_of

SITE_KINDS = ("home", "out", "crop", "mating", "quarantine")


class Site(Kept):
    """Where colonies stand. Grid reference and degrees are each derived from the other."""

    __tablename__ = "site"
    __table_args__ = (
        one_of("kind", SITE_KINDS),
        at_least("capacity", 0),
        at_least("rent_pence", 0),
        at_least("rent_jars", 0),
        between("easting_m", 0, 700_000),
        between("northing_m", 0, 1_300_000),
        between("latitude_e6", -90_000_000, 90_000_000),
        between("longitude_e6", -180_000_000, 180_000_000),
        CheckConstraint("length(name) > 0", name="name_given"),
        CheckConstraint("permission_until >= permission_from", name="permission_order"),
        Index(
            "uq_site_name_open",
            "name",
            unique=True,
            sqlite_where=text("closed_on IS NULL"),
            postgresql_where=text("closed_on IS NULL"),
        ),
        KEPT,
    )

    code: Mapped[str] = mapped_column(unique=True)
    name: Mapped[str]
    kind: Mapped[str] = mapped_column(default="out")
    grid: Mapped[str | None]
    easting_m: Mapped[int | None]
    northing_m: Mapped[int | None]
    latitude_e6: Mapped[int | None]
    longitude_e6: Mapped[int | None]
    landholder_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"))
    permission_from: Mapped[date | None]
    permission_until: Mapped[date | None]
    rent_pence: Mapped[int | None]
    rent_jars: Mapped[int | None]
    capacity: Mapped[int | None]
    way_in: Mapped[str | None]
    forage: Mapped[str | None]
    other_bees: Mapped[str | None]
    apiary_number: Mapped[str | None]
    note: Mapped[str | None]
    closed_on: Mapped[date | None]


class SetDownPlace(Kept):
    """One of several places on a crop site where hives are set down together."""

    __tablename__ = "set_down_place"
    __table_args__ = (KEPT,)

    site_id: Mapped[int] = mapped_column(ForeignKey("site.id"), index=True)
    name: Mapped[str]
    grid: Mapped[str | None]
    easting_m: Mapped[int | None]
    northing_m: Mapped[int | None]
