"""Numbers that look like chance and are the same each time: what the search draws its moves from."""

_MASK = (1 << 64) - 1


class Chance:
    """A stream of numbers that follows from its seed.

    Takes:   the seed, any whole number.
    Returns: numbers that are evenly spread, the same for the same seed on every machine.
    Raises:  nothing.
    Source:  SplitMix64 (Steele, Lea, Flood: Fast splittable pseudorandom number generators, 2014), from memory.

    >>> chance = Chance(1)
    >>> [chance.below(6) for _ in range(8)]
    [3, 4, 5, 2, 2, 4, 5, 3]
    """

    def __init__(self, seed: int) -> None:
        self._state = seed & _MASK

    def _next(self) -> int:
        self._state = (self._state + 0x9E3779B97F4A7C15) & _MASK
        mixed = self._state
        mixed = ((mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9) & _MASK
        mixed = ((mixed ^ (mixed >> 27)) * 0x94D049BB133111EB) & _MASK
        return mixed ^ (mixed >> 31)

    def below(self, end: int) -> int:
        """A whole number from 0 on, below an end."""
        return (self._next() * end) >> 64

    def share(self) -> float:
        """A number from 0 on, below 1."""
        return (self._next() >> 11) / (1 << 53)

    def between(self, low: float, high: float) -> float:
        """A number from one to another."""
        return low + (high - low) * self.share()
