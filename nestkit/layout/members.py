"""Long searches from several seeds: on as many cores as there are, with one answer whatever their number.

The best answer counts, of equal ones that of the first search. One that comes after a search which met the
bound is of no use any more: it is ended, or never begun. So one process alone finds the same.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from threading import Lock, Thread
from typing import Any, Generic, Protocol, TypeVar

from nestkit.layout.apart import run_apart

Found = TypeVar("Found")
"""What searches find: a layout."""


class Task(Protocol[Found]):
    """A search, plain data that pickles."""

    @property
    def start(self) -> Found:
        """What the search begins with."""

    def run(self, ended: Callable[[], bool]) -> Found:
        """Return the best that is found, in this process; ``ended`` is asked once a round."""

    def rank(self, found: Found) -> Any:
        """Return what tells of two answers which is better: the one of lower rank."""

    def met(self, found: Found) -> bool:
        """Say whether no answer can be better."""


class _Board(Generic[Found]):
    """Tasks that wait, and what came of them; several threads take from it."""

    def __init__(self, tasks: Sequence[Task[Found]], ended: Callable[[], bool]) -> None:
        self.tasks, self.ended = tasks, ended
        self.found = [t.start for t in tasks]
        self.faults: list[Exception] = []
        self._next = 0
        self._useful = len(tasks)
        self._lock = Lock()

    def note(self, number: int) -> None:
        """Note that a task met the bound (-1: the search before all): those after it are of no use."""
        with self._lock:
            self._useful = min(self._useful, number + 1)

    def work(self, run: Callable[[Task[Found], Callable[[], bool]], Found]) -> None:
        """Run task after task until none is left that is of use."""
        while (number := self._take()) is not None:
            task = self.tasks[number]
            try:
                found = run(task, lambda number=number: self.ended() or number >= self._useful)  # type: ignore[misc]
            except Exception as fault:
                # Whatever it is, it is raised where all threads come together.
                self.faults.append(fault)
                self.note(-1)
                return
            self.found[number] = found
            if task.met(found):
                self.note(number)

    def _take(self) -> int | None:
        with self._lock:
            if self._next >= self._useful or self.ended():
                return None
            self._next += 1
            return self._next - 1


def best_of(
    first: Callable[[], Found], others: Sequence[Task[Found]], ended: Callable[[], bool], *, kept: bool
) -> Found:
    """Return the best of what a search finds here and what others find, the earliest of equal ones.

    ``kept`` says whether what the searches run is compiled already: what is not would be compiled by every
    process. Raises :class:`~nestkit.errors.ToolFault` where a search in another process fails.
    """
    if not others:
        return first()
    board = _Board(others, ended)
    hands = min(cores() - 1, len(others)) if kept else 0
    threads = [Thread(target=board.work, args=(run_apart,)) for _ in range(hands)]
    begun: list[Thread] = []
    try:
        for thread in threads:
            thread.start()
            begun.append(thread)
        best = first()
        if others[0].met(best):
            board.note(-1)
        board.work(lambda task, ended: task.run(ended))
        for thread in begun:
            thread.join()
    finally:
        # Where all came to their end this says nothing new; else nobody waits for an answer any more.
        board.note(-1)
        for thread in begun:
            thread.join()
    if board.faults:
        raise board.faults[0]
    return min((best, *board.found), key=others[0].rank)


def cores() -> int:
    """Return how many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1
