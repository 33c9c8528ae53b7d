"""Rounds as posted and their entries. A round exists when it is posted; until then it is a draft."""

from __future__ import annotations

from datetime import date

from sqlalchemy import CheckConstraint, ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column

from beeledger.model.base import KEPT, Kept, at_least, between, one_of
from beeledger.rules.rounds.entry import (
    Cause,
    CellsDone,
    CellStage,
    FeedKind,
    Heft,
    MiteMethod,
    NextAction,
    Outcome,
    QueenColour,
    QueenState,
)

ROUND_SOURCES = ("typed", "workbook", "scan", "import", "sample")


class Round(Kept):
    """A visit of a crew to a site."""

    __tablename__ = "round"
    __table_args__ = (
        one_of("source", ROUND_SOURCES),
        between("start_minute", 0, 1439),
        between("end_minute", 0, 1439),
        Index("ix_round_site", "site_id", "on"),
        Index("ix_round_on", "on"),
        KEPT,
    )

    uid: Mapped[str] = mapped_column(unique=True)
    site_id: Mapped[int] = mapped_column(ForeignKey("site.id"))
    on: Mapped[date]
    start_minute: Mapped[int | None]
    """Minutes after local midnight."""
    end_minute: Mapped[int | None]
    crew: Mapped[str | None]
    weather: Mapped[str | None]
    note: Mapped[str | None]
    source: Mapped[str] = mapped_column(default="typed")


class RoundEntry(Kept):
    """One colony on one visit; every field mirrors the entry record of the rules."""

    __tablename__ = "round_entry"
    __table_args__ = (
        one_of("outcome", Outcome), one_of("cause", Cause), one_of("queen_state", QueenState),
        one_of("queen_colour", QueenColour), one_of("stores_heft", Heft), one_of("cells_stage", CellStage),
        one_of("cells_done", CellsDone), one_of("feed_kind", FeedKind), one_of("mites_method", MiteMethod),
        one_of("next_action", NextAction),
        between("temper", 1, 5), between("brood_tenths", 0, 2000), between("bees_tenths", 0, 2000),
        between("stores_tenths", 0, 2000), at_least("stores_g"), between("super_fullness_tenths", 0, 200),
        at_least("cells_count"), at_least("supers_on"), at_least("supers_off"), at_least("feed_ml"),
        at_least("feed_g"), at_least("feed_left_ml"), at_least("medicine_in_count"), at_least("medicine_out_count"),
        at_least("mites_count"), at_least("mites_bees", 1), at_least("mites_days", 1), at_least("next_days"),
        CheckConstraint("outcome <> 'dead' OR feed_kind IS NULL", name="no_feed_for_the_dead"),
        Index("ix_round_entry_colony", "colony_id", "on", "id"),
        Index("ix_round_entry_round", "round_id", "seq"),
        KEPT,
    )  # fmt: skip

    round_id: Mapped[int] = mapped_column(ForeignKey("round.id"))
    colony_id: Mapped[int] = mapped_column(ForeignKey("colony.id"))
    on: Mapped[date]
    """The round's day, again here so that the last look at a colony is one step on an index."""
    seq: Mapped[int]
    """Place in the walking order of that visit."""
    outcome: Mapped[str]
    cause: Mapped[str | None]
    queen_state: Mapped[str | None]
    queen_seen: Mapped[bool | None]
    queen_colour: Mapped[str | None]
    eggs: Mapped[bool | None]
    brood_tenths: Mapped[int | None]
    bees_tenths: Mapped[int | None]
    stores_tenths: Mapped[int | None]
    stores_g: Mapped[int | None]
    stores_heft: Mapped[str | None]
    super_fullness_tenths: Mapped[int | None]
    temper: Mapped[int | None]
    cells_stage: Mapped[str | None]
    cells_count: Mapped[int | None]
    cells_done: Mapped[str | None]
    supers_on: Mapped[int | None]
    supers_off: Mapped[int | None]
    clearers: Mapped[bool | None]
    feed_kind: Mapped[str | None]
    feed_ml: Mapped[int | None]
    feed_g: Mapped[int | None]
    feed_left_ml: Mapped[int | None]
    medicine_in: Mapped[str | None]
    medicine_in_count: Mapped[int | None]
    medicine_batch: Mapped[str | None]
    medicine_out: Mapped[str | None]
    medicine_out_count: Mapped[int | None]
    mites_count: Mapped[int | None]
    mites_method: Mapped[str | None]
    mites_bees: Mapped[int | None]
    mites_days: Mapped[int | None]
    signs: Mapped[str | None]
    split_to: Mapped[str | None]
    """JSON list of what was split off: mark, brood, bees, queen."""
    united_into: Mapped[str | None]
    brood_given_from: Mapped[str | None]
    brood_given_tenths: Mapped[int | None]
    next_action: Mapped[str | None]
    next_days: Mapped[int | None]
    question: Mapped[str | None]
    note: Mapped[str | None]
    reason: Mapped[str | None]
    """The written reason where a check asked for one."""
