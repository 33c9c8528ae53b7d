"""Honey from the super to the jar: takes, lots, transfers, readings, batches."""

from __future__ import annotations

from datetime import date

from sqlalchemy import CheckConstraint, ForeignKey, Index, text
from sqlalchemy.orm import Mapped, mapped_column

from beeledger.model.base import KEPT, Kept, at_least, between, one_of

LOT_KINDS = ("supers", "drum", "tank", "bucket", "jarring")
ORIGINS = ("weighed", "opening", "bought")
SINKS = ("wax", "foam", "spill", "sample", "gift", "rent", "feed", "dispatch", "loss")
READINGS = ("moisture", "hmf", "colour", "conductivity", "sucrose", "diastase", "free acid")


class Take(Kept):
    """Supers taken from a site on a day."""

    __tablename__ = "take"
    __table_args__ = (Index("ix_take_site", "site_id", "on"), KEPT)

    on: Mapped[date]
    site_id: Mapped[int] = mapped_column(ForeignKey("site.id"))
    round_id: Mapped[int | None] = mapped_column(ForeignKey("round.id"), index=True)
    note: Mapped[str | None]


class TakeLine(Kept):
    """Supers taken from one colony (or from the site as a whole)."""

    __tablename__ = "take_line"
    __table_args__ = (
        at_least("supers", 1), at_least("estimate_g", 0),
        Index("ix_take_line_take", "take_id"),
        Index("ix_take_line_colony", "colony_id"),
        KEPT,
    )  # fmt: skip

    take_id: Mapped[int] = mapped_column(ForeignKey("take.id"))
    colony_id: Mapped[int | None] = mapped_column(ForeignKey("colony.id"))
    entry_id: Mapped[int | None] = mapped_column(ForeignKey("round_entry.id"), index=True)
    supers: Mapped[int]
    estimate_g: Mapped[int | None]
    reason: Mapped[str | None]
    """The written reason where honey was taken during a treatment, its withdrawal, or with feed on."""


class HoneyLot(Kept):
    """A quantity of honey that is one for tracing."""

    __tablename__ = "honey_lot"
    __table_args__ = (
        one_of("kind", LOT_KINDS), at_least("tare_g", 0),
        Index("ix_honey_lot_take", "take_id"),
        Index("ix_honey_lot_kind", "kind", "opened_on"),
        KEPT,
    )  # fmt: skip

    kind: Mapped[str]
    name: Mapped[str] = mapped_column(unique=True)
    """What is written on it: "drum 114"."""
    opened_on: Mapped[date]
    take_id: Mapped[int | None] = mapped_column(ForeignKey("take.id"))
    owner_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"))
    """None for the farm's own honey."""
    country: Mapped[str] = mapped_column(default="United Kingdom")
    honey_kind: Mapped[str] = mapped_column(default="blossom")
    supplier_lot: Mapped[str | None]
    tare_g: Mapped[int | None]
    hold: Mapped[str | None]
    """Why nothing may be drawn from it now; none when free."""
    note: Mapped[str | None]


class HoneyTransfer(Kept):
    """Grams from one lot into another, from a scale into a first lot, or from a lot into a named sink."""

    __tablename__ = "honey_transfer"
    __table_args__ = (
        at_least("grams", 1), one_of("origin", ORIGINS), one_of("sink", SINKS),
        CheckConstraint("(from_lot_id IS NULL) = (origin IS NOT NULL)", name="from_somewhere"),
        CheckConstraint("(to_lot_id IS NULL) = (sink IS NOT NULL)", name="to_somewhere"),
        CheckConstraint("from_lot_id IS NOT NULL OR to_lot_id IS NOT NULL", name="touches_a_lot"),
        CheckConstraint("from_lot_id <> to_lot_id", name="two_lots"), at_least("jars", 1),
        Index("ix_honey_transfer_dispatch", "dispatch_id"),
        # With the grams: what is left in a lot is summed without a look at the rows.
        Index("ix_honey_transfer_from", "from_lot_id", "grams"),
        Index("ix_honey_transfer_to", "to_lot_id", "grams"),
        Index(
            "ix_honey_transfer_began", "on", "grams",
            sqlite_where=text("origin IS NOT NULL"), postgresql_where=text("origin IS NOT NULL"),
        ),
        Index(
            "ix_honey_transfer_spent", "on", "sink", "grams",
            sqlite_where=text("sink IS NOT NULL"), postgresql_where=text("sink IS NOT NULL"),
        ),
        KEPT,
    )  # fmt: skip

    on: Mapped[date]
    from_lot_id: Mapped[int | None] = mapped_column(ForeignKey("honey_lot.id"))
    to_lot_id: Mapped[int | None] = mapped_column(ForeignKey("honey_lot.id"))
    origin: Mapped[str | None]
    sink: Mapped[str | None]
    grams: Mapped[int]
    gross_g: Mapped[int | None]
    tare_g: Mapped[int | None]
    party_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"))
    """Who got it, where it left the farm."""
    dispatch_id: Mapped[int | None] = mapped_column(ForeignKey("dispatch.id"))
    """With which dispatch it left; also of jars that came back from it into a lot of their own."""
    jars: Mapped[int | None]
    """How many jars the grams are; none where they are no jars or nobody counted."""
    note: Mapped[str | None]


class Reading(Kept):
    """A reading of a lot on a day: moisture by refractometer, HMF, colour, a laboratory's result."""

    __tablename__ = "reading"
    __table_args__ = (
        one_of("kind", READINGS),
        at_least("value"),
        Index("ix_reading_lot", "lot_id", "kind"),
        KEPT,
    )

    lot_id: Mapped[int] = mapped_column(ForeignKey("honey_lot.id"))
    kind: Mapped[str]
    on: Mapped[date]
    value: Mapped[int]
    """In the unit of the kind: moisture in hundredths of a per cent, HMF in tenths of mg/kg, colour in
    tenths of mm Pfund, conductivity in µS/cm, sucrose in hundredths of g/100 g, diastase in
    tenths, free acid in tenths of meq/kg."""
    refractive_index_e5: Mapped[int | None]
    temperature_tenths: Mapped[int | None]
    source: Mapped[str | None]
    """Who or what measured it: "own refractometer", a laboratory and its reference."""


class Batch(Kept):
    """A jarring: one product in one jar under one lot mark."""

    __tablename__ = "batch"
    __table_args__ = (
        between("jar_g", 5, 25_000), at_least("jars", 0), at_least("labels_printed"), at_least("labels_used"),
        at_least("labels_spoiled"),
        CheckConstraint("best_before >= jarred_on", name="days_order"),
        KEPT,
    )  # fmt: skip

    lot_id: Mapped[int] = mapped_column(ForeignKey("honey_lot.id"), unique=True)
    lot_mark: Mapped[str] = mapped_column(unique=True)
    product: Mapped[str]
    claim: Mapped[str | None]
    jar_g: Mapped[int]
    jars: Mapped[int]
    jarred_on: Mapped[date]
    best_before: Mapped[date]
    gtin: Mapped[str | None]
    label: Mapped[str]
    """The label as last printed or proofed: JSON of the particulars."""
    sheet: Mapped[str]
    labels_printed: Mapped[int] = mapped_column(default=0)
    labels_used: Mapped[int] = mapped_column(default=0)
    labels_spoiled: Mapped[int] = mapped_column(default=0)


class JarWeight(Kept):
    """One jar of the weighing check: net, in tenths of a gram."""

    __tablename__ = "jar_weight"
    __table_args__ = (
        at_least("net_tenths_g"),
        Index("uq_jar_weight", "batch_id", "number", unique=True),
        KEPT,
    )

    batch_id: Mapped[int] = mapped_column(ForeignKey("batch.id"))
    number: Mapped[int]
    net_tenths_g: Mapped[int]
