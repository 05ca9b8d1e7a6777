"""One shop taken out once for all tests of putting it in."""

import pytest

from tests.exports import sample as made_here
from tests.exports.sample import Sample


@pytest.fixture(scope="session")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Sample:
    return made_here.taken_out(tmp_path_factory.mktemp("sample"))
