"""The first Ctrl-C ends the search and keeps the best layout; the second ends the run."""

from __future__ import annotations

import signal
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType


@contextmanager
def first_ends_the_search() -> Iterator[Callable[[], bool]]:
    """Yield a function that says whether the search shall end."""
    asked = False

    def on_signal(number: int, frame: FrameType | None) -> None:
        nonlocal asked
        if asked:
            raise KeyboardInterrupt
        asked = True
        sys.stderr.write("\nEnding the search; the best layout so far is kept. Once more to leave.\n")

    if threading.current_thread() is not threading.main_thread():
        yield lambda: False
        return
    before = signal.signal(signal.SIGINT, on_signal)
    try:
        yield lambda: asked
    finally:
        signal.signal(signal.SIGINT, before)
