"""What the newest reading has moved: running waits as they were before it."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from webapp.builds.steps import Step
from webapp.journal.scene import Scene
from webapp.journal.waits import Wait, waits_of
from webapp.planning import instants

LATELY = timedelta(hours=1)  # after that the new end is the one that everybody knows


def before_reading(scene: Scene, running: Iterable[tuple[Step, Sequence[Wait]]]) -> dict[tuple[int, str], datetime]:
    """Return the ends that running waits would have without the reading of the last hour, where they are others.

    By operation and stage; nothing where no reading was taken lately.
    """
    shop = scene.stage.shop
    newest = shop.climate.readings[-1] if shop.climate.readings else None
    if newest is None or instants.moment(newest.at) < scene.now - LATELY:
        return {}
    climate = replace(shop.climate, readings=shop.climate.readings[:-1])
    stage = replace(scene.stage, shop=replace(shop, climate=climate))
    without = replace(scene, stage=stage)
    found = {}
    for step, waits in running:
        if newest.room not in (None, scene.room(step)):
            continue
        before = {wait.stage: wait.end for wait in waits_of(without, step)}
        for wait in waits:
            if before.get(wait.stage, wait.end) != wait.end:
                found[step.id, wait.stage] = before[wait.stage]
    return found
