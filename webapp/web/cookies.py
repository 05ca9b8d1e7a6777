"""The cookie that carries a sign-in: Secure only over https, and never larger than browsers take."""

from flask import Flask, Response, request
from flask.sessions import SecureCookieSessionInterface, SessionMixin

LARGEST = 3800  # bytes: at 4096 with its name and attributes a browser drops a cookie without a word
FLASHES = "_flashes"


class Cookies(SecureCookieSessionInterface):
    """The Secure mark only over https: browsers drop such a cookie on the shop's plain network, and sign-in loops."""

    def get_cookie_secure(self, app: Flask) -> bool:
        return request.is_secure

    def save_session(self, app: Flask, session: SessionMixin, response: Response) -> None:
        """What a browser keeps for ever neither carries a cookie nor depends on one."""
        if response.cache_control.immutable or request.endpoint == "static":
            return
        if FLASHES in session:
            self._make_room(app, session)
        super().save_session(app, session, response)

    def _make_room(self, app: Flask, session: SessionMixin) -> None:
        """Drop the oldest messages that no page has shown yet: the sign-in itself must fit."""
        signer = self.get_signing_serializer(app)
        assert signer is not None
        flashes = list(session[FLASHES])
        while flashes and len(signer.dumps(dict(session))) > LARGEST:
            flashes.pop(0)
            session[FLASHES] = flashes
