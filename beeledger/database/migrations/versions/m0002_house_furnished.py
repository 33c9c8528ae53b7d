"""Restrictions, official visits and samples, stock, attachments: what the second version keeps beyond the first."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

WHOLE = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
DAY = sa.Date().with_variant(sa.Text(), "sqlite")
MOMENT = sa.DateTime(timezone=True).with_variant(sa.Text(), "sqlite")
YESNO = sa.Boolean().with_variant(sa.Integer(), "sqlite")


def upgrade() -> None:
    """Make what is new, then change what stands."""
    make()
    change()


def make() -> None:
    """The new tables."""
    op.create_table(
        "due_rule",
        sa.Column("id", WHOLE, autoincrement=False, nullable=False),
        sa.Column("words", sa.Text(), nullable=False),
        sa.CheckConstraint("id = 1", name=op.f("ck_due_rule_one_row")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_due_rule")),
        sqlite_strict=True,
    )
    op.create_table(
        "paper_bytes",
        sa.Column("sha256", sa.Text(), nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.CheckConstraint("length(sha256) = 64", name=op.f("ck_paper_bytes_sha256_length")),
        sa.PrimaryKeyConstraint("sha256", name=op.f("pk_paper_bytes")),
        sqlite_strict=True,
    )
    op.create_table(
        "stock_balance",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("item_id", WHOLE, nullable=False),
        sa.Column("lot_id", WHOLE, nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("number", WHOLE, nullable=False),
        sa.Column("quantity", WHOLE, nullable=False),
        sa.CheckConstraint(
            "kind IN ('supplier', 'store', 'van', 'site', 'extractor', 'hives', 'used', 'wasted', 'lost', 'uncounted', 'turned')",
            name=op.f("ck_stock_balance_kind_known"),
        ),
        sa.CheckConstraint(
            "quantity > 0 OR kind NOT IN ('store', 'van', 'site', 'extractor')",
            name=op.f("ck_stock_balance_not_below_nothing"),
        ),
        sa.CheckConstraint("quantity <> 0", name=op.f("ck_stock_balance_something_there")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stock_balance")),
        sqlite_strict=True,
    )
    op.create_index("ix_stock_balance_place", "stock_balance", ["kind", "number"], unique=False)
    op.create_index("uq_stock_balance", "stock_balance", ["item_id", "lot_id", "kind", "number"], unique=True)
    op.create_table(
        "stock_store",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("usual", YESNO, nullable=False),
        sa.Column("closed_on", DAY, nullable=True),
        sa.CheckConstraint("length(name) > 0", name=op.f("ck_stock_store_name_given")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stock_store")),
        sa.UniqueConstraint("name", name=op.f("uq_stock_store_name")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_table(
        "put_off",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("colony_id", WHOLE, nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("first_on", DAY, nullable=False),
        sa.Column("until_on", DAY, nullable=False),
        sa.Column("on", DAY, nullable=False),
        sa.Column("by_whom", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.CheckConstraint("until_on > first_on", name=op.f("ck_put_off_later")),
        sa.ForeignKeyConstraint(["colony_id"], ["colony.id"], name=op.f("fk_put_off_colony_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_put_off")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_put_off_colony", "put_off", ["colony_id", "code"], unique=False)
    op.create_table(
        "spray_notice",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("given_by", sa.Text(), nullable=False),
        sa.Column("party_id", WHOLE, nullable=True),
        sa.Column("given_on", DAY, nullable=False),
        sa.Column("easting_m", WHOLE, nullable=True),
        sa.Column("northing_m", WHOLE, nullable=True),
        sa.Column("latitude_e6", WHOLE, nullable=True),
        sa.Column("longitude_e6", WHOLE, nullable=True),
        sa.Column("radius_m", WHOLE, nullable=False),
        sa.Column("from_at", MOMENT, nullable=False),
        sa.Column("from_on", DAY, nullable=False),
        sa.Column("until_at", MOMENT, nullable=False),
        sa.Column("until_on", DAY, nullable=False),
        sa.Column("substance", sa.Text(), nullable=True),
        sa.Column("note", sa.Text(), nullable=True),
        sa.Column("closed_on", DAY, nullable=True),
        sa.Column("done", sa.Text(), nullable=True),
        sa.CheckConstraint(
            "(closed_on IS NULL) = (done IS NULL)", name=op.f("ck_spray_notice_closing_whole")
        ),
        sa.CheckConstraint(
            "(easting_m IS NOT NULL AND northing_m IS NOT NULL) OR (latitude_e6 IS NOT NULL AND longitude_e6 IS NOT NULL)",
            name=op.f("ck_spray_notice_point_known"),
        ),
        sa.CheckConstraint("easting_m BETWEEN 0 AND 700000", name=op.f("ck_spray_notice_easting_m_range")),
        sa.CheckConstraint(
            "latitude_e6 BETWEEN -90000000 AND 90000000", name=op.f("ck_spray_notice_latitude_e6_range")
        ),
        sa.CheckConstraint("length(done) > 0", name=op.f("ck_spray_notice_closing_said")),
        sa.CheckConstraint("length(given_by) > 0", name=op.f("ck_spray_notice_giver_named")),
        sa.CheckConstraint(
            "longitude_e6 BETWEEN -180000000 AND 180000000", name=op.f("ck_spray_notice_longitude_e6_range")
        ),
        sa.CheckConstraint("northing_m BETWEEN 0 AND 1300000", name=op.f("ck_spray_notice_northing_m_range")),
        sa.CheckConstraint("radius_m >= 1", name=op.f("ck_spray_notice_radius_m_least")),
        sa.CheckConstraint("until_at > from_at", name=op.f("ck_spray_notice_moments_order")),
        sa.ForeignKeyConstraint(["party_id"], ["party.id"], name=op.f("fk_spray_notice_party_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_spray_notice")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_spray_notice_from", "spray_notice", ["from_at"], unique=False)
    op.create_index(
        "ix_spray_notice_open",
        "spray_notice",
        ["until_at"],
        unique=False,
        sqlite_where=sa.text("closed_on IS NULL"),
        postgresql_where=sa.text("closed_on IS NULL"),
    )
    op.create_index("ix_spray_notice_party", "spray_notice", ["party_id"], unique=False)
    op.create_table(
        "stock_item",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("pack", WHOLE, nullable=True),
        sa.Column("pack_word", sa.Text(), nullable=True),
        sa.Column("low", WHOLE, nullable=True),
        sa.Column("lead_days", WHOLE, nullable=True),
        sa.Column("supplier_id", WHOLE, nullable=True),
        sa.Column("feed_kind", sa.Text(), nullable=True),
        sa.Column("sugar_hundredths", WHOLE, nullable=True),
        sa.Column("fits_g", WHOLE, nullable=True),
        sa.Column("box", sa.Text(), nullable=True),
        sa.Column("frame_size", sa.Text(), nullable=True),
        sa.Column("box_state", sa.Text(), nullable=True),
        sa.Column("retired_on", DAY, nullable=True),
        sa.Column("note", sa.Text(), nullable=True),
        sa.CheckConstraint("(kind = 'box') = (box IS NOT NULL)", name=op.f("ck_stock_item_box_kind_given")),
        sa.CheckConstraint(
            "(kind = 'box') = (box_state IS NOT NULL)", name=op.f("ck_stock_item_box_state_given")
        ),
        sa.CheckConstraint("box IN ('brood', 'super')", name=op.f("ck_stock_item_box_known")),
        sa.CheckConstraint(
            "box_state IN ('foundation', 'drawn', 'wet', 'clean', 'condemned')",
            name=op.f("ck_stock_item_box_state_known"),
        ),
        sa.CheckConstraint(
            "feed_kind IN ('syrup_1_1', 'syrup_2_1', 'syrup_ready', 'fondant', 'sugar', 'patty')",
            name=op.f("ck_stock_item_feed_kind_known"),
        ),
        sa.CheckConstraint("feed_kind IS NULL OR kind = 'feed'", name=op.f("ck_stock_item_feed_is_feed")),
        sa.CheckConstraint("kind <> 'box' OR unit = 'piece'", name=op.f("ck_stock_item_boxes_are_pieces")),
        sa.CheckConstraint(
            "kind IN ('feed', 'jar', 'lid', 'label', 'frames', 'foundation', 'box', 'other')",
            name=op.f("ck_stock_item_kind_known"),
        ),
        sa.CheckConstraint("unit IN ('g', 'ml', 'piece')", name=op.f("ck_stock_item_unit_known")),
        sa.CheckConstraint("fits_g BETWEEN 5 AND 25000", name=op.f("ck_stock_item_fits_g_range")),
        sa.CheckConstraint("lead_days BETWEEN 0 AND 730", name=op.f("ck_stock_item_lead_days_range")),
        sa.CheckConstraint("length(name) > 0", name=op.f("ck_stock_item_name_given")),
        sa.CheckConstraint("low >= 0", name=op.f("ck_stock_item_low_least")),
        sa.CheckConstraint("pack >= 1", name=op.f("ck_stock_item_pack_least")),
        sa.CheckConstraint(
            "sugar_hundredths BETWEEN 0 AND 10000", name=op.f("ck_stock_item_sugar_hundredths_range")
        ),
        sa.ForeignKeyConstraint(["supplier_id"], ["party.id"], name=op.f("fk_stock_item_supplier_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stock_item")),
        sa.UniqueConstraint("name", name=op.f("uq_stock_item_name")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index(
        "uq_stock_item_box",
        "stock_item",
        ["box", "frame_size", "box_state"],
        unique=True,
        sqlite_where=sa.text("retired_on IS NULL AND box IS NOT NULL"),
        postgresql_where=sa.text("retired_on IS NULL AND box IS NOT NULL"),
    )
    op.create_table(
        "official_visit",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("site_id", WHOLE, nullable=False),
        sa.Column("on", DAY, nullable=False),
        sa.Column("inspector", sa.Text(), nullable=False),
        sa.Column("purpose", sa.Text(), nullable=True),
        sa.Column("found", sa.Text(), nullable=True),
        sa.Column("note", sa.Text(), nullable=True),
        sa.CheckConstraint("length(inspector) > 0", name=op.f("ck_official_visit_inspector_named")),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name=op.f("fk_official_visit_site_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_official_visit")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_official_visit_site", "official_visit", ["site_id", "on"], unique=False)
    op.create_table(
        "restriction",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("scope", sa.Text(), nullable=False),
        sa.Column("site_id", WHOLE, nullable=True),
        sa.Column("vehicle_id", WHOLE, nullable=True),
        sa.Column("easting_m", WHOLE, nullable=True),
        sa.Column("northing_m", WHOLE, nullable=True),
        sa.Column("latitude_e6", WHOLE, nullable=True),
        sa.Column("longitude_e6", WHOLE, nullable=True),
        sa.Column("radius_m", WHOLE, nullable=True),
        sa.Column("begins_at", MOMENT, nullable=False),
        sa.Column("begins_on", DAY, nullable=False),
        sa.Column("served_on", DAY, nullable=True),
        sa.Column("stops_bees", YESNO, nullable=False),
        sa.Column("stops_comb", YESNO, nullable=False),
        sa.Column("stops_honey", YESNO, nullable=False),
        sa.Column("stops_boxes", YESNO, nullable=False),
        sa.Column("stops_tools", YESNO, nullable=False),
        sa.Column("stops_inward", YESNO, nullable=False),
        sa.Column("authority_id", WHOLE, nullable=True),
        sa.Column("by_whom", sa.Text(), nullable=True),
        sa.Column("reference", sa.Text(), nullable=True),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("expected_end_on", DAY, nullable=True),
        sa.Column("released_at", MOMENT, nullable=True),
        sa.Column("released_on", DAY, nullable=True),
        sa.Column("release_reference", sa.Text(), nullable=True),
        sa.Column("note", sa.Text(), nullable=True),
        sa.CheckConstraint(
            "(scope = 'area') = (radius_m IS NOT NULL)", name=op.f("ck_restriction_circle_whole")
        ),
        sa.CheckConstraint(
            "(scope = 'site') = (site_id IS NOT NULL)", name=op.f("ck_restriction_site_named")
        ),
        sa.CheckConstraint(
            "(scope = 'vehicle') = (vehicle_id IS NOT NULL)", name=op.f("ck_restriction_vehicle_named")
        ),
        sa.CheckConstraint(
            "scope <> 'area' OR (easting_m IS NOT NULL AND northing_m IS NOT NULL) OR (latitude_e6 IS NOT NULL AND longitude_e6 IS NOT NULL)",
            name=op.f("ck_restriction_middle_known"),
        ),
        sa.CheckConstraint("scope IN ('site', 'area', 'vehicle')", name=op.f("ck_restriction_scope_known")),
        sa.CheckConstraint(
            "(released_at IS NULL) = (release_reference IS NULL)", name=op.f("ck_restriction_release_written")
        ),
        sa.CheckConstraint(
            "(released_at IS NULL) = (released_on IS NULL)", name=op.f("ck_restriction_release_whole")
        ),
        sa.CheckConstraint("easting_m BETWEEN 0 AND 700000", name=op.f("ck_restriction_easting_m_range")),
        sa.CheckConstraint(
            "latitude_e6 BETWEEN -90000000 AND 90000000", name=op.f("ck_restriction_latitude_e6_range")
        ),
        sa.CheckConstraint("length(reason) > 0", name=op.f("ck_restriction_reason_given")),
        sa.CheckConstraint("length(release_reference) > 0", name=op.f("ck_restriction_release_named")),
        sa.CheckConstraint(
            "longitude_e6 BETWEEN -180000000 AND 180000000", name=op.f("ck_restriction_longitude_e6_range")
        ),
        sa.CheckConstraint("northing_m BETWEEN 0 AND 1300000", name=op.f("ck_restriction_northing_m_range")),
        sa.CheckConstraint("radius_m >= 1", name=op.f("ck_restriction_radius_m_least")),
        sa.CheckConstraint("released_at > begins_at", name=op.f("ck_restriction_moments_order")),
        sa.ForeignKeyConstraint(["authority_id"], ["party.id"], name=op.f("fk_restriction_authority_id")),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name=op.f("fk_restriction_site_id")),
        sa.ForeignKeyConstraint(["vehicle_id"], ["vehicle.id"], name=op.f("fk_restriction_vehicle_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_restriction")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index(
        "ix_restriction_open",
        "restriction",
        ["begins_at"],
        unique=False,
        sqlite_where=sa.text("released_at IS NULL"),
        postgresql_where=sa.text("released_at IS NULL"),
    )
    op.create_index("ix_restriction_site", "restriction", ["site_id"], unique=False)
    op.create_index("ix_restriction_vehicle", "restriction", ["vehicle_id"], unique=False)
    op.create_table(
        "stock_lot",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("item_id", WHOLE, nullable=False),
        sa.Column("supplier_id", WHOLE, nullable=True),
        sa.Column("batch", sa.Text(), nullable=True),
        sa.Column("acquired_on", DAY, nullable=True),
        sa.Column("expires_on", DAY, nullable=True),
        sa.Column("price_pence", WHOLE, nullable=True),
        sa.Column("tax_code", sa.Text(), nullable=True),
        sa.CheckConstraint("price_pence >= 0", name=op.f("ck_stock_lot_price_pence_least")),
        sa.ForeignKeyConstraint(["item_id"], ["stock_item.id"], name=op.f("fk_stock_lot_item_id")),
        sa.ForeignKeyConstraint(["supplier_id"], ["party.id"], name=op.f("fk_stock_lot_supplier_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stock_lot")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_stock_lot_item", "stock_lot", ["item_id", "expires_on"], unique=False)
    op.create_table(
        "sample",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("site_id", WHOLE, nullable=False),
        sa.Column("visit_id", WHOLE, nullable=True),
        sa.Column("colony_id", WHOLE, nullable=True),
        sa.Column("taken_on", DAY, nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("laboratory", sa.Text(), nullable=True),
        sa.Column("sent_on", DAY, nullable=True),
        sa.Column("result_on", DAY, nullable=True),
        sa.Column("result", sa.Text(), nullable=True),
        sa.Column("outcome", sa.Text(), nullable=True),
        sa.CheckConstraint(
            "kind IN ('comb', 'larvae', 'bees', 'honey', 'debris', 'other')",
            name=op.f("ck_sample_kind_known"),
        ),
        sa.CheckConstraint("outcome IN ('clear', 'positive')", name=op.f("ck_sample_outcome_known")),
        sa.CheckConstraint("(result_on IS NULL) = (outcome IS NULL)", name=op.f("ck_sample_result_whole")),
        sa.CheckConstraint("length(what) > 0", name=op.f("ck_sample_what_given")),
        sa.CheckConstraint("result IS NULL OR outcome IS NOT NULL", name=op.f("ck_sample_words_of_a_result")),
        sa.CheckConstraint("result_on >= taken_on", name=op.f("ck_sample_result_order")),
        sa.CheckConstraint("sent_on >= taken_on", name=op.f("ck_sample_sent_order")),
        sa.ForeignKeyConstraint(["colony_id"], ["colony.id"], name=op.f("fk_sample_colony_id")),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name=op.f("fk_sample_site_id")),
        sa.ForeignKeyConstraint(["visit_id"], ["official_visit.id"], name=op.f("fk_sample_visit_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sample")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_sample_colony", "sample", ["colony_id"], unique=False)
    op.create_index("ix_sample_site", "sample", ["site_id", "taken_on"], unique=False)
    op.create_index("ix_sample_visit", "sample", ["visit_id"], unique=False)
    op.create_index(
        "ix_sample_waiting",
        "sample",
        ["taken_on"],
        unique=False,
        sqlite_where=sa.text("outcome IS NULL"),
        postgresql_where=sa.text("outcome IS NULL"),
    )
    op.create_table(
        "stock_count",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("item_id", WHOLE, nullable=False),
        sa.Column("lot_id", WHOLE, nullable=True),
        sa.Column("on", DAY, nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("store_id", WHOLE, nullable=True),
        sa.Column("vehicle_id", WHOLE, nullable=True),
        sa.Column("site_id", WHOLE, nullable=True),
        sa.Column("party_id", WHOLE, nullable=True),
        sa.Column("counted", WHOLE, nullable=False),
        sa.Column("held", WHOLE, nullable=False),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.CheckConstraint(
            "(kind = 'extractor') = (party_id IS NOT NULL)", name=op.f("ck_stock_count_place_extractor_named")
        ),
        sa.CheckConstraint(
            "(kind = 'site') = (site_id IS NOT NULL)", name=op.f("ck_stock_count_place_site_named")
        ),
        sa.CheckConstraint(
            "(kind = 'store') = (store_id IS NOT NULL)", name=op.f("ck_stock_count_place_store_named")
        ),
        sa.CheckConstraint(
            "(kind = 'van') = (vehicle_id IS NOT NULL)", name=op.f("ck_stock_count_place_van_named")
        ),
        sa.CheckConstraint(
            "kind IN ('store', 'van', 'site', 'extractor')", name=op.f("ck_stock_count_kind_known")
        ),
        sa.CheckConstraint("counted >= 0", name=op.f("ck_stock_count_counted_least")),
        sa.CheckConstraint("held >= 0", name=op.f("ck_stock_count_held_least")),
        sa.ForeignKeyConstraint(["item_id"], ["stock_item.id"], name=op.f("fk_stock_count_item_id")),
        sa.ForeignKeyConstraint(["lot_id"], ["stock_lot.id"], name=op.f("fk_stock_count_lot_id")),
        sa.ForeignKeyConstraint(["party_id"], ["party.id"], name=op.f("fk_stock_count_party_id")),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name=op.f("fk_stock_count_site_id")),
        sa.ForeignKeyConstraint(["store_id"], ["stock_store.id"], name=op.f("fk_stock_count_store_id")),
        sa.ForeignKeyConstraint(["vehicle_id"], ["vehicle.id"], name=op.f("fk_stock_count_vehicle_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stock_count")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_stock_count_item", "stock_count", ["item_id", "on", "id"], unique=False)
    op.create_table(
        "attachment",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("sha256", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("media_type", sa.Text(), nullable=False),
        sa.Column("size_bytes", WHOLE, nullable=False),
        sa.Column("on", DAY, nullable=False),
        sa.Column("note", sa.Text(), nullable=True),
        sa.Column("site_id", WHOLE, nullable=True),
        sa.Column("colony_id", WHOLE, nullable=True),
        sa.Column("contract_id", WHOLE, nullable=True),
        sa.Column("medicine_id", WHOLE, nullable=True),
        sa.Column("dispatch_id", WHOLE, nullable=True),
        sa.Column("restriction_id", WHOLE, nullable=True),
        sa.Column("official_visit_id", WHOLE, nullable=True),
        sa.Column("sample_id", WHOLE, nullable=True),
        sa.CheckConstraint(
            "CASE WHEN site_id IS NULL THEN 0 ELSE 1 END + CASE WHEN colony_id IS NULL THEN 0 ELSE 1 END + CASE WHEN contract_id IS NULL THEN 0 ELSE 1 END + CASE WHEN medicine_id IS NULL THEN 0 ELSE 1 END + CASE WHEN dispatch_id IS NULL THEN 0 ELSE 1 END + CASE WHEN restriction_id IS NULL THEN 0 ELSE 1 END + CASE WHEN official_visit_id IS NULL THEN 0 ELSE 1 END + CASE WHEN sample_id IS NULL THEN 0 ELSE 1 END = 1",
            name=op.f("ck_attachment_hangs_once"),
        ),
        sa.CheckConstraint("length(name) > 0", name=op.f("ck_attachment_name_given")),
        sa.CheckConstraint("length(sha256) = 64", name=op.f("ck_attachment_sha256_length")),
        sa.CheckConstraint("size_bytes >= 0", name=op.f("ck_attachment_size_bytes_least")),
        sa.ForeignKeyConstraint(["colony_id"], ["colony.id"], name=op.f("fk_attachment_colony_id")),
        sa.ForeignKeyConstraint(["contract_id"], ["contract.id"], name=op.f("fk_attachment_contract_id")),
        sa.ForeignKeyConstraint(["dispatch_id"], ["dispatch.id"], name=op.f("fk_attachment_dispatch_id")),
        sa.ForeignKeyConstraint(["medicine_id"], ["medicine.id"], name=op.f("fk_attachment_medicine_id")),
        sa.ForeignKeyConstraint(
            ["official_visit_id"], ["official_visit.id"], name=op.f("fk_attachment_official_visit_id")
        ),
        sa.ForeignKeyConstraint(
            ["restriction_id"], ["restriction.id"], name=op.f("fk_attachment_restriction_id")
        ),
        sa.ForeignKeyConstraint(["sample_id"], ["sample.id"], name=op.f("fk_attachment_sample_id")),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name=op.f("fk_attachment_site_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_attachment")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_attachment_sha256"), "attachment", ["sha256"], unique=False)
    op.create_index("uq_attachment_colony_id_sha256", "attachment", ["colony_id", "sha256"], unique=True)
    op.create_index("uq_attachment_contract_id_sha256", "attachment", ["contract_id", "sha256"], unique=True)
    op.create_index("uq_attachment_dispatch_id_sha256", "attachment", ["dispatch_id", "sha256"], unique=True)
    op.create_index("uq_attachment_medicine_id_sha256", "attachment", ["medicine_id", "sha256"], unique=True)
    op.create_index(
        "uq_attachment_official_visit_id_sha256", "attachment", ["official_visit_id", "sha256"], unique=True
    )
    op.create_index(
        "uq_attachment_restriction_id_sha256", "attachment", ["restriction_id", "sha256"], unique=True
    )
    op.create_index("uq_attachment_sample_id_sha256", "attachment", ["sample_id", "sha256"], unique=True)
    op.create_index("uq_attachment_site_id_sha256", "attachment", ["site_id", "sha256"], unique=True)
    op.create_table(
        "licence_use",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("restriction_id", WHOLE, nullable=False),
        sa.Column("move_id", WHOLE, nullable=True),
        sa.Column("take_id", WHOLE, nullable=True),
        sa.Column("dispatch_id", WHOLE, nullable=True),
        sa.Column("transfer_id", WHOLE, nullable=True),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("licence", sa.Text(), nullable=False),
        sa.Column("issued_by", sa.Text(), nullable=True),
        sa.Column("issued_on", DAY, nullable=True),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.CheckConstraint(
            "CASE WHEN move_id IS NULL THEN 0 ELSE 1 END + CASE WHEN take_id IS NULL THEN 0 ELSE 1 END + CASE WHEN dispatch_id IS NULL THEN 0 ELSE 1 END + CASE WHEN transfer_id IS NULL THEN 0 ELSE 1 END = 1",
            name=op.f("ck_licence_use_one_thing"),
        ),
        sa.CheckConstraint("length(licence) > 0", name=op.f("ck_licence_use_licence_given")),
        sa.ForeignKeyConstraint(["dispatch_id"], ["dispatch.id"], name=op.f("fk_licence_use_dispatch_id")),
        sa.ForeignKeyConstraint(["move_id"], ["move.id"], name=op.f("fk_licence_use_move_id")),
        sa.ForeignKeyConstraint(
            ["restriction_id"], ["restriction.id"], name=op.f("fk_licence_use_restriction_id")
        ),
        sa.ForeignKeyConstraint(["take_id"], ["take.id"], name=op.f("fk_licence_use_take_id")),
        sa.ForeignKeyConstraint(
            ["transfer_id"], ["colony_transfer.id"], name=op.f("fk_licence_use_transfer_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_licence_use")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_licence_use_dispatch", "licence_use", ["dispatch_id"], unique=False)
    op.create_index("ix_licence_use_move", "licence_use", ["move_id"], unique=False)
    op.create_index("ix_licence_use_restriction", "licence_use", ["restriction_id"], unique=False)
    op.create_index("ix_licence_use_take", "licence_use", ["take_id"], unique=False)
    op.create_index("ix_licence_use_transfer", "licence_use", ["transfer_id"], unique=False)
    op.create_table(
        "stock_entry",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("item_id", WHOLE, nullable=False),
        sa.Column("lot_id", WHOLE, nullable=True),
        sa.Column("on", DAY, nullable=False),
        sa.Column("quantity", WHOLE, nullable=False),
        sa.Column("from_kind", sa.Text(), nullable=False),
        sa.Column("from_store_id", WHOLE, nullable=True),
        sa.Column("from_vehicle_id", WHOLE, nullable=True),
        sa.Column("from_site_id", WHOLE, nullable=True),
        sa.Column("from_party_id", WHOLE, nullable=True),
        sa.Column("to_kind", sa.Text(), nullable=False),
        sa.Column("to_store_id", WHOLE, nullable=True),
        sa.Column("to_vehicle_id", WHOLE, nullable=True),
        sa.Column("to_site_id", WHOLE, nullable=True),
        sa.Column("to_party_id", WHOLE, nullable=True),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=True),
        sa.Column("round_id", WHOLE, nullable=True),
        sa.Column("batch_id", WHOLE, nullable=True),
        sa.Column("counters_id", WHOLE, nullable=True),
        sa.CheckConstraint(
            "(from_kind = 'extractor') = (from_party_id IS NOT NULL)",
            name=op.f("ck_stock_entry_from_extractor_named"),
        ),
        sa.CheckConstraint(
            "(from_kind = 'site') = (from_site_id IS NOT NULL)", name=op.f("ck_stock_entry_from_site_named")
        ),
        sa.CheckConstraint(
            "(from_kind = 'store') = (from_store_id IS NOT NULL)",
            name=op.f("ck_stock_entry_from_store_named"),
        ),
        sa.CheckConstraint(
            "(from_kind = 'van') = (from_vehicle_id IS NOT NULL)", name=op.f("ck_stock_entry_from_van_named")
        ),
        sa.CheckConstraint(
            "(to_kind = 'extractor') = (to_party_id IS NOT NULL)",
            name=op.f("ck_stock_entry_to_extractor_named"),
        ),
        sa.CheckConstraint(
            "(to_kind = 'site') = (to_site_id IS NOT NULL)", name=op.f("ck_stock_entry_to_site_named")
        ),
        sa.CheckConstraint(
            "(to_kind = 'store') = (to_store_id IS NOT NULL)", name=op.f("ck_stock_entry_to_store_named")
        ),
        sa.CheckConstraint(
            "(to_kind = 'van') = (to_vehicle_id IS NOT NULL)", name=op.f("ck_stock_entry_to_van_named")
        ),
        sa.CheckConstraint(
            "from_kind IN ('supplier', 'store', 'van', 'site', 'extractor', 'hives', 'used', 'wasted', 'lost', 'uncounted', 'turned')",
            name=op.f("ck_stock_entry_from_kind_known"),
        ),
        sa.CheckConstraint(
            "to_kind IN ('supplier', 'store', 'van', 'site', 'extractor', 'hives', 'used', 'wasted', 'lost', 'uncounted', 'turned')",
            name=op.f("ck_stock_entry_to_kind_known"),
        ),
        sa.CheckConstraint("counters_id <> id", name=op.f("ck_stock_entry_counters_another")),
        sa.CheckConstraint(
            "from_kind <> to_kind OR COALESCE(from_store_id, from_vehicle_id, from_site_id, from_party_id, 0) <> COALESCE(to_store_id, to_vehicle_id, to_site_id, to_party_id, 0)",
            name=op.f("ck_stock_entry_two_accounts"),
        ),
        sa.CheckConstraint("quantity >= 1", name=op.f("ck_stock_entry_quantity_least")),
        sa.ForeignKeyConstraint(["batch_id"], ["batch.id"], name=op.f("fk_stock_entry_batch_id")),
        sa.ForeignKeyConstraint(["counters_id"], ["stock_entry.id"], name=op.f("fk_stock_entry_counters_id")),
        sa.ForeignKeyConstraint(["from_party_id"], ["party.id"], name=op.f("fk_stock_entry_from_party_id")),
        sa.ForeignKeyConstraint(["from_site_id"], ["site.id"], name=op.f("fk_stock_entry_from_site_id")),
        sa.ForeignKeyConstraint(
            ["from_store_id"], ["stock_store.id"], name=op.f("fk_stock_entry_from_store_id")
        ),
        sa.ForeignKeyConstraint(
            ["from_vehicle_id"], ["vehicle.id"], name=op.f("fk_stock_entry_from_vehicle_id")
        ),
        sa.ForeignKeyConstraint(["item_id"], ["stock_item.id"], name=op.f("fk_stock_entry_item_id")),
        sa.ForeignKeyConstraint(["lot_id"], ["stock_lot.id"], name=op.f("fk_stock_entry_lot_id")),
        sa.ForeignKeyConstraint(["round_id"], ["round.id"], name=op.f("fk_stock_entry_round_id")),
        sa.ForeignKeyConstraint(["to_party_id"], ["party.id"], name=op.f("fk_stock_entry_to_party_id")),
        sa.ForeignKeyConstraint(["to_site_id"], ["site.id"], name=op.f("fk_stock_entry_to_site_id")),
        sa.ForeignKeyConstraint(["to_store_id"], ["stock_store.id"], name=op.f("fk_stock_entry_to_store_id")),
        sa.ForeignKeyConstraint(["to_vehicle_id"], ["vehicle.id"], name=op.f("fk_stock_entry_to_vehicle_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stock_entry")),
        sa.UniqueConstraint("counters_id", name=op.f("uq_stock_entry_counters_id")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_stock_entry_batch", "stock_entry", ["batch_id"], unique=False)
    op.create_index(
        "ix_stock_entry_countering",
        "stock_entry",
        ["item_id", "on"],
        unique=False,
        sqlite_where=sa.text("counters_id IS NOT NULL"),
        postgresql_where=sa.text("counters_id IS NOT NULL"),
    )
    op.create_index("ix_stock_entry_item", "stock_entry", ["item_id", "on", "id"], unique=False)
    op.create_index("ix_stock_entry_lot", "stock_entry", ["lot_id"], unique=False)
    op.create_index("ix_stock_entry_round", "stock_entry", ["round_id"], unique=False)
    op.create_index(
        "ix_stock_entry_uncounted",
        "stock_entry",
        ["item_id", "on"],
        unique=False,
        sqlite_where=sa.text("from_kind = 'uncounted'"),
        postgresql_where=sa.text("from_kind = 'uncounted'"),
    )
    op.create_index(
        "ix_stock_entry_used", "stock_entry", ["item_id", "to_kind", "on", "quantity"], unique=False
    )


def change() -> None:
    """The tables that stood: made anew on SQLite (which cannot change a CHECK), altered on PostgreSQL."""
    _anew(
        "party",
        """
CREATE TABLE party_anew (
	id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
	version INTEGER NOT NULL,
	name TEXT NOT NULL,
	is_landholder INTEGER NOT NULL,
	is_grower INTEGER NOT NULL,
	is_customer INTEGER NOT NULL,
	is_supplier INTEGER NOT NULL,
	is_authority INTEGER NOT NULL,
	is_extractor INTEGER,
	erased_on TEXT,
	CONSTRAINT ck_party_name_given CHECK (length(name) > 0)
)
 STRICT
""",
        '"id", "version", "name", "is_landholder", "is_grower", "is_customer", "is_supplier", "is_authority"',
        [],
    )
    _altered(
        ["ALTER TABLE party ADD COLUMN is_extractor BOOLEAN", "ALTER TABLE party ADD COLUMN erased_on DATE"]
    )
    _anew(
        "vehicle",
        """
CREATE TABLE vehicle_anew (
	id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
	version INTEGER NOT NULL,
	name TEXT NOT NULL,
	registration TEXT,
	places INTEGER NOT NULL,
	payload_g INTEGER,
	retired_on TEXT,
	CONSTRAINT ck_vehicle_places_least CHECK (places >= 1),
	CONSTRAINT ck_vehicle_payload_g_least CHECK (payload_g >= 0),
	CONSTRAINT uq_vehicle_name UNIQUE (name)
)
 STRICT
""",
        '"id", "version", "name", "registration", "places", "payload_g"',
        [],
    )
    _altered(["ALTER TABLE vehicle ADD COLUMN retired_on DATE"])
    _anew(
        "due",
        """
CREATE TABLE due_anew (
	id INTEGER NOT NULL,
	colony_id INTEGER NOT NULL,
	site_id INTEGER,
	code TEXT NOT NULL,
	what TEXT NOT NULL,
	why TEXT NOT NULL,
	due_on TEXT NOT NULL,
	minutes INTEGER NOT NULL,
	fact TEXT,
	fact_on TEXT,
	first_on TEXT,
	CONSTRAINT pk_due PRIMARY KEY (id),
	CONSTRAINT fk_due_colony_id FOREIGN KEY(colony_id) REFERENCES colony (id),
	CONSTRAINT fk_due_site_id FOREIGN KEY(site_id) REFERENCES site (id)
)
 STRICT
""",
        '"id", "colony_id", "site_id", "code", "what", "why", "due_on", "minutes"',
        [
            "CREATE INDEX ix_due_site ON due (site_id, due_on)",
            "CREATE INDEX ix_due_on ON due (due_on)",
            "CREATE INDEX ix_due_colony ON due (colony_id)",
        ],
    )
    _altered(
        [
            "ALTER TABLE due ADD COLUMN fact TEXT",
            "ALTER TABLE due ADD COLUMN fact_on DATE",
            "ALTER TABLE due ADD COLUMN first_on DATE",
        ]
    )
    op.execute("DROP INDEX ix_treatment_medicine")
    op.execute("CREATE INDEX ix_treatment_medicine ON treatment (medicine_id, in_on, out_on, pieces)")
    op.execute("CREATE INDEX ix_treatment_in ON treatment (in_on)")
    op.execute("DROP INDEX ix_honey_transfer_from")
    op.execute("DROP INDEX ix_honey_transfer_to")
    op.execute(
        'CREATE INDEX ix_honey_transfer_began ON honey_transfer ("on", grams) WHERE origin IS NOT NULL'
    )
    op.execute("CREATE INDEX ix_honey_transfer_to ON honey_transfer (to_lot_id, grams)")
    op.execute(
        'CREATE INDEX ix_honey_transfer_spent ON honey_transfer ("on", sink, grams) WHERE sink IS NOT NULL'
    )
    op.execute("CREATE INDEX ix_honey_transfer_from ON honey_transfer (from_lot_id, grams)")


def _anew(table: str, ddl: str, columns: str, indexes: list[str]) -> None:
    if op.get_bind().dialect.name != "sqlite":
        return
    op.execute(ddl)
    op.execute(f'INSERT INTO {table}_anew ({columns}) SELECT {columns} FROM "{table}"')  # noqa: S608  # names of this file
    op.execute(f'DROP TABLE "{table}"')
    op.execute(f'ALTER TABLE {table}_anew RENAME TO "{table}"')
    for index in indexes:
        op.execute(index)


def _altered(statements: list[str]) -> None:
    if op.get_bind().dialect.name == "sqlite":
        return
    for statement in statements:
        op.execute(statement)
