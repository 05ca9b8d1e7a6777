"""Documents with plans that are right, for tests that spoil them."""

from dataclasses import dataclass, field
from typing import Any

from tests.planning.checker_sketch import sketched
from tests.planning.shop import EVENINGS, Json, build, op, shop

THURSDAYS = [{"days": ["thu"], "open": "13:00", "close": "17:00"}]
TWO = [{"name": "A"}, {"name": "B", "hours": THURSDAYS}]


@dataclass(frozen=True)
class World:
    """A document with a plan that is right."""

    document: Json
    starts: dict[str, str | None]
    more: dict[str, dict[str, Any]] = field(default_factory=dict)

    def plan(self, starts: dict[str, str | None] | None = None, **more: dict[str, Any]) -> Json:
        both = {key: {**self.more.get(key, {}), **more.get(key, {})} for key in {*self.more, *more}}
        found = {path: at for path, at in {**self.starts, **(starts or {})}.items() if at != "gone"}
        return sketched(self.document, found, **both)


def on(day: int, time: str) -> str:
    return f"2026-02-{day:02}T{time}"


# Monday 2 February at 8; A is in from 8 to 17 on workdays, B on Thursday afternoons.
PLAIN = World(
    shop(
        build(
            op("mill", 600),
            op("glue", 60, "glue-up", "mill"),
            op("lift", 60, "assemble", "glue", makers=2, split=False),
            op("fetch", 20, "fetch", not_before="2026-02-03T12:00:00-05:00"),
            due="2026-02-04",
        ),
        build(op("mill", 60), name="Stool", not_before="2026-02-04"),
        makers=TWO,
        least_minutes=30,
    ),
    {
        "Desk.mill": on(2, "08:00"),
        "Desk.glue": on(3, "09:00"),
        "Desk.lift": on(5, "13:00"),
        "Desk.fetch": on(3, "12:00"),
        "Stool.mill": on(4, "08:00"),
    },
    {"people": {"Desk.lift": ["A", "B"]}},
)
# Evenings of three and a half hours, Saturday from 9 to 17; nobody meets anybody else.
LONG = World(
    shop(
        build(op("glue", 600, "glue-up"), op("carry", 30, "assemble", makers=2), op("oil", 20, "stain")),
        hours=EVENINGS,
        now="2026-02-02T18:00:00-05:00",
    ),
    {"Desk.glue": on(7, "09:00"), "Desk.carry": on(2, "18:00"), "Desk.oil": on(2, "18:30")},
    {"flags": {"Desk.glue": ["longer-than-shop-hours"], "Desk.carry": ["maker-short"]}},
)
# 10 in the morning: a board is glued, one running, one paused, one done, one abandoned and done again.
GLUE: Json = {"name": "glue", "stages": [{"name": "set", "hours": 4}]}
EIGHT, NINE, HALF = "2026-02-02T08:00:00-05:00", "2026-02-02T09:00:00-05:00", "2026-02-02T09:30:00-05:00"
BEGUN = World(
    shop(
        build(
            op("glue", 60, "glue-up", product="glue", started=EIGHT, finished=NINE),
            op("sand", 120, "sand", "glue:set", started=HALF, worked_minutes=30),
            op("shape", 90, "shape", started=EIGHT, paused=True, worked_minutes=45, count=10, done=4),
            op("bad", 30, "glue-up", product="glue", started=EIGHT, abandoned=HALF),
            op("next", 60, "mill", "bad:set"),
            op("again", 30, "glue-up", product="glue", again_for="bad"),
            op("bent", 30, "glue-up", product="glue", started=EIGHT, abandoned=HALF),
            op("never", 60, "mill", "bent:set"),
            op("fixed", 60, pinned={"at": "2026-02-04T10:00:00-05:00"}),
            op("day", 60, pinned={"on": "2026-02-05"}),
        ),
        products=[GLUE],
        now="2026-02-02T10:00:00-05:00",
    ),
    {
        "Desk.sand": on(2, "10:00"),
        "Desk.shape": on(2, "12:08"),
        "Desk.again": on(2, "11:30"),
        "Desk.next": on(2, "16:00"),
        "Desk.fixed": on(4, "10:00"),
        "Desk.day": on(5, "08:00"),
    },
    {"flags": {"Desk.sand": ["too-early"], "Desk.never": ["blocked"]}},
)
DUE = World(
    shop(
        build(
            op("glue", 60, "glue-up", product="glue"), done_at=[{"operation": "glue", "stage": "set"}], due="2026-02-01"
        ),
        products=[GLUE],
    ),
    {"Desk.glue": on(2, "08:00")},
)
