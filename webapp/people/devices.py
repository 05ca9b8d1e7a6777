"""What a browser calls itself, in words: Firefox on Android."""

# the first that occurs counts: browsers name those they are like as well
BROWSERS = {
    "Firefox": "Firefox",
    "FxiOS": "Firefox",
    "Edg": "Edge",
    "CriOS": "Chrome",
    "SamsungBrowser": "Samsung",
    "OPR": "Opera",
    "Chrome": "Chrome",
    "Safari": "Safari",
}
SYSTEMS = ("iPhone", "iPad", "Android", "CrOS", "Mac OS", "Windows", "Linux")


def device_name(user_agent: str) -> str:
    """Return the browser and the system of a User-Agent header, as far as they can be told."""
    browser = next((name for mark, name in BROWSERS.items() if mark in user_agent), "")
    system = next((name for name in SYSTEMS if name in user_agent), "")
    return " on ".join(filter(None, (browser, system))) or "A device that does not say what it is"
