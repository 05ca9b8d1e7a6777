"""Keep the hash of the picture shown

One change a file, named as a sentence. Both directions. No models of the app in here: what a migration says must
stay true when they change. Where rows must be rewritten, do it in SQL.
"""

import sqlalchemy as sa
from alembic import op

revision = "20261125c"
down_revision = "20261125b"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("photo", sa.Column("shown_sha256", sa.String(), nullable=True))


def downgrade() -> None:
    with op.batch_alter_table("photo", schema=None) as batch_op:
        batch_op.drop_column("shown_sha256")
