"""Keep readings of moisture

One change a file, named as a sentence. Both directions. No models of the app in here: what a migration says must
stay true when they change. Where rows must be rewritten, do it in SQL.
"""

import sqlalchemy as sa
from alembic import op

revision = "20261125i"
down_revision = "20261125h"
branch_labels = None
depends_on = None

OF = {"stock_moisture": "", "material_moisture": "material", "part_moisture": "part"}


def upgrade() -> None:
    op.create_table(
        "meter",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("unit", sa.String(), nullable=False),
        sa.Column("by_temperature", sa.JSON(none_as_null=True), nullable=False),
        sa.Column("by_species", sa.JSON(none_as_null=True), nullable=False),
        sa.Column("species_first", sa.Boolean(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["shop_id"], ["shop.id"], name=op.f("fk_meter_shop_id_shop"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_meter")),
        sa.UniqueConstraint("shop_id", "name", name=op.f("uq_meter_shop_id_name")),
    )
    op.create_index(op.f("ix_meter_shop_id"), "meter", ["shop_id"])
    op.create_table(
        "house",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("build_id", sa.Integer(), nullable=True),
        sa.Column("place", sa.String(), nullable=False),
        sa.Column("low", sa.Double(), nullable=False),
        sa.Column("high", sa.Double(), nullable=False),
        sa.Column("source", sa.String(), nullable=False),
        sa.Column("dry_temperature", sa.Double(), nullable=True),
        sa.Column("dry_humidity", sa.Double(), nullable=True),
        sa.Column("damp_temperature", sa.Double(), nullable=True),
        sa.Column("damp_humidity", sa.Double(), nullable=True),
        sa.Column("near", sa.Double(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["build_id"], ["build.id"], name=op.f("fk_house_build_id_build"), ondelete="CASCADE"),
        sa.ForeignKeyConstraint(["shop_id"], ["shop.id"], name=op.f("fk_house_shop_id_shop"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_house")),
        sa.UniqueConstraint("build_id", name=op.f("uq_house_build_id")),
    )
    op.create_index(op.f("ix_house_shop_id"), "house", ["shop_id"])
    for table, parent in OF.items():
        _create(table, parent)


def _create(table: str, parent: str) -> None:
    column = f"{parent or 'shop'}_id"
    keys = [sa.ForeignKeyConstraint([column], [f"{parent}.id"], f"fk_{table}_{column}_{parent}", ondelete="CASCADE")]
    op.create_table(
        table,
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("arrived_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("maker_id", sa.Integer(), nullable=True),
        sa.Column("reading", sa.Double(), nullable=True),
        sa.Column("temperature", sa.Double(), nullable=True),
        sa.Column("unit", sa.String(), nullable=False),
        sa.Column("meter", sa.String(), nullable=False),
        sa.Column("species", sa.String(), nullable=False),
        sa.Column("moisture", sa.Double(), nullable=True),
        sa.Column("why_not", sa.String(), nullable=False),
        sa.Column("place", sa.String(), nullable=False),
        *([sa.Column(column, sa.Integer(), nullable=False)] if parent else []),
        *(keys if parent else []),
        sa.ForeignKeyConstraint(["shop_id"], ["shop.id"], f"fk_{table}_shop_id_shop", ondelete="CASCADE"),
        sa.ForeignKeyConstraint(["maker_id"], ["maker.id"], f"fk_{table}_maker_id_maker", ondelete="SET NULL"),
        sa.PrimaryKeyConstraint("id", name=f"pk_{table}"),
        sa.UniqueConstraint(column, "number", "revision", name=f"uq_{table}_{column}_number_revision"),
    )
    for indexed in ("shop_id", "maker_id"):
        op.create_index(f"ix_{table}_{indexed}", table, [indexed])


def downgrade() -> None:
    for table in (*OF, "house", "meter"):
        op.drop_table(table)
