"""A browser for the app in this process: no server, no sockets, and what breaks is seen."""

import traceback
from http.cookies import CookieError, SimpleCookie
from io import BytesIO
from typing import Any
from urllib.parse import unquote_to_bytes

from flask import Flask
from werkzeug.test import EnvironBuilder, run_wsgi_app

from tests.hostile.attempts import Attempt
from tests.hostile.run import Answer


class Cookies(dict[str, str]):
    """What a browser keeps."""

    def take(self, lines: list[str]) -> None:
        for line in lines:
            try:
                found = SimpleCookie(line)
            except CookieError:
                continue
            for name, morsel in found.items():
                if morsel["max-age"] == "0" or not morsel.value:
                    self.pop(name, None)
                else:
                    self[name] = morsel.coded_value

    @property
    def line(self) -> str:
        return "; ".join(f"{name}={value}" for name, value in self.items())


class Inside:
    """Asks the app itself."""

    def __init__(self, app: Flask, headers: tuple[tuple[str, str], ...] = ()) -> None:
        self.app, self.headers, self.cookies = app, headers, Cookies()

    def send(self, attempt: Attempt) -> Answer:
        headers = [*self.headers, *attempt.headers]
        brings_its_own = any(name == "Cookie" for name, _ in headers)
        if not brings_its_own and self.cookies:
            headers.append(("Cookie", self.cookies.line))
        environ = self._environ(attempt, headers)
        try:
            body, status, found = run_wsgi_app(self.app, environ, buffered=True)
        except Exception:
            return Answer(500, broke=" | ".join(traceback.format_exc().strip().splitlines()[-5:]))
        content = b"".join(body)
        if not brings_its_own:
            self.cookies.take(found.getlist("Set-Cookie"))
        return Answer(int(status.split()[0]), tuple(found.items()), content.decode("utf-8", "replace"))

    def _environ(self, attempt: Attempt, headers: list[tuple[str, str]]) -> dict[str, Any]:
        path, _, query = attempt.address.partition("?")
        builder = EnvironBuilder(
            "/", method=attempt.method, input_stream=BytesIO(attempt.body), content_length=len(attempt.body),
            environ_base={"REMOTE_ADDR": "127.0.0.1"},
        )  # fmt: skip
        environ = builder.get_environ()
        for name, value in headers:
            environ[f"HTTP_{name.upper().replace('-', '_')}"] = value
        environ.update(
            REQUEST_METHOD=attempt.method, PATH_INFO=unquote_to_bytes(path).decode("latin-1"), QUERY_STRING=query,
            CONTENT_TYPE=attempt.kind, SERVER_PROTOCOL="HTTP/1.1", RAW_URI=attempt.address, REQUEST_URI=attempt.address,
        )  # fmt: skip
        return environ
