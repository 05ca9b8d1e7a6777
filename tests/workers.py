"""The real server of several processes, as README says to start it."""

from tests.faults.servers import Benchtide


class Workers(Benchtide):
    """`gunicorn -c python:webapp.workers` on an instance of its own, with two processes unless -w says otherwise."""

    command = ("-m", "gunicorn", "-c", "python:webapp.workers")
