"""What sign-ins and forms are sealed with. All processes that serve one database must have the same."""

import os
import secrets
from pathlib import Path

from webapp.db.disk import sync_file, sync_folder
from webapp.db.trouble import StartError
from webapp.settings import SHORTEST_SECRET, Settings

SIZE = 32  # bytes


def secret_of(settings: Settings) -> str:
    """Return the secret of the settings, else that of the instance, which is made on first use."""
    if settings.secret:
        return settings.secret
    path = settings.instance / "secret"
    if not path.exists():
        _make(path)
    found = path.read_text(encoding="ascii", errors="replace").strip()
    if len(found) < SHORTEST_SECRET:
        raise StartError(f"{path} is not whole. Delete it and start again; everybody then signs in once more.")
    return found


def _make(path: Path) -> None:
    """Write it beside its place, then give it its name: of two processes at one moment the first one's counts."""
    path.parent.mkdir(parents=True, exist_ok=True)
    part = path.with_name(f"secret.{secrets.token_hex(8)}.part")
    with open(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="ascii") as file:  # noqa: PTH123
        file.write(secrets.token_hex(SIZE))
        file.flush()
        sync_file(file.fileno())
    try:
        _name(part, path)
    finally:
        part.unlink(missing_ok=True)
    sync_folder(path.parent)


def _name(part: Path, path: Path) -> None:
    try:
        path.hardlink_to(part)
    except FileExistsError:
        pass
    except OSError:  # a disk without links
        part.rename(path)
