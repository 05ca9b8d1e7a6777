"""Style, scripts and type. Their addresses bear a mark of them all, so that browsers may keep them for ever.

What one refers to by itself, a font in a style sheet or a script in a script, is found under the same mark. Another
mark than that of this version is answered too, for a page that was open meanwhile, but not to be kept: another process
may be of another version.
"""

import gzip
import hashlib
from dataclasses import dataclass
from functools import cache

from flask import Flask, Response, abort, request, url_for

from webapp.settings import asset_dir

FOR_EVER = "public, max-age=31536000, immutable"
KINDS = {
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".svg": "image/svg+xml",
    ".txt": "text/plain; charset=utf-8",
    ".woff2": "font/woff2",
}
PACKED = frozenset({".css", ".js", ".svg", ".txt"})


@dataclass(frozen=True)
class File:
    kind: str
    content: bytes
    packed: bytes  # empty where it would not be smaller
    mark: str


@cache
def files() -> dict[str, File]:
    """Return every static file by its name; a few hundred kilobytes, read once by each process."""
    root = asset_dir("static")
    paths = (path for path in sorted(root.rglob("*")) if path.suffix in KINDS and path.is_file())
    return {path.relative_to(root).as_posix(): _file(path.suffix, path.read_bytes()) for path in paths}


def _file(suffix: str, content: bytes) -> File:
    packed = gzip.compress(content, 9, mtime=0) if suffix in PACKED else b""
    return File(KINDS[suffix], content, packed, hashlib.sha256(content).hexdigest()[:16])


@cache
def mark_of_all() -> str:
    """Return what changes when any of the files does."""
    both = "".join(f"{name} {file.mark}\n" for name, file in files().items())
    return hashlib.sha256(both.encode()).hexdigest()[:12]


def address(filename: str) -> str:
    """Return the address of a file of this version; raise KeyError where there is none."""
    assert files()[filename]
    return url_for("static", mark=mark_of_all(), filename=filename)


def init_app(app: Flask) -> None:
    app.add_url_rule("/static/<mark>/<path:filename>", "static", _serve)
    app.jinja_env.globals["asset"] = address


def _serve(mark: str, filename: str) -> Response:
    found = files().get(filename) or abort(404)
    is_packed = bool(found.packed) and request.accept_encodings["gzip"] > 0
    answer = Response(found.packed if is_packed else found.content, content_type=found.kind)
    if found.packed:
        answer.headers["Vary"] = "Accept-Encoding"
    if is_packed:
        answer.headers["Content-Encoding"] = "gzip"
    answer.set_etag(f"{found.mark}-gzip" if is_packed else found.mark)
    answer.headers["Cache-Control"] = FOR_EVER if mark == mark_of_all() else "no-cache"
    answer.make_conditional(request)
    return answer
