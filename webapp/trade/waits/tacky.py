"""Which window of a layer is open while that layer is tacky, as it should be: then the next one bonds to it as it is.

Epoxy is such a layer, and so is whatever its label lets go over within some hours of a wet coat. A coat is dry to the
touch at its dust-free stage; a resin without that stage at its first one. Of an oil without such a stage nobody knows.
"""

from collections.abc import Iterable

from webapp.trade.waits.cure import Stage, Window


def tacky_window(
    windows: Iterable[Window], stages: Iterable[Stage], dust_free: str | None, *, is_glue: bool
) -> Window | None:
    """Return the window in which the next layer goes on while the one below is tacky.

    Takes:   the windows for the next layer, in order; the stages of the layer below, in order; the name of the one
             from which on dust does it no harm; whether the layer below is a glue.
    Returns: the first window, where it shuts again and opens with the work or before the layer is dry to the touch;
             else None.
    Raises:  nothing.
    Source:  a maker of epoxy on recoating; other layers: common practice, no source.

    >>> epoxy = [Window(2, 6), Window(20, None, ("wash", "sand"))], [Stage("out of clamps", 24)]
    >>> tacky_window(*epoxy, None, is_glue=True)
    Window(from_hours=2, to_hours=6, needs=())
    >>> tacky_window([Window(4, 24)], [Stage("dust free", 1)], "dust free", is_glue=False) is None
    True
    """
    first = next(iter(windows), None)
    if first is None or first.to_hours is None or first.needs:
        return None
    dry = _dry_hours(tuple(stages), dust_free, is_glue=is_glue)
    return first if first.from_hours == 0 or (dry is not None and first.from_hours < dry) else None


def _dry_hours(stages: tuple[Stage, ...], dust_free: str | None, *, is_glue: bool) -> float | None:
    touched = next((stage.hours for stage in stages if stage.name == dust_free), None)
    return stages[0].hours if touched is None and is_glue and stages else touched
