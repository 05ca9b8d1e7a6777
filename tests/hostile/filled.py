"""A form filled in as somebody would who means well: what is served stays, what is needed and empty is given."""

from random import Random

from tests.hostile.served import Control, Form

Filled = list[tuple[str, str]]

BY_KIND = {
    "text": "Ash",
    "textarea": "Ash",
    "search": "ash",
    "number": "1",
    "date": "2026-02-02",
    "datetime-local": "2026-02-02T10:00",
    "password": "four unlike words here",
}
# by the beginning or the end of a field's name: what text alone would not do for
BY_NAME = (
    ("minutes", "45"),
    ("hours", "2"),
    ("percent", "100"),
    ("price", "12.50"),
    ("price_minor", "1250"),
    ("hour", "30"),
    ("quantity", "3"),
    ("unit_price", "12.50"),
    ("count", "2"),
    ("makers", "1"),
    ("opens", "9:00"),
    ("closes", "17:00"),
    ("from", "9:00"),
    ("to", "17:00"),
    ("temperature", "20"),
    ("humidity", "45"),
    ("low", "30"),
    ("high", "60"),
    ("thickness", "3/4"),
    ("width", "6 1/4"),
    ("length", "27 1/2"),
    ("target", "27 1/2"),
    ("tolerance", "1/64"),
    ("actual", "27 1/2"),
    ("parts", "2"),
    ("done", "1"),
    ("pieces", "2"),
    ("climate_day", "65"),
    ("climate_night", "55"),
    ("drying_places", "2"),
    ("lag", "10"),
    ("within", "30"),
    ("at", "30"),
    ("per", "10"),
)

SPARE = (0.0, 0.0, 0.3)  # so much of what may stay empty somebody fills in


def filled(form: Form, random: Random) -> Filled:
    """Return what a browser would send: fields in their order, and one of its buttons."""
    found: Filled = []
    spare = random.choice(SPARE)
    for one in form.controls:
        if one.name and one.kind not in ("submit", "button", "file"):
            found += _sent(one, random, spare)
    buttons = [one for one in form.controls if one.kind == "submit" and one.name]
    if buttons:
        found.append(_pair(random.choice(buttons)))
    return found


def _pair(control: Control) -> tuple[str, str]:
    return control.name, control.value


def _sent(control: Control, random: Random, spare: float) -> Filled:
    if control.kind in ("checkbox", "radio"):
        return [_pair(control)] if control.is_on or (control.kind == "checkbox" and random.random() < 0.1) else []
    if control.kind == "select":
        return [(control.name, control.value or _choice(control, random))]
    if control.value or control.kind == "hidden":
        return [_pair(control)]
    is_given = control.is_required or control.kind == "password" or random.random() < spare
    return [(control.name, example(control, random) if is_given else "")]


def _choice(control: Control, random: Random) -> str:
    real = [choice for choice in control.choices if choice]
    return random.choice(real) if control.is_required and real else ""


def example(control: Control, random: Random) -> str:
    """Return something that this field would take."""
    if control.name == "name":
        return f"Ash {random.randrange(10**6)}"
    if control.kind in ("text", "number"):
        for part, value in BY_NAME:
            if control.name == part or control.name.endswith(f"_{part}"):
                return value
    return BY_KIND.get(control.kind, "1")
