"""The time zones of the world, as a list to choose from."""

from functools import cache
from pathlib import Path
from zoneinfo import available_timezones

REGIONS = ("America", "Europe", "Africa", "Asia", "Australia", "Pacific", "Atlantic", "Indian", "Antarctica", "Arctic")
OTHERWISE = "America/New_York"
LOCALTIME = Path("/etc/localtime")


@cache
def zones() -> dict[str, list[tuple[str, str]]]:
    """Return (zone, place) by region: places are how people know their zone, abbreviations are not."""
    names = sorted(available_timezones())
    found = {region: [(name, _place(name)) for name in names if name.startswith(f"{region}/")] for region in REGIONS}
    return {region: places for region, places in found.items() if places} | {"Anywhere": [("UTC", "UTC")]}


def _place(name: str) -> str:
    return name.split("/", 1)[1].replace("_", " ").replace("/", ", ")


def is_zone(name: str) -> bool:
    return any(name == zone for places in zones().values() for zone, _ in places)


@cache
def here() -> str:
    """Return the zone of the computer the server runs on, where it can be told."""
    name = str(LOCALTIME.resolve()).partition("zoneinfo/")[2]
    return name if is_zone(name) and name != "UTC" else OTHERWISE
