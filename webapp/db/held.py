"""What was read once in a transaction and is used again in it. The next one begins with nothing."""

from typing import Any

from sqlalchemy.orm import Session


def held(db: Session) -> dict[Any, Any]:
    """Return what is held in the transaction of a session; rows in it are not forgotten before its end."""
    transaction = db.get_transaction()
    found = db.info.get("held")
    if found is None or found[0] is not transaction:
        found = db.info["held"] = transaction, {}
    return found[1]
