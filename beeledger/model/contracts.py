"""Pollination contracts, looks at the bloom, strength checks."""

from __future__ import annotations

from datetime import date

from sqlalchemy import CheckConstraint, ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column

from beeledger.model.base import KEPT, Kept, at_least, between, one_of

CONTRACT_STATES = ("offer", "agreed", "on site", "closed")


class Contract(Kept):
    """What was promised to a grower, for which crop, when and at what price."""

    __tablename__ = "contract"
    __table_args__ = (
        one_of("state", CONTRACT_STATES),
        at_least("area_m2", 1), at_least("hives", 1), at_least("price_pence"), at_least("least_bees_tenths"),
        at_least("least_brood_tenths"), at_least("bonus_frame_pence"), at_least("late_day_pence"),
        between("weak_share_hundredths", 0, 10_000),
        CheckConstraint("off_on >= on_on", name="days_order"),
        Index("ix_contract_on", "on_on"),
        KEPT,
    )  # fmt: skip

    name: Mapped[str] = mapped_column(unique=True)
    grower_id: Mapped[int] = mapped_column(ForeignKey("party.id"), index=True)
    site_id: Mapped[int] = mapped_column(ForeignKey("site.id"), index=True)
    crop: Mapped[str]
    area_m2: Mapped[int | None]
    hives: Mapped[int]
    least_bees_tenths: Mapped[int | None]
    least_brood_tenths: Mapped[int | None]
    on_on: Mapped[date]
    off_on: Mapped[date]
    price_pence: Mapped[int]
    """Per hive that stood as promised."""
    weak_share_hundredths: Mapped[int] = mapped_column(default=0)
    """Hundredths of a per cent of the price paid for a hive under the least strength."""
    bonus_frame_pence: Mapped[int] = mapped_column(default=0)
    late_day_pence: Mapped[int] = mapped_column(default=0)
    """Owed by the grower per hive and day when hives could not leave on the day agreed."""
    state: Mapped[str] = mapped_column(default="agreed")
    closed_on: Mapped[date | None]
    """The day its account was closed: nothing is owed for later days."""
    terms: Mapped[str | None]
    tax_code: Mapped[str | None]


class BloomLook(Kept):
    """The share of the crop in flower, as seen on a day."""

    __tablename__ = "bloom_look"
    __table_args__ = (between("share_hundredths", 0, 10_000), KEPT)

    contract_id: Mapped[int] = mapped_column(ForeignKey("contract.id"), index=True)
    on: Mapped[date]
    share_hundredths: Mapped[int]


class StrengthCheck(Kept):
    """A sample of a contract's colonies, counted by whom and when."""

    __tablename__ = "strength_check"
    __table_args__ = (at_least("on_site", 0), between("share_hundredths", 1, 10_000), KEPT)

    contract_id: Mapped[int] = mapped_column(ForeignKey("contract.id"), index=True)
    on: Mapped[date]
    counted_by: Mapped[str]
    share_hundredths: Mapped[int]
    seed: Mapped[int]
    on_site: Mapped[int]
    """Hives on site from which the sample was drawn."""
    weather: Mapped[str | None]


class StrengthLine(Kept):
    """One colony of a strength check."""

    __tablename__ = "strength_line"
    __table_args__ = (
        between("bees_tenths", 0, 1000), between("brood_tenths", 0, 1000),
        Index("uq_strength_line", "check_id", "colony_id", unique=True),
        Index("ix_strength_line_colony", "colony_id"),
        KEPT,
    )  # fmt: skip

    check_id: Mapped[int] = mapped_column(ForeignKey("strength_check.id"))
    colony_id: Mapped[int] = mapped_column(ForeignKey("colony.id"))
    bees_tenths: Mapped[int]
    brood_tenths: Mapped[int | None]
    queenright: Mapped[bool | None]
