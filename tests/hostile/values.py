"""The catalogue of odd values, and of bodies that are no form. Each has a name, so that a finding can be repeated."""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from urllib.parse import quote_plus

from tests.hostile.figures import FIGURES
from tests.hostile.texts import DEEP
from tests.hostile.texts import TEXTS as TEXT_KINDS


@dataclass(frozen=True)
class Value:
    """A text to send, or with `raw` the very bytes that stand in the body instead of it."""

    kind: str
    name: str
    text: str
    raw: bytes | None = None

    @property
    def encoded(self) -> bytes:
        """The value as it stands in a form's body; half characters (lone surrogates) go as the bytes they would be."""
        if self.raw is not None:
            return self.raw
        return quote_plus(self.text.encode("utf-8", "surrogatepass")).encode("ascii")

    def __str__(self) -> str:
        return f"{self.kind}: {self.name}"


TEXTS = TEXT_KINDS | FIGURES
PARTS = "multipart/form-data; boundary=x"

RAW: dict[str, bytes] = {
    "lone percent": b"100%",
    "not hex": b"%zz%G1",
    "half": b"%e",
    "not UTF-8": b"%ff%fe%80",
    "overlong": b"%c0%ae%c0%ae",
    "surrogate": b"%ed%a0%80",
    "percent u": b"%u0041",
    "bytes": b"\xe9\xff",
    "NUL": b"%00",
    "plus": b"+++",
    "semicolon": b"a;b=c",
}

ODD = tuple(Value(kind, name, text) for kind, found in TEXTS.items() for name, text in found.items()) + tuple(
    Value("percent", name, raw.decode("latin-1"), raw) for name, raw in RAW.items()
)
BY_KIND = {kind: tuple(value for value in ODD if value.kind == kind) for kind in (*TEXTS, "percent")}

# what a kind of control is most likely to stumble over; it gets values of every other kind as well
NEAR = {
    "date": ("day", "edge", "number"),
    "datetime-local": ("moment", "edge", "number"),
    "select": ("choice", "number"),
    "radio": ("choice",),
    "hidden": ("number", "nested", "choice", "path"),
    "checkbox": ("choice",),
}


def near(control: str) -> tuple[Value, ...]:
    """Return the values that a control of this kind may stumble over."""
    kinds = NEAR.get(control, ("number", "direction", "invisible", "characters", "script", "control", "moment", "edge"))
    return tuple(value for kind in kinds for value in BY_KIND[kind])


def bodies(length: int = 2000) -> Iterator[tuple[str, bytes, str]]:
    """Yield (name, body, content type) of whole bodies that are no filled-in form."""
    yield "JSON", json.dumps({"name": "Ash", "list": [1, {"a": None}]}).encode(), "application/json"
    yield "JSON, deep", b"[" * DEEP, "application/json"
    yield "JSON, NaN", b'{"name": NaN}', "application/json; charset=utf-16"
    yield "plain text", b"name=Ash", "text/plain"
    yield "no type", b"name=Ash", ""
    yield "a type of nonsense", b"name=Ash", "\xff;;;===" + "a" * 300
    yield "form in UTF-16", "name=Ash".encode("utf-16"), "application/x-www-form-urlencoded; charset=utf-16"
    yield "form in no charset", b"name=%E9&x=\xe9", "application/x-www-form-urlencoded; charset=nonsense"
    yield "only ends", b"&" * length + b"=" * length, "application/x-www-form-urlencoded"
    yield "thousands of fields", b"&".join(b"f%d=1" % n for n in range(length)), "application/x-www-form-urlencoded"
    yield "one field thousands of times", b"name=1&" * length, "application/x-www-form-urlencoded"
    yield "a name of 100,000", b"n" * 100_000 + b"=1", "application/x-www-form-urlencoded"
    yield from _parts(length)


def _parts(length: int) -> Iterator[tuple[str, bytes, str]]:
    yield "multipart without boundary", b"--x\r\n", "multipart/form-data"
    yield "multipart, boundary of nonsense", b"--x\r\n", 'multipart/form-data; boundary="\xe9"'
    yield "multipart, boundary too long", b"--x\r\n", f"multipart/form-data; boundary={'x' * 5000}"
    yield "multipart, nothing in it", b"", PARTS
    yield "multipart, cut off", _part('name="name"') + b"Ash", PARTS
    yield "multipart, no end", _part('name="name"') + b"Ash\r\n--x", PARTS
    yield "multipart, no name", _part("") + b"Ash\r\n--x--\r\n", PARTS
    yield (
        "multipart, head of nonsense",
        b"--x\r\n:::\r\n\0: \xff\r\n\r\nA\r\n--x--\r\n",
        "multipart/form-data; boundary=x",
    )
    yield "multipart, parts in parts", _part('name="a"') * length + b"--x--", PARTS
    yield (
        "multipart, another charset",
        _charset("utf-7") + _charset("nonsense") + b"--x--",
        "multipart/form-data; boundary=x",
    )
    yield "gzip", b"\x1f\x8b\x08\x00" + b"\0" * 20, "application/x-www-form-urlencoded"


def _part(disposition: str) -> bytes:
    return f"--x\r\nContent-Disposition: form-data; {disposition}\r\n\r\n".encode()


def _charset(name: str) -> bytes:
    head = f'--x\r\nContent-Disposition: form-data; name="name"\r\nContent-Type: text/plain; charset={name}\r\n\r\n'
    return head.encode() + b"+AHc-\xff\r\n"
