"""Note each backup

One change a file, named as a sentence. Both directions. No models of the app in here: what a migration says must
stay true when they change. Where rows must be rewritten, do it in SQL.
"""

import sqlalchemy as sa
from alembic import op

revision = "20261125b"
down_revision = "20261125a"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "backup",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("by", sa.String(), nullable=False),
        sa.Column("way", sa.String(), nullable=False),
        sa.Column("size", sa.BigInteger(), nullable=False),
        sa.Column("row_count", sa.Integer(), nullable=False),
        sa.Column("photo_count", sa.Integer(), nullable=False),
        sa.Column("missing_count", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_backup")),
    )
    with op.batch_alter_table("backup", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_backup_at"), ["at"], unique=False)


def downgrade() -> None:
    with op.batch_alter_table("backup", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_backup_at"))
    op.drop_table("backup")
