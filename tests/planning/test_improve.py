"""What a search is told beside how long it may take."""

import pytest

from tests.planning.shop import build, op, shop
from webapp.planning.document import read
from webapp.planning.graph import Graph
from webapp.planning.hours import Hours
from webapp.planning.improve import WORTH, Found, improve

# the short one first: the stool ends 100 minutes sooner, the desk 50 later
DOCUMENT = read(shop(build(op("long", 100)), build(op("short", 50), name="Stool")))


def found(**more: object) -> Found:
    return improve(Graph(DOCUMENT), Hours(DOCUMENT.shop), 10, (0, 1), **more)  # type: ignore[arg-type]


def test_the_order_shown_stays_for_less_than_an_hour() -> None:
    assert WORTH == 60
    assert found().order == (0, 1)
    assert found(worth=51).order == (0, 1)
    assert found(worth=50).order == (1, 0)
    assert found(worth=0).order == (1, 0)


def test_it_pauses_after_each_order() -> None:
    pauses: list[None] = []
    found(pause=lambda: pauses.append(None))
    assert len(pauses) == 3  # the order shown, and both there are


def test_what_a_pause_raises_ends_it() -> None:
    def stop() -> None:
        raise InterruptedError

    with pytest.raises(InterruptedError):
        found(pause=stop)
