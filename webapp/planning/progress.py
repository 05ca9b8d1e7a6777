"""How far an operation is: not begun, running, done or abandoned, and what is left of it."""

from enum import Enum, auto

from webapp.planning.network import Operation


class Progress(Enum):
    """Where an operation stands. Paused work is to come like any other, with what is left."""

    TO_COME = auto()
    RUNNING = auto()
    DONE = auto()
    ABANDONED = auto()


def progress(operation: Operation) -> Progress:
    """Return where an operation stands.

    Takes: the operation. Returns: its progress. Raises: nothing. Source: the shop document, rule 10.

    >>> progress(Operation("sand", "sand", 60, started=0)).name
    'RUNNING'
    """
    if operation.abandoned is not None:
        return Progress.ABANDONED
    if operation.finished is not None:
        return Progress.DONE
    if operation.started is not None and not operation.paused:
        return Progress.RUNNING
    return Progress.TO_COME


def minutes_left(operation: Operation) -> int:
    """Return the hands-on minutes that are left of an operation.

    Takes:   the operation.
    Returns: of a batch with some done and time booked, what the rest takes at the same pace, at least 1; else the
             estimate without what was worked, at least a tenth of it; rounded up. A batch with some done and no time
             booked takes its share of the estimate.
    Raises:  nothing.
    Source:  the shop document, rule 10; the share without booked time: shop rule, to be checked.

    >>> minutes_left(Operation("taper", "shape", 240, count=16, done=10, worked=200))
    120
    >>> minutes_left(Operation("sand", "sand", 120, worked=150))
    12
    """
    estimate, worked, count, done = operation.minutes, operation.worked, operation.count, operation.done
    if done and worked:
        return max(_up(worked * (count - done), done), 1)
    if done:
        return max(_up(estimate * (count - done), count), 1)
    return max(estimate - worked, _up(estimate, 10))


def _up(number: int, divisor: int) -> int:
    return -(-number // divisor)
