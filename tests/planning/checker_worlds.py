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
# A cool shop in the evening: glue that takes twice as long, a stain in damp air, a joint that met a cold reading.
PVA: Json = {
    "name": "PVA",
    "rated_at": 21,
    "doubles_per": 8,
    "lowest": 10,
    "lowest_for_hours": 4,
    "open_minutes": 10,
    "stages": [{"name": "set", "hours": 1}, {"name": "machine", "hours": 24, "doubles_per": None}],
}
STAIN: Json = {
    "name": "stain",
    "rated_at": 21,
    "humidity_max": 60,
    "dew_gap": 12,
    "stages": [{"name": "dry", "hours": 2}],
}
BEFORE = {"started": "2026-02-02T07:00:00-05:00", "finished": "2026-02-02T07:30:00-05:00"}
COOL = World(
    shop(
        build(
            op("old", 30, "glue-up", product="PVA", room="shed", **BEFORE),
            op("rest", 30, "mill", "old"),
            op("late", 30, "glue-up", product="PVA", room="porch", **BEFORE),
            op("glue", 30, "glue-up", product="PVA", assembly_minutes=25),
            op("plane", 30, "mill", "glue:set"),
            op("bend", 30, "bend", product="PVA", stages=[{"name": "set", "hours": 3}, {"name": "held", "hours": 2}]),
            op("stain", 30, "stain", product="stain"),
            op("frost", 30, "glue-up", product="PVA", room="barn"),
            op("dust", 30, "mill", "frost"),
            op("sure", 30, "glue-up", product="PVA", room="barn", overruled=["too-cold"]),
        ),
        products=[PVA, STAIN],
        climate={
            "day": 13,
            "night": 13,
            "humidity": 65,
            "readings": [{"at": "2026-02-02T07:45:00-05:00", "temperature": 8, "room": "shed"}],
        },
        rooms=[
            {"name": "shed"},
            {"name": "porch", "climate": {"day": 13, "night": 5, "day_to": "10:00"}},
            {"name": "barn", "climate": {"day": 5, "night": 5}},
        ],
        makers=2,
    ),
    {
        "Desk.glue": on(2, "08:00"),
        "Desk.plane": on(2, "10:30"),
        "Desk.bend": on(2, "08:30"),
        "Desk.stain": on(2, "09:00"),
        "Desk.frost": on(2, "09:30"),
        "Desk.sure": on(2, "10:00"),
    },
    {
        "flags": {
            "Desk.old": ["suspect-joint"],
            "Desk.rest": ["blocked"],
            "Desk.late": ["cold-ahead"],
            "Desk.glue": ["open-time"],
            "Desk.stain": ["too-humid", "dew-point"],
            "Desk.frost": ["too-cold"],
            "Desk.dust": ["blocked"],
        }
    },
)
# Eight clamps, a place for one wet piece, dust that hangs for half an hour.
VARNISH: Json = {
    "name": "varnish",
    "stages": [{"name": "dust free", "hours": 2}],
    "dust_free": "dust free",
    "recoat": [{"from_hours": 0, "to_hours": 1}, {"from_hours": 24, "needs": ["sand"]}],
}
CLAMPS = [{"name": "clamps", "count": 6, "until": "set"}]
FULL = World(
    shop(
        build(
            op("glue", 30, "glue-up", product="glue", equipment=CLAMPS),
            op("late", 30, "glue-up", product="glue", equipment=CLAMPS),
            op("next", 30, "glue-up", product="glue", equipment=CLAMPS),
            op("jig", 60, "joinery", room="attic", equipment=[{"name": "jig", "count": 3}]),
        ),
        build(op("coat", 30, "coat", product="varnish", room="loft"), name="Tray"),
        build(
            op("coat", 30, "coat", product="varnish", room="loft"),
            op("again", 30, "coat", product="varnish", room="loft", over="coat"),
            op("sand", 60, "sand", room="loft"),
            op("mill", 60, "mill", room="attic"),
            name="Bowl",
        ),
        products=[GLUE, VARNISH],
        equipment=[{"name": "clamps", "count": 8}, {"name": "jig", "count": 2}],
        rooms=[{"name": "loft", "drying_places": 1, "settle_minutes": 30}, {"name": "attic"}],
        makers=3,
    ),
    {
        "Desk.glue": on(2, "08:00"),
        "Desk.late": on(2, "12:30"),
        "Desk.next": on(3, "08:00"),  # the clamps of 17:00 come off in the morning
        "Desk.jig": on(2, "09:00"),
        "Tray.coat": on(2, "08:00"),
        "Bowl.sand": on(2, "10:30"),
        "Bowl.coat": on(2, "12:00"),
        "Bowl.again": on(2, "12:30"),
        "Bowl.mill": on(2, "13:00"),
    },
    {
        "flags": {"Desk.jig": ["equipment-short"]},
        "people": {
            "Tray.coat": ["maker 2"],
            "Bowl.coat": ["maker 2"],
            "Bowl.again": ["maker 2"],
            "Desk.jig": ["maker 3"],
        },
    },
)
# Layers: two of varnish with the first window gone, one over oil, the maker's own sanding, one with no window left.
SOON: Json = {"name": "soon", "recoat": [{"from_hours": 1, "to_hours": 2}], "missed_needs": ["wash"]}
OIL: Json = {
    "name": "oil",
    "family": "oils",
    "recoat": [{"from_hours": 1}],
    "tend": [{"key": "wipe", "at_minutes": 20, "within_minutes": 10, "minutes": 10}],
}
OVER = {**VARNISH, "recoat_over": {"oils": [{"from_hours": 48}]}}
SATURDAY = {"started": "2026-01-31T08:00:00-05:00", "finished": "2026-01-31T08:30:00-05:00"}
LAYERS = World(
    shop(
        build(
            op("coat", 30, "coat", product="varnish", room="loft", **SATURDAY),
            op("over", 30, "coat", product="varnish", room="loft", over="coat"),
        ),
        build(op("oil", 20, "coat", product="oil"), op("film", 30, "coat", product="varnish", over="oil"), name="Tray"),
        build(
            op("coat", 30, "coat", product="varnish", **SATURDAY),
            op("mine", 60, "sand", "coat"),
            op("over", 30, "coat", "mine", product="varnish", over="coat"),
            name="Bowl",
        ),
        build(
            op("coat", 30, "coat", product="soon", **SATURDAY),
            op("over", 30, "coat", product="soon", over="coat"),
            op("joint", 60, "joinery", split=False),
            op("glue", 30, "glue-up", [{"operation": "joint", "within_minutes": 120}]),
            op("bare", 30, "coat", over="joint"),
            name="Box",
        ),
        products=[OVER, SOON, OIL],
        rooms=[{"name": "loft", "settle_minutes": 15}],
        makers=2,
    ),
    {
        "Desk.over.sand": on(2, "08:00"),
        "Desk.over": on(2, "08:45"),
        "Tray.oil": on(2, "08:00"),
        "Tray.oil.wipe": on(2, "08:40"),
        "Tray.film": on(4, "08:20"),
        "Bowl.mine": on(2, "09:30"),
        "Bowl.over": on(2, "10:30"),
        "Box.over.wash": on(2, "11:00"),
        "Box.over": on(2, "11:15"),
        "Box.joint": on(2, "12:00"),
        "Box.glue": on(2, "15:00"),
        "Box.bare": on(2, "13:00"),
    },
    {
        "flags": {"Box.over": ["window-missed"]},
        "people": {path: ["maker 2"] for path in ("Tray.oil", "Tray.oil.wipe", "Box.over", "Box.over.wash")},
    },
)
