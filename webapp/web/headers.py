"""Headers of every answer: nothing inline, nothing from elsewhere, private pages kept out of caches."""

from flask import Flask, Response, request

POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "font-src 'self'",
        "img-src 'self' blob: data:",
        "media-src 'self'",
        "connect-src 'self'",
        "manifest-src 'self'",
        "worker-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)


ALWAYS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    # on its own computer the owner needs no cookie: pictures must not appear in the pages of other sites
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",  # photos come through the file field
}
# only where browsers heed it: over http on the shop's network they complain and go on
WHERE_SECURE = {"Cross-Origin-Opener-Policy": "same-origin"}
LOOPBACK = ("127.0.0.1", "localhost")


def init_app(app: Flask) -> None:
    @app.after_request
    def set_headers(response: Response) -> Response:
        for name, value in ALWAYS.items():
            response.headers.setdefault(name, value)
        if _is_secure():
            for name, value in WHERE_SECURE.items():
                response.headers.setdefault(name, value)
        response.headers.setdefault("Cache-Control", "no-store")
        return response


def _is_secure() -> bool:
    """Whether the browser holds this for a secure page: https, or this very computer."""
    host = request.environ.get("HTTP_HOST", "").rsplit(":", 1)[0]
    return request.is_secure or host in LOOPBACK
