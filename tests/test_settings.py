"""Settings are read from the environment, and a wrong one says which it is."""

from pathlib import Path

import pytest

from webapp.settings import SettingError, Settings, read


def test_without_an_environment_everything_is_local() -> None:
    found = read({})
    assert found.host == "127.0.0.1"
    assert found.is_local
    assert found.database == f"sqlite:///{found.instance / 'benchtide.db'}"
    assert found.hosts == ["127.0.0.1", "localhost"]


def test_a_postgres_address_names_its_driver() -> None:
    for scheme in ("postgres", "postgresql", "postgresql+psycopg"):
        assert read({"DATABASE_URL": f"{scheme}://me@box/shop"}).database == "postgresql+psycopg://me@box/shop"


def test_numbers_and_lists_are_read() -> None:
    found = read({"BENCHTIDE_PORT": "8080", "BENCHTIDE_TRUSTED_HOSTS": "shop.lan, 10.0.0.5", "BENCHTIDE_PROXIES": "1"})
    assert (found.port, found.trusted_hosts, found.proxies) == (8080, ("shop.lan", "10.0.0.5"), 1)


@pytest.mark.parametrize("text", ["eighty", "-1", "8.5"])
def test_a_wrong_number_says_which_setting(text: str) -> None:
    with pytest.raises(SettingError, match="BENCHTIDE_PORT"):
        read({"BENCHTIDE_PORT": text})


def test_open_to_the_network_it_answers_to_this_computers_names() -> None:
    found = Settings(instance=Path("x"), host="0.0.0.0")
    assert not found.is_local
    assert {"127.0.0.1", "localhost"} < set(found.hosts)
