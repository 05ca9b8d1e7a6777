"""The same tests on both stores: a shop's box has SQLite and a folder, a larger server PostgreSQL and a bucket."""

import os

import pytest
from sqlalchemy import Engine


@pytest.fixture
def store_kind(request: pytest.FixtureRequest, engine: Engine) -> str:
    beside = "folder" if engine.dialect.name == "sqlite" else "bucket"
    return str(getattr(request, "param", os.environ.get("BENCHTIDE_TEST_STORE") or beside))
