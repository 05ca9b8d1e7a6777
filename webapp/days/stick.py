"""The time stick of a build: one lane a group, its operations to the scale of time, what waits between them."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from webapp.builds.steps import Piece
from webapp.days.bands import minutes, title, waits
from webapp.days.document import Open
from webapp.days.drawing import LETTER, Bar, Box, Drawing, Line, Words, shortened
from webapp.planning.instants import DAY, local, moment
from webapp.planning.planned import PlannedBuild
from webapp.web.filters import DAYS, MONTHS

WIDTH, NAMES, LANE, TOP = 1140, 120, 46, 30
LONGEST = 300  # the widest name along the page
TALL_WIDTH, DATES, COLUMN, NAME_STEP = 350, 74, 18, 19


@dataclass(frozen=True)
class Stick:
    """What is drawn: lanes of bars in minutes since `begin`, day lines, now and due."""

    begin: int
    end: int
    lanes: tuple[tuple[str, tuple[Bar, ...]], ...]
    days: tuple[tuple[int, str], ...]
    now: int
    due: int | None

    @property
    def length(self) -> int:
        return self.end - self.begin


def stick(build: Piece, planned: PlannedBuild, rows: Open, now: int, zone: ZoneInfo) -> Stick | None:
    """Return the stick of one build, from its first work to its end or its due date; None when nothing has a time."""
    bars = list(_bars(build, planned, rows, now))
    if not bars:
        return None
    ends = [bar.end for _, bar in bars] + ([planned.due] if planned.due else [])
    first, last = min(bar.start for _, bar in bars), max([*ends, now])
    begin = local(moment(first, zone).date(), 0, zone)
    end = local(moment(last, zone).date() + timedelta(days=1), 0, zone)
    groups = dict.fromkeys(operation.group for operation in build.steps)
    lanes = tuple(
        (group or "the piece", tuple(_shifted(bar, begin) for name, bar in bars if name == group)) for group in groups
    )
    return Stick(begin, end, lanes, _days(begin, end, zone), now - begin, _less(planned.due, begin))


def _less(instant: int | None, begin: int) -> int | None:
    return None if instant is None else instant - begin


def _shifted(bar: Bar, begin: int) -> Bar:
    return Bar(bar.start - begin, bar.end - begin, bar.look, bar.label, bar.title)


def _bars(build: Piece, planned: PlannedBuild, rows: Open, now: int) -> Iterator[tuple[str, Bar]]:
    """Yield (group, bar): work really done, work planned, and waits."""
    for operation in build.steps:
        for span in rows.states[operation.id].spans:
            end = minutes(span.end) if span.end else now
            begin = minutes(span.start)
            yield operation.group, Bar(begin, max(end, begin + 1), "worked", operation.name, operation.name)
    for one in planned.operations:
        operation = rows.operations[planned.name, one.of or one.key]
        name = title(one, operation)
        for begin, end in one.spans:
            yield operation.group, Bar(begin, end, "worked", name, name)
    for wait in waits([planned], rows):
        label = f"{wait.name}, {wait.words}"
        yield wait.operation.group, Bar(wait.part.begin, wait.part.end, wait.part.mark.value, "", label)


def _days(begin: int, end: int, zone: ZoneInfo) -> tuple[tuple[int, str], ...]:
    """Return where days begin, so many that they can be read: each, each Monday, or each month's first."""
    found: list[tuple[int, datetime]] = []
    on = moment(begin, zone)
    while (at := local(on.date(), 0, zone)) < end:
        found.append((at - begin, on))
        on += timedelta(days=1)
    if len(found) > 100:
        found = [one for one in found if one[1].day == 1]
    elif len(found) > 14:
        found = [one for one in found if one[1].weekday() == 0]
    return tuple((at, f"{DAYS[on.weekday()]} {on.day}" + _month(on, len(found))) for at, on in found)


def _month(on: datetime, count: int) -> str:
    return f" {MONTHS[on.month - 1][:3]}" if on.day <= 7 or count <= 3 else ""


def lying(found: Stick) -> Drawing:
    """Return the stick along the page."""
    scale = (WIDTH - NAMES) / found.length
    height = TOP + len(found.lanes) * LANE + 22
    boxes: list[Box] = []
    lines = [Line(NAMES + at * scale, TOP - 6, NAMES + at * scale, height - 22, "rule") for at, _ in found.days]
    words = [*_apart((NAMES + at * scale + 4, 16, text) for at, text in found.days)]
    for row, (group, bars) in enumerate(found.lanes):
        top = TOP + row * LANE
        lines.append(Line(NAMES, top + 20, WIDTH, top + 20, "lane"))
        words.append(Words(0, top + 17, shortened(group, NAMES - 12)))
        for bar in sorted(bars, key=lambda one: one.look == "worked"):
            x, width = NAMES + bar.start * scale, max(2.5, (bar.end - bar.start) * scale)
            boxes.append(Box(x, top + 2, width, 18, bar.look + " outline" * (bar.look != "worked"), bar.title))
        named = sorted(bars, key=lambda one: one.start)
        words += _apart((NAMES + bar.start * scale, top + 35, bar.label) for bar in named if bar.label)
    now = NAMES + found.now * scale
    if found.now >= 0:
        lines.append(Line(now, 4, now, height - 16, "nowline"))
        words.append(Words(now, height - 2, "now", "nowword", "middle"))
    if found.due is not None:
        due = NAMES + found.due * scale
        lines.append(Line(due, 20, due, height - 16, "dueline"))
        if abs(due - now) > 60:
            words.append(Words(min(due, WIDTH - 2), height - 2, "due", "w", "end"))
    return Drawing(WIDTH, height, tuple(boxes), tuple(lines), tuple(words))


def _apart(labels: Iterable[tuple[float, float, str]]) -> list[Words]:
    """Return labels of one line that do not touch: one that would is left out, and its operation stands in the list."""
    found: list[Words] = []
    free, last = 0.0, ""
    for x, y, text in labels:
        text = shortened(text, LONGEST)
        x = min(x, WIDTH - len(text) * LETTER)
        if x >= free and text != last:
            found.append(Words(x, y, text, "p"))
            free, last = x + len(text) * LETTER + 8, text
    return found


def standing(found: Stick) -> Drawing:
    """Return the stick upright, for a phone: days down the page, a column a group, names at the right."""
    days = max(1, found.length // DAY)
    height = float(max(260, min(1100, days * 34)))
    scale = height / found.length
    columns = found.lanes[:6]
    names = DATES + len(columns) * (COLUMN + 6) + 6
    boxes: list[Box] = []
    lines = [Line(0, at * scale, names - 8, at * scale, "rule") for at, _ in found.days]
    marks = [(found.now * scale, "now")] if found.now >= 0 else []
    if found.due is not None and abs(found.due - found.now) * scale > 16:
        marks.append((found.due * scale, "due"))
    words = [Words(0, y + 5, text, "nowword" if text == "now" else "w") for y, text in marks]
    words += _dates([(at * scale + 14, text) for at, text in found.days], [y + 5 for y, _ in marks])
    labels: list[tuple[float, str]] = []
    for column, (_, bars) in enumerate(columns):
        x = DATES + column * (COLUMN + 6)
        for bar in sorted(bars, key=lambda one: one.look == "worked"):
            top, tall = bar.start * scale, max(2.5, (bar.end - bar.start) * scale)
            boxes.append(Box(x, top, COLUMN, tall, bar.look + " outline" * (bar.look != "worked"), bar.title))
            if bar.label:
                labels.append((top, bar.label))
    words += _down(labels, names, height)
    if found.now >= 0:
        lines.append(Line(DATES - 6, found.now * scale, names - 8, found.now * scale, "nowline"))
    if found.due is not None:
        lines.append(Line(DATES - 6, found.due * scale, names - 8, found.due * scale, "dueline"))
    return Drawing(TALL_WIDTH, height + 20, tuple(boxes), tuple(lines), tuple(words))


def _dates(dates: Iterable[tuple[float, str]], taken: list[float]) -> list[Words]:
    """Return dates down the page that touch neither each other nor what stands there already."""
    found: list[Words] = []
    for y, text in dates:
        if all(abs(y - other) >= 18 for other in taken):
            found.append(Words(0, y, text, "p"))
            taken = [*taken, y]
    return found


def _down(labels: Iterable[tuple[float, str]], x: float, height: float) -> list[Words]:
    """Return names at the height of their bars, each at least a line below the one before; once each."""
    found: list[Words] = []
    free, said = 0.0, set[str]()
    for top, text in sorted(labels):
        y = max(top + 12, free)
        if text not in said and y <= height + 16:
            found.append(Words(x, y, shortened(text, TALL_WIDTH - x)))
            free = y + NAME_STEP
            said.add(text)
    return found
