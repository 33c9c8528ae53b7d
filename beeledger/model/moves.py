"""Moves: trips with lines, each line with its own from and to."""

from __future__ import annotations

from datetime import date, datetime

from sqlalchemy import CheckConstraint, ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column

from beeledger.model.base import KEPT, Kept, one_of

MOVE_STATES = ("planned", "loaded", "delivered")
MOVE_REASONS = ("crop", "home", "mating", "wintering", "forage", "sale", "health", "other")
LINE_OUTCOMES = ("delivered", "lost", "left behind")


class Move(Kept):
    """One trip of one vehicle."""

    __tablename__ = "move"
    __table_args__ = (
        one_of("state", MOVE_STATES),
        one_of("reason", MOVE_REASONS),
        CheckConstraint("arrived_at > left_at", name="moments_order"),
        Index("ix_move_on", "on"),
        Index("ix_move_contract", "contract_id"),
        KEPT,
    )

    on: Mapped[date]
    state: Mapped[str]
    reason: Mapped[str]
    left_at: Mapped[datetime]
    arrived_at: Mapped[datetime]
    arrived_on: Mapped[date]
    vehicle_id: Mapped[int | None] = mapped_column(ForeignKey("vehicle.id"))
    driver: Mapped[str | None]
    contract_id: Mapped[int | None] = mapped_column(ForeignKey("contract.id"))
    note: Mapped[str | None]


class MoveLine(Kept):
    """One colony of a move, with its own from and to."""

    __tablename__ = "move_line"
    __table_args__ = (
        one_of("outcome", LINE_OUTCOMES),
        Index("ix_move_line_move", "move_id"),
        Index("ix_move_line_colony", "colony_id"),
        Index("ix_move_line_from", "from_site_id"),
        Index("ix_move_line_to", "to_site_id"),
        KEPT,
    )

    move_id: Mapped[int] = mapped_column(ForeignKey("move.id"))
    colony_id: Mapped[int] = mapped_column(ForeignKey("colony.id"))
    from_site_id: Mapped[int | None] = mapped_column(ForeignKey("site.id"))
    from_set_down_id: Mapped[int | None] = mapped_column(ForeignKey("set_down_place.id"))
    to_site_id: Mapped[int | None] = mapped_column(ForeignKey("site.id"))
    to_set_down_id: Mapped[int | None] = mapped_column(ForeignKey("set_down_place.id"))
    outcome: Mapped[str] = mapped_column(default="delivered")
    note: Mapped[str | None]
