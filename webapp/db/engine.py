"""Engines. SQLite gets what it needs to keep every acknowledged write; PostgreSQL has it already."""

from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event

PRAGMAS = ("journal_mode=WAL", "synchronous=FULL", "busy_timeout=5000")


def make_engine(url: str, *, foreign_keys: bool = True) -> Engine:
    """Return an engine. Foreign keys are off only for migrations: SQLite rebuilds tables, and a rebuild cascades."""
    engine = create_engine(url)
    if engine.dialect.name == "sqlite":
        _prepare_sqlite(engine, foreign_keys)
    return engine


def _prepare_sqlite(engine: Engine, foreign_keys: bool) -> None:
    @event.listens_for(engine, "connect")
    def connect(connection: Any, _record: Any) -> None:
        connection.isolation_level = None  # the driver's own BEGIN comes too late and loses updates
        for pragma in (*PRAGMAS, f"foreign_keys={'ON' if foreign_keys else 'OFF'}"):
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        write = connection.get_execution_options().get("write", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if write else "BEGIN")
