"""What the newest reading has moved: running waits as they were before it."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime, timedelta

from webapp.builds.steps import Step
from webapp.journal.scene import Scene
from webapp.journal.waits import waits_of
from webapp.planning import instants

LATELY = timedelta(hours=1)  # after that the new end is the one that everybody knows


def before_reading(scene: Scene, steps: Iterable[Step]) -> dict[tuple[int, str], datetime]:
    """Return the ends that waits would have without the reading of the last hour, where they are others.

    By operation and stage; nothing where no reading was taken lately.
    """
    shop = scene.stage.shop
    newest = max(shop.climate.readings, key=lambda one: one.at, default=None)
    if newest is None or instants.moment(newest.at) < scene.now - LATELY:
        return {}
    others = tuple(one for one in shop.climate.readings if one is not newest)
    climate = replace(shop.climate, readings=others)
    without = replace(scene, stage=replace(scene.stage, shop=replace(shop, climate=climate)))
    found = {}
    for step in steps:
        before = {wait.stage: wait.end for wait in waits_of(without, step)}
        for wait in waits_of(scene, step):
            if before.get(wait.stage, wait.end) != wait.end:
                found[step.id, wait.stage] = before[wait.stage]
    return found
