"""The rules about the air for one operation of a plan, for the checker."""

import math
from collections.abc import Iterator

from tests.planning.checked_air import Air
from tests.planning.checked_facts import Facts, Json, minute


class Weather:
    """One operation in the air of its room; `begun` is its real start where it is done or running."""

    def __init__(self, check: Facts, operation: Json, got: Json, product: Json, begun: str | None) -> None:
        self.check, self.operation, self.product, self.begun = check, operation, product, begun
        self.flags = [flag["flag"] for flag in got["flags"]]
        self.spans = [(minute(start) or 0, minute(end) or 0) for start, end in got["spans"]]
        self.span = minute(begun or got["start"]) or 0, minute(got["finish"]) or 0
        self.air = Air(check, operation.get("room"))

    def cold(self) -> Iterator[str]:
        """Too cold where it is planned, or where it has begun: what was read, and what is to come."""
        lowest, (start, end) = self.product.get("lowest"), self.span
        overruled = self.operation.get("overruled", [])
        wanted: set[str] = set()
        if lowest is not None:
            until = end + math.ceil(round(self.product.get("lowest_for_hours", 24) * 60, 3) - 1 / 60)
            read = self.air.read_under(lowest, start, min(until, self.check.now + 1))
            if self.begun is None:
                is_cold = self.air.under(lowest, start, until)
                wanted = {"too-cold"} if is_cold and "too-cold" not in overruled else set()
            elif read and "suspect-joint" not in overruled:
                wanted = {"suspect-joint"}
            elif self.air.under(lowest, max(start, self.check.now), until):
                wanted = {"cold-ahead"}
        if set(self.flags) & {"too-cold", "suspect-joint", "cold-ahead"} != wanted:
            yield f"cold: flags {self.flags}, wanted {wanted}"

    def flaws(self) -> Iterator[str]:
        """Damp air during the work, and an assembly longer than the glue stays open."""
        start, end = self.span
        worked = [] if self.begun is None else [(start, end if not self.spans else self.check.now)]
        pieces = [at for span in [*worked, *self.spans] for at, _ in self.air.pieces(*span)]
        most, gap = self.product.get("humidity_max"), self.product.get("dew_gap")
        wanted: set[str] = set()
        if most is not None and any(self.air.humidity(at) > most for at in pieces):
            wanted.add("too-humid")
        if gap is not None and any(self.air.gap(at) < gap for at in pieces):
            wanted.add("dew-point")
        minutes, open_minutes = self.operation.get("assembly_minutes"), self.product.get("open_minutes")
        if minutes is not None and open_minutes is not None:
            per = self.product.get("faster_per") or self.product.get("doubles_per")
            above = self.air.temperature(start) - (self.product.get("rated_at") or 0)
            has_rule = self.product.get("doubles_per") is not None and above > 0
            if minutes - 1 / 60 > open_minutes / (2 ** (above / per) if has_rule else 1):
                wanted.add("open-time")
        if set(self.flags) & {"too-humid", "dew-point", "open-time"} != wanted:
            yield f"weather: flags {self.flags}, wanted {wanted}"

    def computed(self, began: int) -> Iterator[tuple[str, int | None]]:
        """The stages by the air: an own one of a product's name has its rule, any other is fixed hours."""
        own = {stage["name"]: stage for stage in self.operation.get("stages", [])}
        usual = self.product.get("doubles_per")
        for stage in self.product.get("stages", []):
            mine = own.pop(stage["name"], stage)
            per = mine["doubles_per"] if "doubles_per" in mine else stage.get("doubles_per", usual)
            floor = self.product.get("counts_above")
            yield stage["name"], self.air.reached(began, mine["hours"], self.product, per, floor)
        for name, stage in own.items():
            yield name, self.air.reached(began, stage["hours"], self.product, stage.get("doubles_per"), None)
