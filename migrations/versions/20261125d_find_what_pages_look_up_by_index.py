"""Find what pages look up by index

One change a file, named as a sentence. Both directions. No models of the app in here: what a migration says must
stay true when they change. Where rows must be rewritten, do it in SQL.
"""

import sqlalchemy as sa
from alembic import op

revision = "20261125d"
down_revision = "20261125c"
branch_labels = None
depends_on = None

MENDS = sa.text("corrects IS NOT NULL")


def upgrade() -> None:
    op.drop_index("ix_entry_shop_id_at", "entry")
    op.drop_index("ix_entry_build_id", "entry")
    op.create_index("ix_entry_shop_id_at", "entry", ["shop_id", "at", "arrived_at"])
    op.create_index("ix_entry_build_id_at", "entry", ["build_id", "at", "arrived_at"])
    op.create_index("ix_entry_mended", "entry", ["shop_id", "arrived_at"], sqlite_where=MENDS, postgresql_where=MENDS)
    op.drop_index("ix_reading_at", "reading")
    op.drop_index("ix_reading_shop_id", "reading")
    op.create_index("ix_reading_shop_id_at", "reading", ["shop_id", "at"])
    op.drop_index("ix_build_status", "build")
    op.drop_index("ix_build_shop_id", "build")
    op.create_index("ix_build_shop_id_status", "build", ["shop_id", "status"])


def downgrade() -> None:
    op.drop_index("ix_build_shop_id_status", "build")
    op.create_index("ix_build_shop_id", "build", ["shop_id"])
    op.create_index("ix_build_status", "build", ["status"])
    op.drop_index("ix_reading_shop_id_at", "reading")
    op.create_index("ix_reading_shop_id", "reading", ["shop_id"])
    op.create_index("ix_reading_at", "reading", ["at"])
    op.drop_index("ix_entry_mended", "entry")
    op.drop_index("ix_entry_build_id_at", "entry")
    op.drop_index("ix_entry_shop_id_at", "entry")
    op.create_index("ix_entry_build_id", "entry", ["build_id"])
    op.create_index("ix_entry_shop_id_at", "entry", ["shop_id", "at"])
