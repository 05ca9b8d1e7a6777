"""Mark each commit

One change a file, named as a sentence. Both directions. No models of the app in here: what a migration says must
stay true when they change. Where rows must be rewritten, do it in SQL.
"""

import sqlalchemy as sa
from alembic import op

revision = "20261125f"
down_revision = "20261125e"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "mark",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("value", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_mark")),
    )


def downgrade() -> None:
    op.drop_table("mark")
