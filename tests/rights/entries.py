"""Lines of the journal in a shop: what was told, put right, taken back, begun, done and forgotten."""

from datetime import datetime, timedelta
from typing import Any

from webapp.builds.models import Operation
from webapp.db.folding import fold
from webapp.journal.models import Entry

HOUR = timedelta(hours=1)


def entry(into: Any, now: datetime, kind: str, on: Any = None, ago: timedelta = HOUR, **values: Any) -> Entry:
    """Lay down one line, on an operation, a build or the shop."""
    data = values.pop("data", {})
    found: Entry = into.put(
        Entry(
            **{
                "id": f"{into.mark.lower()}-{next(into.lines)}",
                "shop_id": into.shop.id,
                "maker_id": into.owner.id,
                "build_id": on.build_id if isinstance(on, Operation) else on.id if on else None,
                "operation_id": on.id if isinstance(on, Operation) else None,
                "kind": kind,
                "at": now - ago,
                "arrived_at": now - ago,
                "data": data,
                "folded": fold(str(data.get("note", ""))),
                **values,
            }
        )
    )
    return found


def tell(into: Any, now: datetime) -> dict[str, Any]:
    """Lay the lines down and return what an address has for them."""
    note = {"note": into.name("remark")}
    line = entry(into, now, "noted", into.build, data=note)
    entry(into, now, "noted", data={"note": into.name("about the shop")})
    mended = entry(into, now, "noted", into.build, data=note)
    entry(into, now, "noted", into.build, corrects=mended.id, data={"note": into.name("mended")})
    gone = entry(into, now, "noted", into.build, data=note)
    entry(into, now, "withdrawn", into.build, corrects=gone.id)
    entry(into, now, "worked", into.mill, data={"minutes": 30, "day": "2026-02-02", **note})
    entry(into, now, "counted", into.mill, data={"done": 2})
    forgotten = entry(into, now, "started", into.sand, 24 * HOUR, maker_id=into.helper.id)
    entry(into, now, "started", into.glue_up, 3 * HOUR)
    entry(into, now, "done", into.glue_up, 2 * HOUR, data={"figures": into.figures.id})
    entry(into, now, "started", into.mill, timedelta(minutes=50))
    entry(into, now, "started", maker_id=into.helper.id, data={"shop_time": into.name("sharpening")})
    entry(into, now, "started", into.wax, 4 * HOUR)
    entry(into, now, "abandoned", into.wax, 3 * HOUR, data={"reason": into.name("slip")})
    return {
        "entry_id": line.id,
        "journal.shop_time.stopped:entry_id": forgotten.id,
        "journal.shop_time.create_stopped:entry_id": forgotten.id,
    }
