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


KEY = {"AWS_ACCESS_KEY_ID": "shop", "AWS_SECRET_ACCESS_KEY": "planed and true"}


def test_photos_in_a_bucket_are_reached_by_the_usual_names() -> None:
    endpoint = {"AWS_ENDPOINT_URL": "http://127.0.0.1:9000"}
    found = read({"BENCHTIDE_PHOTOS": "s3://our-shop/photos/2026", **KEY, **endpoint, "AWS_OTHER": "x"})
    assert found.photo_store == "s3://our-shop/photos/2026"
    assert dict(found.aws) == {**KEY, **endpoint}
    assert "planed" not in repr(found)
    assert read(KEY).aws == ()


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"BENCHTIDE_PHOTOS": "/mnt/photos"}, "must be s3://bucket"),
        ({"BENCHTIDE_PHOTOS": "s3://UPPER"}, "must be s3://bucket"),
        ({"BENCHTIDE_PHOTOS": "s3://our-shop/a b"}, "must be s3://bucket"),
        ({"BENCHTIDE_PHOTOS": "s3://our-shop", "AWS_SECRET_ACCESS_KEY": ""}, "set AWS_SECRET_ACCESS_KEY"),
        ({"BENCHTIDE_PHOTOS": "s3://our-shop", "AWS_ENDPOINT_URL": "box:9000"}, "AWS_ENDPOINT_URL must begin with"),
        ({"BENCHTIDE_THREADS": "0"}, "BENCHTIDE_THREADS must be at least 1"),
        ({"BENCHTIDE_SECRET": "short"}, "BENCHTIDE_SECRET must have at least 32"),
    ],
)
def test_what_cannot_serve_says_which_setting(more: dict[str, str], says: str) -> None:
    with pytest.raises(SettingError, match=says):
        read({**KEY, **more})
