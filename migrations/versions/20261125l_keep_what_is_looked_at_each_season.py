"""Keep what is looked at each season

One change a file, named as a sentence. Both directions. No models of the app in here: what a migration says must
stay true when they change. Where rows must be rewritten, do it in SQL.
"""

import sqlalchemy as sa
from alembic import op

revision = "20261125l"
down_revision = "20261125k"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "watch",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("width_typed", sa.String(), nullable=False),
        sa.Column("width_nm", sa.BigInteger(), nullable=True),
        sa.Column("moisture", sa.Double(), nullable=True),
        sa.Column("ended_on", sa.Date(), nullable=True),
        sa.ForeignKeyConstraint(["shop_id"], ["shop.id"], name=op.f("fk_watch_shop_id_shop"), ondelete="CASCADE"),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_watch_part_id_part"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_watch")),
    )
    op.create_index(op.f("ix_watch_shop_id"), "watch", ["shop_id"])
    op.create_index(op.f("ix_watch_part_id"), "watch", ["part_id"])
    op.create_table(
        "look",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("watch_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("maker_id", sa.Integer(), nullable=True),
        sa.Column("width_typed", sa.String(), nullable=False),
        sa.Column("width_nm", sa.BigInteger(), nullable=True),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("is_taken_back", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(["shop_id"], ["shop.id"], name=op.f("fk_look_shop_id_shop"), ondelete="CASCADE"),
        sa.ForeignKeyConstraint(["watch_id"], ["watch.id"], name=op.f("fk_look_watch_id_watch"), ondelete="CASCADE"),
        sa.ForeignKeyConstraint(["maker_id"], ["maker.id"], name=op.f("fk_look_maker_id_maker"), ondelete="SET NULL"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_look")),
        sa.UniqueConstraint("watch_id", "number", "revision", name=op.f("uq_look_watch_id_number_revision")),
    )
    op.create_index(op.f("ix_look_shop_id"), "look", ["shop_id"])
    op.create_index(op.f("ix_look_maker_id"), "look", ["maker_id"])


def downgrade() -> None:
    op.drop_table("look")
    op.drop_table("watch")
