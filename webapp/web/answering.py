"""How many requests this process is answering: work beside them waits for a quiet moment."""

from threading import Condition

from flask import Flask, g

_quiet = Condition()
_count = 0


def init_app(app: Flask) -> None:
    app.before_request(_begin)
    app.teardown_request(_end)


def wait_for_quiet(longest: float) -> bool:
    """Wait until no request is being answered, so many seconds at most; return whether it is quiet."""
    with _quiet:
        return _quiet.wait_for(lambda: _count == 0, longest)


def _begin() -> None:
    g.is_answering = True
    _add(1)


def _end(_error: BaseException | None) -> None:
    if g.pop("is_answering", False):  # what is refused before it begins ends all the same
        _add(-1)


def _add(by: int) -> None:
    global _count
    with _quiet:
        _count += by
        if not _count:
            _quiet.notify_all()
