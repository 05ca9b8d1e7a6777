"""What a browser sends for the forms of builds, filled in as little as they allow."""

import html
import re
from typing import Any, TypeVar

from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session
from werkzeug.test import TestResponse

from webapp.builds.models import Build, Operation, Part

Row = TypeVar("Row", Build, Operation, Part)


def build(**typed: Any) -> dict[str, Any]:
    return {"name": "Hall table", "status": "agreed", "weight": "1", **typed}


def operation(**typed: Any) -> dict[str, Any]:
    return {"name": "Mill the boards", "kind": "rough mill", "minutes": "45", "count": "1", "makers": "1", **typed}


def part(**typed: Any) -> dict[str, Any]:
    return {"name": "Leg", "count": "4", **typed}


def version(client: FlaskClient, address: str) -> dict[str, Any]:
    """Open a form and return its version and chosen values, as the browser would send them back untouched."""
    page = client.get(address).text
    fields = dict(re.findall(r'<input[^>]* name="(\w+)"[^>]* value="([^"]*)"', page))
    fields |= dict(re.findall(r'<textarea[^>]* name="(\w+)"[^>]*>\s*([^<]*)<', page))
    for name, options in re.findall(r'<select[^>]* name="(\w+)"[^>]*>(.*?)</select>', page, re.S):
        chosen = re.search(r'<option selected value="([^"]*)"', options) or re.search(r'value="([^"]*)"', options)
        if chosen:
            fields[name] = chosen[1]
    fields = {name: html.unescape(value) for name, value in fields.items()}
    return {name: value for name, value in fields.items() if name not in ("next", "theme", "q")}


def text(answer: TestResponse) -> str:
    """Return a page as a person reads it."""
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", answer.text)).split())


def stored(db: Session, table: type[Row]) -> list[Row]:
    """Return the rows as they are stored now."""
    db.rollback()
    return list(db.scalars(select(table).order_by(table.id)))
