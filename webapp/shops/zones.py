"""The time zones of the world, as a list to choose from."""

from functools import cache
from pathlib import Path
from zoneinfo import available_timezones

REGIONS = ("America", "Europe", "Africa", "Asia", "Australia", "Pacific", "Atlantic", "Indian", "Antarctica", "Arctic")
OTHERWISE = "America/New_York"
LOCALTIME = Path("/etc/localtime")


@cache
def zones() -> tuple[tuple[str, str, str], ...]:
    """Return (zone, place, region): places are how people know their zone, abbreviations are not."""
    names = sorted(available_timezones())
    found = [(name, _place(name), region) for region in REGIONS for name in names if name.startswith(f"{region}/")]
    return (*found, ("UTC", "UTC", "Anywhere"))


def _place(name: str) -> str:
    return name.split("/", 1)[1].replace("_", " ").replace("/", ", ")


def is_zone(name: str) -> bool:
    return any(name == zone for zone, _, _ in zones())


@cache
def here() -> str:
    """Return the zone of the computer the server runs on, where it can be told."""
    name = str(LOCALTIME.resolve()).partition("zoneinfo/")[2]
    return name if is_zone(name) and name != "UTC" else OTHERWISE
