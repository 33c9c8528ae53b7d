"""The first schema: the ledger of acts, sites, colonies, rounds, honey, contracts and moves."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

WHOLE = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
DAY = sa.Date().with_variant(sa.Text(), "sqlite")
MOMENT = sa.DateTime(timezone=True).with_variant(sa.Text(), "sqlite")
YESNO = sa.Boolean().with_variant(sa.Integer(), "sqlite")


def upgrade() -> None:
    """Make every table."""
    op.create_table(
        "act",
        sa.Column("id", WHOLE, autoincrement=False, nullable=False),
        sa.Column("uid", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("sentence", sa.Text(), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("desk", sa.Text(), nullable=False),
        sa.Column("at", MOMENT, nullable=False),
        sa.Column("on", DAY, nullable=False),
        sa.Column("zone", sa.Text(), nullable=False),
        sa.Column("undoes_act_id", WHOLE, nullable=True),
        sa.Column("draft_uid", sa.Text(), nullable=True),
        sa.Column("schema", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["undoes_act_id"], ["act.id"], name=op.f("fk_act_undoes_act_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_act")),
        sa.UniqueConstraint("draft_uid", name=op.f("uq_act_draft_uid")),
        sa.UniqueConstraint("uid", name=op.f("uq_act_uid")),
        sqlite_strict=True,
    )
    op.create_index("ix_act_undoes", "act", ["undoes_act_id"], unique=False)
    op.create_table(
        "colony",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("founded_on", DAY, nullable=False),
        sa.Column("founded_how", sa.Text(), nullable=False),
        sa.Column("ended_on", DAY, nullable=True),
        sa.Column("end_cause", sa.Text(), nullable=True),
        sa.Column("note", sa.Text(), nullable=True),
        sa.CheckConstraint(
            "end_cause IN ('sold', 'united', 'starvation', 'queen_failure', 'drone_layer', 'disease', 'varroa', 'dwindled', 'damp', 'wasps', 'hornet', 'animals', 'theft', 'vandalism', 'flood', 'spray', 'transit', 'destroyed', 'unknown')",
            name=op.f("ck_colony_end_cause_known"),
        ),
        sa.CheckConstraint(
            "founded_how IN ('opening', 'import', 'split', 'nucleus', 'swarm', 'bought', 'stranger')",
            name=op.f("ck_colony_founded_how_known"),
        ),
        sa.CheckConstraint("kind IN ('full', 'nucleus', 'mating')", name=op.f("ck_colony_kind_known")),
        sa.CheckConstraint("(ended_on IS NULL) = (end_cause IS NULL)", name=op.f("ck_colony_end_whole")),
        sa.CheckConstraint("ended_on >= founded_on", name=op.f("ck_colony_end_order")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_colony")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index(
        "ix_colony_alive",
        "colony",
        ["id"],
        unique=False,
        sqlite_where=sa.text("ended_on IS NULL"),
        postgresql_where=sa.text("ended_on IS NULL"),
    )
    op.create_index("ix_colony_ended_on", "colony", ["ended_on"], unique=False)
    op.create_table(
        "crew_member",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("initials", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("works_here", YESNO, nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_crew_member")),
        sa.UniqueConstraint("initials", name=op.f("uq_crew_member_initials")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_table(
        "farm_setting",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("value", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_farm_setting")),
        sa.UniqueConstraint("key", name=op.f("uq_farm_setting_key")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_table(
        "party",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("is_landholder", YESNO, nullable=False),
        sa.Column("is_grower", YESNO, nullable=False),
        sa.Column("is_customer", YESNO, nullable=False),
        sa.Column("is_supplier", YESNO, nullable=False),
        sa.Column("is_authority", YESNO, nullable=False),
        sa.CheckConstraint("length(name) > 0", name=op.f("ck_party_name_given")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_party")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_table(
        "queen",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("tag", sa.Text(), nullable=True),
        sa.Column("hatch_year", WHOLE, nullable=True),
        sa.Column("marked", YESNO, nullable=True),
        sa.Column("clipped", YESNO, nullable=True),
        sa.Column("line", sa.Text(), nullable=True),
        sa.Column("origin", sa.Text(), nullable=True),
        sa.Column("dam_id", WHOLE, nullable=True),
        sa.Column("ended_on", DAY, nullable=True),
        sa.Column("end_cause", sa.Text(), nullable=True),
        sa.Column("note", sa.Text(), nullable=True),
        sa.CheckConstraint("hatch_year BETWEEN 1900 AND 2200", name=op.f("ck_queen_hatch_year_range")),
        sa.ForeignKeyConstraint(["dam_id"], ["queen.id"], name=op.f("fk_queen_dam_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_queen")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_queen_dam", "queen", ["dam_id"], unique=False)
    op.create_index(
        "uq_queen_tag",
        "queen",
        ["tag"],
        unique=True,
        sqlite_where=sa.text("tag IS NOT NULL"),
        postgresql_where=sa.text("tag IS NOT NULL"),
    )
    op.create_table(
        "vehicle",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("registration", sa.Text(), nullable=True),
        sa.Column("places", WHOLE, nullable=False),
        sa.Column("payload_g", WHOLE, nullable=True),
        sa.CheckConstraint("payload_g >= 0", name=op.f("ck_vehicle_payload_g_least")),
        sa.CheckConstraint("places >= 1", name=op.f("ck_vehicle_places_least")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_vehicle")),
        sa.UniqueConstraint("name", name=op.f("uq_vehicle_name")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_table(
        "act_image",
        sa.Column("act_id", WHOLE, nullable=False),
        sa.Column("table", sa.Text(), nullable=False),
        sa.Column("image", sa.LargeBinary(), nullable=False),
        sa.ForeignKeyConstraint(["act_id"], ["act.id"], name=op.f("fk_act_image_act_id")),
        sa.PrimaryKeyConstraint("act_id", "table", name=op.f("pk_act_image")),
        sqlite_strict=True,
    )
    op.create_table(
        "act_row",
        sa.Column("table", sa.Text(), nullable=False),
        sa.Column("row_id", WHOLE, autoincrement=False, nullable=False),
        sa.Column("act_id", WHOLE, autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["act_id"], ["act.id"], name=op.f("fk_act_row_act_id")),
        sa.PrimaryKeyConstraint("table", "row_id", "act_id", name=op.f("pk_act_row")),
        sqlite_strict=True,
        sqlite_with_rowid=False,
    )
    op.create_index("ix_act_row_act", "act_row", ["act_id"], unique=False)
    op.create_table(
        "dispatch",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("on", DAY, nullable=False),
        sa.Column("party_id", WHOLE, nullable=True),
        sa.Column("way", sa.Text(), nullable=False),
        sa.Column("reference", sa.Text(), nullable=True),
        sa.Column("note", sa.Text(), nullable=True),
        sa.CheckConstraint("way <> 'dispatch' OR party_id IS NOT NULL", name=op.f("ck_dispatch_buyer_named")),
        sa.CheckConstraint(
            "way IN ('dispatch', 'public', 'gift', 'rent')", name=op.f("ck_dispatch_way_known")
        ),
        sa.ForeignKeyConstraint(["party_id"], ["party.id"], name=op.f("fk_dispatch_party_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_dispatch")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_dispatch_on", "dispatch", ["on"], unique=False)
    op.create_index("ix_dispatch_party", "dispatch", ["party_id", "on"], unique=False)
    op.create_table(
        "graft_batch",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("on", DAY, nullable=False),
        sa.Column("dam_id", WHOLE, nullable=False),
        sa.Column("finisher_id", WHOLE, nullable=True),
        sa.Column("grafted", WHOLE, nullable=True),
        sa.Column("taken", WHOLE, nullable=True),
        sa.Column("sealed", WHOLE, nullable=True),
        sa.Column("emerged", WHOLE, nullable=True),
        sa.Column("mated", WHOLE, nullable=True),
        sa.Column("note", sa.Text(), nullable=True),
        sa.CheckConstraint("emerged >= 0", name=op.f("ck_graft_batch_emerged_least")),
        sa.CheckConstraint("grafted >= 1", name=op.f("ck_graft_batch_grafted_least")),
        sa.CheckConstraint("mated >= 0", name=op.f("ck_graft_batch_mated_least")),
        sa.CheckConstraint("sealed >= 0", name=op.f("ck_graft_batch_sealed_least")),
        sa.CheckConstraint("taken >= 0", name=op.f("ck_graft_batch_taken_least")),
        sa.ForeignKeyConstraint(["dam_id"], ["queen.id"], name=op.f("fk_graft_batch_dam_id")),
        sa.ForeignKeyConstraint(["finisher_id"], ["colony.id"], name=op.f("fk_graft_batch_finisher_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_graft_batch")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_graft_batch_dam", "graft_batch", ["dam_id"], unique=False)
    op.create_index("ix_graft_batch_on", "graft_batch", ["on"], unique=False)
    op.create_table(
        "hive_mark",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("mark", sa.Text(), nullable=False),
        sa.Column("number", WHOLE, nullable=True),
        sa.Column("colony_id", WHOLE, nullable=False),
        sa.Column("from_on", DAY, nullable=False),
        sa.Column("until_on", DAY, nullable=True),
        sa.CheckConstraint("length(mark) > 0", name=op.f("ck_hive_mark_mark_given")),
        sa.CheckConstraint("until_on >= from_on", name=op.f("ck_hive_mark_days_order")),
        sa.ForeignKeyConstraint(["colony_id"], ["colony.id"], name=op.f("fk_hive_mark_colony_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_hive_mark")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_hive_mark_colony", "hive_mark", ["colony_id"], unique=False)
    op.create_index("ix_hive_mark_mark", "hive_mark", ["mark"], unique=False)
    op.create_index(
        "uq_hive_mark_colony_open",
        "hive_mark",
        ["colony_id"],
        unique=True,
        sqlite_where=sa.text("until_on IS NULL"),
        postgresql_where=sa.text("until_on IS NULL"),
    )
    op.create_index(
        "uq_hive_mark_open",
        "hive_mark",
        ["mark"],
        unique=True,
        sqlite_where=sa.text("until_on IS NULL"),
        postgresql_where=sa.text("until_on IS NULL"),
    )
    op.create_table(
        "medicine",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("product", sa.Text(), nullable=False),
        sa.Column("active", sa.Text(), nullable=False),
        sa.Column("batch", sa.Text(), nullable=True),
        sa.Column("expires_on", DAY, nullable=True),
        sa.Column("acquired_on", DAY, nullable=True),
        sa.Column("pieces", WHOLE, nullable=True),
        sa.Column("supplier_id", WHOLE, nullable=True),
        sa.Column("proof", sa.Text(), nullable=True),
        sa.Column("course_days", WHOLE, nullable=False),
        sa.Column("withdrawal_days", WHOLE, nullable=True),
        sa.Column("usual", YESNO, nullable=False),
        sa.CheckConstraint("course_days >= 0", name=op.f("ck_medicine_course_days_least")),
        sa.CheckConstraint("pieces >= 0", name=op.f("ck_medicine_pieces_least")),
        sa.CheckConstraint("withdrawal_days >= 0", name=op.f("ck_medicine_withdrawal_days_least")),
        sa.ForeignKeyConstraint(["supplier_id"], ["party.id"], name=op.f("fk_medicine_supplier_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_medicine")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_table(
        "party_contact",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("party_id", WHOLE, nullable=False),
        sa.Column("person", sa.Text(), nullable=True),
        sa.Column("address", sa.Text(), nullable=True),
        sa.Column("phone", sa.Text(), nullable=True),
        sa.Column("email", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(["party_id"], ["party.id"], name=op.f("fk_party_contact_party_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_party_contact")),
        sa.UniqueConstraint("party_id", name=op.f("uq_party_contact_party_id")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_table(
        "site",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("grid", sa.Text(), nullable=True),
        sa.Column("easting_m", WHOLE, nullable=True),
        sa.Column("northing_m", WHOLE, nullable=True),
        sa.Column("latitude_e6", WHOLE, nullable=True),
        sa.Column("longitude_e6", WHOLE, nullable=True),
        sa.Column("landholder_id", WHOLE, nullable=True),
        sa.Column("permission_from", DAY, nullable=True),
        sa.Column("permission_until", DAY, nullable=True),
        sa.Column("rent_pence", WHOLE, nullable=True),
        sa.Column("rent_jars", WHOLE, nullable=True),
        sa.Column("capacity", WHOLE, nullable=True),
        sa.Column("way_in", sa.Text(), nullable=True),
        sa.Column("forage", sa.Text(), nullable=True),
        sa.Column("other_bees", sa.Text(), nullable=True),
        sa.Column("apiary_number", sa.Text(), nullable=True),
        sa.Column("note", sa.Text(), nullable=True),
        sa.Column("closed_on", DAY, nullable=True),
        sa.CheckConstraint(
            "kind IN ('home', 'out', 'crop', 'mating', 'quarantine')", name=op.f("ck_site_kind_known")
        ),
        sa.CheckConstraint("capacity >= 0", name=op.f("ck_site_capacity_least")),
        sa.CheckConstraint("easting_m BETWEEN 0 AND 700000", name=op.f("ck_site_easting_m_range")),
        sa.CheckConstraint(
            "latitude_e6 BETWEEN -90000000 AND 90000000", name=op.f("ck_site_latitude_e6_range")
        ),
        sa.CheckConstraint("length(name) > 0", name=op.f("ck_site_name_given")),
        sa.CheckConstraint(
            "longitude_e6 BETWEEN -180000000 AND 180000000", name=op.f("ck_site_longitude_e6_range")
        ),
        sa.CheckConstraint("northing_m BETWEEN 0 AND 1300000", name=op.f("ck_site_northing_m_range")),
        sa.CheckConstraint("permission_until >= permission_from", name=op.f("ck_site_permission_order")),
        sa.CheckConstraint("rent_jars >= 0", name=op.f("ck_site_rent_jars_least")),
        sa.CheckConstraint("rent_pence >= 0", name=op.f("ck_site_rent_pence_least")),
        sa.ForeignKeyConstraint(["landholder_id"], ["party.id"], name=op.f("fk_site_landholder_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_site")),
        sa.UniqueConstraint("code", name=op.f("uq_site_code")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index(
        "uq_site_name_open",
        "site",
        ["name"],
        unique=True,
        sqlite_where=sa.text("closed_on IS NULL"),
        postgresql_where=sa.text("closed_on IS NULL"),
    )
    op.create_table(
        "contract",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("grower_id", WHOLE, nullable=False),
        sa.Column("site_id", WHOLE, nullable=False),
        sa.Column("crop", sa.Text(), nullable=False),
        sa.Column("area_m2", WHOLE, nullable=True),
        sa.Column("hives", WHOLE, nullable=False),
        sa.Column("least_bees_tenths", WHOLE, nullable=True),
        sa.Column("least_brood_tenths", WHOLE, nullable=True),
        sa.Column("on_on", DAY, nullable=False),
        sa.Column("off_on", DAY, nullable=False),
        sa.Column("price_pence", WHOLE, nullable=False),
        sa.Column("weak_share_hundredths", WHOLE, nullable=False),
        sa.Column("bonus_frame_pence", WHOLE, nullable=False),
        sa.Column("late_day_pence", WHOLE, nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("closed_on", DAY, nullable=True),
        sa.Column("terms", sa.Text(), nullable=True),
        sa.Column("tax_code", sa.Text(), nullable=True),
        sa.CheckConstraint(
            "state IN ('offer', 'agreed', 'on site', 'closed')", name=op.f("ck_contract_state_known")
        ),
        sa.CheckConstraint("area_m2 >= 1", name=op.f("ck_contract_area_m2_least")),
        sa.CheckConstraint("bonus_frame_pence >= 0", name=op.f("ck_contract_bonus_frame_pence_least")),
        sa.CheckConstraint("hives >= 1", name=op.f("ck_contract_hives_least")),
        sa.CheckConstraint("late_day_pence >= 0", name=op.f("ck_contract_late_day_pence_least")),
        sa.CheckConstraint("least_bees_tenths >= 0", name=op.f("ck_contract_least_bees_tenths_least")),
        sa.CheckConstraint("least_brood_tenths >= 0", name=op.f("ck_contract_least_brood_tenths_least")),
        sa.CheckConstraint("off_on >= on_on", name=op.f("ck_contract_days_order")),
        sa.CheckConstraint("price_pence >= 0", name=op.f("ck_contract_price_pence_least")),
        sa.CheckConstraint(
            "weak_share_hundredths BETWEEN 0 AND 10000", name=op.f("ck_contract_weak_share_hundredths_range")
        ),
        sa.ForeignKeyConstraint(["grower_id"], ["party.id"], name=op.f("fk_contract_grower_id")),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name=op.f("fk_contract_site_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_contract")),
        sa.UniqueConstraint("name", name=op.f("uq_contract_name")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_contract_grower_id"), "contract", ["grower_id"], unique=False)
    op.create_index("ix_contract_on", "contract", ["on_on"], unique=False)
    op.create_index(op.f("ix_contract_site_id"), "contract", ["site_id"], unique=False)
    op.create_table(
        "due",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("colony_id", WHOLE, nullable=False),
        sa.Column("site_id", WHOLE, nullable=True),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.Column("due_on", DAY, nullable=False),
        sa.Column("minutes", WHOLE, nullable=False),
        sa.ForeignKeyConstraint(["colony_id"], ["colony.id"], name=op.f("fk_due_colony_id")),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name=op.f("fk_due_site_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_due")),
        sqlite_strict=True,
    )
    op.create_index("ix_due_colony", "due", ["colony_id"], unique=False)
    op.create_index("ix_due_on", "due", ["due_on"], unique=False)
    op.create_index("ix_due_site", "due", ["site_id", "due_on"], unique=False)
    op.create_table(
        "mating",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("queen_id", WHOLE, nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("site_id", WHOLE, nullable=True),
        sa.Column("on", DAY, nullable=True),
        sa.Column("note", sa.Text(), nullable=True),
        sa.CheckConstraint(
            "kind IN ('open', 'drones', 'single', 'pooled')", name=op.f("ck_mating_kind_known")
        ),
        sa.ForeignKeyConstraint(["queen_id"], ["queen.id"], name=op.f("fk_mating_queen_id")),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name=op.f("fk_mating_site_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_mating")),
        sa.UniqueConstraint("queen_id", name=op.f("uq_mating_queen_id")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_table(
        "medicine_disposal",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("medicine_id", WHOLE, nullable=False),
        sa.Column("on", DAY, nullable=False),
        sa.Column("pieces", WHOLE, nullable=True),
        sa.Column("how", sa.Text(), nullable=True),
        sa.CheckConstraint("pieces >= 1", name=op.f("ck_medicine_disposal_pieces_least")),
        sa.ForeignKeyConstraint(
            ["medicine_id"], ["medicine.id"], name=op.f("fk_medicine_disposal_medicine_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_medicine_disposal")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index(
        op.f("ix_medicine_disposal_medicine_id"), "medicine_disposal", ["medicine_id"], unique=False
    )
    op.create_table(
        "round",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("uid", sa.Text(), nullable=False),
        sa.Column("site_id", WHOLE, nullable=False),
        sa.Column("on", DAY, nullable=False),
        sa.Column("start_minute", WHOLE, nullable=True),
        sa.Column("end_minute", WHOLE, nullable=True),
        sa.Column("crew", sa.Text(), nullable=True),
        sa.Column("weather", sa.Text(), nullable=True),
        sa.Column("note", sa.Text(), nullable=True),
        sa.Column("source", sa.Text(), nullable=False),
        sa.CheckConstraint(
            "source IN ('typed', 'workbook', 'scan', 'import', 'sample')", name=op.f("ck_round_source_known")
        ),
        sa.CheckConstraint("end_minute BETWEEN 0 AND 1439", name=op.f("ck_round_end_minute_range")),
        sa.CheckConstraint("start_minute BETWEEN 0 AND 1439", name=op.f("ck_round_start_minute_range")),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name=op.f("fk_round_site_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_round")),
        sa.UniqueConstraint("uid", name=op.f("uq_round_uid")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_round_on", "round", ["on"], unique=False)
    op.create_index("ix_round_site", "round", ["site_id", "on"], unique=False)
    op.create_table(
        "set_down_place",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("site_id", WHOLE, nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("grid", sa.Text(), nullable=True),
        sa.Column("easting_m", WHOLE, nullable=True),
        sa.Column("northing_m", WHOLE, nullable=True),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name=op.f("fk_set_down_place_site_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_set_down_place")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_set_down_place_site_id"), "set_down_place", ["site_id"], unique=False)
    op.create_table(
        "bloom_look",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("contract_id", WHOLE, nullable=False),
        sa.Column("on", DAY, nullable=False),
        sa.Column("share_hundredths", WHOLE, nullable=False),
        sa.CheckConstraint(
            "share_hundredths BETWEEN 0 AND 10000", name=op.f("ck_bloom_look_share_hundredths_range")
        ),
        sa.ForeignKeyConstraint(["contract_id"], ["contract.id"], name=op.f("fk_bloom_look_contract_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_bloom_look")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_bloom_look_contract_id"), "bloom_look", ["contract_id"], unique=False)
    op.create_table(
        "mating_drone_mother",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("mating_id", WHOLE, nullable=False),
        sa.Column("queen_id", WHOLE, nullable=False),
        sa.ForeignKeyConstraint(["mating_id"], ["mating.id"], name=op.f("fk_mating_drone_mother_mating_id")),
        sa.ForeignKeyConstraint(["queen_id"], ["queen.id"], name=op.f("fk_mating_drone_mother_queen_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_mating_drone_mother")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_mating_drone_mother_queen", "mating_drone_mother", ["queen_id"], unique=False)
    op.create_index("uq_mating_drone_mother", "mating_drone_mother", ["mating_id", "queen_id"], unique=True)
    op.create_table(
        "move",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("on", DAY, nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("left_at", MOMENT, nullable=False),
        sa.Column("arrived_at", MOMENT, nullable=False),
        sa.Column("arrived_on", DAY, nullable=False),
        sa.Column("vehicle_id", WHOLE, nullable=True),
        sa.Column("driver", sa.Text(), nullable=True),
        sa.Column("contract_id", WHOLE, nullable=True),
        sa.Column("note", sa.Text(), nullable=True),
        sa.CheckConstraint(
            "reason IN ('crop', 'home', 'mating', 'wintering', 'forage', 'sale', 'health', 'other')",
            name=op.f("ck_move_reason_known"),
        ),
        sa.CheckConstraint("state IN ('planned', 'loaded', 'delivered')", name=op.f("ck_move_state_known")),
        sa.CheckConstraint("arrived_at > left_at", name=op.f("ck_move_moments_order")),
        sa.ForeignKeyConstraint(["contract_id"], ["contract.id"], name=op.f("fk_move_contract_id")),
        sa.ForeignKeyConstraint(["vehicle_id"], ["vehicle.id"], name=op.f("fk_move_vehicle_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_move")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_move_contract", "move", ["contract_id"], unique=False)
    op.create_index("ix_move_on", "move", ["on"], unique=False)
    op.create_table(
        "round_entry",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("round_id", WHOLE, nullable=False),
        sa.Column("colony_id", WHOLE, nullable=False),
        sa.Column("on", DAY, nullable=False),
        sa.Column("seq", WHOLE, nullable=False),
        sa.Column("outcome", sa.Text(), nullable=False),
        sa.Column("cause", sa.Text(), nullable=True),
        sa.Column("queen_state", sa.Text(), nullable=True),
        sa.Column("queen_seen", YESNO, nullable=True),
        sa.Column("queen_colour", sa.Text(), nullable=True),
        sa.Column("eggs", YESNO, nullable=True),
        sa.Column("brood_tenths", WHOLE, nullable=True),
        sa.Column("bees_tenths", WHOLE, nullable=True),
        sa.Column("stores_tenths", WHOLE, nullable=True),
        sa.Column("stores_g", WHOLE, nullable=True),
        sa.Column("stores_heft", sa.Text(), nullable=True),
        sa.Column("super_fullness_tenths", WHOLE, nullable=True),
        sa.Column("temper", WHOLE, nullable=True),
        sa.Column("cells_stage", sa.Text(), nullable=True),
        sa.Column("cells_count", WHOLE, nullable=True),
        sa.Column("cells_done", sa.Text(), nullable=True),
        sa.Column("supers_on", WHOLE, nullable=True),
        sa.Column("supers_off", WHOLE, nullable=True),
        sa.Column("clearers", YESNO, nullable=True),
        sa.Column("feed_kind", sa.Text(), nullable=True),
        sa.Column("feed_ml", WHOLE, nullable=True),
        sa.Column("feed_g", WHOLE, nullable=True),
        sa.Column("feed_left_ml", WHOLE, nullable=True),
        sa.Column("medicine_in", sa.Text(), nullable=True),
        sa.Column("medicine_in_count", WHOLE, nullable=True),
        sa.Column("medicine_batch", sa.Text(), nullable=True),
        sa.Column("medicine_out", sa.Text(), nullable=True),
        sa.Column("medicine_out_count", WHOLE, nullable=True),
        sa.Column("mites_count", WHOLE, nullable=True),
        sa.Column("mites_method", sa.Text(), nullable=True),
        sa.Column("mites_bees", WHOLE, nullable=True),
        sa.Column("mites_days", WHOLE, nullable=True),
        sa.Column("signs", sa.Text(), nullable=True),
        sa.Column("split_to", sa.Text(), nullable=True),
        sa.Column("united_into", sa.Text(), nullable=True),
        sa.Column("brood_given_from", sa.Text(), nullable=True),
        sa.Column("brood_given_tenths", WHOLE, nullable=True),
        sa.Column("next_action", sa.Text(), nullable=True),
        sa.Column("next_days", WHOLE, nullable=True),
        sa.Column("question", sa.Text(), nullable=True),
        sa.Column("note", sa.Text(), nullable=True),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.CheckConstraint(
            "cause IN ('starvation', 'queen_failure', 'drone_layer', 'disease', 'varroa', 'dwindled', 'damp', 'wasps', 'hornet', 'animals', 'theft', 'vandalism', 'flood', 'spray', 'transit', 'destroyed', 'unknown')",
            name=op.f("ck_round_entry_cause_known"),
        ),
        sa.CheckConstraint(
            "cells_done IN ('left_one', 'knocked_down', 'split_made', 'left_all', 'used')",
            name=op.f("ck_round_entry_cells_done_known"),
        ),
        sa.CheckConstraint(
            "cells_stage IN ('none', 'cups', 'open', 'sealed', 'emergency', 'supersedure')",
            name=op.f("ck_round_entry_cells_stage_known"),
        ),
        sa.CheckConstraint(
            "feed_kind IN ('syrup_1_1', 'syrup_2_1', 'syrup_ready', 'fondant', 'sugar', 'patty')",
            name=op.f("ck_round_entry_feed_kind_known"),
        ),
        sa.CheckConstraint(
            "mites_method IN ('wash', 'roll', 'drop')", name=op.f("ck_round_entry_mites_method_known")
        ),
        sa.CheckConstraint(
            "next_action IN ('look', 'queen_check', 'feed', 'treat', 'medicine_out', 'supers', 'honey_off', 'split', 'requeen', 'unite', 'move')",
            name=op.f("ck_round_entry_next_action_known"),
        ),
        sa.CheckConstraint(
            "outcome <> 'dead' OR feed_kind IS NULL", name=op.f("ck_round_entry_no_feed_for_the_dead")
        ),
        sa.CheckConstraint(
            "outcome IN ('looked', 'not_opened', 'dead', 'not_found', 'stranger', 'empty')",
            name=op.f("ck_round_entry_outcome_known"),
        ),
        sa.CheckConstraint(
            "queen_colour IN ('white', 'yellow', 'red', 'green', 'blue', 'unmarked')",
            name=op.f("ck_round_entry_queen_colour_known"),
        ),
        sa.CheckConstraint(
            "queen_state IN ('right', 'virgin', 'cells', 'queenless', 'drone_layer')",
            name=op.f("ck_round_entry_queen_state_known"),
        ),
        sa.CheckConstraint(
            "stores_heft IN ('empty', 'light', 'fair', 'good', 'heavy')",
            name=op.f("ck_round_entry_stores_heft_known"),
        ),
        sa.CheckConstraint("bees_tenths BETWEEN 0 AND 2000", name=op.f("ck_round_entry_bees_tenths_range")),
        sa.CheckConstraint("brood_tenths BETWEEN 0 AND 2000", name=op.f("ck_round_entry_brood_tenths_range")),
        sa.CheckConstraint("cells_count >= 0", name=op.f("ck_round_entry_cells_count_least")),
        sa.CheckConstraint("feed_g >= 0", name=op.f("ck_round_entry_feed_g_least")),
        sa.CheckConstraint("feed_left_ml >= 0", name=op.f("ck_round_entry_feed_left_ml_least")),
        sa.CheckConstraint("feed_ml >= 0", name=op.f("ck_round_entry_feed_ml_least")),
        sa.CheckConstraint("medicine_in_count >= 0", name=op.f("ck_round_entry_medicine_in_count_least")),
        sa.CheckConstraint("medicine_out_count >= 0", name=op.f("ck_round_entry_medicine_out_count_least")),
        sa.CheckConstraint("mites_bees >= 1", name=op.f("ck_round_entry_mites_bees_least")),
        sa.CheckConstraint("mites_count >= 0", name=op.f("ck_round_entry_mites_count_least")),
        sa.CheckConstraint("mites_days >= 1", name=op.f("ck_round_entry_mites_days_least")),
        sa.CheckConstraint("next_days >= 0", name=op.f("ck_round_entry_next_days_least")),
        sa.CheckConstraint("stores_g >= 0", name=op.f("ck_round_entry_stores_g_least")),
        sa.CheckConstraint(
            "stores_tenths BETWEEN 0 AND 2000", name=op.f("ck_round_entry_stores_tenths_range")
        ),
        sa.CheckConstraint(
            "super_fullness_tenths BETWEEN 0 AND 200", name=op.f("ck_round_entry_super_fullness_tenths_range")
        ),
        sa.CheckConstraint("supers_off >= 0", name=op.f("ck_round_entry_supers_off_least")),
        sa.CheckConstraint("supers_on >= 0", name=op.f("ck_round_entry_supers_on_least")),
        sa.CheckConstraint("temper BETWEEN 1 AND 5", name=op.f("ck_round_entry_temper_range")),
        sa.ForeignKeyConstraint(["colony_id"], ["colony.id"], name=op.f("fk_round_entry_colony_id")),
        sa.ForeignKeyConstraint(["round_id"], ["round.id"], name=op.f("fk_round_entry_round_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_round_entry")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_round_entry_colony", "round_entry", ["colony_id", "on", "id"], unique=False)
    op.create_index("ix_round_entry_round", "round_entry", ["round_id", "seq"], unique=False)
    op.create_table(
        "strength_check",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("contract_id", WHOLE, nullable=False),
        sa.Column("on", DAY, nullable=False),
        sa.Column("counted_by", sa.Text(), nullable=False),
        sa.Column("share_hundredths", WHOLE, nullable=False),
        sa.Column("seed", WHOLE, nullable=False),
        sa.Column("on_site", WHOLE, nullable=False),
        sa.Column("weather", sa.Text(), nullable=True),
        sa.CheckConstraint("on_site >= 0", name=op.f("ck_strength_check_on_site_least")),
        sa.CheckConstraint(
            "share_hundredths BETWEEN 1 AND 10000", name=op.f("ck_strength_check_share_hundredths_range")
        ),
        sa.ForeignKeyConstraint(["contract_id"], ["contract.id"], name=op.f("fk_strength_check_contract_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_strength_check")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_strength_check_contract_id"), "strength_check", ["contract_id"], unique=False)
    op.create_table(
        "take",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("on", DAY, nullable=False),
        sa.Column("site_id", WHOLE, nullable=False),
        sa.Column("round_id", WHOLE, nullable=True),
        sa.Column("note", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(["round_id"], ["round.id"], name=op.f("fk_take_round_id")),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name=op.f("fk_take_site_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_take")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_take_round_id"), "take", ["round_id"], unique=False)
    op.create_index("ix_take_site", "take", ["site_id", "on"], unique=False)
    op.create_table(
        "box_stack",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("colony_id", WHOLE, nullable=False),
        sa.Column("on", DAY, nullable=False),
        sa.Column("hive_type", sa.Text(), nullable=False),
        sa.Column("brood_boxes", WHOLE, nullable=False),
        sa.Column("brood_frames", WHOLE, nullable=False),
        sa.Column("brood_frame", sa.Text(), nullable=False),
        sa.Column("supers", WHOLE, nullable=False),
        sa.Column("super_frames", WHOLE, nullable=False),
        sa.Column("excluder", YESNO, nullable=False),
        sa.Column("entry_id", WHOLE, nullable=True),
        sa.CheckConstraint("brood_boxes BETWEEN 0 AND 9", name=op.f("ck_box_stack_brood_boxes_range")),
        sa.CheckConstraint("brood_frames BETWEEN 1 AND 20", name=op.f("ck_box_stack_brood_frames_range")),
        sa.CheckConstraint("super_frames BETWEEN 1 AND 20", name=op.f("ck_box_stack_super_frames_range")),
        sa.CheckConstraint("supers BETWEEN 0 AND 20", name=op.f("ck_box_stack_supers_range")),
        sa.ForeignKeyConstraint(["colony_id"], ["colony.id"], name=op.f("fk_box_stack_colony_id")),
        sa.ForeignKeyConstraint(["entry_id"], ["round_entry.id"], name=op.f("fk_box_stack_entry_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_box_stack")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_box_stack_colony", "box_stack", ["colony_id", "on", "id"], unique=False)
    op.create_index(op.f("ix_box_stack_entry_id"), "box_stack", ["entry_id"], unique=False)
    op.create_table(
        "colony_transfer",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("on", DAY, nullable=False),
        sa.Column("from_colony_id", WHOLE, nullable=False),
        sa.Column("to_colony_id", WHOLE, nullable=False),
        sa.Column("entry_id", WHOLE, nullable=True),
        sa.Column("brood_tenths", WHOLE, nullable=True),
        sa.Column("bees_tenths", WHOLE, nullable=True),
        sa.Column("stores_tenths", WHOLE, nullable=True),
        sa.Column("cells", WHOLE, nullable=True),
        sa.Column("queen", sa.Text(), nullable=True),
        sa.CheckConstraint(
            "kind IN ('split', 'nucleus', 'unite', 'frame', 'cells', 'bees')",
            name=op.f("ck_colony_transfer_kind_known"),
        ),
        sa.CheckConstraint("bees_tenths >= 0", name=op.f("ck_colony_transfer_bees_tenths_least")),
        sa.CheckConstraint("brood_tenths >= 0", name=op.f("ck_colony_transfer_brood_tenths_least")),
        sa.CheckConstraint("cells >= 0", name=op.f("ck_colony_transfer_cells_least")),
        sa.CheckConstraint("from_colony_id <> to_colony_id", name=op.f("ck_colony_transfer_two_colonies")),
        sa.CheckConstraint("stores_tenths >= 0", name=op.f("ck_colony_transfer_stores_tenths_least")),
        sa.ForeignKeyConstraint(["entry_id"], ["round_entry.id"], name=op.f("fk_colony_transfer_entry_id")),
        sa.ForeignKeyConstraint(
            ["from_colony_id"], ["colony.id"], name=op.f("fk_colony_transfer_from_colony_id")
        ),
        sa.ForeignKeyConstraint(
            ["to_colony_id"], ["colony.id"], name=op.f("fk_colony_transfer_to_colony_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_colony_transfer")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_colony_transfer_entry_id"), "colony_transfer", ["entry_id"], unique=False)
    op.create_index("ix_colony_transfer_from", "colony_transfer", ["from_colony_id", "on"], unique=False)
    op.create_index("ix_colony_transfer_to", "colony_transfer", ["to_colony_id", "on"], unique=False)
    op.create_table(
        "feeding",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("colony_id", WHOLE, nullable=False),
        sa.Column("entry_id", WHOLE, nullable=True),
        sa.Column("on", DAY, nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("volume_ml", WHOLE, nullable=True),
        sa.Column("weight_g", WHOLE, nullable=True),
        sa.Column("sugar_g", WHOLE, nullable=True),
        sa.CheckConstraint("sugar_g >= 0", name=op.f("ck_feeding_sugar_g_least")),
        sa.CheckConstraint("volume_ml >= 1", name=op.f("ck_feeding_volume_ml_least")),
        sa.CheckConstraint(
            "volume_ml IS NOT NULL OR weight_g IS NOT NULL", name=op.f("ck_feeding_quantity_given")
        ),
        sa.CheckConstraint("weight_g >= 1", name=op.f("ck_feeding_weight_g_least")),
        sa.ForeignKeyConstraint(["colony_id"], ["colony.id"], name=op.f("fk_feeding_colony_id")),
        sa.ForeignKeyConstraint(["entry_id"], ["round_entry.id"], name=op.f("fk_feeding_entry_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_feeding")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_feeding_colony", "feeding", ["colony_id", "on"], unique=False)
    op.create_index(op.f("ix_feeding_entry_id"), "feeding", ["entry_id"], unique=False)
    op.create_index("ix_feeding_on", "feeding", ["on"], unique=False)
    op.create_table(
        "honey_lot",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("opened_on", DAY, nullable=False),
        sa.Column("take_id", WHOLE, nullable=True),
        sa.Column("owner_id", WHOLE, nullable=True),
        sa.Column("country", sa.Text(), nullable=False),
        sa.Column("honey_kind", sa.Text(), nullable=False),
        sa.Column("supplier_lot", sa.Text(), nullable=True),
        sa.Column("tare_g", WHOLE, nullable=True),
        sa.Column("hold", sa.Text(), nullable=True),
        sa.Column("note", sa.Text(), nullable=True),
        sa.CheckConstraint(
            "kind IN ('supers', 'drum', 'tank', 'bucket', 'jarring')", name=op.f("ck_honey_lot_kind_known")
        ),
        sa.CheckConstraint("tare_g >= 0", name=op.f("ck_honey_lot_tare_g_least")),
        sa.ForeignKeyConstraint(["owner_id"], ["party.id"], name=op.f("fk_honey_lot_owner_id")),
        sa.ForeignKeyConstraint(["take_id"], ["take.id"], name=op.f("fk_honey_lot_take_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_honey_lot")),
        sa.UniqueConstraint("name", name=op.f("uq_honey_lot_name")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_honey_lot_kind", "honey_lot", ["kind", "opened_on"], unique=False)
    op.create_index("ix_honey_lot_take", "honey_lot", ["take_id"], unique=False)
    op.create_table(
        "mite_count",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("colony_id", WHOLE, nullable=False),
        sa.Column("entry_id", WHOLE, nullable=True),
        sa.Column("on", DAY, nullable=False),
        sa.Column("method", sa.Text(), nullable=False),
        sa.Column("mites", WHOLE, nullable=False),
        sa.Column("bees", WHOLE, nullable=True),
        sa.Column("days", WHOLE, nullable=True),
        sa.CheckConstraint("method IN ('wash', 'roll', 'drop')", name=op.f("ck_mite_count_method_known")),
        sa.CheckConstraint("bees >= 1", name=op.f("ck_mite_count_bees_least")),
        sa.CheckConstraint("days >= 1", name=op.f("ck_mite_count_days_least")),
        sa.CheckConstraint("mites >= 0", name=op.f("ck_mite_count_mites_least")),
        sa.ForeignKeyConstraint(["colony_id"], ["colony.id"], name=op.f("fk_mite_count_colony_id")),
        sa.ForeignKeyConstraint(["entry_id"], ["round_entry.id"], name=op.f("fk_mite_count_entry_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_mite_count")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_mite_count_colony", "mite_count", ["colony_id", "on", "id"], unique=False)
    op.create_index(op.f("ix_mite_count_entry_id"), "mite_count", ["entry_id"], unique=False)
    op.create_table(
        "move_line",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("move_id", WHOLE, nullable=False),
        sa.Column("colony_id", WHOLE, nullable=False),
        sa.Column("from_site_id", WHOLE, nullable=True),
        sa.Column("from_set_down_id", WHOLE, nullable=True),
        sa.Column("to_site_id", WHOLE, nullable=True),
        sa.Column("to_set_down_id", WHOLE, nullable=True),
        sa.Column("outcome", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=True),
        sa.CheckConstraint(
            "outcome IN ('delivered', 'lost', 'left behind')", name=op.f("ck_move_line_outcome_known")
        ),
        sa.ForeignKeyConstraint(["colony_id"], ["colony.id"], name=op.f("fk_move_line_colony_id")),
        sa.ForeignKeyConstraint(
            ["from_set_down_id"], ["set_down_place.id"], name=op.f("fk_move_line_from_set_down_id")
        ),
        sa.ForeignKeyConstraint(["from_site_id"], ["site.id"], name=op.f("fk_move_line_from_site_id")),
        sa.ForeignKeyConstraint(["move_id"], ["move.id"], name=op.f("fk_move_line_move_id")),
        sa.ForeignKeyConstraint(
            ["to_set_down_id"], ["set_down_place.id"], name=op.f("fk_move_line_to_set_down_id")
        ),
        sa.ForeignKeyConstraint(["to_site_id"], ["site.id"], name=op.f("fk_move_line_to_site_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_move_line")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_move_line_colony", "move_line", ["colony_id"], unique=False)
    op.create_index("ix_move_line_from", "move_line", ["from_site_id"], unique=False)
    op.create_index("ix_move_line_move", "move_line", ["move_id"], unique=False)
    op.create_index("ix_move_line_to", "move_line", ["to_site_id"], unique=False)
    op.create_table(
        "strength_line",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("check_id", WHOLE, nullable=False),
        sa.Column("colony_id", WHOLE, nullable=False),
        sa.Column("bees_tenths", WHOLE, nullable=False),
        sa.Column("brood_tenths", WHOLE, nullable=True),
        sa.Column("queenright", YESNO, nullable=True),
        sa.CheckConstraint("bees_tenths BETWEEN 0 AND 1000", name=op.f("ck_strength_line_bees_tenths_range")),
        sa.CheckConstraint(
            "brood_tenths BETWEEN 0 AND 1000", name=op.f("ck_strength_line_brood_tenths_range")
        ),
        sa.ForeignKeyConstraint(["check_id"], ["strength_check.id"], name=op.f("fk_strength_line_check_id")),
        sa.ForeignKeyConstraint(["colony_id"], ["colony.id"], name=op.f("fk_strength_line_colony_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_strength_line")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_strength_line_colony", "strength_line", ["colony_id"], unique=False)
    op.create_index("uq_strength_line", "strength_line", ["check_id", "colony_id"], unique=True)
    op.create_table(
        "take_line",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("take_id", WHOLE, nullable=False),
        sa.Column("colony_id", WHOLE, nullable=True),
        sa.Column("entry_id", WHOLE, nullable=True),
        sa.Column("supers", WHOLE, nullable=False),
        sa.Column("estimate_g", WHOLE, nullable=True),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.CheckConstraint("estimate_g >= 0", name=op.f("ck_take_line_estimate_g_least")),
        sa.CheckConstraint("supers >= 1", name=op.f("ck_take_line_supers_least")),
        sa.ForeignKeyConstraint(["colony_id"], ["colony.id"], name=op.f("fk_take_line_colony_id")),
        sa.ForeignKeyConstraint(["entry_id"], ["round_entry.id"], name=op.f("fk_take_line_entry_id")),
        sa.ForeignKeyConstraint(["take_id"], ["take.id"], name=op.f("fk_take_line_take_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_take_line")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_take_line_colony", "take_line", ["colony_id"], unique=False)
    op.create_index(op.f("ix_take_line_entry_id"), "take_line", ["entry_id"], unique=False)
    op.create_index("ix_take_line_take", "take_line", ["take_id"], unique=False)
    op.create_table(
        "task",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("due_on", DAY, nullable=False),
        sa.Column("site_id", WHOLE, nullable=True),
        sa.Column("colony_id", WHOLE, nullable=True),
        sa.Column("entry_id", WHOLE, nullable=True),
        sa.Column("done_on", DAY, nullable=True),
        sa.Column("put_off_from", DAY, nullable=True),
        sa.ForeignKeyConstraint(["colony_id"], ["colony.id"], name=op.f("fk_task_colony_id")),
        sa.ForeignKeyConstraint(["entry_id"], ["round_entry.id"], name=op.f("fk_task_entry_id")),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name=op.f("fk_task_site_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_task")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_task_colony", "task", ["colony_id"], unique=False)
    op.create_index(op.f("ix_task_entry_id"), "task", ["entry_id"], unique=False)
    op.create_index(
        "ix_task_open",
        "task",
        ["due_on"],
        unique=False,
        sqlite_where=sa.text("done_on IS NULL"),
        postgresql_where=sa.text("done_on IS NULL"),
    )
    op.create_table(
        "tenure",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("queen_id", WHOLE, nullable=False),
        sa.Column("colony_id", WHOLE, nullable=False),
        sa.Column("from_on", DAY, nullable=False),
        sa.Column("until_on", DAY, nullable=True),
        sa.Column("why_ended", sa.Text(), nullable=True),
        sa.Column("entry_id", WHOLE, nullable=True),
        sa.CheckConstraint("until_on >= from_on", name=op.f("ck_tenure_days_order")),
        sa.ForeignKeyConstraint(["colony_id"], ["colony.id"], name=op.f("fk_tenure_colony_id")),
        sa.ForeignKeyConstraint(["entry_id"], ["round_entry.id"], name=op.f("fk_tenure_entry_id")),
        sa.ForeignKeyConstraint(["queen_id"], ["queen.id"], name=op.f("fk_tenure_queen_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_tenure")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_tenure_colony", "tenure", ["colony_id", "from_on"], unique=False)
    op.create_index(op.f("ix_tenure_entry_id"), "tenure", ["entry_id"], unique=False)
    op.create_index("ix_tenure_queen", "tenure", ["queen_id", "from_on"], unique=False)
    op.create_index(
        "uq_tenure_queen_open",
        "tenure",
        ["queen_id"],
        unique=True,
        sqlite_where=sa.text("until_on IS NULL"),
        postgresql_where=sa.text("until_on IS NULL"),
    )
    op.create_table(
        "treatment",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("colony_id", WHOLE, nullable=False),
        sa.Column("medicine_id", WHOLE, nullable=False),
        sa.Column("in_on", DAY, nullable=False),
        sa.Column("out_on", DAY, nullable=True),
        sa.Column("pieces", WHOLE, nullable=True),
        sa.Column("in_entry_id", WHOLE, nullable=True),
        sa.Column("out_entry_id", WHOLE, nullable=True),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.CheckConstraint("out_on >= in_on", name=op.f("ck_treatment_days_order")),
        sa.CheckConstraint("pieces >= 1", name=op.f("ck_treatment_pieces_least")),
        sa.ForeignKeyConstraint(["colony_id"], ["colony.id"], name=op.f("fk_treatment_colony_id")),
        sa.ForeignKeyConstraint(["in_entry_id"], ["round_entry.id"], name=op.f("fk_treatment_in_entry_id")),
        sa.ForeignKeyConstraint(["medicine_id"], ["medicine.id"], name=op.f("fk_treatment_medicine_id")),
        sa.ForeignKeyConstraint(["out_entry_id"], ["round_entry.id"], name=op.f("fk_treatment_out_entry_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_treatment")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_treatment_colony", "treatment", ["colony_id", "in_on"], unique=False)
    op.create_index(op.f("ix_treatment_in_entry_id"), "treatment", ["in_entry_id"], unique=False)
    op.create_index("ix_treatment_medicine", "treatment", ["medicine_id", "in_on"], unique=False)
    op.create_index(
        "ix_treatment_open",
        "treatment",
        ["colony_id"],
        unique=False,
        sqlite_where=sa.text("out_on IS NULL"),
        postgresql_where=sa.text("out_on IS NULL"),
    )
    op.create_index(op.f("ix_treatment_out_entry_id"), "treatment", ["out_entry_id"], unique=False)
    op.create_index(
        "ix_treatment_unmeasured",
        "treatment",
        ["in_on"],
        unique=False,
        sqlite_where=sa.text("pieces IS NULL"),
        postgresql_where=sa.text("pieces IS NULL"),
    )
    op.create_table(
        "batch",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("lot_id", WHOLE, nullable=False),
        sa.Column("lot_mark", sa.Text(), nullable=False),
        sa.Column("product", sa.Text(), nullable=False),
        sa.Column("claim", sa.Text(), nullable=True),
        sa.Column("jar_g", WHOLE, nullable=False),
        sa.Column("jars", WHOLE, nullable=False),
        sa.Column("jarred_on", DAY, nullable=False),
        sa.Column("best_before", DAY, nullable=False),
        sa.Column("gtin", sa.Text(), nullable=True),
        sa.Column("label", sa.Text(), nullable=False),
        sa.Column("sheet", sa.Text(), nullable=False),
        sa.Column("labels_printed", WHOLE, nullable=False),
        sa.Column("labels_used", WHOLE, nullable=False),
        sa.Column("labels_spoiled", WHOLE, nullable=False),
        sa.CheckConstraint("best_before >= jarred_on", name=op.f("ck_batch_days_order")),
        sa.CheckConstraint("jar_g BETWEEN 5 AND 25000", name=op.f("ck_batch_jar_g_range")),
        sa.CheckConstraint("jars >= 0", name=op.f("ck_batch_jars_least")),
        sa.CheckConstraint("labels_printed >= 0", name=op.f("ck_batch_labels_printed_least")),
        sa.CheckConstraint("labels_spoiled >= 0", name=op.f("ck_batch_labels_spoiled_least")),
        sa.CheckConstraint("labels_used >= 0", name=op.f("ck_batch_labels_used_least")),
        sa.ForeignKeyConstraint(["lot_id"], ["honey_lot.id"], name=op.f("fk_batch_lot_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_batch")),
        sa.UniqueConstraint("lot_id", name=op.f("uq_batch_lot_id")),
        sa.UniqueConstraint("lot_mark", name=op.f("uq_batch_lot_mark")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_table(
        "honey_transfer",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("on", DAY, nullable=False),
        sa.Column("from_lot_id", WHOLE, nullable=True),
        sa.Column("to_lot_id", WHOLE, nullable=True),
        sa.Column("origin", sa.Text(), nullable=True),
        sa.Column("sink", sa.Text(), nullable=True),
        sa.Column("grams", WHOLE, nullable=False),
        sa.Column("gross_g", WHOLE, nullable=True),
        sa.Column("tare_g", WHOLE, nullable=True),
        sa.Column("party_id", WHOLE, nullable=True),
        sa.Column("dispatch_id", WHOLE, nullable=True),
        sa.Column("jars", WHOLE, nullable=True),
        sa.Column("note", sa.Text(), nullable=True),
        sa.CheckConstraint(
            "origin IN ('weighed', 'opening', 'bought')", name=op.f("ck_honey_transfer_origin_known")
        ),
        sa.CheckConstraint(
            "sink IN ('wax', 'foam', 'spill', 'sample', 'gift', 'rent', 'feed', 'dispatch', 'loss')",
            name=op.f("ck_honey_transfer_sink_known"),
        ),
        sa.CheckConstraint(
            "(from_lot_id IS NULL) = (origin IS NOT NULL)", name=op.f("ck_honey_transfer_from_somewhere")
        ),
        sa.CheckConstraint(
            "(to_lot_id IS NULL) = (sink IS NOT NULL)", name=op.f("ck_honey_transfer_to_somewhere")
        ),
        sa.CheckConstraint("from_lot_id <> to_lot_id", name=op.f("ck_honey_transfer_two_lots")),
        sa.CheckConstraint(
            "from_lot_id IS NOT NULL OR to_lot_id IS NOT NULL", name=op.f("ck_honey_transfer_touches_a_lot")
        ),
        sa.CheckConstraint("grams >= 1", name=op.f("ck_honey_transfer_grams_least")),
        sa.CheckConstraint("jars >= 1", name=op.f("ck_honey_transfer_jars_least")),
        sa.ForeignKeyConstraint(["dispatch_id"], ["dispatch.id"], name=op.f("fk_honey_transfer_dispatch_id")),
        sa.ForeignKeyConstraint(
            ["from_lot_id"], ["honey_lot.id"], name=op.f("fk_honey_transfer_from_lot_id")
        ),
        sa.ForeignKeyConstraint(["party_id"], ["party.id"], name=op.f("fk_honey_transfer_party_id")),
        sa.ForeignKeyConstraint(["to_lot_id"], ["honey_lot.id"], name=op.f("fk_honey_transfer_to_lot_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_honey_transfer")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_honey_transfer_dispatch", "honey_transfer", ["dispatch_id"], unique=False)
    op.create_index("ix_honey_transfer_from", "honey_transfer", ["from_lot_id"], unique=False)
    op.create_index("ix_honey_transfer_to", "honey_transfer", ["to_lot_id"], unique=False)
    op.create_table(
        "placement",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("colony_id", WHOLE, nullable=False),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("site_id", WHOLE, nullable=True),
        sa.Column("set_down_id", WHOLE, nullable=True),
        sa.Column("vehicle_id", WHOLE, nullable=True),
        sa.Column("stand", WHOLE, nullable=True),
        sa.Column("from_at", MOMENT, nullable=False),
        sa.Column("from_on", DAY, nullable=False),
        sa.Column("until_at", MOMENT, nullable=True),
        sa.Column("until_on", DAY, nullable=True),
        sa.Column("move_line_id", WHOLE, nullable=True),
        sa.CheckConstraint("(place = 'site') = (site_id IS NOT NULL)", name=op.f("ck_placement_site_named")),
        sa.CheckConstraint(
            "(place = 'vehicle') = (vehicle_id IS NOT NULL)", name=op.f("ck_placement_vehicle_named")
        ),
        sa.CheckConstraint(
            "place IN ('site', 'vehicle', 'unaccounted')", name=op.f("ck_placement_place_known")
        ),
        sa.CheckConstraint("(until_at IS NULL) = (until_on IS NULL)", name=op.f("ck_placement_end_whole")),
        sa.CheckConstraint("until_at > from_at", name=op.f("ck_placement_moments_order")),
        sa.ForeignKeyConstraint(["colony_id"], ["colony.id"], name=op.f("fk_placement_colony_id")),
        sa.ForeignKeyConstraint(["move_line_id"], ["move_line.id"], name=op.f("fk_placement_move_line_id")),
        sa.ForeignKeyConstraint(
            ["set_down_id"], ["set_down_place.id"], name=op.f("fk_placement_set_down_id")
        ),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name=op.f("fk_placement_site_id")),
        sa.ForeignKeyConstraint(["vehicle_id"], ["vehicle.id"], name=op.f("fk_placement_vehicle_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_placement")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_placement_colony", "placement", ["colony_id", "from_at"], unique=False)
    op.create_index("ix_placement_move_line", "placement", ["move_line_id"], unique=False)
    op.create_index("ix_placement_site_days", "placement", ["site_id", "from_on", "until_on"], unique=False)
    op.create_index(
        "ix_placement_site_open",
        "placement",
        ["site_id"],
        unique=False,
        sqlite_where=sa.text("until_at IS NULL"),
        postgresql_where=sa.text("until_at IS NULL"),
    )
    op.create_index(
        "uq_placement_open",
        "placement",
        ["colony_id"],
        unique=True,
        sqlite_where=sa.text("until_at IS NULL"),
        postgresql_where=sa.text("until_at IS NULL"),
    )
    op.create_table(
        "reading",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("lot_id", WHOLE, nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("on", DAY, nullable=False),
        sa.Column("value", WHOLE, nullable=False),
        sa.Column("refractive_index_e5", WHOLE, nullable=True),
        sa.Column("temperature_tenths", WHOLE, nullable=True),
        sa.Column("source", sa.Text(), nullable=True),
        sa.CheckConstraint(
            "kind IN ('moisture', 'hmf', 'colour', 'conductivity', 'sucrose', 'diastase', 'free acid')",
            name=op.f("ck_reading_kind_known"),
        ),
        sa.CheckConstraint("value >= 0", name=op.f("ck_reading_value_least")),
        sa.ForeignKeyConstraint(["lot_id"], ["honey_lot.id"], name=op.f("fk_reading_lot_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_reading")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("ix_reading_lot", "reading", ["lot_id", "kind"], unique=False)
    op.create_table(
        "jar_weight",
        sa.Column("id", WHOLE, nullable=False),
        sa.Column("version", WHOLE, nullable=False),
        sa.Column("batch_id", WHOLE, nullable=False),
        sa.Column("number", WHOLE, nullable=False),
        sa.Column("net_tenths_g", WHOLE, nullable=False),
        sa.CheckConstraint("net_tenths_g >= 0", name=op.f("ck_jar_weight_net_tenths_g_least")),
        sa.ForeignKeyConstraint(["batch_id"], ["batch.id"], name=op.f("fk_jar_weight_batch_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_jar_weight")),
        sqlite_autoincrement=True,
        sqlite_strict=True,
    )
    op.create_index("uq_jar_weight", "jar_weight", ["batch_id", "number"], unique=True)
    # ### end Alembic commands ###
