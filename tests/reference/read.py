"""The tables of check values, row by row."""

import csv
from pathlib import Path

HERE = Path(__file__).parent


def rows(name: str) -> list[dict[str, str]]:
    with (HERE / name).open(encoding="utf-8", newline="") as table:
        return list(csv.DictReader(table))
