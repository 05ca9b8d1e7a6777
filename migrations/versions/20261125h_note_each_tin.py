"""Note each tin

One change a file, named as a sentence. Both directions. No models of the app in here: what a migration says must
stay true when they change. Where rows must be rewritten, do it in SQL.
"""

import sqlalchemy as sa
from alembic import op

revision = "20261125h"
down_revision = "20261125g"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "tin",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("product_id", sa.Integer(), nullable=False),
        sa.Column("batch", sa.String(), nullable=False),
        sa.Column("made_on", sa.Date(), nullable=True),
        sa.Column("opened_on", sa.Date(), nullable=True),
        sa.Column("use_by", sa.Date(), nullable=True),
        sa.Column("mixed_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("frozen", sa.Boolean(), nullable=False),
        sa.Column("gone_on", sa.Date(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["product_id"], ["product.id"], name=op.f("fk_tin_product_id_product"), ondelete="CASCADE"
        ),
        sa.ForeignKeyConstraint(["shop_id"], ["shop.id"], name=op.f("fk_tin_shop_id_shop"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_tin")),
    )
    with op.batch_alter_table("tin", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_tin_product_id"), ["product_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_tin_shop_id"), ["shop_id"], unique=False)


def downgrade() -> None:
    with op.batch_alter_table("tin", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_tin_shop_id"))
        batch_op.drop_index(batch_op.f("ix_tin_product_id"))
    op.drop_table("tin")
