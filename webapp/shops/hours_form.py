"""The week on one form: up to three stretches a day, each from and to. Plain fields, so that it works anywhere."""

from collections.abc import Iterable, Iterator

import wtforms
from wtforms.validators import ValidationError

from webapp.shops.week import Stretch, clock
from webapp.web.fields import SpanField, TimeOfDayField
from webapp.web.filters import LONG_DAYS
from webapp.web.forms import Form

STRETCHES = 3
MONDAY, FRIDAY = 0, 4
Hours = tuple[int, int, int]  # weekday, opens, closes


class WeekForm(Form):
    """The fields `d0_1_from`, `d0_1_to` … `d6_3_to`; days count from Monday 0, stretches from 1."""

    def pairs(self, day: int) -> list[tuple[wtforms.Field, wtforms.Field]]:
        """Return the from and to fields of a day."""
        return [(self[f"d{day}_{n}_from"], self[f"d{day}_{n}_to"]) for n in range(1, STRETCHES + 1)]

    def has_more(self, day: int) -> bool:
        """Return whether a day has a second stretch, or something to say about one."""
        return any(field.data is not None or field.errors for pair in self.pairs(day)[1:] for field in pair)

    def fill(self, stretches: Iterable[Stretch]) -> None:
        """Put stored hours into the fields."""
        by_day: dict[int, list[Stretch]] = {}
        for each in sorted(stretches, key=lambda found: (found.weekday, found.opens)):
            by_day.setdefault(each.weekday, []).append(each)
        for day, found in by_day.items():
            for (opens, closes), each in zip(self.pairs(day), found, strict=False):
                opens.data, closes.data = each.opens, each.closes

    def copy_monday(self) -> None:
        """Write Monday's hours, as typed, into the other weekdays."""
        for day in range(MONDAY + 1, FRIDAY + 1):
            for source, target in zip(self.pairs(MONDAY), self.pairs(day), strict=True):
                for one, other in zip(source, target, strict=True):
                    other.data, other.raw_data = one.data, one.raw_data

    def hours(self) -> tuple[Hours, ...]:
        """Return what was typed; only after it was found right."""
        return tuple(sorted(self._typed()))

    def _typed(self) -> Iterator[Hours]:
        for day in range(len(LONG_DAYS)):
            for opens, closes in self.pairs(day):
                if opens.data is not None and closes.data is not None:
                    yield day, opens.data, closes.data

    def validate(self, extra_validators: object = None) -> bool:
        right = super().validate(extra_validators)  # type: ignore[arg-type]
        for day in range(len(LONG_DAYS)):
            right = _is_day_right(self.pairs(day)) and right
        if right and not self.hours():
            _blame(self.pairs(MONDAY)[0][0], "Say when it is open on at least one day.")
            return False
        return right


class HoursForm(WeekForm):
    least_minutes = SpanField(
        "Do not begin long work with less than this left before closing",
        description="For work that may be interrupted at closing. 0 min: begin at any time.",
    )

    def validate_least_minutes(self, field: SpanField) -> None:
        if field.data is not None and field.data > 8 * 60:
            raise ValidationError("At most 8 hours.")


def _is_day_right(pairs: list[tuple[wtforms.Field, wtforms.Field]]) -> bool:
    right = True
    laid: list[tuple[int, int]] = []
    for opens, closes in pairs:
        if opens.errors or closes.errors:
            right = False
            continue
        fault = _fault(opens, closes, laid)
        if fault:
            _blame(*fault)
            right = False
        elif opens.data is not None:
            laid.append((opens.data, closes.data))
    return right


def _fault(
    opens: wtforms.Field, closes: wtforms.Field, laid: list[tuple[int, int]]
) -> tuple[wtforms.Field, str] | None:
    """Return the field to blame and why, when a stretch cannot be."""
    if (opens.data is None) != (closes.data is None):
        missing = opens if opens.data is None else closes
        return missing, "A stretch needs both, from and to."
    if opens.data is None:
        return None
    if closes.data <= opens.data:
        return closes, (
            f"It closes at {clock(closes.data)} but opens at {clock(opens.data)}. "
            "Past midnight: until 24:00, and from 0:00 on the next day."
        )
    for began, ended in laid:
        if opens.data < ended and began < closes.data:
            return opens, f"This overlaps {clock(began)} to {clock(ended)}."
    return None


def _blame(field: wtforms.Field, message: str) -> None:
    field.errors = (*field.errors, message)


def _add_fields() -> None:
    for day, name in enumerate(LONG_DAYS):
        for n in range(1, STRETCHES + 1):
            more = "" if n == 1 else f", stretch {n}"
            for part in ("from", "to"):
                field = TimeOfDayField(f"{name} {part}{more}", render_kw={"inputmode": "numeric", "size": 5})
                setattr(WeekForm, f"d{day}_{n}_{part}", field)


_add_fields()
