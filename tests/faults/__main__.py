"""`make faults`: every loop in its full form. Prints a table; ends with an error where anything is lost or wrong.

`python -m tests.faults kills together` runs the loops that are named, and BENCHTIDE_FAULTS=0.1 a tenth of each.
"""

import os
import sys
import time
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from tests.faults import archives, hostile, migrations, restores, syncs
from tests.faults.figures import Figures, table
from tests.faults.kills import Kills
from tests.faults.servers import Benchtide
from tests.faults.together import Together
from tests.postgres import Server, start, why_not
from tests.workers import Workers

SHARE = float(os.environ.get("BENCHTIDE_FAULTS", "1"))
SEED = int(os.environ.get("BENCHTIDE_SEED", str(time.time_ns() % 1_000_000)))
Loop = Callable[[Path, Server | None], Iterable[Figures]]


def share(count: int) -> int:
    return max(1, round(count * SHARE))


def kills(folder: Path, database: Server | None) -> Iterator[Figures]:
    server = Benchtide(folder / "instance", database.url if database else "")
    with server_gone(server):
        yield Kills(server, Random(SEED), notes=share(500), photos=share(50), database=database).run(share(20))


def interrupted_migrations(folder: Path, database: Server | None) -> Iterator[Figures]:
    yield migrations.run(folder, share(10), share(100_000), Random(SEED), database)


def interrupted_restores(folder: Path, database: Server | None) -> Iterator[Figures]:
    yield restores.run(folder, share(10), share(3000), share(100), Random(SEED), database)


def together(folder: Path, database: Server | None) -> Iterator[Figures]:
    """Eight makers at once, and a backup while they work."""
    name = "PostgreSQL" if database else "SQLite"
    server, archive = Benchtide(folder / "instance", database.url if database else ""), folder / "shop.zip"
    load = Together(server.base, makers=8, rounds=share(100), photos_each=5)
    with server, ThreadPoolExecutor(1) as threads:
        work = threads.submit(load.run)
        load.begun.wait()
        taken = archives.take(server, load.ledger.so_far(), archive)
        work.result()
    yield load.figures(name, server.url, server.settings.photos)
    yield archives.restored(Benchtide(folder / "elsewhere"), archive, taken, name)


def by_workers(folder: Path, database: Server | None) -> Iterator[Figures]:
    """The same eight at two processes of gunicorn, which SQLite does not allow."""
    if database is None:
        return
    with Workers(folder / "instance", database.url) as server:
        load = Together(server.base, makers=8, rounds=share(100), photos_each=5)
        load.run()
        server.stop()
    yield load.figures("PostgreSQL, two processes of gunicorn", server.url, server.settings.photos)


def synced(folder: Path, database: Server | None) -> Iterator[Figures]:
    """SQLite's own writes and those of the photos; a database server looks after its own."""
    if database is None and not syncs.why_not():
        yield syncs.run(folder, share(100), share(20))


def hostile_requests(folder: Path, database: Server | None) -> Iterator[Figures]:
    yield hostile.run(folder, SEED, share(3), database.url if database else "")


LOOPS: dict[str, Loop] = {
    "kills": kills,
    "syncs": synced,
    "migrations": interrupted_migrations,
    "restores": interrupted_restores,
    "together": together,
    "workers": by_workers,
    "hostile": hostile_requests,
}


@contextmanager
def server_gone(server: Benchtide) -> Iterator[None]:
    try:
        yield
    finally:
        server.kill()


def run(names: Iterable[str]) -> list[Figures]:
    found = []
    for name in names:
        for database in (None, *([] if why_not() else ["postgres"])):
            found += _timed(LOOPS[name], database is not None)
    return found


def _timed(loop: Loop, on_postgres: bool) -> Iterator[Figures]:
    began = time.monotonic()
    with TemporaryDirectory(prefix="faults") as folder:
        if on_postgres:
            with start(durable=True) as database:
                lines = list(loop(Path(folder), database))
        else:
            lines = list(loop(Path(folder), None))
    for line in lines:
        done = replace(line, seconds=time.monotonic() - began)
        print(table([done]).splitlines()[-1], flush=True)
        for one in done.wrong[:10]:
            print(f"  wrong: {one}", flush=True)
        yield done


def main(names: list[str]) -> int:
    print(f"seed {SEED}, {SHARE:g} of the full form", flush=True)
    if why_not():
        print(f"Left out: PostgreSQL. {why_not()}")
    if syncs.why_not():
        print(f"Left out: the watch over each sync. {syncs.why_not()}")
    found = run(names or LOOPS)
    print(f"\n{table(found)}")
    return 1 if any(one.wrong or one.lost for one in found) else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
