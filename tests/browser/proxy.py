"""A small proxy that speaks https to the browser and http to the app, as one in front of a shop's box does."""

import http.client
import ssl
import subprocess
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

HOP = {"connection", "keep-alive", "transfer-encoding"}  # of one connection, not passed on (RFC 9110, 7.6.1)


def certificate(folder: Path, name: str) -> Path:
    """Return a file with a key and a certificate for this name, made a moment ago and trusted by nobody."""
    key, made = folder / "key.pem", folder / "certificate.pem"
    command = ["openssl", "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes"]
    command += ["-days", "2", "-subj", f"/CN={name}", "-addext", f"subjectAltName=DNS:{name}"]
    subprocess.run([*command, "-keyout", key, "-out", made], check=True, capture_output=True)
    both = folder / "both.pem"
    both.write_text(key.read_text() + made.read_text())
    return both


class Forwarding(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    upstream = ("127.0.0.1", 0)

    def forward(self) -> None:
        length = int(self.headers.get("Content-Length") or 0)
        sent = {name: value for name, value in self.headers.items() if name.lower() not in HOP}
        sent |= {
            "Host": f"{self.upstream[0]}:{self.upstream[1]}",
            "X-Forwarded-For": self.client_address[0],
            "X-Forwarded-Proto": "https",
            "X-Forwarded-Host": self.headers["Host"],
        }
        connection = http.client.HTTPConnection(*self.upstream, timeout=20)
        connection.request(self.command, self.path, self.rfile.read(length), sent)
        answer = connection.getresponse()
        body = answer.read()
        connection.close()
        self.send_response_only(answer.status, answer.reason)
        for name, value in answer.getheaders():
            if name.lower() not in HOP | {"content-length"}:
                self.send_header(name, value)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    do_GET = do_POST = forward  # noqa: N815

    def log_message(self, *_: Any) -> None:
        """Say nothing."""


class Server(ThreadingHTTPServer):
    daemon_threads = True

    def handle_error(self, *_: Any) -> None:
        """A browser that leaves in the middle of a page is no error."""


@contextmanager
def tls_proxy(folder: Path, name: str, port: int) -> Iterator[int]:
    """Serve https under this name in front of the app on a port; yields the port of the proxy."""
    handler = type("Handler", (Forwarding,), {"upstream": ("127.0.0.1", port)})
    server = Server(("127.0.0.1", 0), handler)
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(certificate(folder, name))
    server.socket = context.wrap_socket(server.socket, server_side=True)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield int(server.server_address[1])
    server.shutdown()
    thread.join()
    server.server_close()
