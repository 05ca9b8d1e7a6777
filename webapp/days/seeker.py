"""The search for a better order, beside the requests: one thread of this process, one shop after the other.

It is given what stands still only, no session and no rows, and makes room for requests: after each order it tried it
waits until none is being answered. A process that ends does not wait for it.
"""

import logging
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from threading import Lock, Thread
from time import sleep

from webapp.days.orders import Known, searched
from webapp.planning.network import Document
from webapp.web.answering import wait_for_quiet

log = logging.getLogger(__name__)

BREATH = 0.003  # seconds, in which a request that has just come in gets hold of the interpreter
LONGEST = 0.25  # seconds: on a server that is never quiet the search goes on slowly


@dataclass(frozen=True)
class Job:
    """A document to be searched through; `steps` are the ids of its operations as they stand in it."""

    known: Known
    document: Document
    steps: tuple[int, ...]
    schedules: int
    now: Callable[[], datetime]


class ReplacedError(Exception):
    """A newer document of the same shop waits."""


def make_room() -> None:
    sleep(BREATH)
    wait_for_quiet(LONGEST)


class Seeker:
    """Takes jobs; of each shop only the newest counts."""

    def __init__(self, rest: Callable[[], object] = make_room) -> None:
        self._rest = rest
        self._lock = Lock()
        self._waiting: OrderedDict[Known, Job] = OrderedDict()
        self._thread: Thread | None = None

    def seek(self, job: Job) -> None:
        """Search through a document as soon as those before it are done."""
        with self._lock:
            self._waiting[job.known] = job
            if self._thread is None:
                self._thread = Thread(target=self._work, name="seeker", daemon=True)
                self._thread.start()

    def wait(self, longest: float = 60) -> bool:
        """Wait until nothing is searched through any more; return whether that is so."""
        thread = self._thread
        if thread is not None:
            thread.join(longest)
        return self._thread is None

    def _work(self) -> None:
        while (job := self._next()) is not None:
            try:
                self._do(job)
            except ReplacedError:
                continue
            except Exception:
                log.exception("The search for a better order of the plan broke off; the plan stays as it is.")

    def _next(self) -> Job | None:
        with self._lock:
            if not self._waiting:
                self._thread = None
                return None
            return self._waiting.popitem(last=False)[1]

    def _do(self, job: Job) -> None:
        order = job.known.order
        if order is not None:
            found = searched(job.document, job.steps, order, job.schedules, job.now, lambda: self._pause(job))
            job.known.put(found, instead_of=order)

    def _pause(self, job: Job) -> None:
        self._rest()
        if job.known in self._waiting:
            raise ReplacedError


seeker = Seeker()
