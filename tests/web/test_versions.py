"""Two people edit one thing."""

from dataclasses import dataclass

import wtforms
from flask import Flask
from werkzeug.datastructures import MultiDict

from webapp.web import versions
from webapp.web.forms import Form


class Thing(Form):
    name = wtforms.StringField("Name")
    count = wtforms.IntegerField("How many")
    good = wtforms.BooleanField("Good")


@dataclass
class Row:
    name: str
    count: int
    good: bool
    version: int


def typed(**values: str) -> Thing:
    return Thing(MultiDict(values))


def test_a_form_made_from_the_row_as_it_stands_is_not_stale(app: Flask) -> None:
    with app.test_request_context():
        row = Row("Press", 1, good=True, version=3)
        assert Thing(obj=row).version._value() == "3"
        assert not versions.is_stale(typed(version="3"), row)


def test_an_older_form_is_stale_once_and_then_renewed(app: Flask) -> None:
    """SA09: the version travels through the form; sent again it is a decision."""
    with app.test_request_context():
        row = Row("Press", 1, good=True, version=4)
        form = typed(version="3", name="Mine")
        assert versions.is_stale(form, row)
        assert form.version.data == "4"
        assert form.version._value() == "4"
        assert not versions.is_stale(form, row)


def test_a_form_without_a_version_is_stale(app: Flask) -> None:
    """SA09: leaving the version out is no way round the question."""
    with app.test_request_context():
        assert versions.is_stale(typed(name="Mine"), Row("Press", 1, good=True, version=1))


def test_both_are_shown_where_they_differ(app: Flask) -> None:
    """SA09: what is saved stands beside what was typed, as a person reads it."""
    with app.test_request_context():
        saved = Thing(obj=Row("Press", 1, good=True, version=4))
        assert versions.differences(typed(name="Mine", count="1"), saved) == [
            ("Name", "Press", "Mine"),
            ("Good", "yes", "no"),
        ]


def test_putting_a_form_into_a_row_leaves_its_version_alone(app: Flask) -> None:
    with app.test_request_context():
        row = Row("Press", 1, good=True, version=4)
        typed(name="Mine", count="2", version="9", once="k").populate_obj(row)
        assert row == Row("Mine", 2, good=False, version=4)
        assert not hasattr(row, "once")
