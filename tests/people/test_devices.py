"""User-Agent headers in words; from memory, as these browsers send them."""

import pytest

from webapp.people.devices import device_name

APPLE = "AppleWebKit/605.1.15 (KHTML, like Gecko) Version/17.4 Mobile/15E148 Safari/604.1"


@pytest.mark.parametrize(
    ("header", "name"),
    [
        ("Mozilla/5.0 (Android 14; Mobile; rv:130.0) Gecko/130.0 Firefox/130.0", "Firefox on Android"),
        (f"Mozilla/5.0 (iPhone; CPU iPhone OS 17_4 like Mac OS X) {APPLE}", "Safari on iPhone"),
        ("Mozilla/5.0 (Windows NT 10.0) AppleWebKit/537.36 Chrome/120.0 Safari/537.36 Edg/120.0", "Edge on Windows"),
        ("Mozilla/5.0 (X11; Linux x86_64) AppleWebKit/537.36 Chrome/120.0 Safari/537.36", "Chrome on Linux"),
        ("", "A device that does not say what it is"),
    ],
)
def test_a_header_is_put_in_words(header: str, name: str) -> None:
    assert device_name(header) == name
