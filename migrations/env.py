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


def include_object(item: Any, _name: Any, _kind: Any, _reflected: bool, _other: Any) -> bool:
    """Leave out what is only for the other kind of database."""
    return item.info.get("only", context.get_context().dialect.name) == context.get_context().dialect.name


def run(connection: sa.Connection) -> None:
    context.configure(
        connection=connection,
        target_metadata=metadata,
        render_as_batch=connection.dialect.name == "sqlite",
        render_item=render_item,
        include_object=include_object,
    )
    with context.begin_transaction():
        context.run_migrations()


# in a transaction in any case, which alembic then leaves alone: all steps or none
given = context.config.attributes.get("connection")
if given is not None:
    run(given)
else:
    with context.config.attributes["engine"].execution_options(write=True).begin() as own:
        run(own)
