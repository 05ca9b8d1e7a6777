"""A browser as small as can be: cookies, form tokens, and the difference between an answer and none."""

import http.client
import re
import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from http.cookies import SimpleCookie
from urllib.parse import urlencode, urlsplit

TOKEN = re.compile(r'name="csrf_token" value="([^"]+)"')
PATIENCE = 60.0  # seconds
Fields = dict[str, str]
Files = Iterable[tuple[str, str, bytes]]  # field, name, content


class LostError(Exception):
    """No answer came: whether the server did it is not known."""


@dataclass(frozen=True)
class Answer:
    status: int
    text: str
    location: str

    def value(self, name: str) -> str:
        """Return what a field of a form on the page holds."""
        found = re.search(rf'name="{name}"[^>]*value="([^"]*)"', self.text)
        assert found is not None, f"there is no field {name}"
        return found[1]


class Browser:
    """One visitor of a server. Not for several threads at once."""

    def __init__(self, base: str) -> None:
        self.host, self.port = urlsplit(base).hostname or "", urlsplit(base).port or 80
        self.cookies: Fields = {}
        self.token = ""

    def get(self, path: str) -> Answer:
        answer = self._send("GET", path, b"", {})
        found = TOKEN.search(answer.text)
        self.token = found[1] if found else self.token
        return answer

    def post(self, path: str, fields: Fields) -> Answer:
        body = urlencode({**fields, "csrf_token": self.token}).encode()
        return self._send("POST", path, body, {"Content-Type": "application/x-www-form-urlencoded"})

    def send(self, path: str, fields: Fields, files: Files) -> Answer:
        """Send files, as a page's script does: the answer is JSON."""
        edge = uuid.uuid4().hex
        parts = [
            f'--{edge}\r\nContent-Disposition: form-data; name="{name}"\r\n\r\n{value}\r\n'.encode()
            for name, value in {**fields, "csrf_token": self.token}.items()
        ]
        for field, name, content in files:
            head = f'--{edge}\r\nContent-Disposition: form-data; name="{field}"; filename="{name}"\r\n\r\n'
            parts += [head.encode(), content, b"\r\n"]
        body = b"".join([*parts, f"--{edge}--\r\n".encode()])
        kind = f"multipart/form-data; boundary={edge}"
        return self._send("POST", path, body, {"Content-Type": kind, "Accept": "application/json"})

    def _send(self, method: str, path: str, body: bytes, headers: Fields) -> Answer:
        cookie = "; ".join(f"{name}={value}" for name, value in self.cookies.items())
        connection = http.client.HTTPConnection(self.host, self.port, timeout=PATIENCE)
        try:
            connection.request(method, path, body, {"Cookie": cookie, **headers})
            answer = connection.getresponse()
            text = answer.read().decode()
        except (OSError, http.client.HTTPException) as error:
            raise LostError from error
        finally:
            connection.close()
        for line in answer.headers.get_all("Set-Cookie") or ():
            self.cookies |= {name: morsel.value for name, morsel in SimpleCookie(line).items()}
        return Answer(answer.status, text, answer.getheader("Location") or "")
