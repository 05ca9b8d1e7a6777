"""Keep what parts need room for

One change a file, named as a sentence. Both directions. No models of the app in here: what a migration says must
stay true when they change. Where rows must be rewritten, do it in SQL.
"""

import sqlalchemy as sa
from alembic import op

revision = "20261125k"
down_revision = "20261125j"
branch_labels = None
depends_on = None

SIZES = ("distance", "screw", "opening", "groove", "hold", "clear")


def upgrade() -> None:
    with op.batch_alter_table("part") as part:
        part.add_column(sa.Column("cut", sa.String(), nullable=False, server_default=""))
    with op.batch_alter_table("part") as part:
        part.alter_column("cut", server_default=None)
    op.create_table(
        "leeway",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        *(sa.Column(f"{size}_typed", sa.String(), nullable=False) for size in SIZES),
        sa.ForeignKeyConstraint(["shop_id"], ["shop.id"], name=op.f("fk_leeway_shop_id_shop"), ondelete="CASCADE"),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_leeway_part_id_part"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_leeway")),
    )
    op.create_index(op.f("ix_leeway_shop_id"), "leeway", ["shop_id"])
    op.create_index(op.f("ix_leeway_part_id"), "leeway", ["part_id"])
    op.create_table(
        "own_wood",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("radial", sa.String(), nullable=False),
        sa.Column("tangential", sa.String(), nullable=False),
        sa.Column("source", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(["shop_id"], ["shop.id"], name=op.f("fk_own_wood_shop_id_shop"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_own_wood")),
        sa.UniqueConstraint("shop_id", "name", name=op.f("uq_own_wood_shop_id_name")),
    )
    op.create_index(op.f("ix_own_wood_shop_id"), "own_wood", ["shop_id"])


def downgrade() -> None:
    op.drop_table("own_wood")
    op.drop_table("leeway")
    with op.batch_alter_table("part") as part:
        part.drop_column("cut")
