"""What a page offers: its links, and its forms with every value that a person could choose."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser
from urllib.parse import urljoin

TEXT = ("text", "search", "email", "number", "date", "datetime-local", "time", "password", "file", "hidden", "textarea")
Pairs = list[tuple[str, str]]


@dataclass
class Field:
    name: str
    kind: str
    chosen: list[str] = field(default_factory=list)
    offered: list[str] = field(default_factory=list)
    needed: bool = False

    @property
    def values(self) -> list[str]:
        """Every value it may be sent with, each once."""
        return list(dict.fromkeys([*self.chosen, *self.offered]))


@dataclass
class Form:
    action: str
    method: str
    fields: dict[str, Field] = field(default_factory=dict)
    taken_with: dict[str, str] | None = None  # what the button adds with which it goes through, once that is known

    def field(self, name: str, kind: str) -> Field:
        return self.fields.setdefault(name, Field(name, kind))

    @property
    def buttons(self) -> list[dict[str, str]]:
        """What each button adds to what is sent; nothing, for one without a name."""
        named = [{one.name: value} for one in self.fields.values() if one.kind == "submit" for value in one.values]
        return [{}, *named]

    def sent(self, filled: dict[str, str], **other: str) -> Pairs:
        """Return what a browser would send, empty text filled in, with other values for some fields."""
        pairs: Pairs = []
        for one in self.fields.values():
            if one.name in other:
                continue
            chosen = one.chosen or (one.offered[:1] if one.kind == "select" else [])
            if one.kind in TEXT and one.kind != "hidden" and not any(chosen):
                chosen = [filled[one.name]] if one.name in filled else []
            pairs += [(one.name, value) for value in chosen]
        return [*pairs, *other.items()]


class Page(HTMLParser):
    """A page read; addresses are those of this server, without their fragment."""

    def __init__(self, address: str, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.address = address
        self.links: list[str] = []
        self.forms: list[Form] = []
        self.form: Form | None = None
        self.select: Field | None = None
        self.area: Field | None = None
        self.feed(text)

    def place(self, link: str) -> str:
        return urljoin(self.address, link).partition("#")[0]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = {name: value or "" for name, value in attrs}
        for name in ("href", "src", "formaction"):
            if found.get(name, "").startswith(("/", "?")):
                self.links.append(self.place(found[name]))
        if tag == "form":
            action = self.place(found.get("action") or self.address)
            self.form = Form(action, found.get("method", "get").lower())
            self.forms.append(self.form)
        elif self.form is not None:
            self._inside(tag, found)

    def _inside(self, tag: str, found: dict[str, str]) -> None:
        assert self.form is not None
        name, value = found.get("name", ""), found.get("value", "")
        if tag == "option" and self.select is not None:
            self.select.offered.append(value)
            if "selected" in found:
                self.select.chosen.append(value)
        elif tag == "select" and name:
            self.select = self.form.field(name, "select")
        elif tag == "textarea" and name:
            self.area = self.form.field(name, "textarea")
        elif tag in ("input", "button") and name:
            self._input(self.form.field(name, _kind(tag, found)), value, found)

    def _input(self, one: Field, value: str, found: dict[str, str]) -> None:
        one.needed = one.needed or "required" in found
        if one.kind in ("checkbox", "radio", "submit"):
            one.offered.append(value or "on")
            if "checked" in found:
                one.chosen.append(value or "on")
        elif one.kind != "file":
            one.chosen.append(value)

    def handle_data(self, data: str) -> None:
        if self.area is not None:
            self.area.chosen.append(data.removeprefix("\r").removeprefix("\n"))

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self.form = None
        elif tag == "select":
            self.select = None
        elif tag == "textarea":
            self.area = None


def _kind(tag: str, found: dict[str, str]) -> str:
    return "submit" if tag == "button" else found.get("type", "text")


def with_query(forms: list[Form]) -> Iterator[str]:
    """Yield the addresses that forms which only ask lead to."""
    for form in forms:
        if form.method == "get":
            query = "&".join(f"{name}={value}" for name, value in form.sent({}))
            yield f"{form.action.partition('?')[0]}?{query}"
