"""Each answer that acknowledges goes out only after the disk has what it acknowledges: watched by strace."""

import re
import shutil
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from tests.faults.figures import Figures
from tests.faults.ledger import Ledger
from tests.faults.load import Maker, begin_build, begin_shop, picture
from tests.faults.servers import Benchtide

CALLS = "trace=fsync,fdatasync,rename,recvfrom,sendto"
POST = re.compile(r'recvfrom\(.*?"POST (/\S*)')
ANSWER = re.compile(r'sendto\(.*?"HTTP/1\.1 (\d+)')
SYNC = re.compile(r"f(?:data)?sync\(\d+<([^>]*)>")
RENAME = re.compile(r'rename\("([^"]*)", "([^"]*)"')
SETTLE = 1.0  # seconds until the watcher is there


def why_not() -> str:
    return "" if shutil.which("strace") else "strace is not installed: apt install strace"


@dataclass
class Request:
    """What a request asked of the disk before it was answered, in this order."""

    path: str
    status: str = ""
    seen: list[str] = field(default_factory=list)


def requests(trace: str) -> list[Request]:
    """Return the posts of a trace that were answered. One visitor sends one after the other, so nothing is mixed up."""
    found, open_one = [], None
    for line in trace.splitlines():
        if post := POST.search(line):
            open_one = Request(post[1])
        elif open_one is not None and (answer := ANSWER.search(line)):
            open_one.status = answer[1]
            found.append(open_one)
            open_one = None
        elif open_one is not None:
            open_one.seen += _words(line)
    return found


def _words(line: str) -> list[str]:
    if sync := SYNC.search(line):
        path = Path(sync[1])
        return ["part" if path.suffix == ".part" else "log" if path.name.endswith("-wal") else "folder"]
    return ["name"] if RENAME.search(line) else []


def is_kept(request: Request) -> bool:
    """Return whether all was on the disk before the answer: for a photo three files and their folder, then the row."""
    if request.path.endswith("/note"):
        return "log" in request.seen
    files = [word for word in request.seen if word in ("part", "name")]
    last_name = len(request.seen) - 1 - request.seen[::-1].index("name") if "name" in request.seen else 0
    after = request.seen[last_name:]
    return files == ["part", "name"] * 3 and "folder" in after and "log" in after[after.index("folder") :]


@contextmanager
def watched(server: Benchtide, trace: Path) -> Iterator[None]:
    assert server.process is not None
    command = ["strace", "-f", "-y", "-s", "64", "-e", CALLS, "-o", str(trace), "-p", str(server.process.pid)]
    with subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as watcher:
        time.sleep(SETTLE)
        yield
        watcher.terminate()


def run(folder: Path, notes: int, photos: int) -> Figures:
    server, trace, ledger = Benchtide(folder / "instance"), folder / "trace", Ledger()
    with server:
        browser = begin_shop(server.base)
        maker = Maker(browser, begin_build(browser, "Table"), ledger)
        with watched(server, trace):
            for number in range(notes):
                maker.note(f"line {number}")
            for number in range(photos):
                maker.photo(picture(str(number)))
    seen = requests(trace.read_text(errors="replace"))
    wrong = [f"{one.path}: {one.seen}" for one in seen if not is_kept(one)]
    more = f"{notes} lines, {photos} photos; synced before the answer, by strace"
    return Figures(
        "acknowledged only when on disk, SQLite", 1, len(ledger), len(seen) - len(wrong), tuple(wrong), 0.0, more
    )
