"""Fields and streaks: the raw stuff of wood and paper. Everything comes from a seeded random.Random."""

import math
from collections.abc import Callable, Sequence
from random import Random

from PIL import Image

Size = tuple[int, int]
Curve = Callable[[float], float]
CELL = 20  # pixels between the points of a field that are computed; the rest is drawn through them
LEVELS = 65536


def waves(rng: Random, length: float, *, octaves: int = 3) -> Curve:
    """Return a smooth random curve about 0, between -1 and 1, that turns about once in `length`."""
    parts = [(2**-i, (2**i) * rng.uniform(0.8, 1.25) / length, rng.uniform(0, math.tau)) for i in range(octaves)]
    whole = sum(share for share, _, _ in parts)
    return lambda at: sum(share * math.sin(math.tau * step * at + begin) for share, step, begin in parts) / whole


def field(size: Size, value: Callable[[float, float], float]) -> Image.Image:
    """Return an image of numbers (mode F): `value` at every pixel, computed at some and smooth between."""
    width, height = size
    across, down = width // CELL + 2, height // CELL + 2
    points = [value((i + 0.5) * CELL, (j + 0.5) * CELL) for j in range(down) for i in range(across)]
    coarse = Image.new("F", (across, down))
    coarse.putdata(points)
    return coarse.resize((across * CELL, down * CELL), Image.Resampling.BICUBIC).crop((0, 0, width, height))


def looked_up(numbers: Image.Image, pattern: Sequence[int], period: float) -> Image.Image:
    """Return a grey image in which each number stands for its place in a pattern that repeats every `period`.

    The pattern's length must divide 16384, so that numbers below nothing fall on the right place too.
    """
    step, lift = len(pattern) / period, LEVELS // 4
    whole = numbers.point(lambda value: value * step + lift).convert("I")
    return whole.point([*pattern] * (LEVELS // len(pattern)), "L")


def grains(rng: Random, size: Size, *, long: float, thick: float = 1.0) -> Image.Image:
    """Return grey noise drawn out along x: each grain about `long` by `thick` pixels."""
    width, height = size
    across, down = max(2, round(width / long)), max(2, round(height / thick))
    coarse = Image.frombytes("L", (across, down), rng.randbytes(across * down))
    return coarse.resize(size, Image.Resampling.BICUBIC)


def dashes(rng: Random, size: Size, share: float, *, long: float, thick: float = 1.0) -> Image.Image:
    """Return a mask of short marks along x that cover about `share` of it."""
    width, height = size
    across, down = max(2, round(width / long)), max(2, round(height / thick))
    above = round(255 * (1 - share))
    coarse = Image.frombytes("L", (across, down), rng.randbytes(across * down))
    marks = coarse.point([0 if level <= above else 255 for level in range(256)])
    return marks.resize(size, Image.Resampling.BILINEAR)
