"""Alembic's entry. The engine comes from webapp.db.migrate; there is no alembic.ini."""

from typing import Any

import sqlalchemy as sa
from alembic import context

from webapp.tables import metadata


def render_item(kind: str, item: Any, _context: Any) -> Any:
    """Write our column types as what the database sees, so that migrations need no code of the app."""
    if kind == "type" and isinstance(item, sa.TypeDecorator):
        return "sa." + repr(item.impl_instance)
    return False


engine = context.config.attributes["engine"]
with engine.connect() as connection:
    context.configure(
        connection=connection,
        target_metadata=metadata,
        render_as_batch=engine.dialect.name == "sqlite",
        render_item=render_item,
        transaction_per_migration=True,
    )
    with context.begin_transaction():
        context.run_migrations()
    connection.commit()
