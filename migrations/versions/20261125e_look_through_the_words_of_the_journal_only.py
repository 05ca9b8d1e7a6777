"""Look through the words of the journal only

One change a file, named as a sentence. Both directions. No models of the app in here: what a migration says must
stay true when they change. Where rows must be rewritten, do it in SQL.
"""

import sqlalchemy as sa
from alembic import op

revision = "20261125e"
down_revision = "20261125d"
branch_labels = None
depends_on = None

SPEAKS = sa.text("folded != ''")


def upgrade() -> None:
    if op.get_bind().dialect.name == "sqlite":
        op.create_index("ix_entry_words", "entry", ["shop_id", "at", "folded"], sqlite_where=SPEAKS)
    else:  # an index of PostgreSQL takes no long text
        op.create_index("ix_entry_speaks", "entry", ["shop_id", "at"], postgresql_where=SPEAKS)


def downgrade() -> None:
    is_sqlite = op.get_bind().dialect.name == "sqlite"
    op.drop_index("ix_entry_words" if is_sqlite else "ix_entry_speaks", "entry")
