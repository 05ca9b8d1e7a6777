"""Column types that mean the same on SQLite and PostgreSQL."""

from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

from sqlalchemy import BigInteger, DateTime, Dialect, TypeDecorator

PLACES = Decimal("0.0001")
STEPS = 10_000


class Instant(TypeDecorator[datetime]):
    """An aware moment. SQLite keeps no offset, so it is stored there as UTC digits and given back as UTC."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"a moment without a zone was about to be stored: {value}")
        value = value.astimezone(UTC)
        return value.replace(tzinfo=None) if dialect.name == "sqlite" else value

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


class Exact(TypeDecorator[Decimal]):
    """A quantity with at most four decimal places, stored as whole ten-thousandths: Numeric on SQLite is a float."""

    impl = BigInteger
    cache_ok = True

    def process_bind_param(self, value: Decimal | None, dialect: Dialect) -> int | None:
        if value is None:
            return None
        steps = value * STEPS
        if steps != steps.to_integral_value():
            raise ValueError(f"{value} has more than four decimal places")
        return int(steps)

    def process_result_value(self, value: Any, dialect: Dialect) -> Decimal | None:
        return None if value is None else (Decimal(int(value)) / STEPS).quantize(PLACES)
