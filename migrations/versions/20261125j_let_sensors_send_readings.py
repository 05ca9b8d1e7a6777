"""Let sensors send readings

One change a file, named as a sentence. Both directions. No models of the app in here: what a migration says must
stay true when they change. Where rows must be rewritten, do it in SQL.
"""

import sqlalchemy as sa
from alembic import op

revision = "20261125j"
down_revision = "20261125i"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "sensor",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("room_id", sa.Integer(), nullable=True),
        sa.Column("token_hash", sa.String(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("heard_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(["room_id"], ["room.id"], name=op.f("fk_sensor_room_id_room")),
        sa.ForeignKeyConstraint(["shop_id"], ["shop.id"], name=op.f("fk_sensor_shop_id_shop"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sensor")),
        sa.UniqueConstraint("shop_id", "name", name=op.f("uq_sensor_shop_id_name")),
    )
    op.create_index(op.f("ix_sensor_shop_id"), "sensor", ["shop_id"])
    with op.batch_alter_table("reading") as table:
        table.add_column(sa.Column("sensor_id", sa.Integer(), nullable=True))
        table.alter_column("counts", existing_type=sa.Boolean(), nullable=True)
        table.create_foreign_key(
            op.f("fk_reading_sensor_id_sensor"), "sensor", ["sensor_id"], ["id"], ondelete="SET NULL"
        )
        table.create_index("ix_reading_sensor_id_at", ["sensor_id", "at"])


def downgrade() -> None:
    op.execute("UPDATE reading SET counts = true WHERE counts IS NULL")
    with op.batch_alter_table("reading") as table:
        table.drop_index("ix_reading_sensor_id_at")
        table.drop_constraint(op.f("fk_reading_sensor_id_sensor"), type_="foreignkey")
        table.alter_column("counts", existing_type=sa.Boolean(), nullable=False)
        table.drop_column("sensor_id")
    op.drop_index(op.f("ix_sensor_shop_id"), "sensor")
    op.drop_table("sensor")
