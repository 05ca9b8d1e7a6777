"""When to read a board again that is not near enough to the shop's moisture yet.

Wood dries ever more slowly, so a straight line through the last two readings names the earliest day, not a promise.

Not modelled: weather, thickness, species, stickers.
"""

from math import ceil

from webapp.trade.wood.moisture import NEAR, SHOWN, check_moisture

USUAL = 4  # days; common practice, no source
FARTHEST = 14


def look_again(latest: float, stock: float, before: tuple[float, float] | None, within: float = NEAR) -> int:
    """Return in how many days a board is worth reading again.

    Takes:   its latest reading and the shop's own stock, in %; the reading before it with the days between the two,
             None for a single reading; how many points apart still do.
    Returns: whole days after the latest reading, 1 to 14: where the straight line through both readings comes near
             enough; 4 where there is no such line.
    Raises:  MoistureError for a moisture outside 0 to 100 %.
    Source:  plain arithmetic; 4 days and the bounds are common practice, no source.

    >>> look_again(10.6, 8, (12.0, 5)), look_again(12, 8, None)
    (3, 4)
    """
    check_moisture(latest, stock)
    if before is None or before[1] <= 0:
        return USUAL
    pace = (abs(before[0] - stock) - abs(latest - stock)) / before[1]
    lacks = abs(latest - stock) - within
    if round(pace, SHOWN) <= 0 or lacks <= 0:
        return USUAL
    return min(FARTHEST, max(1, ceil(round(lacks / pace, SHOWN))))
