"""Where a form may lead back to: only to a page of this server, never to an address somebody slipped into a link."""

from urllib.parse import urlsplit


def local_path(text: str | None, otherwise: str = "/") -> str:
    """Return the path when it is one of this server's, else `otherwise`.

    Browsers read a backslash as a slash and drop tabs and line ends, so that "/\\evil" and "/<tab>/evil" lead away.
    """
    if not text or not text.startswith("/") or text.startswith("//") or "\\" in text:
        return otherwise
    if not text.isascii() or any(ord(sign) <= 32 or ord(sign) == 127 for sign in text):
        return otherwise
    found = urlsplit(text)
    return otherwise if found.scheme or found.netloc else text
