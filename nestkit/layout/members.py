"""Long searches from several seeds: on as many cores as there are, with one answer whatever their number.

The best layout counts, of equal ones that of the first search. One that comes after a search which met the
bound is of no use any more: it is ended, or never begun. So one process alone finds the same.
"""

from __future__ import annotations

import os
import pickle
import subprocess
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from threading import Lock, Thread

from nestkit.errors import ToolFault
from nestkit.layout.bounds import Bounds
from nestkit.layout.problem import Layout, Problem
from nestkit.layout.rects.deep import Deep
from nestkit.layout.rects.engine.twin import is_kept
from nestkit.layout.rects.space import score_of
from nestkit.layout.solved import reached
from nestkit.layout.stop import AnyOf

POLL_S = 0.1
"""Seconds between looks at whether a search is to end while it runs in another process."""
MARK = b"\0layout\0"
"""Before the answer, since other things may have been said on standard output."""
PROGRAM = "from nestkit.layout.members import answer; answer()"


@dataclass(frozen=True, slots=True)
class Task:
    """A search: from which layout, what cannot be beaten, with which seed, for how many rounds."""

    problem: Problem
    start: Layout
    reach: Bounds
    seed: int
    rounds: int

    def run(self, ended: Callable[[], bool]) -> Layout:
        """Return the best layout found, in this process."""
        stop = AnyOf(lambda score: ended(), *reached(self.reach))
        return Deep(self.problem, seed=self.seed)(self.start, stop, self.rounds, ended)

    def run_apart(self, ended: Callable[[], bool]) -> Layout:
        """Return the best layout found by a process of its own, or the start where it is ended before.

        Raises :class:`~nestkit.errors.ToolFault` with what that process said where it fails.
        """
        child = subprocess.Popen(
            # Nothing is found by way of the current folder, where anybody may have put files.
            [sys.executable, "-P", "-c", PROGRAM],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            env={**os.environ, "PYTHONPATH": os.pathsep.join(p for p in sys.path if p)},
            # Ctrl-C is for the first process alone, which then ends the others.
            start_new_session=True,
        )
        to_say: bytes | None = pickle.dumps(self)
        while True:
            try:
                answered, words = child.communicate(to_say, timeout=POLL_S)
                break
            except subprocess.TimeoutExpired:
                to_say = None
                if ended():
                    child.kill()
                    child.communicate()
                    return self.start
        _, marked, answered = answered.rpartition(MARK)
        if child.returncode or not marked:
            raise ToolFault(f"a search in a process of its own failed: {words.decode(errors='replace')}")
        layout: Layout = pickle.loads(answered)
        return layout


def answer() -> None:
    """Read a task from standard input, run it, and write the layout to standard output."""
    task: Task = pickle.load(sys.stdin.buffer)
    sys.stdout.buffer.write(MARK + pickle.dumps(task.run(lambda: False)))


class _Board:
    """Tasks that wait, and what came of them; several threads take from it."""

    def __init__(self, tasks: Sequence[Task], ended: Callable[[], bool]) -> None:
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

    def work(self, run: Callable[[Task, Callable[[], bool]], Layout]) -> None:
        """Run task after task until none is left that is of use."""
        while (number := self._take()) is not None:
            task = self.tasks[number]
            try:
                layout = run(task, lambda number=number: self.ended() or number >= self._useful)  # type: ignore[misc]
            except Exception as fault:
                # Whatever it is, it is raised where all threads come together.
                self.faults.append(fault)
                self.note(-1)
                return
            self.found[number] = layout
            if _met(task, layout):
                self.note(number)

    def _take(self) -> int | None:
        with self._lock:
            if self._next >= self._useful or self.ended():
                return None
            self._next += 1
            return self._next - 1


def best_of(first: Callable[[], Layout], others: Sequence[Task], ended: Callable[[], bool]) -> Layout:
    """Return the best of what a search finds here and what others find, the earliest of equal ones.

    Raises :class:`~nestkit.errors.ToolFault` where a search in another process fails.
    """
    if not others:
        return first()
    board = _Board(others, ended)
    # What is not compiled yet would be compiled by every process.
    hands = min(cores() - 1, len(others)) if is_kept() else 0
    threads = [Thread(target=board.work, args=(Task.run_apart,)) for _ in range(hands)]
    for thread in threads:
        thread.start()
    try:
        best = first()
        if _met(others[0], best):
            board.note(-1)
        board.work(Task.run)
    except BaseException:
        board.note(-1)
        raise
    finally:
        for thread in threads:
            thread.join()
    if board.faults:
        raise board.faults[0]
    return min((best, *board.found), key=lambda layout: score_of(others[0].problem, layout))


def cores() -> int:
    """Return how many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def _met(task: Task, layout: Layout) -> bool:
    """Say whether no layout of a task's problem can be better."""
    score = score_of(task.problem, layout)
    return any(rule(score) for rule in reached(task.reach))
