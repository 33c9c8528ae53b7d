"""Colonies, the marks on their hives, where they stood, what passed between them, their boxes."""

from __future__ import annotations

from datetime import date, datetime

from sqlalchemy import CheckConstraint, ForeignKey, Index, text
from sqlalchemy.orm import Mapped, mapped_column

from beeledger.model.base import KEPT, Kept, at_least, between, one_of
from beeledger.rules.rounds.entry import Cause

COLONY_KINDS = ("full", "nucleus", "mating")
FOUNDED_HOW = ("opening", "import", "split", "nucleus", "swarm", "bought", "stranger")
EXITS = ("sold", "united")
LOSSES = tuple(cause.value for cause in Cause)
PLACES = ("site", "vehicle", "unaccounted")
TRANSFER_KINDS = ("split", "nucleus", "unite", "frame", "cells", "bees")


class Colony(Kept):
    """The living thing. It ends with a cause; nothing is erased."""

    __tablename__ = "colony"
    __table_args__ = (
        one_of("kind", COLONY_KINDS),
        one_of("founded_how", FOUNDED_HOW),
        one_of("end_cause", (*EXITS, *LOSSES)),
        CheckConstraint("(ended_on IS NULL) = (end_cause IS NULL)", name="end_whole"),
        CheckConstraint("ended_on >= founded_on", name="end_order"),
        Index(
            "ix_colony_alive",
            "id",
            sqlite_where=text("ended_on IS NULL"),
            postgresql_where=text("ended_on IS NULL"),
        ),
        Index("ix_colony_ended_on", "ended_on"),
        KEPT,
    )

    kind: Mapped[str] = mapped_column(default="full")
    founded_on: Mapped[date]
    founded_how: Mapped[str]
    ended_on: Mapped[date | None]
    end_cause: Mapped[str | None]
    note: Mapped[str | None]


class HiveMark(Kept):
    """What the crew reads on the hive, given to a colony from a day until a day."""

    __tablename__ = "hive_mark"
    __table_args__ = (
        CheckConstraint("length(mark) > 0", name="mark_given"),
        CheckConstraint("until_on >= from_on", name="days_order"),
        Index(
            "uq_hive_mark_open",
            "mark",
            unique=True,
            sqlite_where=text("until_on IS NULL"),
            postgresql_where=text("until_on IS NULL"),
        ),
        Index(
            "uq_hive_mark_colony_open",
            "colony_id",
            unique=True,
            sqlite_where=text("until_on IS NULL"),
            postgresql_where=text("until_on IS NULL"),
        ),
        Index("ix_hive_mark_mark", "mark"),
        Index("ix_hive_mark_colony", "colony_id"),
        KEPT,
    )

    mark: Mapped[str]
    number: Mapped[int | None]
    """The figures in the mark, for sorting: 7 for "H007"."""
    colony_id: Mapped[int] = mapped_column(ForeignKey("colony.id"))
    from_on: Mapped[date]
    until_on: Mapped[date | None]


class Placement(Kept):
    """A colony at a site, on a vehicle or unaccounted for, from one moment until another."""

    __tablename__ = "placement"
    __table_args__ = (
        one_of("place", PLACES),
        CheckConstraint("(place = 'site') = (site_id IS NOT NULL)", name="site_named"),
        CheckConstraint("(place = 'vehicle') = (vehicle_id IS NOT NULL)", name="vehicle_named"),
        CheckConstraint("until_at > from_at", name="moments_order"),
        CheckConstraint("(until_at IS NULL) = (until_on IS NULL)", name="end_whole"),
        Index(
            "uq_placement_open",
            "colony_id",
            unique=True,
            sqlite_where=text("until_at IS NULL"),
            postgresql_where=text("until_at IS NULL"),
        ),
        Index("ix_placement_colony", "colony_id", "from_at"),
        Index(
            "ix_placement_site_open",
            "site_id",
            sqlite_where=text("until_at IS NULL"),
            postgresql_where=text("until_at IS NULL"),
        ),
        Index("ix_placement_site_days", "site_id", "from_on", "until_on"),
        Index("ix_placement_move_line", "move_line_id"),
        KEPT,
    )

    colony_id: Mapped[int] = mapped_column(ForeignKey("colony.id"))
    place: Mapped[str] = mapped_column(default="site")
    site_id: Mapped[int | None] = mapped_column(ForeignKey("site.id"))
    set_down_id: Mapped[int | None] = mapped_column(ForeignKey("set_down_place.id"))
    vehicle_id: Mapped[int | None] = mapped_column(ForeignKey("vehicle.id"))
    stand: Mapped[int | None]
    """Where in the walking order of the site."""
    from_at: Mapped[datetime]
    from_on: Mapped[date]
    until_at: Mapped[datetime | None]
    until_on: Mapped[date | None]
    move_line_id: Mapped[int | None] = mapped_column(ForeignKey("move_line.id"))
    """The line of the move that brought it here; none for founding and import."""


class ColonyTransfer(Kept):
    """Bees, brood, comb, cells or a queen given from one colony to another on a day."""

    __tablename__ = "colony_transfer"
    __table_args__ = (
        one_of("kind", TRANSFER_KINDS),
        CheckConstraint("from_colony_id <> to_colony_id", name="two_colonies"),
        at_least("brood_tenths"), at_least("bees_tenths"), at_least("stores_tenths"), at_least("cells"),
        Index("ix_colony_transfer_from", "from_colony_id", "on"),
        Index("ix_colony_transfer_to", "to_colony_id", "on"),
        KEPT,
    )  # fmt: skip

    kind: Mapped[str]
    on: Mapped[date]
    from_colony_id: Mapped[int] = mapped_column(ForeignKey("colony.id"))
    to_colony_id: Mapped[int] = mapped_column(ForeignKey("colony.id"))
    entry_id: Mapped[int | None] = mapped_column(ForeignKey("round_entry.id"), index=True)
    brood_tenths: Mapped[int | None]
    bees_tenths: Mapped[int | None]
    stores_tenths: Mapped[int | None]
    cells: Mapped[int | None]
    queen: Mapped[str | None]
    """What went as to queens, in words: "one sealed cell", "the old queen"."""


class BoxStack(Kept):
    """The boxes of a hive from a day on."""

    __tablename__ = "box_stack"
    __table_args__ = (
        between("brood_boxes", 0, 9), between("supers", 0, 20), between("brood_frames", 1, 20),
        between("super_frames", 1, 20),
        Index("ix_box_stack_colony", "colony_id", "on", "id"),
        KEPT,
    )  # fmt: skip

    colony_id: Mapped[int] = mapped_column(ForeignKey("colony.id"))
    on: Mapped[date]
    hive_type: Mapped[str]
    brood_boxes: Mapped[int]
    brood_frames: Mapped[int]
    """Frames that one brood box holds."""
    brood_frame: Mapped[str]
    """The size of a brood frame, by the names of the rounds rule file."""
    supers: Mapped[int]
    super_frames: Mapped[int]
    excluder: Mapped[bool] = mapped_column(default=True)
    entry_id: Mapped[int | None] = mapped_column(ForeignKey("round_entry.id"), index=True)
