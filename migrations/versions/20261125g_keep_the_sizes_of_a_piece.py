"""Keep the sizes of a piece

One change a file, named as a sentence. Both directions. No models of the app in here: what a migration says must
stay true when they change. Where rows must be rewritten, do it in SQL.
"""

import sqlalchemy as sa
from alembic import op

revision = "20261125g"
down_revision = "20261125f"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "size",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("build_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("key", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("part", sa.String(), nullable=False),
        sa.Column("target_typed", sa.String(), nullable=False),
        sa.Column("target_nm", sa.BigInteger(), nullable=False),
        sa.Column("tolerance_typed", sa.String(), nullable=False),
        sa.Column("tolerance_nm", sa.BigInteger(), nullable=True),
        sa.Column("goes_into", sa.String(), nullable=False),
        sa.Column("fit", sa.String(), nullable=False),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["build_id"], ["build.id"], name=op.f("fk_size_build_id_build"), ondelete="CASCADE"),
        sa.ForeignKeyConstraint(["shop_id"], ["shop.id"], name=op.f("fk_size_shop_id_shop"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_size")),
        sa.UniqueConstraint("build_id", "key", name=op.f("uq_size_build_id_key")),
    )
    with op.batch_alter_table("size", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_size_build_id"), ["build_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_size_shop_id"), ["shop_id"], unique=False)


def downgrade() -> None:
    op.drop_table("size")
