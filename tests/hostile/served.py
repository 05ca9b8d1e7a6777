"""Pages as they are served: the forms on them with their real fields, the links, and what must never be in them."""

import re
from dataclasses import dataclass, field, replace
from functools import lru_cache
from html.parser import HTMLParser
from urllib.parse import urljoin, urlsplit

TEXTUAL = ("text", "search", "number", "date", "datetime-local", "textarea", "tel", "email", "time")
MULTIPART = "multipart/form-data"
HERE = "http://localhost"
NUMBER = re.compile(r"/\d+")
ENTRY = re.compile(r"/entries/[^/]+")


@dataclass(frozen=True)
class Control:
    """One field of a form, what it holds as served, and for a choice what it may hold."""

    name: str
    kind: str
    value: str = ""
    choices: tuple[str, ...] = ()
    is_required: bool = False
    is_on: bool = False  # a tick or one of several that is ticked

    @property
    def is_typed(self) -> bool:
        return self.kind in TEXTUAL


@dataclass(frozen=True)
class Form:
    """A form of a page."""

    page: str
    action: str
    method: str = "get"
    encoding: str = ""
    controls: tuple[Control, ...] = ()

    @property
    def path(self) -> str:
        return urlsplit(self.action).path

    @property
    def shape(self) -> tuple[str, str, tuple[str, ...]]:
        """What makes it the same form on another row."""
        names = sorted({one.name for one in self.controls if one.name})
        return self.method, shape_of(self.action), tuple(names)

    @property
    def is_multipart(self) -> bool:
        return self.encoding == MULTIPART

    def named(self, name: str) -> Control | None:
        return next((one for one in self.controls if one.name == name), None)

    def __str__(self) -> str:
        return f"{self.method.upper()} {shape_of(self.path)}"


def shape_of(address: str) -> str:
    """Return an address with its ids and the values of its query taken out."""
    parts = urlsplit(address)
    path = NUMBER.sub("/1", ENTRY.sub("/entries/1", parts.path))
    names = sorted({one.partition("=")[0] for one in parts.query.split("&") if one})
    return f"{path}?{'&'.join(names)}" if names else path


@dataclass
class Page:
    """What was read of one page."""

    address: str
    forms: list[Form] = field(default_factory=list)
    links: list[str] = field(default_factory=list)
    inline: list[str] = field(default_factory=list)  # script or a handler written into the page
    says: list[str] = field(default_factory=list)  # messages: alerts, and what stands beside fields
    invalid: int = 0
    text: str = ""


class Reader(HTMLParser):
    """Reads a page."""

    def __init__(self, address: str) -> None:
        super().__init__(convert_charrefs=True)
        self.page = Page(address)
        self._form: Form | None = None
        self._controls: list[Control] = []
        self._open: Control | None = None  # a select or a textarea whose content is being read
        self._words: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = {name: value or "" for name, value in attrs}
        if (tag == "script" and "src" not in found) or any(name.startswith("on") for name in found):
            self.page.inline.append(f"<{tag} {found}>")
        if "aria-invalid" in found:
            self.page.invalid += 1
        if tag == "a" and "href" in found:
            self._link(found["href"])
        elif tag == "form":
            self._form = Form(
                self.page.address, self._from_here(found.get("action", "")),
                found.get("method", "get").lower(), found.get("enctype", ""),
            )  # fmt: skip
            self._controls = []
        else:
            self._control(tag, found)

    def _link(self, href: str) -> None:
        parts = urlsplit(self._from_here(href))
        if parts.scheme not in ("", "http", "https", "mailto", "tel"):
            self.page.inline.append(f"a link to {href}")
        elif not parts.scheme and not parts.netloc:
            self.page.links.append(parts._replace(fragment="").geturl())

    def _from_here(self, href: str) -> str:
        """Return where a link of this page leads; on this server, without its name."""
        return urljoin(HERE + self.page.address, href).removeprefix(HERE) or "/"

    def _control(self, tag: str, found: dict[str, str]) -> None:
        name, is_required = found.get("name", ""), "required" in found
        if tag == "option" and self._open:
            value = found.get("value", "")
            chosen = value if "selected" in found or not self._open.choices else self._open.value
            self._open = replace(self._open, choices=(*self._open.choices, value), value=chosen)
        elif tag in ("select", "textarea") and name:
            self._open, self._words = Control(name, tag, is_required=is_required), []
        elif tag in ("input", "button") and name and self._form:
            kind = found.get("type", "text" if tag == "input" else "submit")
            value = found.get("value", "on" if kind in ("checkbox", "radio") else "")
            self._controls.append(Control(name, kind, value, (), is_required, "checked" in found))

    def handle_endtag(self, tag: str) -> None:
        if self._open and tag == self._open.kind:
            text = "".join(self._words)
            text = text[2:] if text.startswith("\r\n") else text[1:] if text.startswith("\n") else text
            self._controls.append(replace(self._open, value=text) if tag == "textarea" else self._open)
            self._open = None
        elif tag == "form" and self._form:
            self.page.forms.append(replace(self._form, controls=tuple(self._controls)))
            self._form = None

    def handle_data(self, data: str) -> None:
        if self._open and self._open.kind == "textarea":
            self._words.append(data)


MESSAGE = re.compile(r'class="wrong"|role="alert"|class="said bad"|<h1>Not ')


@lru_cache(maxsize=2)
def read(address: str, text: str) -> Page:
    """Return what stands on a page; whoever asked for it and whoever looks for faults in it read the same."""
    reader = Reader(address)
    reader.feed(text)
    reader.close()
    reader.page.says = MESSAGE.findall(text)
    reader.page.text = text
    return reader.page
