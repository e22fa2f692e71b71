"""The first schema."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "column_match",
        sa.Column("headers", sa.String(), nullable=False),
        sa.Column("mapping", sa.JSON(), nullable=False),
        sa.Column("day_order", sa.String(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_column_match")),
        sa.UniqueConstraint("headers", name=op.f("uq_column_match_headers")),
    )
    op.create_table(
        "excavation",
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("code", sa.String(), nullable=False),
        sa.Column("director", sa.String(), nullable=False),
        sa.Column("time_zone", sa.String(), nullable=False),
        sa.Column("terms", sa.JSON(), nullable=False),
        sa.Column("settings", sa.JSON(), nullable=False),
        sa.Column("example", sa.Boolean(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_excavation")),
    )
    op.create_table(
        "label_layout",
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("layout", sa.JSON(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_label_layout")),
        sa.UniqueConstraint("kind", name=op.f("uq_label_layout_kind")),
    )
    op.create_table(
        "number_series",
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("next", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("name", name=op.f("pk_number_series")),
    )
    op.create_table(
        "period",
        sa.Column("code", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("earliest", sa.Integer(), nullable=False),
        sa.Column("latest", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_period")),
        sa.UniqueConstraint("code", name=op.f("uq_period_code")),
    )
    op.create_table(
        "person",
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("role", sa.String(), nullable=False),
        sa.Column("active", sa.Boolean(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_person")),
        sa.UniqueConstraint("name", name=op.f("uq_person_name")),
    )
    op.create_table(
        "retention_rule",
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("fits", sa.JSON(), nullable=False),
        sa.Column("decision", sa.String(), nullable=False),
        sa.Column("reason", sa.String(), nullable=False),
        sa.Column("one_in", sa.Integer(), nullable=True),
        sa.Column("at_least", sa.Integer(), nullable=True),
        sa.Column("in_force", sa.Boolean(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_retention_rule")),
        sa.UniqueConstraint("name", name=op.f("uq_retention_rule_name")),
    )
    op.create_table(
        "row_set_aside",
        sa.Column("digest", sa.String(), nullable=False),
        sa.Column("file_name", sa.String(), nullable=False),
        sa.Column("line_number", sa.Integer(), nullable=False),
        sa.Column("row", sa.JSON(), nullable=False),
        sa.Column("doubts", sa.JSON(), nullable=False),
        sa.Column("answered_at", sa.BigInteger(), nullable=True),
        sa.Column("answer", sa.String(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_row_set_aside")),
    )
    with op.batch_alter_table("row_set_aside", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_row_set_aside_digest"), ["digest"], unique=False)
        batch_op.create_index(
            batch_op.f("ix_row_set_aside_digest_line_number"), ["digest", "line_number"], unique=False
        )

    op.create_table(
        "saved_view",
        sa.Column("register", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("search", sa.String(), nullable=False),
        sa.Column("filters", sa.JSON(), nullable=False),
        sa.Column("sort", sa.String(), nullable=False),
        sa.Column("descending", sa.Boolean(), nullable=False),
        sa.Column("columns", sa.JSON(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_saved_view")),
        sa.UniqueConstraint("register", "name", name=op.f("uq_saved_view_register_name")),
    )
    op.create_table(
        "searched_text",
        sa.Column("place", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.Column("said", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("place", name=op.f("pk_searched_text")),
    )
    op.create_table(
        "season",
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("permit", sa.String(), nullable=False),
        sa.Column("starts", sa.Date(), nullable=False),
        sa.Column("ends", sa.Date(), nullable=False),
        sa.Column("number_scope", sa.String(), nullable=False),
        sa.Column("mark_pattern", sa.String(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_season")),
        sa.UniqueConstraint("name", name=op.f("uq_season_name")),
    )
    op.create_table(
        "square",
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("name_key", sa.String(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_square")),
        sa.UniqueConstraint("name", name=op.f("uq_square_name")),
    )
    op.create_table(
        "station",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("running", sa.Integer(), nullable=False),
        sa.Column("head", sa.String(), nullable=False),
        sa.Column("next_row", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("elsewhere", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_station")),
        sa.UniqueConstraint("name", name=op.f("uq_station_name")),
    )
    op.create_table(
        "taken_list",
        sa.Column("digest", sa.String(), nullable=False),
        sa.Column("file_name", sa.String(), nullable=False),
        sa.Column("rows_taken", sa.Integer(), nullable=False),
        sa.Column("rows_set_aside", sa.Integer(), nullable=False),
        sa.Column("taken_at", sa.BigInteger(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_taken_list")),
    )
    with op.batch_alter_table("taken_list", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_taken_list_digest"), ["digest"], unique=False)

    op.create_table(
        "vessel",
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("for_mending", sa.Boolean(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_vessel")),
        sa.UniqueConstraint("number", name=op.f("uq_vessel_number")),
    )
    op.create_table(
        "ware",
        sa.Column("code", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("earliest", sa.Integer(), nullable=True),
        sa.Column("latest", sa.Integer(), nullable=True),
        sa.Column("source", sa.String(), nullable=False),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("merged_into_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["merged_into_id"], ["ware.id"], name=op.f("fk_ware_merged_into_id_ware")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_ware")),
        sa.UniqueConstraint("code", name=op.f("uq_ware_code")),
    )
    op.create_table(
        "word",
        sa.Column("list", sa.String(), nullable=False),
        sa.Column("key", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("diagnostic", sa.Boolean(), nullable=False),
        sa.Column("in_use", sa.Boolean(), nullable=False),
        sa.Column("address", sa.String(), nullable=False),
        sa.Column("counts_as", sa.String(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_word")),
        sa.UniqueConstraint("list", "key", name=op.f("uq_word_list_key")),
    )
    op.create_table(
        "act",
        sa.Column("id", sa.String(), nullable=False),
        sa.Column("station_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("running", sa.Integer(), nullable=False),
        sa.Column("deed", sa.String(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("person_name", sa.String(), nullable=False),
        sa.Column("happened_at", sa.BigInteger(), nullable=False),
        sa.Column("zone", sa.String(), nullable=False),
        sa.Column("written_at", sa.BigInteger(), nullable=False),
        sa.Column("said", sa.String(), nullable=False),
        sa.Column("search_text", sa.String(), nullable=False),
        sa.Column("hash_before", sa.String(), nullable=False),
        sa.Column("hash", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(["station_id"], ["station.id"], name=op.f("fk_act_station_id_station")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_act")),
        sa.UniqueConstraint("station_id", "running", name=op.f("uq_act_station_id_running")),
    )
    with op.batch_alter_table("act", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_act_written_at_station_id_running"), ["written_at", "station_id", "running"], unique=False
        )

    op.create_table(
        "clash",
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("row_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("other_row_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("one_station_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("one", sa.JSON(), nullable=False),
        sa.Column("other_station_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("other", sa.JSON(), nullable=False),
        sa.Column("found_at", sa.BigInteger(), nullable=False),
        sa.Column("decided_at", sa.BigInteger(), nullable=True),
        sa.Column("decided_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("choice", sa.String(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["decided_by_id"], ["person.id"], name=op.f("fk_clash_decided_by_id_person")),
        sa.ForeignKeyConstraint(["one_station_id"], ["station.id"], name=op.f("fk_clash_one_station_id_station")),
        sa.ForeignKeyConstraint(["other_station_id"], ["station.id"], name=op.f("fk_clash_other_station_id_station")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_clash")),
    )
    with op.batch_alter_table("clash", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_clash_decided_at_id"), ["decided_at", "id"], unique=False)

    op.create_table(
        "courier_passed",
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("station_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("heads", sa.JSON(), nullable=False),
        sa.Column("digest", sa.String(), nullable=False),
        sa.Column("acts", sa.Integer(), nullable=False),
        sa.Column("happened_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_courier_passed_person_id_person")),
        sa.ForeignKeyConstraint(["station_id"], ["station.id"], name=op.f("fk_courier_passed_station_id_station")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_courier_passed")),
    )
    with op.batch_alter_table("courier_passed", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_courier_passed_station_id"), ["station_id"], unique=False)

    op.create_table(
        "deadline",
        sa.Column("season_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("deliverable", sa.String(), nullable=False),
        sa.Column("counts_from", sa.String(), nullable=False),
        sa.Column("offset", sa.Integer(), nullable=False),
        sa.Column("unit", sa.String(), nullable=False),
        sa.Column("source", sa.String(), nullable=False),
        sa.Column("counted_from", sa.Date(), nullable=True),
        sa.Column("permit_says", sa.String(), nullable=False),
        sa.Column("permit_on", sa.Date(), nullable=True),
        sa.Column("done_on", sa.Date(), nullable=True),
        sa.Column("in_force", sa.Boolean(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["season_id"], ["season.id"], name=op.f("fk_deadline_season_id_season")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_deadline")),
        sa.UniqueConstraint("season_id", "deliverable", name=op.f("uq_deadline_season_id_deliverable")),
    )
    op.create_table(
        "deposit",
        sa.Column("number", sa.String(), nullable=False),
        sa.Column("number_key", sa.String(), nullable=False),
        sa.Column("number_folded", sa.String(), nullable=False),
        sa.Column("square_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("opened", sa.Date(), nullable=False),
        sa.Column("closed", sa.Date(), nullable=True),
        sa.Column("supervisor_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("description", sa.String(), nullable=False),
        sa.Column("opening_mm", sa.Integer(), nullable=True),
        sa.Column("closing_mm", sa.Integer(), nullable=True),
        sa.Column("security", sa.String(), nullable=False),
        sa.Column("soil", sa.String(), nullable=False),
        sa.Column("merged_into_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("search_text", sa.String(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["merged_into_id"], ["deposit.id"], name=op.f("fk_deposit_merged_into_id_deposit")),
        sa.ForeignKeyConstraint(["square_id"], ["square.id"], name=op.f("fk_deposit_square_id_square")),
        sa.ForeignKeyConstraint(["supervisor_id"], ["person.id"], name=op.f("fk_deposit_supervisor_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_deposit")),
    )
    with op.batch_alter_table("deposit", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_deposit_merged_into_id"), ["merged_into_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_deposit_number_folded"), ["number_folded"], unique=False)
        batch_op.create_index(batch_op.f("ix_deposit_number_key"), ["number_key"], unique=False)
        batch_op.create_index(batch_op.f("ix_deposit_opened"), ["opened"], unique=False)
        batch_op.create_index(batch_op.f("ix_deposit_search_text"), ["search_text"], unique=False)
        batch_op.create_index(batch_op.f("ix_deposit_square_id"), ["square_id"], unique=False)

    op.create_table(
        "discard_list",
        sa.Column("season_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("made_at", sa.BigInteger(), nullable=False),
        sa.Column("made_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("signed_at", sa.BigInteger(), nullable=True),
        sa.Column("signed_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("inspector", sa.String(), nullable=False),
        sa.Column("inspected_at", sa.BigInteger(), nullable=True),
        sa.Column("carried_at", sa.BigInteger(), nullable=True),
        sa.Column("carried_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("carried_to", sa.String(), nullable=False),
        sa.Column("carried_how", sa.String(), nullable=False),
        sa.Column("marker", sa.String(), nullable=False),
        sa.Column("withdrawn_at", sa.BigInteger(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["carried_by_id"], ["person.id"], name=op.f("fk_discard_list_carried_by_id_person")),
        sa.ForeignKeyConstraint(["made_by_id"], ["person.id"], name=op.f("fk_discard_list_made_by_id_person")),
        sa.ForeignKeyConstraint(["season_id"], ["season.id"], name=op.f("fk_discard_list_season_id_season")),
        sa.ForeignKeyConstraint(["signed_by_id"], ["person.id"], name=op.f("fk_discard_list_signed_by_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_discard_list")),
        sa.UniqueConstraint("season_id", "number", name=op.f("uq_discard_list_season_id_number")),
    )
    with op.batch_alter_table("discard_list", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_discard_list_carried_at"), ["carried_at"], unique=False)
        batch_op.create_index(batch_op.f("ix_discard_list_made_at"), ["made_at"], unique=False)

    op.create_table(
        "form",
        sa.Column("code", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("ware_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("earliest", sa.Integer(), nullable=True),
        sa.Column("latest", sa.Integer(), nullable=True),
        sa.Column("source", sa.String(), nullable=False),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("merged_into_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["merged_into_id"], ["form.id"], name=op.f("fk_form_merged_into_id_form")),
        sa.ForeignKeyConstraint(["ware_id"], ["ware.id"], name=op.f("fk_form_ware_id_ware")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_form")),
        sa.UniqueConstraint("code", name=op.f("uq_form_code")),
    )
    with op.batch_alter_table("form", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_form_ware_id"), ["ware_id"], unique=False)

    op.create_table(
        "hand_over",
        sa.Column("season_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("signed_at", sa.BigInteger(), nullable=False),
        sa.Column("first_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("second_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("lines", sa.Integer(), nullable=False),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["first_id"], ["person.id"], name=op.f("fk_hand_over_first_id_person")),
        sa.ForeignKeyConstraint(["season_id"], ["season.id"], name=op.f("fk_hand_over_season_id_season")),
        sa.ForeignKeyConstraint(["second_id"], ["person.id"], name=op.f("fk_hand_over_second_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_hand_over")),
        sa.UniqueConstraint("season_id", "number", name=op.f("uq_hand_over_season_id_number")),
    )
    op.create_table(
        "loan",
        sa.Column("code", sa.String(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("borrower", sa.String(), nullable=False),
        sa.Column("borrower_kind", sa.String(), nullable=False),
        sa.Column("address", sa.String(), nullable=False),
        sa.Column("purpose", sa.String(), nullable=False),
        sa.Column("permit", sa.String(), nullable=False),
        sa.Column("lent_on", sa.Date(), nullable=False),
        sa.Column("due_on", sa.Date(), nullable=False),
        sa.Column("back_on", sa.Date(), nullable=True),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("made_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("label_copy", sa.Integer(), nullable=False),
        sa.Column("labelled_at", sa.BigInteger(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_loan_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_loan")),
        sa.UniqueConstraint("code", name=op.f("uq_loan_code")),
        sa.UniqueConstraint("number", name=op.f("uq_loan_number")),
    )
    with op.batch_alter_table("loan", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_loan_back_on"), ["back_on"], unique=False)
        batch_op.create_index(batch_op.f("ix_loan_due_on"), ["due_on"], unique=False)
        batch_op.create_index(batch_op.f("ix_loan_lent_on"), ["lent_on"], unique=False)

    op.create_table(
        "number_block",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.Column("series", sa.String(), nullable=False),
        sa.Column("station_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("next", sa.Integer(), nullable=False),
        sa.Column("first", sa.Integer(), nullable=False),
        sa.Column("last", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["station_id"], ["station.id"], name=op.f("fk_number_block_station_id_station")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_number_block")),
        sa.UniqueConstraint("series", "first", name=op.f("uq_number_block_series_first")),
    )
    op.create_table(
        "person_pin",
        sa.Column(
            "person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False
        ),
        sa.Column("pin_hash", sa.String(), nullable=False),
        sa.Column("failures", sa.Integer(), nullable=False),
        sa.Column("waits_until", sa.BigInteger(), nullable=True),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_person_pin_person_id_person")),
        sa.PrimaryKeyConstraint("person_id", name=op.f("pk_person_pin")),
    )
    op.create_table(
        "place",
        sa.Column("code", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("name_key", sa.String(), nullable=False),
        sa.Column("name_folded", sa.String(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("parent_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("holds_boxes", sa.Integer(), nullable=True),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("made_at", sa.BigInteger(), nullable=False),
        sa.Column("gone_at", sa.BigInteger(), nullable=True),
        sa.Column("label_copy", sa.Integer(), nullable=False),
        sa.Column("labelled_at", sa.BigInteger(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["parent_id"], ["place.id"], name=op.f("fk_place_parent_id_place")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_place_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_place")),
        sa.UniqueConstraint("code", name=op.f("uq_place_code")),
    )
    with op.batch_alter_table("place", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_place_name_folded"), ["name_folded"], unique=False)
        batch_op.create_index(batch_op.f("ix_place_name_key"), ["name_key"], unique=False)
        batch_op.create_index(batch_op.f("ix_place_parent_id"), ["parent_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_place_person_id"), ["person_id"], unique=False)

    op.create_table(
        "printing",
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("stock", sa.String(), nullable=False),
        sa.Column("head", sa.String(), nullable=False),
        sa.Column("printed_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("came_out_at", sa.BigInteger(), nullable=True),
        sa.Column("reason", sa.String(), nullable=False),
        sa.Column("spoiled", sa.String(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_printing_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_printing")),
    )
    op.create_table(
        "tag_block",
        sa.Column("season_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("supervisor_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("square_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("first_number", sa.String(), nullable=False),
        sa.Column("last_number", sa.String(), nullable=False),
        sa.Column("issued_at", sa.BigInteger(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["season_id"], ["season.id"], name=op.f("fk_tag_block_season_id_season")),
        sa.ForeignKeyConstraint(["square_id"], ["square.id"], name=op.f("fk_tag_block_square_id_square")),
        sa.ForeignKeyConstraint(["supervisor_id"], ["person.id"], name=op.f("fk_tag_block_supervisor_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_tag_block")),
    )
    op.create_table(
        "box",
        sa.Column("code", sa.String(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("limit_tenths", sa.Integer(), nullable=False),
        sa.Column("empty_tenths", sa.Integer(), nullable=False),
        sa.Column("length_mm", sa.Integer(), nullable=False),
        sa.Column("width_mm", sa.Integer(), nullable=False),
        sa.Column("height_mm", sa.Integer(), nullable=False),
        sa.Column("place_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("desiccant_on", sa.Date(), nullable=True),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("made_at", sa.BigInteger(), nullable=False),
        sa.Column("gone_at", sa.BigInteger(), nullable=True),
        sa.Column("label_copy", sa.Integer(), nullable=False),
        sa.Column("labelled_at", sa.BigInteger(), nullable=True),
        sa.Column("label_says", sa.String(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["place_id"], ["place.id"], name=op.f("fk_box_place_id_place")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_box")),
        sa.UniqueConstraint("code", name=op.f("uq_box_code")),
        sa.UniqueConstraint("number", name=op.f("uq_box_number")),
    )
    with op.batch_alter_table("box", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_box_made_at"), ["made_at"], unique=False)
        batch_op.create_index(batch_op.f("ix_box_place_id"), ["place_id"], unique=False)

    op.create_table(
        "container",
        sa.Column("code", sa.String(), nullable=False),
        sa.Column("season_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("scope", sa.String(), nullable=False),
        sa.Column("number", sa.String(), nullable=False),
        sa.Column("number_key", sa.String(), nullable=False),
        sa.Column("number_folded", sa.String(), nullable=False),
        sa.Column("provisional", sa.Boolean(), nullable=False),
        sa.Column("deposit_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("square_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("collected_on", sa.Date(), nullable=True),
        sa.Column("supervisor_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("material", sa.String(), nullable=False),
        sa.Column("description", sa.String(), nullable=False),
        sa.Column("standing", sa.String(), nullable=False),
        sa.Column("held_for", sa.String(), nullable=True),
        sa.Column("on_list", sa.Boolean(), nullable=False),
        sa.Column("arrived_at", sa.BigInteger(), nullable=True),
        sa.Column("tag_copy", sa.Integer(), nullable=False),
        sa.Column("block_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("from_container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("into_container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("search_text", sa.String(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["block_id"], ["tag_block.id"], name=op.f("fk_container_block_id_tag_block")),
        sa.ForeignKeyConstraint(["deposit_id"], ["deposit.id"], name=op.f("fk_container_deposit_id_deposit")),
        sa.ForeignKeyConstraint(
            ["from_container_id"], ["container.id"], name=op.f("fk_container_from_container_id_container")
        ),
        sa.ForeignKeyConstraint(
            ["into_container_id"], ["container.id"], name=op.f("fk_container_into_container_id_container")
        ),
        sa.ForeignKeyConstraint(["season_id"], ["season.id"], name=op.f("fk_container_season_id_season")),
        sa.ForeignKeyConstraint(["square_id"], ["square.id"], name=op.f("fk_container_square_id_square")),
        sa.ForeignKeyConstraint(["supervisor_id"], ["person.id"], name=op.f("fk_container_supervisor_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_container")),
        sa.UniqueConstraint("code", name=op.f("uq_container_code")),
        sa.UniqueConstraint("scope", "number", name=op.f("uq_container_scope_number")),
    )
    with op.batch_alter_table("container", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_container_arrived_at"), ["arrived_at"], unique=False)
        batch_op.create_index(
            batch_op.f("ix_container_collected_on_number_key"), ["collected_on", "number_key"], unique=False
        )
        batch_op.create_index(batch_op.f("ix_container_deposit_id"), ["deposit_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_container_material_number_key"), ["material", "number_key"], unique=False)
        batch_op.create_index(batch_op.f("ix_container_number_folded"), ["number_folded"], unique=False)
        batch_op.create_index(batch_op.f("ix_container_number_key"), ["number_key"], unique=False)
        batch_op.create_index(batch_op.f("ix_container_provisional"), ["provisional"], unique=False)
        batch_op.create_index(
            batch_op.f("ix_container_search_text_deposit_id_number_key"),
            ["search_text", "deposit_id", "number_key"],
            unique=False,
        )
        batch_op.create_index(batch_op.f("ix_container_square_id"), ["square_id"], unique=False)
        batch_op.create_index(
            batch_op.f("ix_container_standing_material_season_id"), ["standing", "material", "season_id"], unique=False
        )
        batch_op.create_index(batch_op.f("ix_container_standing_number_key"), ["standing", "number_key"], unique=False)

    op.create_table(
        "discard_note",
        sa.Column("list_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("text", sa.String(), nullable=False),
        sa.Column("happened_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["list_id"], ["discard_list.id"], name=op.f("fk_discard_note_list_id_discard_list")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_discard_note_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_discard_note")),
    )
    with op.batch_alter_table("discard_note", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_discard_note_list_id"), ["list_id"], unique=False)

    op.create_table(
        "former_number",
        sa.Column("deposit_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("number", sa.String(), nullable=False),
        sa.Column("number_folded", sa.String(), nullable=False),
        sa.Column("now", sa.String(), nullable=False),
        sa.Column("how", sa.String(), nullable=False),
        sa.Column("reason", sa.String(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("happened_at", sa.BigInteger(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["deposit_id"], ["deposit.id"], name=op.f("fk_former_number_deposit_id_deposit")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_former_number_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_former_number")),
    )
    with op.batch_alter_table("former_number", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_former_number_deposit_id"), ["deposit_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_former_number_number_folded"), ["number_folded"], unique=False)

    op.create_table(
        "left_in_trench",
        sa.Column("deposit_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("material", sa.String(), nullable=False),
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("pieces", sa.Integer(), nullable=True),
        sa.Column("tenths", sa.Integer(), nullable=True),
        sa.Column("why", sa.String(), nullable=False),
        sa.Column("answers_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("happened_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(
            ["answers_id"], ["left_in_trench.id"], name=op.f("fk_left_in_trench_answers_id_left_in_trench")
        ),
        sa.ForeignKeyConstraint(["deposit_id"], ["deposit.id"], name=op.f("fk_left_in_trench_deposit_id_deposit")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_left_in_trench_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_left_in_trench")),
    )
    with op.batch_alter_table("left_in_trench", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_left_in_trench_answers_id"), ["answers_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_left_in_trench_deposit_id"), ["deposit_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_left_in_trench_happened_at"), ["happened_at"], unique=False)

    op.create_table(
        "line",
        sa.Column("act_id", sa.String(), nullable=False),
        sa.Column("ordinal", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("row_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("row_version", sa.Integer(), nullable=True),
        sa.Column("before", sa.Text(), nullable=True),
        sa.Column("after", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(["act_id"], ["act.id"], name=op.f("fk_line_act_id_act")),
        sa.PrimaryKeyConstraint("act_id", "ordinal", name=op.f("pk_line")),
    )
    with op.batch_alter_table("line", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_line_kind_row_id"), ["kind", "row_id"], unique=False)

    op.create_table(
        "loan_chase",
        sa.Column("loan_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("how", sa.String(), nullable=False),
        sa.Column("answer", sa.String(), nullable=False),
        sa.Column("happened_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["loan_id"], ["loan.id"], name=op.f("fk_loan_chase_loan_id_loan")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_loan_chase_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_loan_chase")),
    )
    with op.batch_alter_table("loan_chase", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_loan_chase_loan_id"), ["loan_id"], unique=False)

    op.create_table(
        "loan_file",
        sa.Column("loan_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("sha256", sa.String(), nullable=False),
        sa.Column("file_name", sa.String(), nullable=False),
        sa.Column("size_bytes", sa.Integer(), nullable=False),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("taken_in_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["loan_id"], ["loan.id"], name=op.f("fk_loan_file_loan_id_loan")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_loan_file_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_loan_file")),
    )
    with op.batch_alter_table("loan_file", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_loan_file_loan_id"), ["loan_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_loan_file_sha256"), ["sha256"], unique=False)

    op.create_table(
        "stock_take",
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("place_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("begun_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("closed_at", sa.BigInteger(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_stock_take_person_id_person")),
        sa.ForeignKeyConstraint(["place_id"], ["place.id"], name=op.f("fk_stock_take_place_id_place")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stock_take")),
        sa.UniqueConstraint("number", name=op.f("uq_stock_take_number")),
    )
    with op.batch_alter_table("stock_take", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_stock_take_begun_at"), ["begun_at"], unique=False)
        batch_op.create_index(batch_op.f("ix_stock_take_closed_at"), ["closed_at"], unique=False)
        batch_op.create_index(batch_op.f("ix_stock_take_place_id"), ["place_id"], unique=False)

    op.create_table(
        "transport",
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("to_place_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("moved_place_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("left_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("arrived_at", sa.BigInteger(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["moved_place_id"], ["place.id"], name=op.f("fk_transport_moved_place_id_place")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_transport_person_id_person")),
        sa.ForeignKeyConstraint(["to_place_id"], ["place.id"], name=op.f("fk_transport_to_place_id_place")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_transport")),
        sa.UniqueConstraint("number", name=op.f("uq_transport_number")),
    )
    with op.batch_alter_table("transport", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_transport_arrived_at"), ["arrived_at"], unique=False)
        batch_op.create_index(batch_op.f("ix_transport_left_at"), ["left_at"], unique=False)
        batch_op.create_index(batch_op.f("ix_transport_moved_place_id"), ["moved_place_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_transport_to_place_id"), ["to_place_id"], unique=False)

    op.create_table(
        "ware_total",
        sa.Column(
            "deposit_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False
        ),
        sa.Column("ware_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.Column("pieces", sa.Integer(), nullable=False),
        sa.Column("tenths", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["deposit_id"], ["deposit.id"], name=op.f("fk_ware_total_deposit_id_deposit")),
        sa.ForeignKeyConstraint(["ware_id"], ["ware.id"], name=op.f("fk_ware_total_ware_id_ware")),
        sa.PrimaryKeyConstraint("deposit_id", "ware_id", name=op.f("pk_ware_total")),
        sqlite_with_rowid=False,
    )
    op.create_table(
        "bag",
        sa.Column("code", sa.String(), nullable=False),
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("pieces", sa.Integer(), nullable=False),
        sa.Column("tenths", sa.Integer(), nullable=True),
        sa.Column("gross_tenths", sa.Integer(), nullable=True),
        sa.Column("volume_ml", sa.Integer(), nullable=True),
        sa.Column("box_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("place_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("packed_at", sa.BigInteger(), nullable=False),
        sa.Column("label_copy", sa.Integer(), nullable=False),
        sa.Column("labelled_at", sa.BigInteger(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["box_id"], ["box.id"], name=op.f("fk_bag_box_id_box")),
        sa.ForeignKeyConstraint(["container_id"], ["container.id"], name=op.f("fk_bag_container_id_container")),
        sa.ForeignKeyConstraint(["place_id"], ["place.id"], name=op.f("fk_bag_place_id_place")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_bag")),
        sa.UniqueConstraint("code", name=op.f("uq_bag_code")),
    )
    with op.batch_alter_table("bag", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_bag_box_id"), ["box_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_bag_container_id"), ["container_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_bag_labelled_at"), ["labelled_at"], unique=False)
        batch_op.create_index(batch_op.f("ix_bag_packed_at"), ["packed_at"], unique=False)
        batch_op.create_index(batch_op.f("ix_bag_place_id"), ["place_id"], unique=False)

    op.create_table(
        "balance_total",
        sa.Column(
            "container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False
        ),
        sa.Column("material", sa.String(), nullable=False),
        sa.Column("counted", sa.Integer(), nullable=False),
        sa.Column("found_more", sa.Integer(), nullable=False),
        sa.Column("arrived", sa.Integer(), nullable=False),
        sa.Column("kept", sa.Integer(), nullable=False),
        sa.Column("on_hold", sa.Integer(), nullable=False),
        sa.Column("to_discard", sa.Integer(), nullable=False),
        sa.Column("discarded", sa.Integer(), nullable=False),
        sa.Column("used_up", sa.Integer(), nullable=False),
        sa.Column("moved_out", sa.Integer(), nullable=False),
        sa.Column("not_a_sherd", sa.Integer(), nullable=False),
        sa.Column("not_found", sa.Integer(), nullable=False),
        sa.Column("counted_tenths", sa.Integer(), nullable=False),
        sa.Column("accounted_tenths", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["container_id"], ["container.id"], name=op.f("fk_balance_total_container_id_container")
        ),
        sa.PrimaryKeyConstraint("container_id", "material", name=op.f("pk_balance_total")),
        sqlite_with_rowid=False,
    )
    op.create_table(
        "count",
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("pieces", sa.Integer(), nullable=False),
        sa.Column("tenths", sa.Integer(), nullable=True),
        sa.Column("wet", sa.Boolean(), nullable=False),
        sa.Column("purpose", sa.String(), nullable=False),
        sa.Column("happened_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["container_id"], ["container.id"], name=op.f("fk_count_container_id_container")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_count_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_count")),
    )
    with op.batch_alter_table("count", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_count_container_id"), ["container_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_count_happened_at"), ["happened_at"], unique=False)

    op.create_table(
        "discard_line",
        sa.Column("list_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("group_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("piece_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("ware_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("part", sa.String(), nullable=False),
        sa.Column("pieces", sa.Integer(), nullable=False),
        sa.Column("tenths", sa.Integer(), nullable=True),
        sa.Column("reason", sa.String(), nullable=False),
        sa.Column("rule", sa.String(), nullable=False),
        sa.Column("proposed", sa.String(), nullable=False),
        sa.Column("called_back_at", sa.BigInteger(), nullable=True),
        sa.Column("called_back_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("called_back_why", sa.String(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(
            ["called_back_by_id"], ["person.id"], name=op.f("fk_discard_line_called_back_by_id_person")
        ),
        sa.ForeignKeyConstraint(
            ["container_id"], ["container.id"], name=op.f("fk_discard_line_container_id_container")
        ),
        sa.ForeignKeyConstraint(["list_id"], ["discard_list.id"], name=op.f("fk_discard_line_list_id_discard_list")),
        sa.ForeignKeyConstraint(["ware_id"], ["ware.id"], name=op.f("fk_discard_line_ware_id_ware")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_discard_line")),
    )
    with op.batch_alter_table("discard_line", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_discard_line_called_back_at"),
            ["called_back_at"],
            unique=False,
            sqlite_where=sa.text("called_back_at IS NOT NULL"),
            postgresql_where=sa.text("called_back_at IS NOT NULL"),
        )
        batch_op.create_index(batch_op.f("ix_discard_line_container_id"), ["container_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_discard_line_group_id"), ["group_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_discard_line_list_id"), ["list_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_discard_line_piece_id"), ["piece_id"], unique=False)

    op.create_table(
        "found_object",
        sa.Column("season_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("made_of", sa.String(), nullable=False),
        sa.Column("description", sa.String(), nullable=False),
        sa.Column("tenths", sa.Integer(), nullable=True),
        sa.Column("told_at", sa.BigInteger(), nullable=True),
        sa.Column("earliest", sa.Integer(), nullable=True),
        sa.Column("latest", sa.Integer(), nullable=True),
        sa.Column("found_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("search_text", sa.String(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(
            ["container_id"], ["container.id"], name=op.f("fk_found_object_container_id_container")
        ),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_found_object_person_id_person")),
        sa.ForeignKeyConstraint(["season_id"], ["season.id"], name=op.f("fk_found_object_season_id_season")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_found_object")),
        sa.UniqueConstraint("season_id", "number", name=op.f("uq_found_object_season_id_number")),
    )
    with op.batch_alter_table("found_object", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_found_object_container_id"), ["container_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_found_object_search_text"), ["search_text"], unique=False)
        batch_op.create_index(batch_op.f("ix_found_object_told_at"), ["told_at"], unique=False)

    op.create_table(
        "hand_over_line",
        sa.Column("hand_over_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("requirement", sa.String(), nullable=False),
        sa.Column("subject", sa.String(), nullable=False),
        sa.Column("subject_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("number", sa.String(), nullable=False),
        sa.Column("part", sa.Integer(), nullable=False),
        sa.Column("pieces", sa.Integer(), nullable=False),
        sa.Column("stays_as", sa.String(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(
            ["container_id"], ["container.id"], name=op.f("fk_hand_over_line_container_id_container")
        ),
        sa.ForeignKeyConstraint(
            ["hand_over_id"], ["hand_over.id"], name=op.f("fk_hand_over_line_hand_over_id_hand_over")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_hand_over_line")),
    )
    with op.batch_alter_table("hand_over_line", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_hand_over_line_container_id"), ["container_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_hand_over_line_hand_over_id"), ["hand_over_id"], unique=False)
        batch_op.create_index(
            batch_op.f("ix_hand_over_line_requirement_subject_subject_id"),
            ["requirement", "subject", "subject_id"],
            unique=False,
        )

    op.create_table(
        "ledger_entry",
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("material", sa.String(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("pieces", sa.Integer(), nullable=False),
        sa.Column("tenths", sa.Integer(), nullable=False),
        sa.Column("other_container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("answers_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("why", sa.String(), nullable=False),
        sa.Column("happened_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(
            ["answers_id"], ["ledger_entry.id"], name=op.f("fk_ledger_entry_answers_id_ledger_entry")
        ),
        sa.ForeignKeyConstraint(
            ["container_id"], ["container.id"], name=op.f("fk_ledger_entry_container_id_container")
        ),
        sa.ForeignKeyConstraint(
            ["other_container_id"], ["container.id"], name=op.f("fk_ledger_entry_other_container_id_container")
        ),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_ledger_entry_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_ledger_entry")),
    )
    with op.batch_alter_table("ledger_entry", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_ledger_entry_container_id"), ["container_id"], unique=False)

    op.create_table(
        "mark_entry",
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("piece_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("pieces", sa.Integer(), nullable=False),
        sa.Column("said", sa.String(), nullable=False),
        sa.Column("why", sa.String(), nullable=False),
        sa.Column("instead_of", sa.String(), nullable=False),
        sa.Column("answers_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("happened_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["answers_id"], ["mark_entry.id"], name=op.f("fk_mark_entry_answers_id_mark_entry")),
        sa.ForeignKeyConstraint(["container_id"], ["container.id"], name=op.f("fk_mark_entry_container_id_container")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_mark_entry_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_mark_entry")),
    )
    with op.batch_alter_table("mark_entry", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_mark_entry_answers_id"), ["answers_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_mark_entry_container_id_kind"), ["container_id", "kind"], unique=False)
        batch_op.create_index(batch_op.f("ix_mark_entry_happened_at"), ["happened_at"], unique=False)
        batch_op.create_index(batch_op.f("ix_mark_entry_piece_id"), ["piece_id"], unique=False)

    op.create_table(
        "note",
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("facts", sa.JSON(), nullable=False),
        sa.Column("happened_at", sa.BigInteger(), nullable=False),
        sa.Column("answered_at", sa.BigInteger(), nullable=True),
        sa.Column("answer", sa.String(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["container_id"], ["container.id"], name=op.f("fk_note_container_id_container")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_note")),
    )
    with op.batch_alter_table("note", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_note_container_id"), ["container_id"], unique=False)

    op.create_table(
        "part",
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("ordinal", sa.Integer(), nullable=False),
        sa.Column("place_kind", sa.String(), nullable=False),
        sa.Column("place", sa.String(), nullable=False),
        sa.Column("since", sa.BigInteger(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["container_id"], ["container.id"], name=op.f("fk_part_container_id_container")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_part")),
        sa.UniqueConstraint("container_id", "ordinal", name=op.f("uq_part_container_id_ordinal")),
    )
    with op.batch_alter_table("part", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_part_place_kind_place"), ["place_kind", "place"], unique=False)

    op.create_table(
        "piece",
        sa.Column("code", sa.String(), nullable=False),
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("ware_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("form_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("part", sa.String(), nullable=False),
        sa.Column("surface", sa.String(), nullable=False),
        sa.Column("decoration", sa.String(), nullable=False),
        sa.Column("condition", sa.String(), nullable=False),
        sa.Column("pieces", sa.Integer(), nullable=False),
        sa.Column("tenths", sa.Integer(), nullable=True),
        sa.Column("decision", sa.String(), nullable=False),
        sa.Column("reason", sa.String(), nullable=False),
        sa.Column("rule", sa.String(), nullable=False),
        sa.Column("proposed", sa.String(), nullable=False),
        sa.Column("diagnostic", sa.Boolean(), nullable=False),
        sa.Column("discarded", sa.Boolean(), nullable=False),
        sa.Column("rim_permille", sa.Integer(), nullable=True),
        sa.Column("base_permille", sa.Integer(), nullable=True),
        sa.Column("rim_diameter_mm", sa.Integer(), nullable=True),
        sa.Column("base_diameter_mm", sa.Integer(), nullable=True),
        sa.Column("diameter_method", sa.String(), nullable=False),
        sa.Column("diameter_uncertainty_mm", sa.Integer(), nullable=True),
        sa.Column("base_method", sa.String(), nullable=False),
        sa.Column("base_uncertainty_mm", sa.Integer(), nullable=True),
        sa.Column("chord_tenths_mm", sa.Integer(), nullable=True),
        sa.Column("sagitta_tenths_mm", sa.Integer(), nullable=True),
        sa.Column("height_mm", sa.Integer(), nullable=True),
        sa.Column("wall_tenths_mm", sa.Integer(), nullable=True),
        sa.Column("colour_surface", sa.String(), nullable=False),
        sa.Column("colour_inside", sa.String(), nullable=False),
        sa.Column("colour_core", sa.String(), nullable=False),
        sa.Column("colour_slip", sa.String(), nullable=False),
        sa.Column("firing", sa.String(), nullable=False),
        sa.Column("inclusions", sa.JSON(), nullable=False),
        sa.Column("earliest", sa.Integer(), nullable=True),
        sa.Column("latest", sa.Integer(), nullable=True),
        sa.Column("dated_by", sa.String(), nullable=False),
        sa.Column("parallels", sa.String(), nullable=False),
        sa.Column("conservation", sa.String(), nullable=False),
        sa.Column("drawing", sa.String(), nullable=False),
        sa.Column("drawing_wanted", sa.Boolean(), nullable=False),
        sa.Column("photo_wanted", sa.Boolean(), nullable=False),
        sa.Column("vessel_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("shared", sa.String(), nullable=False),
        sa.Column("lifted_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("search_text", sa.String(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["container_id"], ["container.id"], name=op.f("fk_piece_container_id_container")),
        sa.ForeignKeyConstraint(["form_id"], ["form.id"], name=op.f("fk_piece_form_id_form")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_piece_person_id_person")),
        sa.ForeignKeyConstraint(["vessel_id"], ["vessel.id"], name=op.f("fk_piece_vessel_id_vessel")),
        sa.ForeignKeyConstraint(["ware_id"], ["ware.id"], name=op.f("fk_piece_ware_id_ware")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_piece")),
        sa.UniqueConstraint("code", name=op.f("uq_piece_code")),
        sa.UniqueConstraint("container_id", "number", name=op.f("uq_piece_container_id_number")),
    )
    with op.batch_alter_table("piece", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_piece_drawing"), ["drawing"], unique=False)
        batch_op.create_index(batch_op.f("ix_piece_form_id"), ["form_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_piece_lifted_at"), ["lifted_at"], unique=False)
        batch_op.create_index(batch_op.f("ix_piece_vessel_id"), ["vessel_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_piece_ware_id"), ["ware_id"], unique=False)

    op.create_table(
        "pottery_reading",
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("deposit_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("main_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("earlier_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("latest_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("confidence", sa.String(), nullable=False),
        sa.Column("line", sa.String(), nullable=False),
        sa.Column("look_again", sa.Boolean(), nullable=False),
        sa.Column("look_again_why", sa.String(), nullable=False),
        sa.Column("looked_again_at", sa.BigInteger(), nullable=True),
        sa.Column("looked_again_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("looked_again_says", sa.String(), nullable=False),
        sa.Column("read_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(
            ["container_id"], ["container.id"], name=op.f("fk_pottery_reading_container_id_container")
        ),
        sa.ForeignKeyConstraint(["deposit_id"], ["deposit.id"], name=op.f("fk_pottery_reading_deposit_id_deposit")),
        sa.ForeignKeyConstraint(["earlier_id"], ["period.id"], name=op.f("fk_pottery_reading_earlier_id_period")),
        sa.ForeignKeyConstraint(["latest_id"], ["period.id"], name=op.f("fk_pottery_reading_latest_id_period")),
        sa.ForeignKeyConstraint(
            ["looked_again_by_id"], ["person.id"], name=op.f("fk_pottery_reading_looked_again_by_id_person")
        ),
        sa.ForeignKeyConstraint(["main_id"], ["period.id"], name=op.f("fk_pottery_reading_main_id_period")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_pottery_reading_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_pottery_reading")),
    )
    with op.batch_alter_table("pottery_reading", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_pottery_reading_container_id"), ["container_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_pottery_reading_deposit_id"), ["deposit_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_pottery_reading_read_at"), ["read_at"], unique=False)

    op.create_table(
        "share_drawn",
        sa.Column("rule_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("deposit_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("group_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("ware_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("laid_out", sa.Integer(), nullable=False),
        sa.Column("step", sa.Integer(), nullable=False),
        sa.Column("first", sa.Integer(), nullable=False),
        sa.Column("kept", sa.Integer(), nullable=False),
        sa.Column("carried", sa.Integer(), nullable=False),
        sa.Column("happened_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["container_id"], ["container.id"], name=op.f("fk_share_drawn_container_id_container")),
        sa.ForeignKeyConstraint(["deposit_id"], ["deposit.id"], name=op.f("fk_share_drawn_deposit_id_deposit")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_share_drawn_person_id_person")),
        sa.ForeignKeyConstraint(["rule_id"], ["retention_rule.id"], name=op.f("fk_share_drawn_rule_id_retention_rule")),
        sa.ForeignKeyConstraint(["ware_id"], ["ware.id"], name=op.f("fk_share_drawn_ware_id_ware")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_share_drawn")),
    )
    with op.batch_alter_table("share_drawn", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_share_drawn_container_id"), ["container_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_share_drawn_deposit_id_rule_id"), ["deposit_id", "rule_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_share_drawn_group_id"), ["group_id"], unique=False)

    op.create_table(
        "sherd_group",
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("ordinal", sa.Integer(), nullable=False),
        sa.Column("ware_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("form_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("part", sa.String(), nullable=False),
        sa.Column("surface", sa.String(), nullable=False),
        sa.Column("decoration", sa.String(), nullable=False),
        sa.Column("condition", sa.String(), nullable=False),
        sa.Column("pieces", sa.Integer(), nullable=False),
        sa.Column("tenths", sa.Integer(), nullable=True),
        sa.Column("rim_permille", sa.Integer(), nullable=True),
        sa.Column("base_permille", sa.Integer(), nullable=True),
        sa.Column("decision", sa.String(), nullable=False),
        sa.Column("reason", sa.String(), nullable=False),
        sa.Column("rule", sa.String(), nullable=False),
        sa.Column("proposed", sa.String(), nullable=False),
        sa.Column("diagnostic", sa.Boolean(), nullable=False),
        sa.Column("discarded", sa.Boolean(), nullable=False),
        sa.Column("vessel_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["container_id"], ["container.id"], name=op.f("fk_sherd_group_container_id_container")),
        sa.ForeignKeyConstraint(["form_id"], ["form.id"], name=op.f("fk_sherd_group_form_id_form")),
        sa.ForeignKeyConstraint(["vessel_id"], ["vessel.id"], name=op.f("fk_sherd_group_vessel_id_vessel")),
        sa.ForeignKeyConstraint(["ware_id"], ["ware.id"], name=op.f("fk_sherd_group_ware_id_ware")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sherd_group")),
    )
    with op.batch_alter_table("sherd_group", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_sherd_group_container_id_ordinal"), ["container_id", "ordinal"], unique=False
        )
        batch_op.create_index(batch_op.f("ix_sherd_group_form_id"), ["form_id"], unique=False)
        batch_op.create_index(
            batch_op.f("ix_sherd_group_proposed"),
            ["proposed"],
            unique=False,
            sqlite_where=sa.text("proposed <> '' AND reason = ''"),
            postgresql_where=sa.text("proposed <> '' AND reason = ''"),
        )
        batch_op.create_index(batch_op.f("ix_sherd_group_vessel_id"), ["vessel_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_sherd_group_ware_id"), ["ware_id"], unique=False)

    op.create_table(
        "step",
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("happened_at", sa.BigInteger(), nullable=False),
        sa.Column("entered_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("entered_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("place", sa.String(), nullable=False),
        sa.Column("pieces", sa.Integer(), nullable=True),
        sa.Column("back_to", sa.String(), nullable=True),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["container_id"], ["container.id"], name=op.f("fk_step_container_id_container")),
        sa.ForeignKeyConstraint(["entered_by_id"], ["person.id"], name=op.f("fk_step_entered_by_id_person")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_step_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_step")),
    )
    with op.batch_alter_table("step", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_step_container_id_happened_at"), ["container_id", "happened_at"], unique=False
        )
        batch_op.create_index(batch_op.f("ix_step_kind_happened_at"), ["kind", "happened_at"], unique=False)

    op.create_table(
        "lab_sample",
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("piece_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("what_for", sa.String(), nullable=False),
        sa.Column("taken_tenths", sa.Integer(), nullable=True),
        sa.Column("pieces_used", sa.Integer(), nullable=False),
        sa.Column("laboratory", sa.String(), nullable=False),
        sa.Column("permit", sa.String(), nullable=False),
        sa.Column("sent_on", sa.Date(), nullable=True),
        sa.Column("back_on", sa.Date(), nullable=True),
        sa.Column("rest_tenths", sa.Integer(), nullable=True),
        sa.Column("used_up_on", sa.Date(), nullable=True),
        sa.Column("result", sa.String(), nullable=False),
        sa.Column("taken_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["container_id"], ["container.id"], name=op.f("fk_lab_sample_container_id_container")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_lab_sample_person_id_person")),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name=op.f("fk_lab_sample_piece_id_piece")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_lab_sample")),
        sa.UniqueConstraint("number", name=op.f("uq_lab_sample_number")),
    )
    with op.batch_alter_table("lab_sample", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_lab_sample_container_id"), ["container_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_lab_sample_piece_id"), ["piece_id"], unique=False)

    op.create_table(
        "lay",
        sa.Column("bag_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("box_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("in_box_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("at_place_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("transport_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("why", sa.String(), nullable=False),
        sa.Column("happened_at", sa.BigInteger(), nullable=False),
        sa.Column("entered_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["at_place_id"], ["place.id"], name=op.f("fk_lay_at_place_id_place")),
        sa.ForeignKeyConstraint(["bag_id"], ["bag.id"], name=op.f("fk_lay_bag_id_bag")),
        sa.ForeignKeyConstraint(["box_id"], ["box.id"], name=op.f("fk_lay_box_id_box")),
        sa.ForeignKeyConstraint(["in_box_id"], ["box.id"], name=op.f("fk_lay_in_box_id_box")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_lay_person_id_person")),
        sa.ForeignKeyConstraint(["transport_id"], ["transport.id"], name=op.f("fk_lay_transport_id_transport")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_lay")),
    )
    with op.batch_alter_table("lay", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_lay_at_place_id"), ["at_place_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_lay_bag_id_entered_at"), ["bag_id", "entered_at"], unique=False)
        batch_op.create_index(batch_op.f("ix_lay_box_id_entered_at"), ["box_id", "entered_at"], unique=False)
        batch_op.create_index(batch_op.f("ix_lay_in_box_id"), ["in_box_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_lay_transport_id"), ["transport_id"], unique=False)

    op.create_table(
        "photo",
        sa.Column("sha256", sa.String(), nullable=False),
        sa.Column("file_name", sa.String(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("width", sa.Integer(), nullable=False),
        sa.Column("height", sa.Integer(), nullable=False),
        sa.Column("size_bytes", sa.Integer(), nullable=False),
        sa.Column("taken_on", sa.BigInteger(), nullable=True),
        sa.Column("piece_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("object_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("deposit_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("vessel_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("ware_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("form_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("discard_list_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("taken_in_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["container_id"], ["container.id"], name=op.f("fk_photo_container_id_container")),
        sa.ForeignKeyConstraint(["deposit_id"], ["deposit.id"], name=op.f("fk_photo_deposit_id_deposit")),
        sa.ForeignKeyConstraint(
            ["discard_list_id"], ["discard_list.id"], name=op.f("fk_photo_discard_list_id_discard_list")
        ),
        sa.ForeignKeyConstraint(["form_id"], ["form.id"], name=op.f("fk_photo_form_id_form")),
        sa.ForeignKeyConstraint(["object_id"], ["found_object.id"], name=op.f("fk_photo_object_id_found_object")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_photo_person_id_person")),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name=op.f("fk_photo_piece_id_piece")),
        sa.ForeignKeyConstraint(["vessel_id"], ["vessel.id"], name=op.f("fk_photo_vessel_id_vessel")),
        sa.ForeignKeyConstraint(["ware_id"], ["ware.id"], name=op.f("fk_photo_ware_id_ware")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_photo")),
    )
    with op.batch_alter_table("photo", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_photo_container_id"), ["container_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_photo_deposit_id"), ["deposit_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_photo_discard_list_id"), ["discard_list_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_photo_form_id"), ["form_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_photo_object_id"), ["object_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_photo_piece_id"), ["piece_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_photo_sha256"), ["sha256"], unique=False)
        batch_op.create_index(batch_op.f("ix_photo_taken_in_at"), ["taken_in_at"], unique=False)
        batch_op.create_index(batch_op.f("ix_photo_vessel_id"), ["vessel_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_photo_ware_id"), ["ware_id"], unique=False)

    op.create_table(
        "printed_label",
        sa.Column("printing_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("bag_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("code", sa.String(), nullable=False),
        sa.Column("page", sa.Integer(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("copy", sa.Integer(), nullable=False),
        sa.Column("printed_at", sa.BigInteger(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["bag_id"], ["bag.id"], name=op.f("fk_printed_label_bag_id_bag")),
        sa.ForeignKeyConstraint(
            ["container_id"], ["container.id"], name=op.f("fk_printed_label_container_id_container")
        ),
        sa.ForeignKeyConstraint(["printing_id"], ["printing.id"], name=op.f("fk_printed_label_printing_id_printing")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_printed_label")),
    )
    with op.batch_alter_table("printed_label", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_printed_label_bag_id"), ["bag_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_printed_label_code"), ["code"], unique=False)
        batch_op.create_index(batch_op.f("ix_printed_label_container_id"), ["container_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_printed_label_printed_at"), ["printed_at"], unique=False)
        batch_op.create_index(batch_op.f("ix_printed_label_printing_id"), ["printing_id"], unique=False)

    op.create_table(
        "redo",
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("bag_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("piece_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("pieces", sa.Integer(), nullable=False),
        sa.Column("said", sa.String(), nullable=False),
        sa.Column("says_now", sa.String(), nullable=False),
        sa.Column("why", sa.String(), nullable=False),
        sa.Column("asked_at", sa.BigInteger(), nullable=False),
        sa.Column("done_at", sa.BigInteger(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["bag_id"], ["bag.id"], name=op.f("fk_redo_bag_id_bag")),
        sa.ForeignKeyConstraint(["container_id"], ["container.id"], name=op.f("fk_redo_container_id_container")),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name=op.f("fk_redo_piece_id_piece")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_redo")),
    )
    with op.batch_alter_table("redo", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_redo_container_id"), ["container_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_redo_done_at"), ["done_at"], unique=False)

    op.create_table(
        "sherd_join",
        sa.Column("left_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("right_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("sure", sa.Boolean(), nullable=False),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("found_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["left_id"], ["piece.id"], name=op.f("fk_sherd_join_left_id_piece")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_sherd_join_person_id_person")),
        sa.ForeignKeyConstraint(["right_id"], ["piece.id"], name=op.f("fk_sherd_join_right_id_piece")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sherd_join")),
        sa.UniqueConstraint("left_id", "right_id", name=op.f("uq_sherd_join_left_id_right_id")),
    )
    with op.batch_alter_table("sherd_join", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_sherd_join_found_at"), ["found_at"], unique=False)
        batch_op.create_index(batch_op.f("ix_sherd_join_right_id"), ["right_id"], unique=False)

    op.create_table(
        "stock_scan",
        sa.Column("stock_take_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("verdict", sa.String(), nullable=False),
        sa.Column("box_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("bag_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("seen_in_box_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("seen_at_place_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("belongs_in_box_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("belongs_at_place_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("happened_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["bag_id"], ["bag.id"], name=op.f("fk_stock_scan_bag_id_bag")),
        sa.ForeignKeyConstraint(
            ["belongs_at_place_id"], ["place.id"], name=op.f("fk_stock_scan_belongs_at_place_id_place")
        ),
        sa.ForeignKeyConstraint(["belongs_in_box_id"], ["box.id"], name=op.f("fk_stock_scan_belongs_in_box_id_box")),
        sa.ForeignKeyConstraint(["box_id"], ["box.id"], name=op.f("fk_stock_scan_box_id_box")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_stock_scan_person_id_person")),
        sa.ForeignKeyConstraint(["seen_at_place_id"], ["place.id"], name=op.f("fk_stock_scan_seen_at_place_id_place")),
        sa.ForeignKeyConstraint(["seen_in_box_id"], ["box.id"], name=op.f("fk_stock_scan_seen_in_box_id_box")),
        sa.ForeignKeyConstraint(
            ["stock_take_id"], ["stock_take.id"], name=op.f("fk_stock_scan_stock_take_id_stock_take")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stock_scan")),
    )
    with op.batch_alter_table("stock_scan", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_stock_scan_bag_id"), ["bag_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_stock_scan_box_id"), ["box_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_stock_scan_stock_take_id"), ["stock_take_id"], unique=False)

    op.create_table(
        "taken_out",
        sa.Column("box_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("bag_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("to_place_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("why", sa.String(), nullable=False),
        sa.Column("since", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("back_at", sa.BigInteger(), nullable=True),
        sa.Column("back_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["back_by_id"], ["person.id"], name=op.f("fk_taken_out_back_by_id_person")),
        sa.ForeignKeyConstraint(["bag_id"], ["bag.id"], name=op.f("fk_taken_out_bag_id_bag")),
        sa.ForeignKeyConstraint(["box_id"], ["box.id"], name=op.f("fk_taken_out_box_id_box")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_taken_out_person_id_person")),
        sa.ForeignKeyConstraint(["to_place_id"], ["place.id"], name=op.f("fk_taken_out_to_place_id_place")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_taken_out")),
    )
    with op.batch_alter_table("taken_out", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_taken_out_back_at"), ["back_at"], unique=False)
        batch_op.create_index(batch_op.f("ix_taken_out_bag_id"), ["bag_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_taken_out_box_id"), ["box_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_taken_out_since"), ["since"], unique=False)
        batch_op.create_index(batch_op.f("ix_taken_out_to_place_id"), ["to_place_id"], unique=False)

    op.create_table(
        "transport_line",
        sa.Column("transport_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("box_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("bag_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("from_place_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("checked_out", sa.Boolean(), nullable=False),
        sa.Column("arrived_at", sa.BigInteger(), nullable=True),
        sa.Column("arrived_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["arrived_by_id"], ["person.id"], name=op.f("fk_transport_line_arrived_by_id_person")),
        sa.ForeignKeyConstraint(["bag_id"], ["bag.id"], name=op.f("fk_transport_line_bag_id_bag")),
        sa.ForeignKeyConstraint(["box_id"], ["box.id"], name=op.f("fk_transport_line_box_id_box")),
        sa.ForeignKeyConstraint(["from_place_id"], ["place.id"], name=op.f("fk_transport_line_from_place_id_place")),
        sa.ForeignKeyConstraint(
            ["transport_id"], ["transport.id"], name=op.f("fk_transport_line_transport_id_transport")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_transport_line")),
    )
    with op.batch_alter_table("transport_line", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_transport_line_arrived_at"), ["arrived_at"], unique=False)
        batch_op.create_index(batch_op.f("ix_transport_line_bag_id"), ["bag_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_transport_line_box_id"), ["box_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_transport_line_transport_id"), ["transport_id"], unique=False)

    op.create_table(
        "loan_line",
        sa.Column("loan_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("ordinal", sa.Integer(), nullable=False),
        sa.Column("bag_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("box_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("piece_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("sample_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("pieces", sa.Integer(), nullable=False),
        sa.Column("tenths", sa.Integer(), nullable=True),
        sa.Column("condition_out", sa.String(), nullable=False),
        sa.Column("pieces_back", sa.Integer(), nullable=False),
        sa.Column("pieces_used", sa.Integer(), nullable=False),
        sa.Column("condition_back", sa.String(), nullable=False),
        sa.Column("back_on", sa.Date(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["bag_id"], ["bag.id"], name=op.f("fk_loan_line_bag_id_bag")),
        sa.ForeignKeyConstraint(["box_id"], ["box.id"], name=op.f("fk_loan_line_box_id_box")),
        sa.ForeignKeyConstraint(["container_id"], ["container.id"], name=op.f("fk_loan_line_container_id_container")),
        sa.ForeignKeyConstraint(["loan_id"], ["loan.id"], name=op.f("fk_loan_line_loan_id_loan")),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name=op.f("fk_loan_line_piece_id_piece")),
        sa.ForeignKeyConstraint(["sample_id"], ["lab_sample.id"], name=op.f("fk_loan_line_sample_id_lab_sample")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_loan_line")),
    )
    with op.batch_alter_table("loan_line", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_loan_line_back_on"), ["back_on"], unique=False)
        batch_op.create_index(batch_op.f("ix_loan_line_bag_id"), ["bag_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_loan_line_box_id"), ["box_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_loan_line_container_id"), ["container_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_loan_line_loan_id"), ["loan_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_loan_line_piece_id"), ["piece_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_loan_line_sample_id"), ["sample_id"], unique=False)

    op.create_table(
        "loan_return",
        sa.Column("loan_line_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("pieces", sa.Integer(), nullable=False),
        sa.Column("used_up", sa.Integer(), nullable=False),
        sa.Column("condition", sa.String(), nullable=False),
        sa.Column("back_on", sa.Date(), nullable=False),
        sa.Column("happened_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["loan_line_id"], ["loan_line.id"], name=op.f("fk_loan_return_loan_line_id_loan_line")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_loan_return_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_loan_return")),
    )
    with op.batch_alter_table("loan_return", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_loan_return_loan_line_id"), ["loan_line_id"], unique=False)

    op.create_table(
        "proxy_slip",
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("bag_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("piece_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("pieces", sa.Integer(), nullable=False),
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("why", sa.String(), nullable=False),
        sa.Column("went_to", sa.String(), nullable=False),
        sa.Column("loan_line_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("made_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("laid_back_at", sa.BigInteger(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["bag_id"], ["bag.id"], name=op.f("fk_proxy_slip_bag_id_bag")),
        sa.ForeignKeyConstraint(["loan_line_id"], ["loan_line.id"], name=op.f("fk_proxy_slip_loan_line_id_loan_line")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_proxy_slip_person_id_person")),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name=op.f("fk_proxy_slip_piece_id_piece")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_proxy_slip")),
        sa.UniqueConstraint("number", name=op.f("uq_proxy_slip_number")),
    )
    with op.batch_alter_table("proxy_slip", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_proxy_slip_bag_id"), ["bag_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_proxy_slip_loan_line_id"), ["loan_line_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_proxy_slip_piece_id"), ["piece_id"], unique=False)
