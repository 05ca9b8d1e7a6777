"""From forms and routes to requests, always the same ones for a seed."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import partial
from random import Random
from urllib.parse import quote_plus

from tests.hostile.filled import Filled, filled
from tests.hostile.served import Control, Form
from tests.hostile.uploads import UPLOADS, Upload, part
from tests.hostile.values import BY_KIND, ODD, Value, bodies, near

URLENCODED = "application/x-www-form-urlencoded"
BOUNDARY = "--------------------------hostile"
IN_PARTS = f"multipart/form-data; boundary={BOUNDARY}"
LONGEST_QUERY = 60_000
PLACE = "\ue0fe"  # stands for a value whose bytes are put in afterwards; no value of the catalogue has it


@dataclass(frozen=True)
class Attempt:
    """One request, and how to tell of it."""

    name: str
    method: str
    address: str
    body: bytes = b""
    kind: str = ""
    headers: tuple[tuple[str, str], ...] = ()
    form: Form | None = None
    typed: Filled = field(default_factory=list)  # what of it should still be there where it is refused

    def __str__(self) -> str:
        return f"{self.method} {self.address[:120]} ({self.name})"


def encoded(pairs: Iterable[tuple[str, str]], odd: Value | None = None) -> bytes:
    """Return fields as the body of a form; where a value is the place of an odd one, that one's bytes."""
    found = []
    for name, value in pairs:
        raw = odd.encoded if odd is not None and value == PLACE else Value("", "", value).encoded
        found.append(quote_plus(name).encode() + b"=" + raw)
    return b"&".join(found)


def multipart(pairs: Iterable[tuple[str, str]], files: Iterable[tuple[str, Upload]] = ()) -> bytes:
    parts = [
        f'Content-Disposition: form-data; name="{name}"\r\n\r\n'.encode() + value.encode("utf-8", "surrogatepass")
        for name, value in pairs
    ]
    parts += [part(name, upload) for name, upload in files]
    return b"".join(f"--{BOUNDARY}\r\n".encode() + one + b"\r\n" for one in parts) + f"--{BOUNDARY}--\r\n".encode()


Way = Callable[[Form], Attempt]


def _sent(
    form: Form, name: str, pairs: Filled, odd: Value | None = None, files: Sequence[tuple[str, Upload]] = ()
) -> Attempt:
    typed = [(key, odd.text if odd and value == PLACE else value) for key, value in pairs]
    kept = [] if odd is not None and odd.raw is not None else typed
    if form.method == "get":
        query = encoded(pairs, odd).decode("latin-1")
        return Attempt(name, "GET", f"{form.path}?{query[:LONGEST_QUERY]}", form=form)
    if form.is_multipart and (odd is None or odd.raw is None):
        return Attempt(name, "POST", form.action, multipart(typed, files), IN_PARTS, form=form, typed=kept)
    return Attempt(name, "POST", form.action, encoded(pairs, odd), URLENCODED, form=form, typed=kept)


def well_meant(form: Form, random: Random) -> Attempt:
    """The form as somebody fills it in who means well."""
    photo = next(one for one in UPLOADS if one.name == "one pixel")
    files = [(one.name, photo) for one in form.controls if one.kind == "file"]
    return _sent(form, "well meant", filled(form, random), files=files)


def ways_of(form: Form, random: Random, each: int, more: int) -> list[Way]:
    """Return ways to send a form: well but for one field, `each` for each of them, and `more` in other wrong ways.

    A way takes the form as it is served by then, with the keys and versions of that moment.
    """
    controls = {one.name: one for one in form.controls if one.name and one.kind not in ("submit", "button")}
    found: list[Way] = []
    for control in controls.values():
        if control.kind == "file":
            found += _files(control, random, max(each, 3))
        else:
            found += [partial(_with, control, odd, random) for odd in _chosen(control, random, each)]
    if form.method == "get":
        return found
    others = [partial(_of_pairs, name, change, random) for name, change in CHANGES]
    others += [partial(_everywhere, random.choice(BY_KIND[kind]), random) for kind in EVERYWHERE]
    others += [partial(_body, name, body, kind) for name, body, kind in bodies()] + [partial(_file_for_text, random)]
    return found + random.sample(others, min(more, len(others)))


def _chosen(control: Control, random: Random, count: int) -> list[Value]:
    """Half of what this kind of field may stumble over, half of everything."""
    nearest = near(control.kind)
    few = random.sample(nearest, min(len(nearest), (count + 1) // 2))
    return few + random.sample(ODD, count - len(few))


def _with(control: Control, odd: Value, random: Random, form: Form) -> Attempt:
    pairs = [(name, PLACE if name == control.name else value) for name, value in filled(form, random)]
    if not any(name == control.name for name, _ in pairs):
        pairs.append((control.name, PLACE))
    return _sent(form, f"{control.name} = {odd}", pairs, odd)


def _files(control: Control, random: Random, count: int) -> Iterator[Way]:
    for upload in random.sample(UPLOADS, min(len(UPLOADS), count * 3)):
        yield partial(_upload, control.name, (upload,), random)
    yield partial(_upload, control.name, tuple(random.sample(UPLOADS, 5)), random)
    yield partial(_of_pairs, "a text for a file", lambda pairs: [*pairs, (control.name, "../../x.jpg")], random)


def _upload(name: str, uploads: Sequence[Upload], random: Random, form: Form) -> Attempt:
    says = f"{name} = {uploads[0]}" if len(uploads) == 1 else f"{len(uploads)} files"
    return _sent(form, says, filled(form, random), files=[(name, upload) for upload in uploads])


def _of_pairs(name: str, change: Callable[[Filled], Filled], random: Random, form: Form) -> Attempt:
    return _sent(form, name, change(filled(form, random)))


def _everywhere(odd: Value, random: Random, form: Form) -> Attempt:
    """The odd text in every field that is typed in; choices, keys and the token as they are."""
    typed = {one.name for one in form.controls if one.is_typed}
    kept = [pair for pair in filled(form, random) if pair[0] not in typed]
    return _sent(form, f"{odd} everywhere", kept + [(name, odd.text) for name in sorted(typed)])


def _body(name: str, body: bytes, kind: str, form: Form) -> Attempt:
    return Attempt(f"body: {name}", "POST", form.action, body, kind, form=form)


def _file_for_text(random: Random, form: Form) -> Attempt:
    pairs = filled(form, random)
    name = random.choice(pairs)[0] if pairs else "name"
    body = multipart([pair for pair in pairs if pair[0] != name], [(name, random.choice(UPLOADS))])
    return Attempt(f"a file for {name}", "POST", form.action, body, IN_PARTS, form=form)


def _version(text: str) -> Callable[[Filled], Filled]:
    return lambda pairs: [*((name, value) for name, value in pairs if name != "version"), ("version", text)]


ODD_NAMES = [("\0", "\0"), ("", ""), ("__proto__", "x"), ("ids", "1,2"), ("y" * 5000, "")]
CHANGES: tuple[tuple[str, Callable[[Filled], Filled]], ...] = (
    ("nothing", lambda _: []),
    ("all twice", lambda pairs: [*pairs, *pairs]),
    ("all twice, the other first", lambda pairs: [(name, f"{value}2") for name, value in pairs] + pairs),
    ("all empty", lambda pairs: [(name, "") for name, _ in pairs]),
    ("names of lists", lambda pairs: [(f"{name}[]", value) for name, value in pairs]),
    ("the first half", lambda pairs: pairs[: len(pairs) // 2]),
    ("the second half", lambda pairs: pairs[len(pairs) // 2 :]),
    ("backwards", lambda pairs: pairs[::-1]),
    ("a thousand more", lambda pairs: [*pairs, *((f"x{number}", "1") for number in range(1000))]),
    ("names of nonsense", lambda pairs: [*pairs, *ODD_NAMES]),
    ("rows of nonsense", lambda pairs: [*pairs, *((f"stage_{number}_name", "x") for number in (-1, 7, 99, 10**9))]),
    *((f"version {text!r}", _version(text)) for text in ("-1", "text", "9" * 30, "")),
)
EVERYWHERE = (
    "direction",
    "invisible",
    "script",
    "formula",
    "number",
    "control",
    "characters",
    "percent",
    "day",
    "edge",
    "edge",
)
