"""What an operation takes beside people while it is worked and while it waits: equipment, a drying place, clean air."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from webapp.planning.network import Operation, Product, Shop
from webapp.trade.kinds import inserted, kind


@dataclass(frozen=True, slots=True)
class Taken:
    """Equipment that is taken: so many of one kind, until a stage of the wait, or while it is worked."""

    name: str
    count: int
    until: str | None
    asked: int

    @property
    def is_short(self) -> bool:
        """Whether more is asked for than there is."""
        return self.asked > self.count


@dataclass(frozen=True, slots=True)
class Needs:
    """What one operation needs. `wet_until` is the stage until which dust spoils it and it takes a place to dry."""

    equipment: tuple[Taken, ...] = ()
    room: str | None = None
    is_dusty: bool = False
    wet_until: str | None = None
    settle: int = 0

    @property
    def any(self) -> bool:
        """Whether anything but people may hold it."""
        return bool(self.equipment) or (self.room is not None and (self.is_dusty or self.wet_until is not None))


@dataclass(frozen=True, slots=True)
class Lead:
    """Work put in before a layer: keys and minutes, which of it is dusty, and the minutes dust then has to settle."""

    pieces: tuple[tuple[str, int], ...] = ()
    dusty: tuple[bool, ...] = ()
    settles: int = 0

    @property
    def worked(self) -> int:
        """The minutes of its work."""
        return sum(minutes for _, minutes in self.pieces)

    @property
    def minutes(self) -> int:
        """The minutes from its begin to that of the layer."""
        return self.worked + self.settles


NO_LEAD = Lead()
NO_NEEDS = Needs()


def needs_of(operation: Operation, product: Product | None, shop: Shop) -> Needs:
    """Return what an operation needs beside people.

    Takes:   the operation; its product; the shop.
    Returns: its needs; no more equipment than the shop has.
    Raises:  nothing.
    Source:  the shop document, rules 5 and 6.

    >>> needs_of(Operation("sand", "sand", 60, room="shop"), None, Shop("UTC", ())).is_dusty
    True
    """
    there = {equipment.name: equipment.count for equipment in shop.equipment}
    dusty = kind(operation.kind).dusty if operation.dusty is None else operation.dusty
    return Needs(
        equipment=tuple(
            Taken(hold.name, min(hold.count, there.get(hold.name, 0)), hold.until, hold.count)
            for hold in operation.equipment
        ),
        room=operation.room,
        is_dusty=dusty,
        wet_until=None if product is None else product.dust_free,
        settle=next((room.settle for room in shop.rooms if room.name == operation.room), 0),
    )


def lead(pieces: Sequence[tuple[str, int]], kinds: Iterable[str], settle: int) -> Lead:
    """Return the work put in before a layer, with the time its dust takes to settle.

    Takes:   keys and minutes of the work; its kinds; how long the dust of the room hangs.
    Returns: the lead; what follows dusty work counts into the time it settles.
    Raises:  nothing.
    Source:  the shop document, rule 7.

    >>> lead([("coat2.sand", 30), ("coat2.wash", 15)], ["sand", "wash"], 60).minutes
    90
    """
    dusty = tuple(inserted(name)[0].dusty for name in kinds)
    hangs = 0
    for (_, minutes), dusts in zip(pieces, dusty, strict=True):
        hangs = settle if dusts else max(hangs - minutes, 0)
    return Lead(tuple(pieces), dusty, hangs)
