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
        "ware",
        sa.Column("code", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("earliest", sa.Integer(), nullable=True),
        sa.Column("latest", sa.Integer(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_ware")),
        sa.UniqueConstraint("code", name=op.f("uq_ware_code")),
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
        "printing",
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("stock", sa.String(), nullable=False),
        sa.Column("head", sa.String(), nullable=False),
        sa.Column("printed_at", sa.BigInteger(), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("came_out_at", sa.BigInteger(), nullable=True),
        sa.Column("reason", sa.String(), nullable=False),
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
        batch_op.create_index(batch_op.f("ix_container_standing_number_key"), ["standing", "number_key"], unique=False)

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
    )
    op.create_table(
        "bag",
        sa.Column("code", sa.String(), nullable=False),
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("pieces", sa.Integer(), nullable=False),
        sa.Column("tenths", sa.Integer(), nullable=True),
        sa.Column("packed_at", sa.BigInteger(), nullable=False),
        sa.Column("label_copy", sa.Integer(), nullable=False),
        sa.Column("labelled_at", sa.BigInteger(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["container_id"], ["container.id"], name=op.f("fk_bag_container_id_container")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_bag")),
        sa.UniqueConstraint("code", name=op.f("uq_bag_code")),
    )
    with op.batch_alter_table("bag", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_bag_container_id"), ["container_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_bag_labelled_at"), ["labelled_at"], unique=False)
        batch_op.create_index(batch_op.f("ix_bag_packed_at"), ["packed_at"], unique=False)

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
        "sherd_group",
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("ordinal", sa.Integer(), nullable=False),
        sa.Column("ware_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("part", sa.String(), nullable=False),
        sa.Column("pieces", sa.Integer(), nullable=False),
        sa.Column("tenths", sa.Integer(), nullable=True),
        sa.Column("decision", sa.String(), nullable=False),
        sa.Column("reason", sa.String(), nullable=False),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["container_id"], ["container.id"], name=op.f("fk_sherd_group_container_id_container")),
        sa.ForeignKeyConstraint(["ware_id"], ["ware.id"], name=op.f("fk_sherd_group_ware_id_ware")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sherd_group")),
    )
    with op.batch_alter_table("sherd_group", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_sherd_group_container_id_ordinal"), ["container_id", "ordinal"], unique=False
        )
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
        "printed_label",
        sa.Column("printing_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("bag_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("code", sa.String(), nullable=False),
        sa.Column("page", sa.Integer(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("copy", sa.Integer(), nullable=False),
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
        batch_op.create_index(batch_op.f("ix_printed_label_container_id"), ["container_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_printed_label_printing_id"), ["printing_id"], unique=False)

    op.create_table(
        "redo",
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("container_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("bag_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
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
        sa.PrimaryKeyConstraint("id", name=op.f("pk_redo")),
    )
    with op.batch_alter_table("redo", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_redo_container_id"), ["container_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_redo_done_at"), ["done_at"], unique=False)
