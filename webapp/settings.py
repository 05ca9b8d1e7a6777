"""Every setting: its name in the environment, its default and what it does."""

import os
import re
import socket
from collections.abc import Mapping
from dataclasses import dataclass, field
from importlib.util import find_spec
from pathlib import Path

PACKAGE = Path(__file__).resolve().parent
LOOPBACK = frozenset({"127.0.0.1", "localhost", "::1"})
EVERYWHERE = frozenset({"0.0.0.0", "::"})  # noqa: S104
BUCKET = re.compile(r"s3://([a-z0-9][a-z0-9.-]{1,61}[a-z0-9])(?:/([\w/.-]*))?", re.ASCII)
# what every manual of such a store calls them; the photo store is asked with these and with nothing else
AWS = ("AWS_ACCESS_KEY_ID", "AWS_SECRET_ACCESS_KEY", "AWS_SESSION_TOKEN", "AWS_REGION", "AWS_ENDPOINT_URL")
SHORTEST_SECRET = 32


class SettingError(ValueError):
    """A setting that cannot be used; the text says which and why."""


def asset_dir(name: str) -> Path:
    """Return templates, static or migrations: inside an installed wheel, else beside the package."""
    inside = PACKAGE / "_assets" / name
    return inside if inside.is_dir() else PACKAGE.parent / name


@dataclass(frozen=True)
class Settings:
    instance: Path = field(default_factory=lambda: Path("instance").resolve())
    host: str = "127.0.0.1"
    port: int = 8000
    database_url: str = ""
    trusted_hosts: tuple[str, ...] = ()
    proxies: int = 0
    max_upload_mb: int = 300
    threads: int = 4
    schedules: int = 100
    photo_store: str = ""
    aws: tuple[tuple[str, str], ...] = field(default=(), repr=False)
    secret: str = field(default="", repr=False)

    @property
    def database(self) -> str:
        return self.database_url or f"sqlite:///{self.instance / 'benchtide.db'}"

    @property
    def photos(self) -> Path:
        return self.instance / "photos"

    @property
    def is_local(self) -> bool:
        """Whether only this computer can reach the server."""
        return self.host in LOOPBACK

    @property
    def hosts(self) -> list[str]:
        """The names the server answers to; anything else gets 400, against names that are made to point here."""
        if self.trusted_hosts:
            return list(self.trusted_hosts)
        if self.is_local:
            return ["127.0.0.1", "localhost"]
        own = _own_names() if self.host in EVERYWHERE else [self.host]
        return ["127.0.0.1", "localhost", *own]


def _own_names() -> list[str]:
    name = socket.gethostname()
    names = {name, f"{name.split('.')[0]}.local"}
    try:
        names |= {str(found[4][0]) for found in socket.getaddrinfo(name, None, socket.AF_INET)}
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:  # no packet is sent: it only picks the way out
            probe.connect(("192.0.2.1", 9))
            names.add(str(probe.getsockname()[0]))
    except OSError:
        pass
    return sorted(names)


# name in the environment, field, what it does: DEVELOPERS.md and README list the same, held by tests/test_docs.py
TABLE = (
    ("BENCHTIDE_INSTANCE", "instance", "folder of the database, the photos and the secret"),
    ("BENCHTIDE_HOST", "host", "address to listen on; anything but 127.0.0.1 asks for a sign-in"),
    ("BENCHTIDE_PORT", "port", "port to listen on"),
    ("DATABASE_URL", "database_url", "postgresql://... instead of the SQLite file in the instance folder"),
    ("BENCHTIDE_TRUSTED_HOSTS", "trusted_hosts", "names the server answers to, with commas; default: this computer's"),
    ("BENCHTIDE_PROXIES", "proxies", "number of proxies in front whose forwarding headers are believed"),
    ("BENCHTIDE_MAX_UPLOAD_MB", "max_upload_mb", "largest upload at once, megabytes"),
    ("BENCHTIDE_THREADS", "threads", "requests answered at the same time, by each process"),
    (
        "BENCHTIDE_SCHEDULES",
        "schedules",
        "orders of work tried beside the pages for a better plan after each change; 0: none",
    ),
    ("BENCHTIDE_PHOTOS", "photo_store", "s3://bucket/prefix instead of the folder of the instance"),
    ("BENCHTIDE_SECRET", "secret", "what sign-ins are sealed with, where several computers serve one database"),
)
WHOLE = frozenset({"port", "proxies", "max_upload_mb", "threads", "schedules"})


def read(environ: Mapping[str, str] = os.environ) -> Settings:
    """Return the settings of an environment."""
    found = {fieldname: environ[name] for name, fieldname, _ in TABLE if environ.get(name)}
    values: dict[str, object] = dict(found)
    for name, fieldname, _ in TABLE:
        if fieldname in found and fieldname in WHOLE:
            values[fieldname] = _whole(name, found[fieldname])
    if "instance" in found:
        values["instance"] = Path(found["instance"]).expanduser().resolve()
    if "trusted_hosts" in found:
        values["trusted_hosts"] = tuple(host.strip() for host in found["trusted_hosts"].split(",") if host.strip())
    if found.get("database_url", "").startswith("postgres"):
        values["database_url"] = "postgresql+psycopg://" + found["database_url"].split("://", 1)[1]
    if 0 < len(found.get("secret", "")) < SHORTEST_SECRET:
        raise SettingError(
            f"BENCHTIDE_SECRET must have at least {SHORTEST_SECRET} characters, by chance and not by hand"
        )
    if "photo_store" in found:
        values["aws"] = _bucket(found["photo_store"], environ)
    return Settings(**values)  # type: ignore[arg-type]


def _bucket(place: str, environ: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    """Return how to reach a bucket, or raise SettingError where that cannot be."""
    if not BUCKET.fullmatch(place):
        raise SettingError(f"BENCHTIDE_PHOTOS must be s3://bucket or s3://bucket/prefix, not {place!r}")
    if find_spec("obstore") is None:
        raise SettingError("BENCHTIDE_PHOTOS needs what talks to such a store: pip install obstore")
    known = {name: environ[name] for name in AWS if environ.get(name)}
    missing = [name for name in AWS[:2] if name not in known]
    if missing:
        raise SettingError(f"BENCHTIDE_PHOTOS needs the key of the photo store: set {' and '.join(missing)}")
    endpoint = known.get("AWS_ENDPOINT_URL", "https://")
    if not endpoint.startswith(("https://", "http://")):
        raise SettingError(f"AWS_ENDPOINT_URL must begin with https:// (or http://), not {endpoint!r}")
    return tuple(known.items())


def _whole(name: str, text: str) -> int:
    try:
        value = int(text)
    except ValueError:
        raise SettingError(f"{name} must be a whole number, not {text!r}") from None
    if value < (name == "BENCHTIDE_THREADS"):
        raise SettingError(f"{name} must not be negative" if value < 0 else f"{name} must be at least 1")
    return value
