"""What the authority stops, visits of its inspectors, samples sent away, and licences that let something out."""

from __future__ import annotations

from datetime import date, datetime

from sqlalchemy import CheckConstraint, ForeignKey, Index, text
from sqlalchemy.orm import Mapped, mapped_column

from beeledger.model.base import KEPT, Kept, at_least, between, one_of

SCOPES = ("site", "area", "vehicle")
SAMPLE_KINDS = ("comb", "larvae", "bees", "honey", "debris", "other")
OUTCOMES = ("clear", "positive")


class Restriction(Kept):
    """A standstill on a site, on all within a circle, or on a vehicle, until the inspector's written release."""

    __tablename__ = "restriction"
    __table_args__ = (
        one_of("scope", SCOPES),
        CheckConstraint("(scope = 'site') = (site_id IS NOT NULL)", name="site_named"),
        CheckConstraint("(scope = 'vehicle') = (vehicle_id IS NOT NULL)", name="vehicle_named"),
        CheckConstraint("(scope = 'area') = (radius_m IS NOT NULL)", name="circle_whole"),
        CheckConstraint(
            "scope <> 'area' OR (easting_m IS NOT NULL AND northing_m IS NOT NULL)"
            " OR (latitude_e6 IS NOT NULL AND longitude_e6 IS NOT NULL)",
            name="middle_known",
        ),
        between("easting_m", 0, 700_000), between("northing_m", 0, 1_300_000),
        between("latitude_e6", -90_000_000, 90_000_000), between("longitude_e6", -180_000_000, 180_000_000),
        at_least("radius_m", 1),
        CheckConstraint("length(reason) > 0", name="reason_given"),
        CheckConstraint("released_at > begins_at", name="moments_order"),
        CheckConstraint("(released_at IS NULL) = (released_on IS NULL)", name="release_whole"),
        CheckConstraint("(released_at IS NULL) = (release_reference IS NULL)", name="release_written"),
        CheckConstraint("length(release_reference) > 0", name="release_named"),
        Index("ix_restriction_site", "site_id"),
        Index("ix_restriction_vehicle", "vehicle_id"),
        Index(
            "ix_restriction_open", "begins_at", sqlite_where=text("released_at IS NULL"),
            postgresql_where=text("released_at IS NULL"),
        ),
        KEPT,
    )  # fmt: skip

    scope: Mapped[str]
    site_id: Mapped[int | None] = mapped_column(ForeignKey("site.id"))
    vehicle_id: Mapped[int | None] = mapped_column(ForeignKey("vehicle.id"))
    easting_m: Mapped[int | None]
    northing_m: Mapped[int | None]
    latitude_e6: Mapped[int | None]
    longitude_e6: Mapped[int | None]
    radius_m: Mapped[int | None]
    begins_at: Mapped[datetime]
    """The notification: from then on, not only from the served notice."""
    begins_on: Mapped[date]
    served_on: Mapped[date | None]
    stops_bees: Mapped[bool]
    stops_comb: Mapped[bool]
    stops_honey: Mapped[bool]
    stops_boxes: Mapped[bool]
    stops_tools: Mapped[bool]
    stops_inward: Mapped[bool]
    authority_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"))
    by_whom: Mapped[str | None]
    reference: Mapped[str | None]
    reason: Mapped[str]
    expected_end_on: Mapped[date | None]
    """Shown, never acted on."""
    released_at: Mapped[datetime | None]
    released_on: Mapped[date | None]
    release_reference: Mapped[str | None]
    """Of the inspector's written release, without which nothing ends."""
    note: Mapped[str | None]


class LicenceUse(Kept):
    """A licence that let one thing out (or in) in spite of a restriction: the recorded override."""

    __tablename__ = "licence_use"
    __table_args__ = (
        CheckConstraint(
            "CASE WHEN move_id IS NULL THEN 0 ELSE 1 END + CASE WHEN take_id IS NULL THEN 0 ELSE 1 END"
            " + CASE WHEN dispatch_id IS NULL THEN 0 ELSE 1 END"
            " + CASE WHEN transfer_id IS NULL THEN 0 ELSE 1 END = 1",
            name="one_thing",
        ),
        CheckConstraint("length(licence) > 0", name="licence_given"),
        Index("ix_licence_use_restriction", "restriction_id"),
        Index("ix_licence_use_move", "move_id"),
        Index("ix_licence_use_take", "take_id"),
        Index("ix_licence_use_dispatch", "dispatch_id"),
        Index("ix_licence_use_transfer", "transfer_id"),
        KEPT,
    )

    restriction_id: Mapped[int] = mapped_column(ForeignKey("restriction.id"))
    move_id: Mapped[int | None] = mapped_column(ForeignKey("move.id"))
    take_id: Mapped[int | None] = mapped_column(ForeignKey("take.id"))
    dispatch_id: Mapped[int | None] = mapped_column(ForeignKey("dispatch.id"))
    transfer_id: Mapped[int | None] = mapped_column(ForeignKey("colony_transfer.id"))
    what: Mapped[str]
    licence: Mapped[str]
    """The licence's own reference."""
    issued_by: Mapped[str | None]
    issued_on: Mapped[date | None]
    reason: Mapped[str | None]


class OfficialVisit(Kept):
    """A visit of an inspector to a site."""

    __tablename__ = "official_visit"
    __table_args__ = (
        CheckConstraint("length(inspector) > 0", name="inspector_named"),
        Index("ix_official_visit_site", "site_id", "on"),
        KEPT,
    )

    site_id: Mapped[int] = mapped_column(ForeignKey("site.id"))
    on: Mapped[date]
    inspector: Mapped[str]
    purpose: Mapped[str | None]
    found: Mapped[str | None]
    note: Mapped[str | None]


class Sample(Kept):
    """What was taken at a site, or from one colony there, and sent to a laboratory; what came back."""

    __tablename__ = "sample"
    __table_args__ = (
        one_of("kind", SAMPLE_KINDS),
        one_of("outcome", OUTCOMES),
        CheckConstraint("length(what) > 0", name="what_given"),
        CheckConstraint("sent_on >= taken_on", name="sent_order"),
        CheckConstraint("result_on >= taken_on", name="result_order"),
        CheckConstraint("(result_on IS NULL) = (outcome IS NULL)", name="result_whole"),
        CheckConstraint("result IS NULL OR outcome IS NOT NULL", name="words_of_a_result"),
        Index("ix_sample_site", "site_id", "taken_on"),
        Index("ix_sample_visit", "visit_id"),
        Index("ix_sample_colony", "colony_id"),
        Index(
            "ix_sample_waiting", "taken_on", sqlite_where=text("outcome IS NULL"),
            postgresql_where=text("outcome IS NULL"),
        ),
        KEPT,
    )  # fmt: skip

    site_id: Mapped[int] = mapped_column(ForeignKey("site.id"))
    visit_id: Mapped[int | None] = mapped_column(ForeignKey("official_visit.id"))
    colony_id: Mapped[int | None] = mapped_column(ForeignKey("colony.id"))
    taken_on: Mapped[date]
    what: Mapped[str]
    kind: Mapped[str]
    laboratory: Mapped[str | None]
    sent_on: Mapped[date | None]
    result_on: Mapped[date | None]
    result: Mapped[str | None]
    """In the laboratory's words."""
    outcome: Mapped[str | None]
    """None while nothing has come back."""
