"""The first Ctrl-C ends the search and keeps the best layout; the second ends the run, at once.

Python asks its handlers of signals only between steps of its own, which compiled code and solvers put off for
a while; by then two presses are one. So a thread of its own hears each of them.
"""

from __future__ import annotations

import os
import signal
import socket
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from nestkit.cli.run import INTERRUPTED, say_interrupted


@contextmanager
def first_ends_the_search() -> Iterator[Callable[[], bool]]:
    """Yield a function that says whether the search shall end.

    Nothing may be written meanwhile: the second press ends the process where it stands.
    """
    if threading.current_thread() is not threading.main_thread():
        yield lambda: False
        return
    told, hears = socket.socketpair()
    # What Python writes to on a signal must not be waited for.
    told.setblocking(False)
    listener = _Listener(hears)
    listener.start()
    fd_before = signal.set_wakeup_fd(told.fileno())
    handler_before = signal.signal(signal.SIGINT, lambda number, frame: None)
    try:
        yield lambda: listener.asked
    finally:
        signal.signal(signal.SIGINT, handler_before)
        signal.set_wakeup_fd(fd_before)
        told.close()
        listener.join()
        hears.close()


class _Listener(threading.Thread):
    """Hears every signal by its number, until nobody can tell it of any more."""

    def __init__(self, hears: socket.socket) -> None:
        super().__init__(daemon=True)
        self._hears = hears
        self.asked = False

    def run(self) -> None:
        """Note the first press, and leave at the second."""
        while heard := self._hears.recv(1):
            if heard[0] != signal.SIGINT:
                continue
            if self.asked:
                say_interrupted()
                # The main thread may be in a call that takes long. Searches in other processes see us gone.
                os._exit(INTERRUPTED)
            self.asked = True
            sys.stderr.write("\nEnding the search; the best layout so far is kept. Once more to leave.\n")
            sys.stderr.flush()
