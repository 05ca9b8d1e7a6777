"""Engines. Each connection is told what it needs to keep every acknowledged write."""

from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event, make_url

# fullfsync counts on a Mac only, where a plain sync leaves the bytes in the cache of the disk
PRAGMAS = ("journal_mode=WAL", "synchronous=FULL", "fullfsync=ON", "checkpoint_fullfsync=ON")
BUSY_MS = 5000
KEPT_OPEN = 5
MOST_OPEN = 15  # connections of one process
# a server may be set to acknowledge before the disk has it; and whoever waits for a lock gets an answer in the end
POSTGRES = """SELECT set_config('lock_timeout', '10s', false),
    CASE current_setting('synchronous_commit') WHEN 'off' THEN set_config('synchronous_commit', 'on', false) END"""
REACH = {"connect_timeout": "10", "tcp_user_timeout": "20000"}  # s, ms: a server that is gone is noticed


def make_engine(url: str, *, foreign_keys: bool = True, busy_ms: int = BUSY_MS, most_open: int = MOST_OPEN) -> Engine:
    """Return an engine. Foreign keys are off only for migrations: SQLite rebuilds tables, and a rebuild cascades."""
    pool = {"pool_size": KEPT_OPEN, "max_overflow": most_open - KEPT_OPEN}
    if make_url(url).get_backend_name() == "sqlite":
        engine = create_engine(url, **pool)
        _prepare_sqlite(engine, foreign_keys, busy_ms)
        return engine
    named = make_url(url).query
    reach = {key: value for key, value in REACH.items() if key not in named}
    engine = create_engine(url, pool_pre_ping=True, connect_args=reach, **pool)
    _prepare_postgres(engine)
    return engine


def _prepare_sqlite(engine: Engine, foreign_keys: bool, busy_ms: int) -> None:
    @event.listens_for(engine, "connect")
    def connect(connection: Any, _record: Any) -> None:
        connection.isolation_level = None  # the driver's own BEGIN comes too late and loses updates
        for pragma in (f"busy_timeout={busy_ms}", *PRAGMAS, f"foreign_keys={'ON' if foreign_keys else 'OFF'}"):
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        write = connection.get_execution_options().get("write", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if write else "BEGIN")


def _prepare_postgres(engine: Engine) -> None:
    @event.listens_for(engine, "connect")
    def connect(connection: Any, _record: Any) -> None:
        connection.autocommit = True  # else it would hold for the first transaction only
        connection.execute(POSTGRES)
        connection.autocommit = False
