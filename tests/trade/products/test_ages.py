from datetime import UTC, date, datetime, timedelta

import pytest

from tests.trade.products.test_figures import plain
from webapp.trade.products.ages import FROZEN, MIXED_OUT, OLD, USE_BY, product_faults
from webapp.trade.products.families import FAMILIES
from webapp.trade.products.lives import CLOSED, LIVES, MIXED, OPENED

NOW = datetime(2026, 2, 3, 14, 0, tzinfo=UTC)
TODAY = NOW.date()


@pytest.mark.parametrize(
    ("name", "opened", "days"), [("shellac", 182, 182), ("liquid hide glue", 365, 365), ("CA glue", 182, 182)]
)
def test_it_is_good_to_its_last_day_and_old_on_the_next(name: str, opened: int, days: int) -> None:
    assert product_faults(name, "", NOW, opened=TODAY - timedelta(days=days)) == ()
    [fault] = product_faults(name, "", NOW, opened=TODAY - timedelta(days=days + 1))
    assert fault.key == OLD
    assert fault.says.startswith(f"Opened {round((days + 1) / 365 * 12)} months ago, and it keeps about ")


def test_old_shellac_and_hide_glue_fail_and_old_pva_wants_a_test() -> None:
    old = date(2023, 1, 1)
    shellac, hide, pva = (
        product_faults(name, "", NOW, opened=old)[0] for name in ("shellac", "liquid hide glue", "yellow PVA")
    )
    assert [shellac.fails, hide.fails, pva.fails] == [True, True, False]
    assert "It will not harden well: take another. Brush some on scrap" in shellac.says
    assert "It may still be good. If it comes out stringy" in pva.says


def test_a_hardened_mix_is_past_use_after_hours() -> None:
    mixed = NOW - timedelta(hours=8)
    assert product_faults("conversion varnish", "", NOW, mixed=mixed) == ()
    [fault] = product_faults("conversion lacquer", "", NOW + timedelta(minutes=31), mixed=mixed)
    assert (fault.key, fault.fails) == (MIXED_OUT, True)
    assert fault.says == "Mixed 9 h ago, and it keeps 8 h once mixed. Mix it fresh."
    [pot] = product_faults("epoxy", "", NOW, mixed=NOW - timedelta(minutes=45))
    assert pot.says.startswith("Mixed 45 min ago, and it keeps 20 min")
    [flakes] = product_faults("shellac", "", NOW, mixed=NOW - timedelta(days=200))
    assert flakes.key == MIXED_OUT


def test_frozen_waterborne_fails_and_frozen_pva_is_looked_at() -> None:
    [finish] = product_faults("waterborne polyurethane", "", NOW, coldest=-4.0)
    [glue] = product_faults("waterproof PVA", "", NOW, coldest=-4.0)
    assert (finish.key, finish.fails, glue.fails) == (FROZEN, True, False)
    assert product_faults("waterborne polyurethane", "", NOW, coldest=0.0) == ()
    assert product_faults("oil stain", "", NOW, coldest=-20.0) == ()


def test_the_date_on_the_tin_counts_and_what_fails_stands_first() -> None:
    assert product_faults("PU glue", "", NOW, use_by=TODAY) == ()
    [fault] = product_faults("PU glue", "", NOW, use_by=TODAY - timedelta(days=1))
    assert (fault.key, fault.fails) == (USE_BY, False)
    assert fault.says.startswith("Its date is 1 day past (2 Feb 2026).")
    both = product_faults("waterborne paint", "", NOW, use_by=date(2025, 1, 1), coldest=-1.0)
    assert [one.key for one in both] == [FROZEN, USE_BY]


def test_a_tin_that_was_opened_is_not_judged_by_when_it_was_made() -> None:
    made, opened = date(2020, 1, 1), date(2026, 1, 1)
    assert product_faults("shellac", "", NOW, made=made, opened=opened) == ()
    assert product_faults("shellac", "", NOW, made=made)[0].says.startswith("Made 73 months ago")


def test_a_date_to_come_and_a_name_nobody_knows() -> None:
    assert product_faults("shellac", "", NOW, opened=TODAY + timedelta(days=3)) == ()
    assert product_faults("soap", "", NOW, opened=date(2000, 1, 1)) == ()
    assert product_faults("hot snot", "", NOW, opened=date(2000, 1, 1)) == ()


def test_every_limit_lies_in_what_its_sources_say() -> None:
    for name, life in LIVES.items():
        limits = {CLOSED: life.closed_days, OPENED: life.opened_days}
        hours = {of: days * 24 for of, days in limits.items() if days} | (
            {MIXED: life.mixed_hours} if life.mixed_hours else {}
        )
        for of, value in hours.items():
            said = [figure for figure in life.known if figure.of == of]
            assert said, f"{name}: {of} has neither a source nor the words"
            low = min(plain(figure.low or 0, figure.unit) for figure in said)
            high = max(plain(figure.high or 0, figure.unit) for figure in said)
            assert low * 0.99 <= value <= high, (name, of)
    assert set(LIVES) <= {one.name for one in FAMILIES}


def test_a_product_of_the_shop_is_judged_by_what_it_may_be() -> None:
    """Its name first, else what all of its family have in common; of nobody's product only the date counts."""
    opened = date(2024, 1, 1)
    by_name = product_faults("shellac", "", NOW, opened=opened)
    assert product_faults("our shellac", "shellac", NOW, opened=opened) == by_name
    mixed = NOW - timedelta(days=10)
    assert [one.key for one in product_faults("hot hide glue", "hide glue", NOW, mixed=mixed)] == [MIXED_OUT]
    assert product_faults("our glue", "hide glue", NOW, mixed=mixed) == ()  # the liquid one is not mixed
    [fault] = product_faults("mystery", "", NOW, opened=opened, use_by=TODAY - timedelta(days=1))
    assert (fault.key, fault.fails) == (USE_BY, False)


def test_two_faults_of_one_tin_give_their_advice_once() -> None:
    """The last one says what both advise: said twice it is read once; common practice, no source."""
    both = product_faults("shellac", "", NOW, opened=date(2024, 1, 1), use_by=date(2026, 1, 1))
    assert [one.key for one in both] == [USE_BY, OLD]
    assert both[0].says == "Its date is 33 days past (1 Jan 2026)."
    assert "It will not harden well: take another. Brush some on scrap" in both[1].says
    frozen = product_faults("yellow PVA", "", NOW, opened=date(2020, 1, 1), coldest=-1)
    assert sum(one.says.count("If it comes out stringy") for one in frozen) == 1
    assert len(frozen) == 2
