"""One process that works for the page: it takes a task, tells how it goes, and hands back plain values.

It ends when the server does, however that comes: the system then closes the line between them.
"""

from __future__ import annotations

import os
import signal
import traceback
from collections.abc import Callable
from importlib import import_module
from multiprocessing.connection import Connection
from typing import Any

from nestkit.errors import JobError, UserError

TASKS = {
    "warm": "nestkit.page.work.warm",
    "checked": "nestkit.page.work.checked",
    "layout": "nestkit.page.work.layout",
    "fit": "nestkit.page.work.fit",
    "what_if": "nestkit.page.work.what_if",
    "prints": "nestkit.page.work.prints",
    "template": "nestkit.page.work.template",
    "calibrate": "nestkit.page.work.calibrate",
    "print_test": "nestkit.page.work.print_test",
    "uploaded": "nestkit.page.work.uploaded",
}
"""Tasks and the module of each, whose ``work`` does it; loaded when it is first asked for."""

READING = "Reading the job"
"""What a layout is at when it begins."""


class Dropped(Exception):
    """Nobody waits for this task any more."""


class Line:
    """The way back to the server while a task runs."""

    def __init__(self, connection: Any) -> None:
        self._connection = connection
        self._asked_to_stop = False

    def tell(self, what: object) -> None:
        """Hand something to the server before the task is done."""
        self._connection.send(("heard", what))

    def stop(self) -> bool:
        """Say whether the task shall end with what it has. Raises :class:`Dropped` where nobody waits."""
        while self._connection.poll():
            try:
                said = self._connection.recv()
            except (EOFError, OSError):
                os._exit(0)
            if said[0] == "drop":
                raise Dropped
            self._asked_to_stop = self._asked_to_stop or said[0] == "stop"
        return self._asked_to_stop


def serve(connection: Connection[Any, Any]) -> None:
    """Do one task after the other until the server is gone."""
    # Ctrl-C is for the server alone, which then ends its workers.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    while True:
        try:
            said = connection.recv()
            if said[0] != "task":
                # Said of the task before, which was done by then.
                continue
            connection.send(_done(said[1], said[2], Line(connection)))
        except (EOFError, OSError):
            return


def _done(task: str, given: tuple[Any, ...], line: Line) -> tuple[str, Any]:
    """Return how a task ended, and with what."""
    try:
        work: Callable[..., Any] = import_module(TASKS[task]).work
        return "done", work(line, *given)
    except Dropped:
        return "dropped", None
    except JobError as error:
        return "mistakes", error.mistakes
    except UserError as error:
        return "refused", str(error)
    except Exception:  # whatever is left is a fault of ours; the server says so
        return "fault", traceback.format_exc()
