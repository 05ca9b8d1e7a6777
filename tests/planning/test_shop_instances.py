"""The shops that the planner is measured on: as they are stored, and as they are invented."""

import json

from tests.speed import shop_instances
from webapp.planning.document import read


def test_the_stored_shops_are_what_the_generator_makes() -> None:
    for builds in shop_instances.SIZES:
        for seed in shop_instances.SEEDS:
            stored = shop_instances.path(builds, seed).read_text(encoding="utf-8")
            assert stored == shop_instances.text(shop_instances.shop(builds, seed))


def test_the_stored_shops_are_valid_and_of_the_size_they_say() -> None:
    for builds in shop_instances.SIZES:
        for seed in shop_instances.SEEDS:
            document = json.loads(shop_instances.path(builds, seed).read_text(encoding="utf-8"))
            counts = [len(build.operations) for build in read(document).builds]
            assert len(counts) == builds
            assert all(25 <= count <= 40 for count in counts)


def test_small_shops_are_valid_and_have_all_that_makes_them_hard() -> None:
    documents = [shop_instances.small(seed) for seed in range(1, 51)]
    builds = [build for document in map(read, documents) for build in document.builds]
    operations = [operation for build in builds for operation in build.operations]
    assert max(sum(len(build["operations"]) for build in one["builds"]) for one in documents) == 12
    # of 50 shops: some dozens each of coats over others, of clamped work and of due dates
    assert sum(one.over is not None for one in operations) > 40
    assert sum(bool(one.equipment) for one in operations) > 40
    assert sum(build.due is not None for build in builds) > 60
