"""Find pictures of builds, their bills and past builds by index

One change a file, named as a sentence. Both directions. No models of the app in here: what a migration says must
stay true when they change. Where rows must be rewritten, do it in SQL.
"""

import sqlalchemy as sa
from alembic import op

revision = "20261125m"
down_revision = "20261125l"
branch_labels = None
depends_on = None

SPEAKS = sa.text("folded != ''")


def upgrade() -> None:
    op.drop_index("ix_photo_build_id", "photo")
    op.create_index("ix_photo_build_id_is_cover", "photo", ["build_id", "is_cover", "at", "id"])
    op.drop_index("ix_material_build_id", "material")
    op.create_index("ix_material_build_id_bought_on", "material", ["build_id", "shop_id", "bought_on", "id"])
    if op.get_bind().dialect.name == "sqlite":
        op.create_index("ix_build_shop_id_delivered_on", "build", ["shop_id", "delivered_on", "id"])
        op.drop_index("ix_entry_words", "entry")
        op.create_index("ix_entry_words", "entry", ["shop_id", "at", "folded", "build_id"], sqlite_where=SPEAKS)


def downgrade() -> None:
    if op.get_bind().dialect.name == "sqlite":
        op.drop_index("ix_entry_words", "entry")
        op.create_index("ix_entry_words", "entry", ["shop_id", "at", "folded"], sqlite_where=SPEAKS)
        op.drop_index("ix_build_shop_id_delivered_on", "build")
    op.drop_index("ix_material_build_id_bought_on", "material")
    op.create_index("ix_material_build_id", "material", ["build_id"])
    op.drop_index("ix_photo_build_id_is_cover", "photo")
    op.create_index("ix_photo_build_id", "photo", ["build_id"])
