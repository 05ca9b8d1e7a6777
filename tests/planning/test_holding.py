"""Equipment, drying places and dust, beyond the cases of the shop document. Every plan goes through the checker."""

from tests.planning.shop import DAYTIME, WORKDAYS, Json, build, op, planned, shop

GLUE: Json = {"name": "glue", "stages": [{"name": "clamps off", "hours": 1}, {"name": "hard", "hours": 24}]}
COAT: Json = {
    "name": "varnish",
    "stages": [{"name": "dust free", "hours": 6}],
    "dust_free": "dust free",
    "recoat": [{"from_hours": 12, "to_hours": 24}, {"from_hours": 24, "needs": ["sand", "wash"]}],
}
CLAMPS = [{"name": "clamps", "count": 8}]
LONG = [{"days": WORKDAYS, "open": "06:00", "close": "22:00"}]


def glued(key: str, count: int, after: str = "", until: str | None = "clamps off", minutes: int = 20) -> Json:
    hold = {"name": "clamps", "count": count} | ({"until": until} if until else {})
    return op(key, minutes, "glue-up", after, product="glue", equipment=[hold])


def test_what_one_glue_up_holds_another_may_not_take() -> None:
    got = planned(shop(build(glued("a", 5), glued("b", 4), glued("c", 3)), products=[GLUE], equipment=CLAMPS))
    assert [got.start(key) for key in "abc"] == ["Mon 08:00", "Mon 09:20", "Mon 08:20"]
    because = got.operation("b")["because"]
    assert (because["why"], because["operation"], because["build"]) == ("equipment", "a", "Desk")


def test_without_a_stage_it_is_given_back_when_the_work_ends() -> None:
    got = planned(shop(build(glued("a", 8, until=None), glued("b", 8)), products=[GLUE], equipment=CLAMPS))
    assert got.start("b") == "Mon 08:20"


def test_work_in_hand_holds_from_its_real_start() -> None:
    running = glued("a", 8) | {"started": "2026-02-02T07:50:00-05:00", "worked_minutes": 10}
    got = planned(shop(build(running, glued("b", 1)), products=[GLUE], equipment=CLAMPS))
    assert (got.start("b"), got.why("b")) == ("Mon 09:10", "equipment")


def test_what_is_in_clamps_already_stays_there_until_somebody_is_in() -> None:
    times = {"started": "2026-02-02T15:50:00-05:00", "finished": "2026-02-02T16:10:00-05:00"}
    document = shop(
        build(glued("a", 8) | times, glued("b", 1)),
        products=[GLUE],
        equipment=CLAMPS,
        now="2026-02-02T16:30:00-05:00",
        hours=[{"days": WORKDAYS, "open": "08:00", "close": "17:00"}],
    )
    got = planned(document)
    assert (got.start("b"), got.why("b")) == ("Tue 08:00", "equipment")


def test_how_late_counts_what_takes_the_clamps_next() -> None:
    """b has to be out of clamps on Monday; a in front of it must be out in time for that."""
    due = build(glued("a", 8), glued("b", 8, "a:clamps off"), due="2026-02-02T12:00:00-05:00")
    got = planned(shop(due, products=[GLUE], equipment=CLAMPS))
    assert got.start("b") == "Mon 09:20"
    assert got.operation("b")["latest_start"] == "2026-02-02T11:40:00-05:00"
    other = [build(glued("a", 8), name="Box", due="2026-02-06"), build(glued("b", 8), due="2026-02-02T12:00:00-05:00")]
    got = planned(shop(*other, products=[GLUE], equipment=CLAMPS))
    assert got.operation("a", "Box")["latest_start"] == "2026-02-02T10:20:00-05:00"


def test_dust_before_a_coat_that_is_laid_has_settled_when_it_starts() -> None:
    """A coat pinned to ten: sanding in its room may run to half past nine, then waits until it is dust free."""
    coat = op("coat", 30, "coat", product="varnish", room="shop", pinned={"at": "2026-02-02T10:00:00-05:00"})
    document = shop(
        build(coat, op("long", 100, "sand", room="shop"), op("short", 90, "sand", room="shop")),
        products=[COAT],
        rooms=[{"name": "shop", "settle_minutes": 30}],
        hours=LONG,
    )
    got = planned(document)
    assert (got.start("short"), got.start("long"), got.why("long")) == ("Mon 08:00", "Mon 16:30", "dust")


def test_sanding_put_in_before_a_coat_settles_first_and_washing_counts_into_it() -> None:
    """The window without sanding is over at night; then sand 30, wash 15, and 45 of the hour are still to settle."""
    coats = build(
        op("one", 30, "coat", product="varnish", room="shop"),
        op("two", 30, "coat", over="one", product="varnish", room="shop", not_before="2026-02-04T08:00:00-05:00"),
    )
    got = planned(shop(coats, products=[COAT], rooms=[{"name": "shop", "settle_minutes": 60}], hours=DAYTIME))
    assert (got.start("two.sand"), got.start("two.wash"), got.start("two")) == ("Wed 08:00", "Wed 08:30", "Wed 09:30")


def test_others_may_work_while_the_dust_settles() -> None:
    coats = build(
        op("one", 30, "coat", product="varnish", room="shop"),
        op("two", 30, "coat", over="one", product="varnish", room="shop", not_before="2026-02-04T08:00:00-05:00"),
    )
    other = build(op("draw", 60, "design", not_before="2026-02-04T08:00:00-05:00"), name="Box")
    got = planned(shop(coats, other, products=[COAT], rooms=[{"name": "shop", "settle_minutes": 60}], hours=DAYTIME))
    assert got.start("two") == "Wed 09:30"
    assert got.start("draw", "Box") in ("Wed 08:45", "Wed 10:00")


def test_a_wet_piece_of_another_build_takes_the_place() -> None:
    one = build(op("coat", 30, "coat", product="varnish", room="loft"), name="Box")
    two = build(op("coat", 30, "coat", product="varnish", room="loft"))
    rooms = [{"name": "loft", "drying_places": 1}, {"name": "shop"}]
    got = planned(shop(one, two, products=[COAT], rooms=rooms))
    assert (got.start("coat"), got.why("coat"), got.operation("coat")["because"]["build"]) == (
        "Mon 14:30",
        "room",
        "Box",
    )
    rooms[0]["drying_places"] = 2
    assert planned(shop(one, two, products=[COAT], rooms=rooms)).start("coat") == "Mon 08:30"


def test_two_layers_too_many_days_apart_for_one_week_move_both() -> None:
    """A window of one hour after a night: the first coat has to lie late enough in the day."""
    slow: Json = {"name": "slow", "stages": [], "recoat": [{"from_hours": 16, "to_hours": 17}]}
    coats = build(op("one", 30, "coat", product="slow"), op("two", 30, "coat", over="one", product="slow"))
    got = planned(shop(coats, products=[slow]))
    assert (got.start("one"), got.why("one"), got.start("two")) == ("Mon 15:00", "recoat", "Tue 08:00")
    assert got.flags("two") == []


def test_a_chain_of_close_followers_moves_as_one() -> None:
    """Each within the hour of the one before, 4 h of work in all, begun at three: all of it on Tuesday."""
    links = [[], *([{"operation": f"s{n}", "within_minutes": 60}] for n in range(3))]
    steps = [op(f"s{n}", 60, "joinery", links[n], split=False) for n in range(4)]
    got = planned(shop(build(*steps), now="2026-02-02T15:00:00-05:00"))
    assert [got.start(f"s{n}") for n in range(4)] == ["Tue 08:00", "Tue 09:00", "Tue 10:00", "Tue 11:00"]
