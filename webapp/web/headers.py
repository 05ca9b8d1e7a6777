"""Headers of every answer: nothing inline, nothing from elsewhere, private pages kept out of caches."""

from flask import Flask, Response, request

FOR_EVER = "public, max-age=31536000, immutable"
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


def init_app(app: Flask) -> None:
    @app.after_request
    def set_headers(response: Response) -> Response:
        response.headers.setdefault("Content-Security-Policy", POLICY)
        response.headers.setdefault("X-Content-Type-Options", "nosniff")
        response.headers.setdefault("Referrer-Policy", "same-origin")
        if request.endpoint == "static":
            is_kept = "v" in request.args and response.status_code < 400
            response.headers["Cache-Control"] = FOR_EVER if is_kept else "no-cache"
        else:
            response.headers.setdefault("Cache-Control", "no-store")
        return response
