"""Over plain http, by a name of the shop's network, browsers take away what they grant to secure pages only."""

import re
from pathlib import Path

SCRIPTS = Path(__file__).parent.parent.parent / "static" / "js"
# tried in Chromium on a page opened by a name of the network: each is missing there or answers "denied"
NEEDS_HTTPS = re.compile(
    r"serviceWorker|wakeLock|mediaDevices|navigator\.storage|\.clipboard|crypto\.subtle|randomUUID|Notification\b"
    r"|geolocation|PushManager|\bcaches\b|navigator\.share"
)


def test_no_script_counts_on_what_only_a_secure_page_has() -> None:
    """SA11: one that does must ask first whether it may, and say on the page what is missing and why."""
    scripts = {path.name: path.read_text(encoding="utf-8") for path in SCRIPTS.glob("*.js")}
    assert len(scripts) > 5
    assert [name for name, text in scripts.items() if NEEDS_HTTPS.search(text) and "isSecureContext" not in text] == []
