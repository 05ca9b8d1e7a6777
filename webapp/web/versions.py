"""Two people edit one thing: the second is told, sees both, and loses nothing typed."""

from typing import Protocol

from webapp.web.forms import Form, shown


class Versioned(Protocol):
    @property
    def version(self) -> object: ...


def is_stale(form: Form, row: Versioned) -> bool:
    """Return whether the form was made from an older version of the row.

    When it was, the form keeps what was typed and is renewed, so that sending it again is a decision.
    """
    stale = form.version.data != str(row.version)
    if stale:
        form.version.data = str(row.version)
        form.version.raw_data = [str(row.version)]
    return stale


def differences(form: Form, saved: Form) -> list[tuple[str, str, str]]:
    """Return (label, what is saved, what was typed here) for each field where the two differ.

    `saved` is the same form made from the row as it stands now.
    """
    return [
        (field.label.text, shown(saved[field.name]), shown(field))
        for field in form.typed_fields()
        if shown(saved[field.name]) != shown(field)
    ]
